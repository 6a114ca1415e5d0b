#include "solver/conduction/preparation.hpp"

#include <algorithm>

#ifdef _OPENMP
#include <omp.h>
#endif

#include "mesh/refined.hpp"
#include "solver/conduction/fill_plan.hpp"
#include "solver/conduction/sizes.hpp"
#include "solver/conduction/way_cells.hpp"

namespace sandfreeze::conduction
{
namespace
{

bool is_plain(const solver::Case& c, const solver::SolveOptions& options)
{
    return options.cells == solver::Cells::plain ||
           (c.section.view == solver::View::plan && c.section.levels == solver::Levels::cells);
}

}  // namespace

TemperatureRange temperature_range(const solver::Case& c)
{
    TemperatureRange range{c.pour_temperature, c.pour_temperature};
    const auto include = [&](double t) {
        range.lowest = std::min(range.lowest, t);
        range.highest = std::max(range.highest, t);
    };
    for (const solver::Part& part : c.parts)
        include(part.temperature);
    for (const solver::Edge* edge :
         {&c.edges.left, &c.edges.right, &c.edges.bottom, &c.edges.top, &c.edges.below, &c.edges.above})
        if (edge->kind != solver::Edge::Kind::insulated) include(edge->temperature);
    if (c.models.burning) {
        const double before = range.highest;
        for (const materials::Material& m : c.materials)
            if (m.exothermic) include(before + m.exothermic->heat / m.specific_heat.solid(before));
    }
    return range;
}

std::vector<PropertyTable> make_tables(const solver::Case& c)
{
    std::vector<PropertyTable> tables;
    for (const materials::Material& m : c.materials)
        tables.emplace_back(m, temperature_range(c));
    return tables;
}

StepRules step_rules(const solver::Case& c, const solver::SolveOptions& options)
{
    const auto rules = [&](double strictness, double share) {
        return StepRules{strictness * options.strictness, share / options.strictness};
    };
    if (c.section.view != solver::View::plan) return rules(1, 0.05);
    switch (c.section.levels) {
    case solver::Levels::coarse:
        return rules(0.25, 0.2);
    case solver::Levels::automatic:
        // Early steps are cheap only where there are few cells, and their errors are far below those allowed.
        return rules(0.7, 0.1);
    case solver::Levels::cells:
        return rules(2, 0.025);
    default:
        return rules(1, 0.05);
    }
}

std::shared_ptr<const CellPicture> make_picture(const solver::Case& c, const mesh::Painting& painting,
                                                const Bodies& bodies,
                                                const std::vector<PropertyTable>& tables,
                                                const solver::SolveOptions& options)
{
    auto picture = std::make_shared<CellPicture>();
    picture->grid = painting.grid;
    if (painting.finer) picture->finer_grid = painting.finer->grid;
    const bool plain = is_plain(c, options);
    const mesh::Painting& from = !plain && painting.finer ? *painting.finer : painting;
    const std::vector<mesh::BodyId> body_of_voxel = bodies_of_voxels(bodies, from.part_of_voxel);
    mesh::VoxelBodies voxels{body_of_voxel, from.part_of_voxel};
    if (options.outlines == solver::Outlines::drawn) {
        voxels.slices = from.slices;
        voxels.slice_of_level = from.slice_of_level;
        voxels.body_of_part = bodies.of_part;
    }
    const std::vector<std::uint8_t> levels =
        plain ? std::vector<std::uint8_t>{} : levels_for_ways(c, painting, from);
    voxels.most_level = levels;
    picture->cells =
        plain ? mesh::plain(from.grid, voxels)
              : mesh::merge(from.grid, voxels,
                            cell_sizes(c, from.grid, bodies, tables, body_of_voxel, options.strictness));
    picture->neighbours = LikeNeighbours(picture->cells);
    if (&from != &painting)
        picture->cell_of_finer =
            mesh::onto_coarser_voxels(picture->cells, painting.grid, from.grid.nx / painting.grid.nx,
                                      bodies_of_voxels(bodies, painting.part_of_voxel));
    for (const PropertyTable& table : tables)
        picture->curves.push_back(table.curve());
    for (const mesh::BodyId body : picture->cells.body) {
        picture->material.push_back(bodies.list[body].material);
        picture->poured.push_back(bodies.list[body].poured);
    }
    if (c.fill_time > 0)
        picture->filling = plan_filling(
            c, picture->cells, picture->poured,
            {&from == &painting ? picture->cells.cell_of_voxel : picture->cell_of_finer, from.part_of_voxel});
    return picture;
}

int choose_threads(const solver::SolveOptions& options, std::int32_t cells)
{
#ifdef _OPENMP
    if (options.threads > 0) return options.threads;
    constexpr std::int32_t worth_sharing = 20000;  // cells; below it one thread is faster
    return cells < worth_sharing ? 1 : std::min(4, omp_get_num_procs());
#else
    (void)options;
    (void)cells;
    return 1;
#endif
}

double poured_volume(const CellPicture& picture)
{
    double volume = 0;
    for (std::size_t c = 0; c < picture.cells.size(); ++c)
        if (picture.poured[c]) volume += picture.cells.volume[c];
    return volume;
}

std::vector<double> start_enthalpies(const Bodies& bodies, const Network& network,
                                     const std::vector<PropertyTable>& tables)
{
    std::vector<double> h;
    for (const mesh::BodyId id : network.body) {
        const Body& body = bodies.list[id];
        h.push_back(tables[static_cast<std::size_t>(body.material)].curve().enthalpy(body.temperature));
    }
    return h;
}

}  // namespace sandfreeze::conduction
