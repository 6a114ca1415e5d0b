#include "solver/feeding/regions.hpp"

#include "solver/feeding/parts.hpp"
#include "solver/feeding/sentences.hpp"

namespace sandfreeze::feeding
{

namespace
{

/// Cooling area of voxels by their faces: what is not metal beyond them and no plane of symmetry.
class VoxelArea
{
public:
    explicit VoxelArea(const Evidence& evidence)
        : metal_(evidence.metal)
        , grid_(*evidence.metal.grid)
        , edges_(evidence.c.edges)
    {
    }

    double operator()(MetalId id) const
    {
        const int i = metal_.voxel[id] % grid_.nx;
        const int j = metal_.voxel[id] / grid_.nx % grid_.ny;
        const int k = metal_.voxel[id] / grid_.nx / grid_.ny;
        const auto all = metal_.neighbours(id);
        const auto flat = grid_.has_levels() ? all.subspan(1, 4) : all;
        double area = 0;
        if (cools(flat[0], j == 0, edges_.bottom)) area += grid_.flat_face_area(i, k);
        if (cools(flat[1], i == 0, edges_.left)) area += grid_.right_face_area(i - 1, k);
        if (cools(flat[2], i + 1 == grid_.nx, edges_.right)) area += grid_.right_face_area(i, k);
        if (cools(flat[3], j + 1 == grid_.ny, edges_.top)) area += grid_.flat_face_area(i, k);
        if (!grid_.has_levels()) return area;
        if (cools(all.front(), k == 0, edges_.below)) area += grid_.level_face_area();
        if (cools(all.back(), k + 1 == grid_.nz(), edges_.above)) area += grid_.level_face_area();
        return area;
    }

private:
    static bool cools(MetalId beyond, bool at_edge, const solver::Edge& edge)
    {
        return beyond == nobody && !(at_edge && edge.kind == solver::Edge::Kind::insulated);
    }

    const Metal& metal_;
    const mesh::Grid& grid_;
    const solver::Edges& edges_;
};

/// True measures over those of the voxels, for each part.
struct Scale {
    std::vector<double> volume;
    std::vector<double> area;
};

Scale voxel_scale(const Evidence& evidence, const mesh::Painting& painting)
{
    const VoxelArea area_of(evidence);
    const std::size_t parts = evidence.c.parts.size();
    Scale scale{std::vector<double>(parts, 0), std::vector<double>(parts, 0)};
    for (MetalId id = 0; id < static_cast<MetalId>(evidence.metal.size()); ++id) {
        scale.volume[evidence.metal.part[id]] += evidence.metal.volume[id];
        scale.area[evidence.metal.part[id]] += area_of(id);
    }
    for (std::size_t p = 0; p < parts; ++p) {
        scale.volume[p] = scale.volume[p] > 0 ? painting.measures[p].volume / scale.volume[p] : 1;
        scale.area[p] = scale.area[p] > 0 ? painting.measures[p].cooling_area / scale.area[p] : 1;
    }
    return scale;
}

std::vector<MetalId> metal_in(const Evidence& evidence, const mesh::Grid& grid, const solver::Region& region)
{
    const std::vector<bool> covered = mesh::covered_voxels(grid, region.shape, region.reach);
    std::vector<MetalId> inside;
    for (MetalId id = 0; id < static_cast<MetalId>(evidence.metal.size()); ++id)
        if (covered[static_cast<std::size_t>(evidence.metal.voxel[id])]) inside.push_back(id);
    return inside;
}

solver::MetalReport report_region(const Evidence& evidence, const mesh::Grid& grid, const Scale& scale,
                                  const solver::Region& region)
{
    const VoxelArea area_of(evidence);
    const double factor = real_mould_factor(evidence.c);
    const std::vector<MetalId> voxels = metal_in(evidence, grid, region);
    solver::MetalReport report;
    report.name = region.name;
    for (const MetalId id : voxels) {
        const mesh::PartId p = evidence.metal.part[id];
        const double volume = evidence.metal.volume[id] * scale.volume[p] * factor;
        report.volume += volume;
        report.mass += volume * evidence.c.materials[evidence.c.parts[p].material].density;
        report.cooling_area += area_of(id) * scale.area[p] * factor;
    }
    report.modulus = modulus(report.volume, report.cooling_area);
    fill_times(evidence, voxels, report);
    return report;
}

}  // namespace

std::vector<solver::MetalReport> report_regions(const Evidence& evidence, const mesh::Painting& painting,
                                                std::vector<std::string>& warnings)
{
    std::vector<solver::MetalReport> reports;
    if (evidence.c.regions.empty()) return reports;
    const Scale scale = voxel_scale(evidence, painting);
    for (const solver::Region& region : evidence.c.regions) {
        reports.push_back(report_region(evidence, painting.grid, scale, region));
        if (!(reports.back().volume > 0))
            warnings.push_back(words("Region ", quoted(region.name),
                                     " covers no metal, so it has no times: move it onto the casting."));
    }
    return reports;
}

}  // namespace sandfreeze::feeding
