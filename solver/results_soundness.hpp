#pragma once
// What the answer says of dispersed pores, of the structure, and of when the mould may be opened. SI units,
// temperatures in °C.

#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "mesh/shape.hpp"

namespace sandfreeze::solver
{

/// Below it steel castings show pores: 1 (K min)^½/cm (Niyama et al. 1982, from memory) in (K s)^½/m.
constexpr double steel_threshold = 774.5966692414834;

/// How an alloy freezes, by its own data: what says which number to believe.
enum class FreezingManner {
    one_temperature,  ///< no mush
    hardly_shrinks,   ///< graphite gives back what the metal shrinks
    steel,            ///< freezes above 1350 °C, and shrinks
    short_range,
    middling,
    long_range
};
std::string_view to_string(FreezingManner manner);

/// The worst place of a map, away from where it has no gradient.
struct WorstPlace {
    double value = 0;  ///< the map's unit
    mesh::Place at;
    std::string part;
};

/// Pores and structure of the castings of one alloy. Shares are of their volume.
struct AlloySoundness {
    std::string material;
    FreezingManner manner = FreezingManner::middling;
    double range = 0;               ///< from the liquidus to where the mush ends [K]
    double isothermal_percent = 0;  ///< that freezes at one temperature at its end
    std::optional<double> read_at;  ///< where gradient and cooling rate are read, E7 [°C]
    std::string because;            ///< what to read for such an alloy, and what not

    bool threshold_holds = false;               ///< steel_threshold
    std::optional<double> low_criterion;        ///< a twentieth lies below it [(K s)^½/m]
    std::optional<WorstPlace> least_criterion;  ///< [(K s)^½/m]
    std::optional<double> under_threshold_percent;

    std::optional<double> last_liquid_percent;  ///< liquid fraction down to which the loss is counted
    std::optional<double> high_pressure_loss;   ///< a twentieth lies above it [Pa]
    std::optional<WorstPlace> most_pressure_loss;
    std::optional<double> gas_pressure;  ///< of the hydrogen in the last liquid [Pa]
    std::optional<double> low_margin;    ///< pore margin: a twentieth lies below it [Pa]
    std::optional<WorstPlace> least_margin;
    std::optional<double> without_margin_percent;  ///< share with a pore margin below 0
    std::string pressure_because;

    std::optional<double> finest_arms;    ///< secondary dendrite arms [m]
    std::optional<double> coarsest_arms;  ///< [m]
    std::string structure_because;
};

/// Pores and structure.
struct SoundnessReport {
    std::optional<double> hydrogen;  ///< in the metal [ml/100 g]; empty: not considered
    std::vector<AlloySoundness> alloys;
    std::string trust;  ///< how far to trust all of this
};

/// When the castings have cooled enough to be taken out.
struct OpeningReport {
    double below = 0;               ///< [°C]
    bool below_given = false;       ///< by the case; else the rule of thumb
    std::optional<double> at;       ///< their hottest place is below from then on [s]
    double relative_imbalance = 0;  ///< of the heat, from the pour until then
    std::optional<mesh::Place> place;
    std::string part;  ///< that decides
    std::string because;
    std::vector<std::string> cautions;
};

}  // namespace sandfreeze::solver
