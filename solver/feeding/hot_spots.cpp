#include "solver/feeding/hot_spots.hpp"

#include <algorithm>
#include <cmath>
#include <limits>

#include "solver/feeding/disjoint_sets.hpp"
#include "solver/feeding/sentences.hpp"

namespace sandfreeze::feeding
{

namespace
{

/// Opens voxels in falling order. A set's root is its first, highest voxel; where two sets meet, the lower
/// one's peak ends.
class PeakSearch
{
public:
    explicit PeakSearch(const Evidence& evidence)
        : evidence_(evidence)
        , sets_(evidence.metal.size())
    {
    }

    void open(MetalId id)
    {
        const Metal& metal = evidence_.metal;
        MetalId highest = id;
        sets_.add(id);
        for (const MetalId next : metal.neighbours(id)) {
            if (next == nobody || !sets_.has(next)) continue;
            const MetalId root = sets_.root(next);
            if (root == highest) continue;
            const auto [stays, goes] =
                metal.closes_after(root, highest) ? std::pair(root, highest) : std::pair(highest, root);
            if (goes != id) end_peak(goes, id);
            sets_.join_under(stays, goes);
            highest = stays;
        }
    }

    std::vector<Peak> take()
    {
        for (const MetalId id : evidence_.metal.falling)
            if (sets_.root(id) == id) peaks_.push_back({id, std::numeric_limits<double>::infinity()});
        std::sort(peaks_.begin(), peaks_.end(),
                  [&](const Peak& a, const Peak& b) { return evidence_.metal.closes_after(a.at, b.at); });
        return std::move(peaks_);
    }

private:
    void end_peak(MetalId peak, MetalId saddle)
    {
        const double prominence =
            evidence_.by_end(evidence_.metal.closes[peak]) - evidence_.by_end(evidence_.metal.closes[saddle]);
        if (prominence > 0) peaks_.push_back({peak, prominence});
    }

    const Evidence& evidence_;
    DisjointSets sets_;
    std::vector<Peak> peaks_;
};

std::string fed_words(const Evidence& evidence, MetalId at)
{
    return words("fed by ", quoted(evidence.source_name(evidence.ways.source[at])),
                 " to the end: it stays open until ", seconds_words(evidence.metal.closes[at]), ".");
}

std::string unfed_words(const Evidence& evidence, const solver::HotSpot& spot, MetalId at)
{
    const MetalId neck = evidence.ways.cut_off_at[at];
    const std::int32_t source = evidence.ways.source[at];
    const std::string name = quoted(evidence.source_name(source));
    const bool feeder_itself = evidence.bodies.of[neck] == source;
    return words(feeder_itself ? "" : "its way to ", name,
                 feeder_itself ? " itself gave out at " : " closed at ",
                 seconds_words(evidence.ways.cut_off[at]), ", ", evidence.where(neck),
                 ", but it stays open until ", seconds_words(spot.closes), ": ", seconds_words(spot.unfed),
                 " unfed (limit ", seconds_words(spot.limit), ").");
}

/// Names a source that lies lower than the spot it feeds; empty where it does not.
std::string uphill_words(const Evidence& evidence, const solver::HotSpot& spot, MetalId at)
{
    const std::int32_t source = evidence.ways.source[at];
    const mesh::Place from = evidence.metal.place(evidence.bodies.list[source].source);
    const bool z_is_height = spot.at.has_height();
    const double low = z_is_height ? from.z : from.y;
    const double high = z_is_height ? spot.at.z : spot.at.y;
    if (!(low < high)) return "";
    const std::string_view axis = z_is_height ? "z " : "y ";
    return words(" ", quoted(evidence.source_name(source)), " lies lower (", axis, number_words(low * 1000),
                 " mm) than this place (", axis, number_words(high * 1000),
                 " mm), and gravity is not reckoned with here.");
}

std::string because(const Evidence& evidence, const solver::HotSpot& spot, MetalId at)
{
    if (evidence.ways.source[at] == no_source)
        return words("no metal leads from here to anything that can feed; it stays open until ",
                     seconds_words(spot.closes), ".");
    return (spot.verdict == solver::Verdict::fed ? fed_words(evidence, at)
                                                 : unfed_words(evidence, spot, at)) +
           uphill_words(evidence, spot, at);
}

solver::HotSpot judge(const Evidence& evidence, MetalId at)
{
    using solver::Verdict;
    const Ways& ways = evidence.ways;
    solver::HotSpot spot;
    spot.at = evidence.metal.place(at);
    spot.part = evidence.part_name(at);
    spot.freezes = happened(evidence.freezes_at(at));
    spot.closes = evidence.metal.closes[at];
    spot.unfed = evidence.unfed(at);
    if (ways.source[at] != no_source) {
        spot.cut_off = happened(ways.cut_off[at]);
        spot.cut_off_at = evidence.metal.place(ways.cut_off_at[at]);
        spot.feeds_from = evidence.source_name(ways.source[at]);
    }
    spot.limit = evidence.limit(spot.closes);
    spot.verdict = spot.unfed <= 0            ? Verdict::fed
                   : spot.unfed <= spot.limit ? Verdict::marginal
                                              : Verdict::cut_off;
    spot.because = because(evidence, spot, at);
    return spot;
}

}  // namespace

std::vector<Peak> closing_peaks(const Evidence& evidence)
{
    PeakSearch search(evidence);
    for (const MetalId id : evidence.metal.falling)
        search.open(id);
    return search.take();
}

std::vector<solver::HotSpot> judge_hot_spots(const Evidence& evidence)
{
    std::vector<solver::HotSpot> spots;
    for (const Peak& peak : closing_peaks(evidence)) {
        const float closes = evidence.metal.closes[peak.at];
        if (!std::isfinite(closes) || !evidence.is_casting(peak.at)) continue;
        if (peak.prominence >= evidence.limit(closes)) spots.push_back(judge(evidence, peak.at));
    }
    std::stable_sort(spots.begin(), spots.end(),
                     [](const solver::HotSpot& a, const solver::HotSpot& b) { return a.unfed > b.unfed; });
    return spots;
}

}  // namespace sandfreeze::feeding
