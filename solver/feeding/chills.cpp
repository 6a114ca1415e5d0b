#include <algorithm>
#include <cmath>
#include <limits>
#include <utility>

#include "solver/feeding/analysis.hpp"
#include "solver/feeding/distance.hpp"
#include "solver/feeding/sentences.hpp"

namespace sandfreeze::feeding
{

namespace
{

constexpr double works_from = 10;  ///< percent shorter
constexpr double weak_from = 3;    ///< percent shorter

struct Near {
    double distance = 0;  ///< squared [cells²]
    std::size_t voxel = 0;

    bool operator<(const Near& other) const
    {
        return distance < other.distance || (distance == other.distance && voxel < other.voxel);
    }
};

double volume_of(const mesh::Grid& grid, std::size_t voxel)
{
    const auto nx = static_cast<std::size_t>(grid.nx);
    const auto level = nx * static_cast<std::size_t>(grid.ny);
    return grid.voxel_volume(static_cast<int>(voxel % nx), static_cast<int>(voxel / level));
}

std::string change_words(double change_percent)
{
    const std::string amount = number_words(std::abs(change_percent));
    if (change_percent < 0) return words("freezes ", amount, " % sooner than with mould in its place");
    if (change_percent > 0)
        return words("freezes ", amount,
                     " % later than with mould in its place (a change above 0 means slower)");
    return "freezes no sooner and no later than with mould in its place";
}

}  // namespace

WeighedVoxels nearest_tenth(const solver::Case& c, const mesh::Painting& painting, std::size_t part)
{
    const std::vector<double> distance = squared_distances(painting, part);
    std::vector<Near> casting;
    double volume = 0;
    for (std::size_t v = 0; v < distance.size(); ++v) {
        if (c.parts[painting.part_of_voxel[v]].role != solver::Role::casting) continue;
        casting.push_back({distance[v], v});
        volume += volume_of(painting.grid, v);
    }
    WeighedVoxels tenth;
    if (casting.empty() || std::isinf(casting.front().distance)) return tenth;

    std::sort(casting.begin(), casting.end());
    double left = volume / 10;
    for (const Near& near : casting) {
        const double share = std::min(volume_of(painting.grid, near.voxel), left);
        if (!(share > 1e-12 * volume)) break;
        tenth.voxel.push_back(near.voxel);
        tenth.volume.push_back(share);
        left -= share;
    }
    return tenth;
}

double mean_freeze(const WeighedVoxels& where, std::span<const float> freezes)
{
    double sum = 0;
    double volume = 0;
    for (std::size_t k = 0; k < where.voxel.size(); ++k) {
        sum += where.volume[k] * static_cast<double>(freezes[where.voxel[k]]);
        volume += where.volume[k];
    }
    return volume > 0 ? sum / volume : std::numeric_limits<double>::quiet_NaN();
}

void judge_chill(solver::ChillReport& chill, double change_percent)
{
    using solver::Verdict;
    if (!std::isfinite(change_percent)) {
        chill.change_percent.reset();
        chill.verdict.reset();
        chill.because = "cannot be judged: the casting nearest to it was not solid by the end of the run.";
        return;
    }
    chill.change_percent = change_percent;
    chill.verdict = change_percent <= -works_from  ? Verdict::working
                    : change_percent <= -weak_from ? Verdict::weak
                                                   : Verdict::no_effect;
    chill.limit = chill.verdict == Verdict::working ? works_from : weak_from;
    chill.because = words("the tenth of the casting nearest to it ", change_words(change_percent),
                          "; a chill works from ", number_words(works_from), " % sooner, and is weak from ",
                          number_words(weak_from), " %.");
}

}  // namespace sandfreeze::feeding
