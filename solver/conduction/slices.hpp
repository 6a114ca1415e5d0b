#pragma once
// Internal to conduction/: lays the neighbours of rows out slot by slot.

#include <cstdint>
#include <span>
#include <vector>

#include "solver/conduction/network.hpp"

namespace sandfreeze::conduction
{

/// One neighbour of a row: the placed cell, the link between them, and on which side it lies.
struct Neighbour {
    std::int32_t cell = 0;
    std::int32_t link = 0;
    std::uint8_t side = 0;  ///< down and up along x, y, z
};

/// Neighbours of every placed cell, row by row.
struct NeighbourLists {
    std::vector<std::size_t> start;
    std::vector<Neighbour> list;

    std::span<const Neighbour> of(std::int32_t cell) const
    {
        const auto c = static_cast<std::size_t>(cell);
        return {list.data() + start[c], start[c + 1] - start[c]};
    }
};

/// Lays out rows (placed cells, -1 for padding; a multiple of 16) with those neighbours that lie in [first,
/// last). Slots whose 16 neighbours are consecutive cells come first. Writes into links[…].slots where each
/// conductance is stored, counting from `store`. Neighbours of padding are the row's slice mates, with no
/// conductance.
Slices lay_out(std::vector<std::int32_t> rows, const NeighbourLists& neighbours, std::int32_t first,
               std::int32_t last, std::int32_t all_cells, std::size_t store, std::vector<Link>& links);

}  // namespace sandfreeze::conduction
