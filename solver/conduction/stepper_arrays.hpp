#pragma once
// Internal to conduction/: what a stepper works on, in the order and precision of the inner loops.

#include <algorithm>
#include <array>
#include <cstdint>
#include <span>
#include <vector>

#include "solver/conduction/aligned.hpp"
#include "solver/conduction/loads.hpp"
#include "solver/conduction/outlet_rows.hpp"
#include "solver/conduction/stepper.hpp"

namespace sandfreeze::conduction
{

/// The table of one material in the precision of the loops.
template <class Real>
struct StoredTable {
    AlignedVector<Real> knots;
    TableView<Real> view;

    explicit StoredTable(const PropertyTable& t)
    {
        for (std::size_t k = 0; k < t.slope.size(); ++k) {
            knots.push_back(static_cast<Real>(t.temperature[k]));
            knots.push_back(static_cast<Real>(t.slope[k] * t.width));
        }
        const double start = t.bins > 0 ? t.first : 0.0;
        const double end = start + t.bins * t.width;
        view.first = static_cast<Real>(start);
        view.inverse_width = static_cast<Real>(1 / t.width);
        view.first_temperature =
            static_cast<Real>(t.bins > 0 ? t.temperature.front() : t.curve().temperature(0.0));
        view.last = static_cast<Real>(end);
        view.last_temperature = static_cast<Real>(t.bins > 0 ? t.temperature.back() : 0.0);
        view.slope_below = static_cast<Real>(t.slope_below);
        view.slope_above = static_cast<Real>(t.slope_above);
        view.bins = t.bins;
        view.knots = knots.data();
    }
};

template <class Real>
struct Stepper<Real>::Arrays {
    using Array = AlignedVector<Real>;

    std::array<Array, 3> increment;
    Array start, end, start_rate, end_rate, source, trend;
    Array temperature, stage_a, stage_b;  ///< at the start of the step, and of the stages in turn
    Array volume, inverse_volume, edge_conductance, edge_heat, conductances;
    std::array<Array, 3> crossed;  ///< heat into the interface rows so far, for the last three stages [J]
    Array start_heat, end_heat, response;
    std::vector<std::int32_t> interface_row;
    std::vector<std::uint8_t> slice_has_edge, table_of_slice;
    std::vector<std::uint8_t> empty;  ///< see StartState
    std::vector<StoredTable<Real>> tables;
    std::vector<TableView<Real>> table_views;
    std::vector<double> slice_error;
    OutletRows slow_outlets, quick_outlets;
    std::vector<std::int32_t> outlet_row;      ///< of each outlet of the network
    Loads slow_loads, quick_loads, end_loads;  ///< of the loops of a slow stage, a quick one and the end
    Chebyshev slow_method, quick_method;
    bool has_open_tops = false;
    Real* final_temperature = nullptr;  ///< stage_a or stage_b

    Arrays(const Network& n, const std::vector<PropertyTable>& t, std::span<const double> enthalpy);
    GroupView<Real> group(const Network& n, bool quick) const;
    InterfaceView<Real> interface(const Network& n) const;
    void list_outlets(const Network& n);
    void weigh_loops(const Network& n);
    void set_outlets(const Network& n, const std::vector<PropertyTable>& t);
    void set_responses(const Network& n, const std::vector<PropertyTable>& t, Team& team);
};

template <class Real>
Stepper<Real>::Arrays::Arrays(const Network& n, const std::vector<PropertyTable>& t,
                              std::span<const double> enthalpy)
{
    // One slice more than there are cells: padding rows of the interface write there.
    const auto size = static_cast<std::size_t>(n.cells) + lanes;
    for (Array* a :
         {&increment[0], &increment[1], &increment[2], &start, &end, &start_rate, &end_rate, &source, &trend,
          &temperature, &stage_a, &stage_b, &volume, &inverse_volume, &edge_conductance, &edge_heat})
        a->assign(size, Real(0));
    conductances.assign(n.store_size + lanes, Real(0));
    const std::size_t rows = n.interface.rows.size();
    for (Array* a : {&crossed[0], &crossed[1], &crossed[2], &start_heat, &end_heat, &response})
        a->assign(rows, Real(0));
    for (const std::int32_t row : n.interface.rows)
        interface_row.push_back(row >= 0 ? row : n.cells);
    for (std::size_t k = 0; k < enthalpy.size(); ++k) {
        start[k] = static_cast<Real>(enthalpy[k]);
        volume[k] = static_cast<Real>(n.volume[k]);
        inverse_volume[k] = n.volume[k] > 0 ? static_cast<Real>(1 / n.volume[k]) : Real(0);
    }
    for (std::size_t k = 0; k < enthalpy.size(); k += lanes)
        table_of_slice.push_back(n.material[k]);
    slice_has_edge.assign(table_of_slice.size() + 1, 0);
    slice_error.assign(table_of_slice.size(), 0.0);
    for (const PropertyTable& table : t) {
        tables.emplace_back(table);
    }
    for (const StoredTable<Real>& table : tables)
        table_views.push_back(table.view);
    list_outlets(n);
    weigh_loops(n);
}

template <class Real>
GroupView<Real> Stepper<Real>::Arrays::group(const Network& n, bool quick) const
{
    GroupView<Real> g;
    const Slices& s = quick ? n.quick : n.slow;
    g.first_cell = quick ? n.slow_cells : 0;
    g.slices = {s.start.data(), s.runs.data(), s.run_start.data(), s.neighbour.data(),
                conductances.data() + (quick ? n.quick_store : n.slow_store)};
    g.volume = volume.data();
    g.inverse_volume = inverse_volume.data();
    g.edge_conductance = edge_conductance.data();
    g.edge_heat = edge_heat.data();
    g.slice_has_edge = slice_has_edge.data();
    g.tables = table_views.data();
    g.table_of_slice = table_of_slice.data();
    return g;
}

template <class Real>
InterfaceView<Real> Stepper<Real>::Arrays::interface(const Network& n) const
{
    const Slices& s = n.interface;
    return {{s.start.data(), s.runs.data(), s.run_start.data(), s.neighbour.data(),
             conductances.data() + n.interface_store},
            interface_row.data(),
            start_heat.data(),
            response.data(),
            temperature.data(),
            trend.data()};
}

template <class Real>
void Stepper<Real>::Arrays::list_outlets(const Network& n)
{
    std::vector<std::int32_t> row_of_cell(static_cast<std::size_t>(n.cells), -1);
    for (const Outlet& o : n.outlets)
        row_of_cell[static_cast<std::size_t>(o.cell)] = 0;
    for (std::int32_t c = 0; c < n.cells; ++c) {
        std::int32_t& row = row_of_cell[static_cast<std::size_t>(c)];
        if (row < 0) continue;
        OutletRows& rows = c < n.slow_cells ? slow_outlets : quick_outlets;
        row = rows.count();
        rows.cell.push_back(c);
        slice_has_edge[static_cast<std::size_t>(c / lanes)] = 1;
    }
    for (const Outlet& o : n.outlets) {
        has_open_tops = has_open_tops || o.open_top >= 0;
        outlet_row.push_back(row_of_cell[static_cast<std::size_t>(o.cell)]);
    }
    for (OutletRows* rows : {&slow_outlets, &quick_outlets}) {
        for (auto& list : rows->entered)
            list.assign(rows->cell.size(), 0.0);
        for (auto* list : {&rows->start_flow, &rows->conductance, &rows->heat})
            list->assign(rows->cell.size(), 0.0);
    }
}

template <class Real>
void Stepper<Real>::Arrays::weigh_loops(const Network& n)
{
    slow_loads.add(n.slow);
    slow_loads.add(n.interface);
    slow_loads.add(1, slow_outlets.count());
    quick_loads.add(n.quick);
    quick_loads.add(1, quick_outlets.count());
    end_loads.add(n.slow);
    end_loads.add(n.quick);
    end_loads.add(n.interface);
}

template <class Real>
void Stepper<Real>::Arrays::set_outlets(const Network& n, const std::vector<PropertyTable>& t)
{
    for (OutletRows* rows : {&slow_outlets, &quick_outlets}) {
        std::fill(rows->conductance.begin(), rows->conductance.end(), 0.0);
        std::fill(rows->heat.begin(), rows->heat.end(), 0.0);
    }
    for (std::size_t k = 0; k < n.outlets.size(); ++k) {
        const Outlet& o = n.outlets[k];
        const auto c = static_cast<std::size_t>(o.cell);
        if (!empty.empty() && empty[c] != 0) continue;
        const double k_here = t[n.material[c]].conductivity(static_cast<double>(start[c]));
        const LinearFlow flow = flow_of(o, k_here, static_cast<double>(temperature[c]));
        OutletRows& rows = o.cell < n.slow_cells ? slow_outlets : quick_outlets;
        rows.conductance[static_cast<std::size_t>(outlet_row[k])] += flow.conductance;
        rows.heat[static_cast<std::size_t>(outlet_row[k])] += flow.conductance * flow.outside;
    }
    for (OutletRows* rows : {&slow_outlets, &quick_outlets})
        for (std::size_t k = 0; k < rows->cell.size(); ++k) {
            const auto c = static_cast<std::size_t>(rows->cell[k]);
            edge_conductance[c] =
                static_cast<Real>(rows->conductance[k] * static_cast<double>(inverse_volume[c]));
            edge_heat[c] = static_cast<Real>(rows->heat[k] * static_cast<double>(inverse_volume[c]));
            // As the loops count it, rounding included.
            const double counted_volume = counted(n.volume[c]);
            rows->conductance[k] = static_cast<double>(edge_conductance[c]) * counted_volume;
            rows->heat[k] = static_cast<double>(edge_heat[c]) * counted_volume;
        }
}

/// A quick cell answers unforeseen heat like itself alone. While it freezes it hardly answers at all.
template <class Real>
void Stepper<Real>::Arrays::set_responses(const Network& n, const std::vector<PropertyTable>& t, Team& team)
{
    team.each(n.interface.count() * lanes, [&](std::int32_t first, std::int32_t last) {
        for (auto r = static_cast<std::size_t>(first); r < static_cast<std::size_t>(last); ++r) {
            if (n.interface.rows[r] < 0) continue;
            const auto c = static_cast<std::size_t>(n.interface.rows[r]);
            response[r] =
                static_cast<Real>(t[n.material[c]].slope_at(static_cast<double>(start[c])) / n.volume[c]);
        }
    });
}

}  // namespace sandfreeze::conduction
