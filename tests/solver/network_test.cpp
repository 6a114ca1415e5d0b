#include <doctest/doctest.h>

#include <random>

#include "mesh/coarsen.hpp"
#include "solver/conduction/network.hpp"
#include "solver/conduction/sizes.hpp"
#include "verification/bench_cases.hpp"

using namespace sandfreeze;
using namespace sandfreeze::verification;

namespace
{

/// Castings with chills at random places and sizes, in boxes of odd sizes.
solver::Case random_section(std::mt19937& random)
{
    const auto between = [&](double low, double high) {
        return std::uniform_real_distribution<>(low, high)(random);
    };
    solver::Case c;
    c.materials = {sand(), pure_aluminium(), steel()};
    c.section.cell = 1e-3;
    c.section.box = {0, 1e-3 * (60 + static_cast<double>(random() % 50)), 0,
                     1e-3 * (50 + static_cast<double>(random() % 60))};
    c.section.view = random() % 2 == 0 ? solver::View::planar : solver::View::axisymmetric;
    c.pour_temperature = 700;
    c.parts = {{"mould", solver::Role::sand, 0, {}, 20, false}};
    for (int k = 0; k < 4; ++k) {
        const double x = between(0, 0.05);
        const double y = between(0, 0.04);
        const bool chill = k == 3;
        c.parts.push_back(
            {"part " + std::to_string(k), chill ? solver::Role::chill : solver::Role::casting, chill ? 2 : 1,
             k == 1
                 ? mesh::Shape(mesh::Circle{{x, y}, between(0.01, 0.05)})
                 : mesh::Shape(mesh::Rectangle{{x, x + between(0.003, 0.04), y, y + between(0.003, 0.04)}}),
             chill ? 20.0 : 700.0, false});
    }
    c.contacts = {{{"metal", "mould"}, 600}, {{"metal", "chill"}, 2500}};
    for (solver::Edge* e : {&c.edges.left, &c.edges.right, &c.edges.bottom, &c.edges.top})
        *e = {solver::Edge::Kind::air, 10, 20};
    return c;
}

std::vector<conduction::PropertyTable> tables_of(const solver::Case& c)
{
    std::vector<conduction::PropertyTable> tables;
    for (const materials::Material& m : c.materials)
        tables.emplace_back(m, conduction::TemperatureRange{20, 700});
    return tables;
}

struct Flow {
    double net = 0;  ///< W
    double all = 0;
};

/// Heat flows of all rows of slices at given temperatures.
Flow flow_into(const conduction::Slices& s, std::size_t store, const std::vector<double>& g,
               const std::vector<double>& t)
{
    Flow flow;
    for (std::int32_t slice = 0; slice < s.count(); ++slice)
        for (std::int32_t slot = s.start[static_cast<std::size_t>(slice)];
             slot < s.start[static_cast<std::size_t>(slice) + 1]; ++slot)
            for (std::int32_t lane = 0; lane < 16; ++lane) {
                const auto at = static_cast<std::size_t>(slot * 16 + lane);
                const std::int32_t row = s.rows[static_cast<std::size_t>(slice * 16 + lane)];
                if (row < 0) continue;
                const double heat = g[store + at] * (t[static_cast<std::size_t>(s.neighbour[at])] -
                                                     t[static_cast<std::size_t>(row)]);
                flow.net += heat;
                flow.all += std::abs(heat);
            }
    return flow;
}

}  // namespace

TEST_CASE("solver: heat that leaves a cell through a face enters its neighbour, whatever the section")
{
    std::mt19937 random(11);
    for (int round = 0; round < 40; ++round) {
        CAPTURE(round);
        const solver::Case c = random_section(random);
        const mesh::Painting painting = solver::paint_section(c);
        const conduction::Bodies bodies = conduction::find_bodies(c);
        const auto body = conduction::bodies_of_voxels(bodies, painting.part_of_voxel);
        const mesh::VoxelBodies voxels{body, painting.part_of_voxel, painting.slices,
                                       painting.slice_of_level};
        const mesh::CellMesh merged = mesh::merge(
            painting.grid, voxels, conduction::cell_sizes(c, painting.grid, bodies, tables_of(c), body, 1));
        std::vector<std::uint8_t> allowed;
        for (const std::uint8_t level : merged.level)
            allowed.push_back(static_cast<std::uint8_t>(level + random() % 3));
        const mesh::CellMesh joined = mesh::Coarsener(painting.grid, merged).coarsen(allowed).mesh;
        const mesh::CellMesh& mesh = round % 2 == 0 ? merged : joined;
        const conduction::Network n = conduction::build_network(c, mesh, bodies);
        std::vector<double> g(n.store_size, 0.0);
        for (const conduction::Link& link : n.links)
            for (const std::int32_t slot : link.slots) {
                REQUIRE(slot >= 0);
                g[static_cast<std::size_t>(slot)] = conduction::conductance(link, 1.0, 1.0, 0);
            }
        std::vector<double> t;
        for (std::int32_t k = 0; k < n.cells; ++k)
            t.push_back(std::uniform_real_distribution<>(0, 700)(random));
        Flow sum;
        for (const auto& [slices, store] : {std::pair{&n.slow, n.slow_store},
                                            {&n.quick, n.quick_store},
                                            {&n.interface, n.interface_store}}) {
            const Flow f = flow_into(*slices, store, g, t);
            sum.net += f.net;
            sum.all += f.all;
        }
        CHECK(std::abs(sum.net) < 1e-12 * sum.all);
    }
}
