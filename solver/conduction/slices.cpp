#include "solver/conduction/slices.hpp"

#include <algorithm>
#include <array>

#include "solver/conduction/kernels.hpp"

namespace sandfreeze::conduction
{
namespace
{

constexpr std::size_t sides = 6;

/// One slot of a slice while it is being laid out: for each row a neighbour, or none.
struct Slot {
    std::array<std::int32_t, lanes> cell{};
    std::array<std::int32_t, lanes> link{};

    Slot()
    {
        cell.fill(-1);
        link.fill(-1);
    }
    bool empty() const
    {
        return std::all_of(cell.begin(), cell.end(), [](std::int32_t c) { return c < 0; });
    }
    /// The cell that row 0 would have if all rows' neighbours were consecutive; -1 when they are not.
    std::int32_t run_start(std::int32_t all_cells) const
    {
        std::int32_t start = 0;
        bool found = false;
        for (std::int32_t l = 0; l < lanes; ++l) {
            if (cell[l] < 0) continue;
            const std::int32_t mine = cell[l] - l;
            if (found && mine != start) return -1;
            start = mine;
            found = true;
        }
        return found && start >= 0 && start + lanes <= all_cells ? start : -1;
    }
};

void record(Link& link, std::int32_t at)
{
    auto* free = std::find(std::begin(link.slots), std::end(link.slots), -1);
    *free = at;
}

class SliceWriter
{
public:
    SliceWriter(Slices& out, std::size_t store, std::int32_t all_cells, std::vector<Link>& links)
        : out_(out)
        , store_(store)
        , all_cells_(all_cells)
        , links_(links)
    {
        out_.start.push_back(0);
    }

    void write(std::vector<Slot>& slots, std::span<const std::int32_t> rows)
    {
        slots.erase(std::remove_if(slots.begin(), slots.end(), [](const Slot& s) { return s.empty(); }),
                    slots.end());
        const auto runs_end = std::stable_partition(
            slots.begin(), slots.end(), [&](const Slot& s) { return s.run_start(all_cells_) >= 0; });
        out_.runs.push_back(static_cast<std::int32_t>(runs_end - slots.begin()));
        const std::int32_t spare = std::max(0, *std::max_element(rows.begin(), rows.end()));
        for (auto slot = slots.begin(); slot != slots.end(); ++slot) {
            const std::int32_t run = slot < runs_end ? slot->run_start(all_cells_) : -1;
            out_.run_start.push_back(run);
            for (std::int32_t l = 0; l < lanes; ++l) {
                const auto at = static_cast<std::int32_t>(store_ + out_.neighbour.size());
                if (slot->link[l] >= 0) record(links_[static_cast<std::size_t>(slot->link[l])], at);
                out_.neighbour.push_back(run >= 0 ? run + l : slot->cell[l] >= 0 ? slot->cell[l] : spare);
            }
        }
        out_.start.push_back(static_cast<std::int32_t>(out_.neighbour.size() / lanes));
    }

private:
    Slices& out_;
    std::size_t store_;
    std::int32_t all_cells_;
    std::vector<Link>& links_;
};

}  // namespace

Slices lay_out(std::vector<std::int32_t> rows, const NeighbourLists& neighbours, std::int32_t first,
               std::int32_t last, std::int32_t all_cells, std::size_t store, std::vector<Link>& links)
{
    Slices out;
    out.rows = std::move(rows);
    SliceWriter writer(out, store, all_cells, links);
    std::vector<Slot> slots;
    for (std::size_t s = 0; s + lanes <= out.rows.size(); s += lanes) {
        const std::span<const std::int32_t> mine(out.rows.data() + s, lanes);
        slots.assign(sides, {});  // further neighbours on a side go behind
        for (std::size_t l = 0; l < lanes; ++l) {
            if (mine[l] < 0) continue;
            std::size_t further = sides;
            for (const Neighbour& n : neighbours.of(mine[l])) {
                if (n.cell < first || n.cell >= last) continue;
                std::size_t slot = n.side;
                if (slots[slot].cell[l] >= 0) slot = further++;
                if (slot >= slots.size()) slots.emplace_back();
                slots[slot].cell[l] = n.cell;
                slots[slot].link[l] = n.link;
            }
        }
        writer.write(slots, mine);
    }
    return out;
}

}  // namespace sandfreeze::conduction
