#pragma once
// Arrays for the inner loops to work on, outside a solve.

#include <cstdint>
#include <vector>

#include "solver/conduction/aligned.hpp"
#include "solver/conduction/kernels.hpp"
#include "solver/conduction/network.hpp"
#include "tools/bench/section.hpp"

namespace sandfreeze::bench
{

/// What the loops work on, laid out as a stepper does it. Enthalpies are spread over the range of each
/// material, so that all of the tables is read.
template <class Real>
class Bed
{
public:
    using Array = conduction::AlignedVector<Real>;

    /// Both must outlive it.
    Bed(const Section& section, const conduction::Network& n)
        : section_(section)
        , network_(n)
        , size_(static_cast<std::size_t>(n.cells) + conduction::lanes)
        , slice_has_edge_(size_ / conduction::lanes, 0)
        , slice_error_(size_ / conduction::lanes, 0.0)
        , conductances_(n.store_size + conduction::lanes, Real(0))
    {
        for (Array* a : {&start_, &rate_, &temperature_, &next_temperature_, &volume_, &inverse_volume_,
                         &edge_, &first_, &second_, &third_, &trend_})
            a->assign(size_, Real(0));
        for (Array* a : {&heat_a_, &heat_b_, &heat_c_, &start_heat_, &response_})
            a->assign(n.interface.rows.size(), Real(0));
        for (const std::int32_t row : n.interface.rows)
            rows_.push_back(row >= 0 ? row : n.cells);
        lay_tables();
        fill_cells();
        for (const conduction::Link& link : n.links)
            for (const std::int64_t slot : link.slots)
                conductances_[static_cast<std::size_t>(slot)] = static_cast<Real>(
                    conduction::conductance(link, conductivity(link.a), conductivity(link.b), 0));
    }

    conduction::GroupView<Real> group(bool quick) const
    {
        const conduction::Slices& s = quick ? network_.quick : network_.slow;
        conduction::GroupView<Real> g;
        g.first_cell = quick ? network_.slow_cells : 0;
        g.slices = view(s, quick ? network_.quick_store : network_.slow_store);
        g.volume = volume_.data();
        g.inverse_volume = inverse_volume_.data();
        g.edge_conductance = edge_.data();
        g.edge_heat = edge_.data();
        g.slice_has_edge = slice_has_edge_.data();
        g.tables = tables_.data();
        g.table_of_slice = table_of_slice_.data();
        return g;
    }

    conduction::InterfaceView<Real> interface() const
    {
        return {view(network_.interface, network_.interface_store),
                rows_.data(),
                start_heat_.data(),
                response_.data(),
                temperature_.data(),
                trend_.data()};
    }

    conduction::StageState<Real> state()
    {
        conduction::StageState<Real> y;
        y.start = start_.data();
        y.start_rate = rate_.data();
        y.temperature = temperature_.data();
        y.next_temperature = next_temperature_.data();
        y.previous = first_.data();
        y.before_previous = second_.data();
        y.increment = third_.data();
        return y;
    }

    conduction::InterfaceState<Real> interface_state()
    {
        return {heat_a_.data(),      heat_b_.data(),           heat_c_.data(),
                temperature_.data(), next_temperature_.data(), Real(0.01)};
    }

    Real* rates() { return third_.data(); }
    double* slice_error() { return slice_error_.data(); }
    conduction::SliceRange slices(bool quick) const
    {
        return {0, quick ? network_.quick.count() : network_.slow.count()};
    }
    conduction::SliceRange faces() const { return {0, network_.interface.count()}; }

private:
    conduction::SliceView<Real> view(const conduction::Slices& s, std::size_t store) const
    {
        return {s.start.data(), s.runs.data(), s.run_start.data(), s.neighbour.data(),
                conductances_.data() + store};
    }

    double conductivity(std::int32_t cell) const
    {
        const auto c = static_cast<std::size_t>(cell);
        return section_.tables[network_.material[c]].conductivity(static_cast<double>(start_[c]));
    }

    void lay_tables()
    {
        for (const conduction::PropertyTable& t : section_.tables) {
            knots_.emplace_back();
            for (std::size_t k = 0; k < t.slope.size(); ++k) {
                knots_.back().push_back(static_cast<Real>(t.temperature[k]));
                knots_.back().push_back(static_cast<Real>(t.slope[k] * t.width));
            }
            conduction::TableView<Real> view;
            const double begin = t.bins > 0 ? t.first : 0.0;
            view.first = static_cast<Real>(begin);
            view.inverse_width = static_cast<Real>(1 / t.width);
            view.first_temperature = static_cast<Real>(t.curve().temperature(begin));
            view.last = static_cast<Real>(begin + t.bins * t.width);
            view.last_temperature = static_cast<Real>(t.bins > 0 ? t.temperature.back() : 0.0);
            view.slope_below = static_cast<Real>(t.slope_below);
            view.slope_above = static_cast<Real>(t.slope_above);
            view.bins = t.bins;
            tables_.push_back(view);
        }
        for (std::size_t k = 0; k < tables_.size(); ++k)
            tables_[k].knots = knots_[k].data();
    }

    void fill_cells()
    {
        const solver::Case& c = section_.case_;
        for (std::size_t k = 0; k < network_.volume.size(); ++k) {
            const conduction::PropertyTable& table = section_.tables[network_.material[k]];
            const double low = table.curve().enthalpy(c.edges.left.temperature);
            const double high = table.curve().enthalpy(c.pour_temperature);
            const double share = static_cast<double>(k % 997) / 997;
            const double h = low + share * (high - low);
            start_[k] = static_cast<Real>(h);
            temperature_[k] = static_cast<Real>(table.curve().temperature(h));
            volume_[k] = static_cast<Real>(network_.volume[k]);
            inverse_volume_[k] = network_.volume[k] > 0 ? static_cast<Real>(1 / network_.volume[k]) : Real(0);
            if (k % conduction::lanes == 0) table_of_slice_.push_back(network_.material[k]);
        }
        for (const conduction::Outlet& o : network_.outlets)
            slice_has_edge_[static_cast<std::size_t>(o.cell) / conduction::lanes] = 1;
    }

    const Section& section_;
    const conduction::Network& network_;
    std::size_t size_;
    Array start_, rate_, temperature_, next_temperature_, volume_, inverse_volume_, edge_, first_, second_,
        third_, trend_;
    Array heat_a_, heat_b_, heat_c_, start_heat_, response_;
    std::vector<std::int32_t> rows_;
    std::vector<std::uint8_t> slice_has_edge_, table_of_slice_;
    std::vector<double> slice_error_;
    Array conductances_;
    std::vector<Array> knots_;
    std::vector<conduction::TableView<Real>> tables_;
};

}  // namespace sandfreeze::bench
