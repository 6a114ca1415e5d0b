#include "solver/feeding/surfaces.hpp"

#include <algorithm>
#include <limits>

namespace sandfreeze::feeding
{

namespace
{

/// The share of what is there that is wanted; rounding leaves no films behind.
double share_of(double there, double wanted)
{
    constexpr double film = 1e-12;
    return wanted < there * (1 - film) ? wanted / there : 1;
}

}  // namespace

bool has_air(const solver::Part& part)
{
    return solver::is_poured(part.role) && (part.open_top || part.atmospheric_core);
}

int height_of(const Metal& metal, MetalId id)
{
    const mesh::Grid& grid = *metal.grid;
    const int row = metal.voxel[id] / grid.nx;
    return grid.has_levels() ? row / grid.ny : row;
}

double height_of(mesh::Place place)
{
    return place.has_height() ? place.z : place.y;
}

Surfaces::Surfaces(const Evidence& evidence, const PoolTree& pools, const Contraction& contraction,
                   Contents& contents)
    : evidence_(evidence)
    , metal_(evidence.metal)
    , pools_(pools)
    , contraction_(contraction)
    , contents_(contents)
    , shrunk_until_(contraction.start())
    , borders_(metal_.size(), Void::none)
    , air_(pools.list.size())
    , hollows_(pools.list.size())
    , open_pool_(pools.list.size(), no_pool)
    , level_(pools.list.size(), std::numeric_limits<double>::quiet_NaN())
{
    height_.reserve(metal_.size());
    for (MetalId id = 0; id < static_cast<MetalId>(metal_.size()); ++id)
        height_.push_back(height_of(metal_, id));
    gather_airy_parts();
}

void Surfaces::gather_airy_parts()
{
    for (std::size_t p = 0; p < evidence_.c.parts.size(); ++p) {
        if (!has_air(evidence_.c.parts[p])) continue;
        const auto voxels = metal_.falling_of(p);
        airy_.emplace_back(voxels.begin(), voxels.end());
        std::stable_sort(airy_.back().begin(), airy_.back().end(),
                         [&](MetalId a, MetalId b) { return height_[a] > height_[b]; });
    }
}

void Surfaces::advance(double now, double shrunk_until)
{
    now_ = now;
    shrunk_until_ = shrunk_until;
    find_open_pools();
    for (std::vector<MetalId>& part : airy_)
        std::erase_if(part, [&](MetalId id) { return !is_liquid(id); });
}

void Surfaces::find_open_pools()
{
    bool changed = false;
    const std::vector<double> before = level_;
    for (std::size_t leaf = 0; leaf < pools_.list.size(); ++leaf) {
        if (!pools_.list[leaf].children.empty()) continue;
        const auto number = static_cast<std::int32_t>(leaf);
        const std::int32_t open = pools_.list[leaf].ends > now_ ? pools_.open_at(number, now_) : no_pool;
        const std::int32_t was = open_pool_[leaf];
        if (open == was) continue;
        if (open != no_pool && was != no_pool)
            level_[static_cast<std::size_t>(open)] = before[static_cast<std::size_t>(was)];
        changed = true;
        open_pool_[leaf] = open;
    }
    if (!changed) return;
    hand_on(air_);
    hand_on(hollows_);
}

/// Surfaces belong to what a pool has split into.
void Surfaces::hand_on(std::vector<Rows>& surfaces)
{
    std::vector<Rows> old(surfaces.size());
    old.swap(surfaces);
    for (const Rows& rows : old)
        for (const auto& [height, row] : rows)
            for (const MetalId id : row)
                if (is_liquid(id)) surfaces[static_cast<std::size_t>(pool_of(id))][height].push_back(id);
}

std::vector<MetalId>* Surfaces::highest(Rows& rows) const
{
    while (!rows.empty()) {
        std::vector<MetalId>& row = rows.begin()->second;
        std::erase_if(row, [&](MetalId id) { return !is_liquid(id); });
        if (!row.empty()) return &row;
        rows.erase(rows.begin());
    }
    return nullptr;
}

double Surfaces::draw(std::int32_t pool, double wanted)
{
    border_on_air(pool);
    wanted = sink(pool, wanted);
    while (wanted > 0) {
        wanted = hollow_out(pool, wanted);
        if (wanted > 0 && !start_hollow(pool)) break;
    }
    return wanted;
}

/// The highest liquid of every part with air borders on it, whatever skin has closed above.
void Surfaces::border_on_air(std::int32_t pool)
{
    for (const std::vector<MetalId>& part : airy_) {
        const auto mine = [&](MetalId id) { return is_liquid(id) && pool_of(id) == pool; };
        const auto first = std::find_if(part.begin(), part.end(), mine);
        if (first == part.end()) continue;
        const int height = height_[*first];
        for (auto id = first; id != part.end() && height_[*id] == height; ++id)
            if (mine(*id)) border(*id, Void::air);
    }
    if (const std::vector<MetalId>* row = highest(air_[static_cast<std::size_t>(pool)]))
        level_[static_cast<std::size_t>(pool)] = height_of(metal_.place(row->front()));
}

/// Lets a hollow begin at the pool's highest liquid; of equal heights where it closes last.
bool Surfaces::start_hollow(std::int32_t pool)
{
    MetalId best = nobody;
    for (const MetalId id : metal_.falling) {
        if (!(metal_.closes[id] > now_)) break;
        if (!is_liquid(id) || pool_of(id) != pool || borders_[id] != Void::none) continue;
        if (best == nobody || height_[id] > height_[best]) best = id;
    }
    if (best == nobody) return false;
    border(best, Void::hollow);
    return true;
}

/// What hangs together with `first` no lower than it: a void that reaches there rises to the top of it.
void Surfaces::border(MetalId first, Void kind)
{
    if (borders_[first] != Void::none) return;
    std::vector<Rows>& surfaces = kind == Void::air ? air_ : hollows_;
    Rows& rows = surfaces[static_cast<std::size_t>(pool_of(first))];
    const auto mark = [&](MetalId id) {
        borders_[id] = kind;
        rows[height_[id]].push_back(id);
        todo_.push_back(id);
    };
    mark(first);
    while (!todo_.empty()) {
        const MetalId id = todo_.back();
        todo_.pop_back();
        for (const MetalId next : metal_.neighbours(id))
            if (next != nobody && borders_[next] == Void::none && height_[next] >= height_[first] &&
                is_liquid(next))
                mark(next);
    }
}

void Surfaces::border_beside(const std::vector<MetalId>& gone, Void kind)
{
    for (const MetalId id : gone)
        for (const MetalId next : metal_.neighbours(id))
            if (next != nobody && is_liquid(next)) border(next, kind);
}

double Surfaces::take(MetalId id, double share, Void kind)
{
    const double taken = share < 1 ? contents_.filled[id] * share : contents_.filled[id];
    contents_.filled[id] -= taken;
    (kind == Void::air ? contents_.drawn : contents_.hollow)[id] += taken;
    contents_.taken_at[id] = static_cast<float>(now_);
    contents_.given[metal_.part[id]] += taken * metal_.volume[id];
    return taken * capacity(id);
}

/// Draws an open surface down, level.
double Surfaces::sink(std::int32_t pool, double wanted)
{
    Rows& rows = air_[static_cast<std::size_t>(pool)];
    while (wanted > 0) {
        std::vector<MetalId>* row = highest(rows);
        if (row == nullptr) return wanted;
        level_[static_cast<std::size_t>(pool)] = height_of(metal_.place(row->front()));
        double there = 0;
        for (const MetalId id : *row)
            there += content(id);
        const double share = share_of(there, wanted);
        for (const MetalId id : *row)
            take(id, share, Void::air);
        if (share < 1) return 0;
        wanted = std::max(0.0, wanted - there);
        const std::vector<MetalId> gone = std::move(*row);
        rows.erase(rows.begin());
        border_beside(gone, Void::air);
    }
    return wanted;
}

/// Hollows out what borders on hollows: the highest row first, in it what closes last.
double Surfaces::hollow_out(std::int32_t pool, double wanted)
{
    Rows& rows = hollows_[static_cast<std::size_t>(pool)];
    while (wanted > 0) {
        std::vector<MetalId>* row = highest(rows);
        if (row == nullptr) return wanted;
        const auto hottest = std::min_element(
            row->begin(), row->end(), [&](MetalId a, MetalId b) { return metal_.closes_after(a, b); });
        const MetalId id = *hottest;
        const double share = share_of(content(id), wanted);
        const double taken = take(id, share, Void::hollow);
        if (share < 1) return 0;
        wanted = std::max(0.0, wanted - taken);
        row->erase(hottest);
        border_beside({id}, Void::hollow);
    }
    return wanted;
}

double Surfaces::fill(std::int32_t pool, double surplus)
{
    std::vector<MetalId> room;
    for (const MetalId id : metal_.falling) {
        if (!(metal_.closes[id] > now_)) break;
        if (contents_.drawn[id] + contents_.hollow[id] > 0 && pool_of(id) == pool) room.push_back(id);
    }
    std::stable_sort(room.begin(), room.end(), [&](MetalId a, MetalId b) { return height_[a] < height_[b]; });
    for (const MetalId id : room) {
        const double empty = contents_.drawn[id] + contents_.hollow[id];
        const double fits = empty * capacity(id);
        const double share = share_of(fits, surplus);
        contents_.drawn[id] *= 1 - share;
        contents_.hollow[id] *= 1 - share;
        contents_.filled[id] += empty * share;
        contents_.given[metal_.part[id]] -= empty * share * metal_.volume[id];
        if (share < 1) return 0;
        surplus = std::max(0.0, surplus - fits);
    }
    return surplus;
}

}  // namespace sandfreeze::feeding
