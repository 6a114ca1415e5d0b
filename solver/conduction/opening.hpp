#pragma once
// When the castings have cooled enough for the mould to be opened.

#include <cstdint>
#include <optional>
#include <span>
#include <vector>

#include "mesh/painter.hpp"
#include "solver/case.hpp"
#include "solver/conduction/frames.hpp"
#include "solver/conduction/generation.hpp"
#include "solver/state.hpp"

namespace sandfreeze::conduction
{

/// What is found of it. Empty `at`: the run ended before.
struct OpeningRecord {
    std::optional<double> at;  ///< the castings' hottest place is below its limit from then on [s]
    std::size_t voxel = 0;     ///< of that place, or of the one that is furthest above its limit at the end
    double temperature = 0;    ///< there, at the end [°C]
    double relative_imbalance = 0;  ///< of the heat, from the start until then
    bool stopped = false;           ///< whoever watched did not want to wait
};

/// Below this a casting of the part may be taken out: the case's own limit, else half of the temperature at
/// which its alloy becomes wholly solid (in °C), our rule of thumb [°C].
double opening_limit(const solver::Case& c, const solver::Part& part);

/// The castings' hottest place at a moment.
struct HottestPlace {
    double time = 0;
    std::size_t place = 0;  ///< of those that are followed
    double excess = 0;      ///< over its limit [K]

    void carry(solver::Archive& archive);
};

/// Follows the castings' hottest place, feeders and gates left out.
class OpeningWatch
{
public:
    OpeningWatch(const solver::Case& c, const CellPicture& picture, const mesh::Painting& painting);

    /// Takes the state at the end of a step, temperatures of the generation's network.
    template <class Real>
    void look(double time, std::span<const Real> temperature, const Generation& generation)
    {
        HottestPlace now{time, 0, -1e300};
        for (std::size_t n = 0; n < places_.size(); ++n) {
            const auto placed = static_cast<std::size_t>(generation.place_of(places_[n].cell));
            const double excess = static_cast<double>(temperature[placed]) - places_[n].limit;
            if (excess > now.excess) now = {time, n, excess};
        }
        take(now);
    }
    bool any() const { return !places_.empty(); }
    bool is_below() const { return record_.at.has_value(); }
    /// Metal is still liquid, in castings or elsewhere.
    void not_yet() { record_.at.reset(); }
    void stop() { record_.stopped = true; }
    void note_imbalance(double relative) { record_.relative_imbalance = relative; }
    const OpeningRecord& record() const { return record_; }

    void carry(solver::Archive& archive);

private:
    /// A cell of the first mesh that is casting for the larger part.
    struct CastingCell {
        std::int32_t cell = 0;
        std::size_t voxel = 0;  ///< of a casting, nearest to its centroid
        double limit = 0;       ///< [°C]
    };
    void take(const HottestPlace& now);

    std::vector<CastingCell> places_;
    std::optional<HottestPlace> before_;
    OpeningRecord record_;
};

}  // namespace sandfreeze::conduction
