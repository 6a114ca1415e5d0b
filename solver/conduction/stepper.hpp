#pragma once
// Advances the enthalpy of all cells, E1, by stabilised explicit steps at two rates.

#include <limits>
#include <memory>
#include <span>
#include <vector>

#include "solver/conduction/conductivities.hpp"
#include "solver/conduction/kernels.hpp"
#include "solver/conduction/network.hpp"
#include "solver/conduction/property_table.hpp"
#include "solver/conduction/rate_bound.hpp"
#include "solver/conduction/team.hpp"
#include "solver/state.hpp"

namespace sandfreeze::conduction
{

/// What one tried step came to.
struct StepTrial {
    double error = 0;  ///< embedded estimate over the tolerance; not a number when the step broke down
    int slow_stages = 0;
    int quick_stages = 0;
};

/// State and rates at both ends of the last accepted step, placed-cell order, for whoever records.
/// H runs as the cubic through them.
template <class Real>
struct StepView {
    double time = 0;              ///< at the start of the step [s]
    double step = 0;              ///< [s]
    std::span<const Real> start;  ///< enthalpy [J/m3]
    std::span<const Real> end;
    std::span<const Real> start_rate;  ///< [W/m3], without what crossed from the other group
    std::span<const Real> end_rate;
    std::span<const Real> source;       ///< heat from the other group, constant over the step [W/m3]
    std::span<const Real> temperature;  ///< at the end [°C]
};

/// Heat given off within a slow cell over a step.
struct CellSource {
    std::int32_t cell = 0;  ///< placed
    double rate = 0;        ///< [W/m3]
};

/// Where a stepper starts.
struct StartState {
    std::vector<double> enthalpy;       ///< [J/m3], placed order
    std::vector<double> trend;          ///< the temperature's rate [K/s], placed order; empty: at rest
    double time = 0;                    ///< [s]
    double heat_through_edges = 0;      ///< so far [J]
    double heat_from_sources = 0;       ///< so far [J]
    std::vector<std::uint8_t> empty{};  ///< 1: metal has not come yet, placed order; none: all are full
};

/// What errors are measured by.
struct ErrorMeasure {
    double heat_scale = 1;  ///< enthalpy that counts as 1 [J/m3]
    double tolerance = 1;   ///< for the root mean square over the poured volume (all where nothing is poured)
    double poured_volume = 0;  ///< [m3]
    TemperatureRange temperatures{-std::numeric_limits<double>::infinity(),
                                  std::numeric_limits<double>::infinity()};
};

/// The stepping scheme.
///
/// Slow cells (sand) take a few stages against quick cells (metal, chills) that follow their trend; the heat
/// through each face is summed with the stages' own weights. Quick cells then take their many stages with
/// that heat as a constant source. Every face's heat leaves one cell and enters another, so heat is conserved
/// to rounding. The heat content is held in double precision; stages work on increments over it.
template <class Real>
class Stepper
{
public:
    /// `tables` has one entry a material; it and the network must outlive the stepper.
    Stepper(const Network& network, const std::vector<PropertyTable>& tables, StartState start,
            const ErrorMeasure& measure);
    ~Stepper();
    Stepper(const Stepper&) = delete;
    Stepper& operator=(const Stepper&) = delete;

    /// What slow cells give off over the steps to come; those of a cell add up.
    void set_sources(std::span<const CellSource> sources);
    /// Tries a step; state is unchanged until accept(). Allocates nothing once the stage counts have been
    /// seen.
    StepTrial attempt(Team& team, double step);
    /// Makes the tried step the state.
    void accept(Team& team);

    /// Enthalpies for whoever moves metal or heat between steps; moved() or slow_changed() must follow.
    std::span<double> enthalpy_to_change() { return enthalpy_; }
    /// Goes on from enthalpies that were changed in slow cells.
    void slow_changed(Team& team);
    /// Goes on from enthalpies that were changed in quick cells. Cells that were empty are no longer so.
    void moved(Team& team, std::span<const std::int32_t> filled);

    double time() const { return time_; }
    StepView<Real> last_step() const;
    std::span<const double> enthalpy() const { return enthalpy_; }  ///< [J/m3], placed order
    std::span<const Real> temperature() const;                      ///< [°C], placed order
    /// The volume by which heat is counted [m3]: the reciprocal of what the loops multiply by.
    static double counted(double volume);
    /// Those of the cells [m3], placed order.
    std::span<const double> volume() const { return volume_; }
    double heat_through_edges() const { return heat_through_edges_; }  ///< since the start, inward [J]
    double heat_from_sources() const { return heat_from_sources_; }    ///< since the start [J]
    std::span<const Real> tried_temperature() const;                   ///< after the tried step [°C]
    /// The temperatures' rates over the last step [K/s], placed order.
    std::span<const Real> trend() const;

    /// Between steps; last_step() is not carried. Into a stepper on the same network.
    void carry(solver::Archive& archive);

private:
    struct Arrays;
    enum class Group { slow, quick };
    void take_enthalpies(Team& team, Group group);
    void refresh_conductances(Team& team);
    void start_rates(Team& team, Group group);
    template <class IsWanted>
    void start_rates(Team& team, Group group, IsWanted is_wanted);
    void renew_start_rates(Team& team);
    void run_slow(Team& team, double step);
    void run_quick(Team& team, double step);
    double finish(Team& team, double step);
    double swing() const;
    void go_on_from_enthalpies();

    const Network& network_;
    const std::vector<PropertyTable>& tables_;
    const Kernels<Real>& kernels_;
    double time_ = 0;
    double tried_step_ = 0;
    double heat_scale_ = 0;
    double error_scale_ = 0;  ///< one over (heat scale × tolerance)
    double error_volume_ = 0;
    TemperatureRange temperatures_;
    double heat_through_edges_ = 0;
    double heat_from_sources_ = 0;
    std::vector<std::int32_t> source_cells_;
    RateBound slow_rates_;
    RateBound quick_rates_;
    bool trust_forecast_ = true;  ///< of the state that the next step's rates depend on
    std::vector<double> enthalpy_;
    std::vector<double> volume_;
    Conductivities conductivities_;
    std::unique_ptr<Arrays> arrays_;
};

}  // namespace sandfreeze::conduction
