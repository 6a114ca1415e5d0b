#pragma once
// The innermost loops, built once for each vector width and chosen when the program runs.
//
// Cells are kept in slices of 16 rows. A slice's neighbours are stored slot by slot: slot s of row r sits at
// (start + s) 16 + r. In the first slots of a slice, the runs, the 16 neighbours are consecutive cells, of
// which only the first is looked up.

#include <cstdint>

namespace sandfreeze::conduction
{

constexpr int lanes = 16;

/// Neighbours and conductances of the rows of all slices of a group.
template <class Real>
struct SliceView {
    const std::int32_t* start = nullptr;  ///< first slot of each slice; one more than slices
    const std::int32_t* runs = nullptr;   ///< slots at the front of each slice with consecutive neighbours
    const std::int32_t* run_start = nullptr;  ///< of each slot that is a run, the neighbour of row 0
    const std::int32_t* neighbour = nullptr;  ///< cell at the other side, for slots that are no runs
    const Real* conductance = nullptr;        ///< [W/K]; 0 for padding
};

/// T(H) of one material, see PropertyTable.
template <class Real>
struct TableView {
    Real first = 0;
    Real inverse_width = 0;
    Real first_temperature = 0;
    Real last = 0;
    Real last_temperature = 0;
    Real slope_below = 0;
    Real slope_above = 0;
    std::int32_t bins = 0;
    const Real* knots = nullptr;  ///< for each bin the temperature at its start, then the rise across it
};

/// A group of cells that take their stages together.
template <class Real>
struct GroupView {
    std::int32_t first_cell = 0;  ///< cell of row 0 of slice 0
    SliceView<Real> slices;
    const Real* volume = nullptr;                  ///< [m3], cell order, 0 for padding
    const Real* inverse_volume = nullptr;          ///< [1/m3], cell order, 0 for padding
    const Real* edge_conductance = nullptr;        ///< to outside the box, by volume [W/K/m3], cell order
    const Real* edge_heat = nullptr;               ///< the same times the outside's temperature [W/m3]
    const std::uint8_t* slice_has_edge = nullptr;  ///< slice order over all cells
    const TableView<Real>* tables = nullptr;
    const std::uint8_t* table_of_slice = nullptr;  ///< slice order over all cells
};

/// State arrays of a step, cell order. Enthalpies are increments over `start`.
template <class Real>
struct StageState {
    const Real* start = nullptr;        ///< enthalpy at the start of the step [J/m3]
    const Real* start_rate = nullptr;   ///< its rate there, without `source` [W/m3]
    const Real* source = nullptr;       ///< heat from elsewhere, constant over the step [W/m3]; may be null
    const Real* temperature = nullptr;  ///< of the stage before [°C]
    Real* next_temperature = nullptr;
    const Real* previous = nullptr;         ///< increment of the stage before
    const Real* before_previous = nullptr;  ///< and of the one before that
    Real* increment = nullptr;
};

/// Coefficients of one stage; those of the rates already times the step.
template <class Real>
struct StageFactors {
    Real mu = 0;
    Real nu = 0;
    Real mt = 0;
    Real gt = 0;
};

/// Slices [begin, end) of a group.
struct SliceRange {
    std::int32_t begin = 0;
    std::int32_t end = 0;
};

/// Rows of quick cells that touch slow ones: the heat that crosses is summed with the slow stages' own
/// weights.
template <class Real>
struct InterfaceView {
    SliceView<Real> slices;
    const std::int32_t* row = nullptr;  ///< quick cell of each row
    const Real* start_heat = nullptr;   ///< heat flow into it at the start of the step [W]
    const Real* response = nullptr;     ///< how much its temperature answers heat beyond that flow [K/J]
    const Real* start_temperature = nullptr;  ///< [°C], cell order
    const Real* trend = nullptr;              ///< its temperature's rate over the last step [K/s], cell order
};

template <class Real>
struct InterfaceState {
    const Real* previous = nullptr;
    const Real* before_previous = nullptr;
    Real* heat = nullptr;               ///< summed so far [J]
    const Real* temperature = nullptr;  ///< of the stage before, cell order
    Real* next_temperature = nullptr;   ///< written for the quick cells of the rows
    Real elapsed = 0;                   ///< time of the new stage in the step [s]
};

/// Factors of the embedded error estimate −0.8 increment + 0.4 h (f0 + f1 + 2 source).
template <class Real>
struct ErrorFactors {
    Real step = 0;
    Real scale = 0;  ///< one over the heat that counts as 1 [m3/J]
};

template <class Real>
struct Kernels {
    const char* name = "";
    void (*map_temperatures)(const GroupView<Real>&, SliceRange, const Real* enthalpy,
                             Real* temperature) = nullptr;
    void (*first_stage)(const GroupView<Real>&, SliceRange, const StageState<Real>&,
                        StageFactors<Real>) = nullptr;
    void (*stage)(const GroupView<Real>&, SliceRange, const StageState<Real>&, StageFactors<Real>) = nullptr;
    /// Rates at the end of the step into `rate`; writes each slice's sum of squared errors times volume.
    void (*end_rates)(const GroupView<Real>&, SliceRange, const StageState<Real>&, ErrorFactors<Real>,
                      Real* rate, double* error_of_slice) = nullptr;
    void (*interface_first)(const InterfaceView<Real>&, SliceRange, const InterfaceState<Real>&,
                            StageFactors<Real>) = nullptr;
    void (*interface_stage)(const InterfaceView<Real>&, SliceRange, const InterfaceState<Real>&,
                            StageFactors<Real>) = nullptr;
    /// Heat flow into the rows at given temperatures [W].
    void (*interface_heat)(const InterfaceView<Real>&, SliceRange, const Real* temperature,
                           Real* heat) = nullptr;
};

/// The fastest kernels that this processor can run.
template <class Real>
const Kernels<Real>& best_kernels();

}  // namespace sandfreeze::conduction
