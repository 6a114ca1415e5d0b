#pragma once
// Metal that comes into the mould while it cools.

#include <cstdint>
#include <limits>
#include <optional>
#include <span>
#include <vector>

#include "materials/enthalpy.hpp"
#include "solver/case.hpp"
#include "solver/conduction/fill_plan.hpp"
#include "solver/conduction/network.hpp"
#include "solver/results.hpp"
#include "solver/state.hpp"

namespace sandfreeze::conduction
{

/// What was seen while the mould filled.
struct FillingRecord {
    bool full = false;
    std::optional<solver::FillingSpot> coldest_arrival;  ///< metal when it got there
    std::optional<solver::FillingSpot> first_cold;  ///< casting metal that fell below the liquidus, first
    std::optional<solver::FillingSpot> frozen_way;  ///< where metal passed through what was solid already
    std::vector<double> arrival;  ///< temperature of metal when it got there, cells of the mesh; NaN [°C]
    std::vector<double> arrival_solid;  ///< its solid fraction then
};

/// Metal that moves on through the mould, from cell to cell of the first mesh.
///
/// Cells that metal has not reached hold it at the pouring temperature: what is still in the ladle. When some
/// are filled, as much metal enters at the inlet and all on the way moves on by as much, stretch by stretch:
/// in each one as a queue, what comes in behind what is there, cell after cell in the order in which they
/// filled. Where the way parts, each branch gets its share of everything. So heat spreads along the way by no
/// more than cells are long, and the sum of H V does not change but for rounding. Metal moves by its liquid
/// share: a skin stays.
class Filling
{
public:
    /// `plan` and the curves, one a material, must outlive it.
    Filling(const solver::Case& c, const FillPlan& plan, const mesh::CellMesh& cells, const Network& network,
            const std::vector<materials::EnthalpyCurve>& curves);

    /// 1 for cells that are filled later, placed order.
    std::vector<std::uint8_t> empty(std::size_t placed_cells) const;
    bool full() const { return next_ == tree_.cell.size(); }
    /// Between two looks at what is to be filled [s].
    double longest_step() const { return fill_time_ / looks_while_filling; }
    /// Fills the cells that are due within half of the longest step: half of them early, half late.
    /// Enthalpies [J/m3] and the volumes by which heat is counted [m3], placed order. Gives the cells that
    /// were filled, placed.
    std::span<const std::int32_t> fill(double time, std::span<double> enthalpy,
                                       std::span<const double> volume);

    /// Between two fillings.
    void carry(solver::Archive& archive);

    FillingRecord record;

private:
    struct Parcel {
        double volume = 0;    ///< [m3]
        double enthalpy = 0;  ///< [J/m3]
    };
    /// What passes a stretch while some cells are filled.
    struct Passing {
        double in = 0;                ///< [m3]
        double out = 0;               ///< [m3]
        std::vector<Parcel> leaving;  ///< what goes out, the last first
    };
    class Queue;

    void look(double time, std::span<const double> enthalpy);
    void find_flows(std::size_t end, std::span<const double> volume);
    void pass_through(std::size_t s, std::size_t end, double time, std::span<double> enthalpy,
                      std::span<const double> volume);
    void let_in(std::size_t s);
    void list_movable(std::span<const std::uint32_t> cells, double time, std::span<const double> enthalpy,
                      std::span<const double> volume);
    void note_arrival(std::size_t k, double time, double enthalpy);
    solver::FillingSpot spot(std::size_t k, double time, double enthalpy) const;
    const materials::EnthalpyCurve& curve_of(std::size_t k) const { return curves_[material_[k]]; }

    const FlowTree& tree_;
    const std::vector<mesh::PartId>& part_;
    const std::vector<materials::EnthalpyCurve>& curves_;
    double fill_time_;
    double poured_enthalpy_;
    std::vector<std::int32_t> placed_;       ///< of each of the tree's cells
    std::vector<std::uint8_t> material_;     ///< likewise
    std::vector<std::uint8_t> casting_;      ///< likewise, 1: of a casting
    std::vector<mesh::Place> at_;            ///< likewise
    std::vector<double> liquid_above_;       ///< enthalpy at the liquidus, by material [J/m3]
    std::vector<std::uint32_t> first_;       ///< where the cells of each stretch begin in the next
    std::vector<std::uint32_t> of_stretch_;  ///< the tree's cells, by stretch, first to fill first
    std::vector<std::uint32_t> filled_;      ///< how many of each stretch are
    std::vector<Passing> flow_;              ///< of each stretch
    std::vector<Parcel> parcels_;            ///< of one stretch, kept for its room
    std::vector<Parcel> movable_;
    double coldest_ = std::numeric_limits<double>::infinity();  ///< enthalpy of metal as it came [J/m3]
    std::size_t next_ = 0;                                      ///< of the tree's cells to be filled
};

}  // namespace sandfreeze::conduction
