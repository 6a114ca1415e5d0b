#include "solver/feeding/metal.hpp"

#include <algorithm>
#include <bit>
#include <stdexcept>

#include "solver/feeding/sentences.hpp"

namespace sandfreeze::feeding
{

namespace
{

/// Metal voxels numbered in grid order; `nobody` elsewhere.
std::vector<MetalId> number_voxels(const solver::Case& c, const mesh::Painting& painting, Metal& metal)
{
    std::vector<char> poured;
    for (const solver::Part& part : c.parts)
        poured.push_back(solver::is_poured(part.role) ? 1 : 0);

    std::vector<MetalId> id_of_voxel(painting.part_of_voxel.size(), nobody);
    for (std::size_t v = 0; v < id_of_voxel.size(); ++v) {
        if (poured[painting.part_of_voxel[v]] == 0) continue;
        id_of_voxel[v] = static_cast<MetalId>(metal.voxel.size());
        metal.voxel.push_back(static_cast<std::int32_t>(v));
        metal.part.push_back(painting.part_of_voxel[v]);
    }
    return id_of_voxel;
}

void read_closing_times(std::span<const float> closes, Metal& metal)
{
    metal.closes.reserve(metal.size());
    for (std::size_t id = 0; id < metal.size(); ++id) {
        const float time = closes[metal.voxel[id]];
        if (!(time >= 0))
            throw std::invalid_argument(
                words("closing time ", std::to_string(time), " s of the metal at ",
                      place_words(metal.place(static_cast<MetalId>(id))),
                      " mm: each metal voxel needs one, infinite where it never closed"));
        metal.closes.push_back(time + 0.0F);  // no negative zero, whose bits would sort wrongly
    }
}

void link_neighbours(const std::vector<MetalId>& id_of_voxel, Metal& metal)
{
    const mesh::Grid& grid = *metal.grid;
    const int nz = grid.nz();
    metal.faces = nz > 1 ? 6 : 4;
    metal.neighbour.reserve(metal.size() * static_cast<std::size_t>(metal.faces));
    metal.volume.reserve(metal.size());
    const std::size_t row = static_cast<std::size_t>(grid.nx);
    const std::size_t level = row * static_cast<std::size_t>(grid.ny);
    const auto link = [&](bool inside, std::size_t v) {
        metal.neighbour.push_back(inside ? id_of_voxel[v] : nobody);
    };
    std::size_t v = 0;
    for (int k = 0; k < nz; ++k) {
        for (int j = 0; j < grid.ny; ++j) {
            for (int i = 0; i < grid.nx; ++i, ++v) {
                if (id_of_voxel[v] == nobody) continue;
                if (nz > 1) link(k > 0, v - level);
                link(j > 0, v - row);
                link(i > 0, v - 1);
                link(i + 1 < grid.nx, v + 1);
                link(j + 1 < grid.ny, v + row);
                if (nz > 1) link(k + 1 < nz, v + level);
                metal.volume.push_back(grid.voxel_volume(i, k));
            }
        }
    }
}

/// The bits of times that are not negative sort like the times: one integer holds time and number.
void sort_by_closing(Metal& metal)
{
    std::vector<std::uint64_t> keys(metal.size());
    for (std::size_t id = 0; id < keys.size(); ++id) {
        const std::uint32_t falling = ~std::bit_cast<std::uint32_t>(metal.closes[id]);
        keys[id] = (std::uint64_t{falling} << 32U) | id;
    }
    std::sort(keys.begin(), keys.end());
    metal.falling.reserve(keys.size());
    for (const std::uint64_t key : keys)
        metal.falling.push_back(static_cast<MetalId>(key & 0xffffffffU));
}

void sort_into_parts(std::size_t parts, Metal& metal)
{
    metal.part_begin.assign(parts + 1, 0);
    for (const mesh::PartId p : metal.part)
        ++metal.part_begin[p + std::size_t{1}];
    for (std::size_t p = 0; p < parts; ++p)
        metal.part_begin[p + 1] += metal.part_begin[p];

    std::vector<std::size_t> next(metal.part_begin.begin(), metal.part_begin.end() - 1);
    metal.falling_by_part.resize(metal.size());
    for (const MetalId id : metal.falling)
        metal.falling_by_part[next[metal.part[id]]++] = id;
}

}  // namespace

mesh::Place Metal::place(MetalId id) const
{
    return grid->place(static_cast<std::size_t>(voxel[id]));
}

double Metal::level_height(MetalId id) const
{
    const int k = voxel[id] / grid->nx / grid->ny;
    return grid->level_heights[static_cast<std::size_t>(k)];
}

Metal gather_metal(const solver::Case& c, const mesh::Painting& painting, std::span<const float> closes)
{
    Metal metal;
    metal.grid = &painting.grid;
    const std::vector<MetalId> id_of_voxel = number_voxels(c, painting, metal);
    read_closing_times(closes, metal);
    link_neighbours(id_of_voxel, metal);
    sort_by_closing(metal);
    sort_into_parts(c.parts.size(), metal);
    return metal;
}

}  // namespace sandfreeze::feeding
