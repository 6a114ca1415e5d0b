#pragma once
// Liquid that borders on air or on hollows, and how it is drawn down.

#include <functional>
#include <map>

#include "solver/feeding/contraction.hpp"
#include "solver/feeding/pools.hpp"

namespace sandfreeze::feeding
{

/// Whether air presses on the metal of a part: its top is open, or a core or vent breaks its skin.
bool has_air(const solver::Part& part);

/// Voxel's row counted upwards: gravity is −y, −z in plans.
int height_of(const Metal& metal, MetalId id);
/// The same [m].
double height_of(mesh::Place place);

/// What there is of the metal of every voxel. Shares are of the voxel's volume.
struct Contents {
    std::vector<double> filled;
    std::vector<double> drawn;    ///< empty, and open to the air
    std::vector<double> hollow;   ///< empty, and closed in
    std::vector<float> taken_at;  ///< [s]; negative: never
    std::vector<double> given;    ///< room that has got empty in each part [m3]
};

/// Surfaces of all pools. Rules as in balance.hpp.
class Surfaces
{
public:
    Surfaces(const Evidence& evidence, const PoolTree& pools, const Contraction& contraction,
             Contents& contents);

    /// Goes on to a time: some metal has closed by then, some pools may have split. What there is of each
    /// voxel's metal is that of a time a slice later.
    void advance(double now, double shrunk_until);

    /// Metal that fills a voxel, and that there is in it [m3 as poured].
    double capacity(MetalId id) const
    {
        return metal_.volume[id] / contraction_.volume_at(id, shrunk_until_);
    }
    double content(MetalId id) const { return contents_.filled[id] * capacity(id); }

    /// The open pool that a metal voxel hangs on; no_pool once the last one has closed.
    std::int32_t pool_of(MetalId id) const { return open_pool_[static_cast<std::size_t>(pools_.home[id])]; }

    /// Takes so much [m3 as poured] from a pool; gives back what could not be had.
    double draw(std::int32_t pool, double wanted);
    /// Fills what is empty in a pool from below; gives back what found no room.
    double fill(std::int32_t pool, double surplus);

    /// Height of the open surface that presses on a pool [m]; not a number where there is none.
    double level(std::int32_t pool) const { return level_[static_cast<std::size_t>(pool)]; }

private:
    enum class Void : char { none, air, hollow };
    /// By height, highest first.
    using Rows = std::map<int, std::vector<MetalId>, std::greater<>>;

    bool is_liquid(MetalId id) const { return metal_.closes[id] > now_ && contents_.filled[id] > 0; }
    void gather_airy_parts();
    void find_open_pools();
    void hand_on(std::vector<Rows>& surfaces);
    void border_on_air(std::int32_t pool);
    bool start_hollow(std::int32_t pool);
    void border(MetalId first, Void kind);
    void border_beside(const std::vector<MetalId>& gone, Void kind);
    double sink(std::int32_t pool, double wanted);
    double hollow_out(std::int32_t pool, double wanted);
    double take(MetalId id, double share, Void kind);
    /// The highest row with liquid in it; null when there is none.
    std::vector<MetalId>* highest(Rows& rows) const;

    const Evidence& evidence_;
    const Metal& metal_;
    const PoolTree& pools_;
    const Contraction& contraction_;
    Contents& contents_;
    double now_ = 0;
    double shrunk_until_;  ///< what the metal takes up is that of this time [s]
    std::vector<int> height_;
    std::vector<std::vector<MetalId>> airy_;  ///< metal of each part that has air, highest first
    std::vector<Void> borders_;
    std::vector<Rows> air_;  ///< of each pool
    std::vector<Rows> hollows_;
    std::vector<std::int32_t> open_pool_;  ///< of each childless pool
    std::vector<double> level_;
    std::vector<MetalId> todo_;
};

}  // namespace sandfreeze::feeding
