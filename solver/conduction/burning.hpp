#pragma once
// Sleeves that burn: what lights up when, and the heat that it gives off.

#include <cstdint>
#include <limits>
#include <span>
#include <vector>

#include "solver/conduction/generation.hpp"
#include "solver/conduction/stepper.hpp"
#include "solver/state.hpp"

namespace sandfreeze::conduction
{

/// What one burning part gave off.
struct BurnRecord {
    std::size_t part = 0;
    double ignited = std::numeric_limits<double>::infinity();  ///< its first cell [s]
    double heat = 0;                                           ///< given off so far [J]
    double burnt = 0;                                          ///< share of its heat, 0 to 1
};

/// Each cell of a burning material lights up when its temperature first passes that of ignition, and gives
/// off its heat evenly over the time of burning, once: E1's q.
///
/// What is lit is kept for the first cells, so that joining them changes nothing. Where in a step a cell
/// lights up is found after the step, on the straight line between its ends; what it gave off until then it
/// gives with the next step, so that all of its heat comes in any case.
class Burning
{
public:
    Burning(const solver::Case& c, const Bodies& bodies, const mesh::CellMesh& first);

    bool any() const { return !cells_.empty(); }
    /// Places the cells; with each new generation.
    void place(const Generation& generation);
    /// The next step may be no longer than this [s].
    double longest_step() const;
    /// Heat that placed cells give off over the step to come.
    std::span<const CellSource> sources(double time, double step);
    /// Whether a tried step lights up a cell without being short enough for that; then longest_step() will
    /// see to it.
    template <class Real>
    bool overshoots(std::span<const Real> tried_temperature, double step);
    /// After an accepted step that ended at `time`; temperatures in placed order [°C].
    template <class Real>
    void after_step(std::span<const Real> temperature, double time, double step);

    std::vector<BurnRecord> records() const;

    void carry(solver::Archive& archive);

private:
    struct Cell {
        std::int32_t first = 0;  ///< of the first mesh
        std::int32_t placed = 0;
        double share = 1;                                      ///< of the placed cell's volume
        double volume = 0;                                     ///< [m3]
        double temperature = 0;                                ///< at the end of the last step [°C]
        double lit = std::numeric_limits<double>::infinity();  ///< [s]
        double released = 0;                                   ///< share of its heat, 0 to 1
        std::uint32_t kind = 0;                                ///< index into kinds_
    };
    struct Kind {
        std::size_t part = 0;
        double ignition = 0;  ///< [°C]
        double burn = 0;      ///< [s]
        double heat = 0;      ///< [J/m3]
        bool burns = false;   ///< some cell does now
    };
    double released_at(const Cell& cell, double time) const;
    double resolved(const Kind& kind) const { return kind.burn / 50; }

    std::vector<Cell> cells_;
    std::vector<Kind> kinds_;
    std::vector<CellSource> sources_;
    double approach_ =
        std::numeric_limits<double>::infinity();  ///< step while something is about to light up
};

}  // namespace sandfreeze::conduction
