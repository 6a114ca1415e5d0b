#pragma once
// Conductances that follow conductivities as these vary with temperature, and gaps as they open.

#include <algorithm>
#include <cmath>
#include <cstdint>
#include <limits>
#include <span>
#include <vector>

#include "solver/conduction/kernels.hpp"
#include "solver/conduction/network.hpp"
#include "solver/conduction/team.hpp"
#include "solver/state.hpp"

namespace sandfreeze::conduction
{

/// Conductances are worked out anew beside cells whose conductivity, or solid fraction at a gap, has changed
/// enough since: most cells hardly change from step to step. Where neither varies that is once.
class Conductivities
{
public:
    /// `tolerance` as of the steps: conductivities in use may be off by half of that in slow cells, and by
    /// twice that in quick cells, which are nearly even in temperature.
    Conductivities(const Network& network, const std::vector<PropertyTable>& tables, double tolerance)
        : network_(network)
        , tables_(tables)
        , slow_slack_(0.5 * tolerance)
        , quick_slack_(2 * tolerance)
        , in_use_(static_cast<std::size_t>(network.cells), 0.0F)
    {
        for (const PropertyTable& table : tables)
            varies_ = varies_ || !table.constant_conductivity();
        for (const Link& link : network.links)
            opens_ = opens_ || link.gap_resistance != link.contact_resistance;
        varies_ = varies_ || opens_;
        if (!varies_) return;
        if (opens_) note_gaps();
        lowest_.assign(in_use_.size(), 0.0F);
        highest_.assign(in_use_.size(), 0.0F);
        changed_.assign(in_use_.size(), 0);
        touched_.assign(in_use_.size() / static_cast<std::size_t>(lanes), 0);
        list_links();
    }

    bool vary() const { return varies_; }

    /// Cells that metal has not reached conduct nothing, placed order; none: all are full. To be told before
    /// the first follow().
    void keep_empty(std::span<const std::uint8_t> empty)
    {
        empty_.assign(empty.begin(), empty.end());
        if (!empty_.empty() && links_of_cell_.empty()) list_links();
    }
    /// Metal has reached these.
    template <class Real>
    void fill(std::span<const std::int32_t> cells, std::span<const Real> enthalpy, std::span<Real> store)
    {
        for (const std::int32_t cell : cells) {
            const auto c = static_cast<std::size_t>(cell);
            empty_[c] = 0;
            take(c, static_cast<double>(enthalpy[c]));
        }
        for (const std::int32_t cell : cells)
            for (std::uint32_t k = first_[static_cast<std::size_t>(cell)];
                 k < first_[static_cast<std::size_t>(cell) + 1]; ++k)
                update(network_.links[links_of_cell_[k]], store);
    }

    /// What is in use; fill_store() follows once it was read.
    void carry(solver::Archive& archive)
    {
        archive("in_use", in_use_);
        archive("lowest", lowest_);
        archive("highest", highest_);
        archive("solid", solid_);
    }
    /// All conductances by what is in use [W/K].
    template <class Real>
    void fill_store(std::span<Real> store) const
    {
        for (const Link& link : network_.links)
            update(link, store);
    }

    /// Brings the store of conductances [W/K] up to date; enthalpies in placed order [J/m3].
    template <class Real>
    void follow(Team& team, std::span<const Real> enthalpy, std::span<Real> store)
    {
        if (!started_) {
            start(team, enthalpy, store);
            return;
        }
        if (!varies_) return;
        team.each(network_.cells / lanes, [&](std::int32_t begin, std::int32_t end) {
            for (std::int32_t s = begin; s < end; ++s)
                look_at_slice(static_cast<std::size_t>(s) * lanes, enthalpy);
        });
        team.each(network_.cells, [&](std::int32_t begin, std::int32_t end) {
            for (std::int32_t c = begin; c < end; ++c)
                if (changed_[static_cast<std::size_t>(c)] != 0) update_around(c, store);
        });
    }
    /// Slices of cells of which the last follow() changed a conductance: 1, others 0.
    std::span<const std::uint8_t> touched()
    {
        std::fill(touched_.begin(), touched_.end(), std::uint8_t{0});
        const auto slice_of = [](std::int32_t cell) { return static_cast<std::size_t>(cell / lanes); };
        for (std::int32_t cell = 0; cell < network_.cells; ++cell) {
            const auto c = static_cast<std::size_t>(cell);
            if (changed_[c] == 0) continue;
            touched_[slice_of(cell)] = 1;  // its edge
            for (std::uint32_t k = first_[c]; k < first_[c + 1]; ++k) {
                const Link& link = network_.links[links_of_cell_[k]];
                touched_[slice_of(link.a)] = touched_[slice_of(link.b)] = 1;
            }
        }
        return touched_;
    }

private:
    /// Slack of the solid fraction in metal at a gap: the heat transfer may be off by as much as a quick
    /// cell's conductivity.
    void note_gaps()
    {
        solid_.assign(in_use_.size(), 0.0F);
        solid_slack_.assign(in_use_.size(), 0.0F);
        for (const Link& link : network_.links) {
            if (link.gap_resistance == link.contact_resistance) continue;
            const double change =
                std::abs(static_cast<double>(link.gap_resistance / link.contact_resistance) - 1);
            const auto slack = static_cast<float>(std::clamp(quick_slack_ / change, 0.005, 0.05));
            for (const std::int32_t end : {link.a, link.b}) {
                const auto c = static_cast<std::size_t>(end);
                if (!tables_[network_.material[c]].is_metal()) continue;
                solid_slack_[c] = solid_slack_[c] > 0 ? std::min(solid_slack_[c], slack) : slack;
            }
        }
    }

    /// The links of each cell, whichever end it is.
    void list_links()
    {
        first_.assign(static_cast<std::size_t>(network_.cells) + 1, 0);
        for (const Link& link : network_.links)
            for (const std::int32_t c : {link.a, link.b})
                ++first_[static_cast<std::size_t>(c) + 1];
        for (std::size_t c = 0; c + 1 < first_.size(); ++c)
            first_[c + 1] += first_[c];
        std::vector<std::uint32_t> next(first_.begin(), first_.end() - 1);
        links_of_cell_.resize(first_.back());
        for (std::uint32_t k = 0; k < network_.links.size(); ++k)
            for (const std::int32_t c : {network_.links[k].a, network_.links[k].b})
                links_of_cell_[next[static_cast<std::size_t>(c)]++] = k;
    }

    template <class Real>
    void start(Team& team, std::span<const Real> enthalpy, std::span<Real> store)
    {
        for (std::size_t c = 0; c < in_use_.size(); ++c)
            take(c, static_cast<double>(enthalpy[c]));
        started_ = true;
        team.each(static_cast<std::int32_t>(network_.links.size()),
                  [&](std::int32_t begin, std::int32_t end) {
                      for (std::int32_t k = begin; k < end; ++k)
                          update(network_.links[static_cast<std::size_t>(k)], store);
                  });
    }

    /// Takes the conductivity of where the cell's enthalpy is going, as far as it will do here too: so what
    /// is in use is off to one side and then to the other, and does not lag behind.
    void take(std::size_t c, double enthalpy)
    {
        if (is_empty(c)) {
            hold_empty(c);
            return;
        }
        const PropertyTable& table = tables_[network_.material[c]];
        const double slack = c < static_cast<std::size_t>(network_.slow_cells) ? slow_slack_ : quick_slack_;
        double k = table.conductivity(enthalpy);
        if (varies_) {
            if (started_) {
                const EnthalpyBand around = table.alike(enthalpy, k, 0.9 * slack);
                k = table.conductivity(enthalpy > static_cast<double>(highest_[c]) ? around.highest
                                                                                   : around.lowest);
            }
            EnthalpyBand band = table.alike(enthalpy, k, slack);
            if (opens_ && solid_slack_[c] > 0) take_solid(c, enthalpy, band);
            lowest_[c] = static_cast<float>(band.lowest);
            highest_[c] = static_cast<float>(band.highest);
        }
        in_use_[c] = static_cast<float>(k);
    }

    bool is_empty(std::size_t c) const { return !empty_.empty() && empty_[c] != 0; }

    /// Not looked at again before it is filled.
    void hold_empty(std::size_t c)
    {
        in_use_[c] = 0;
        if (!varies_) return;
        lowest_[c] = -std::numeric_limits<float>::infinity();
        highest_[c] = std::numeric_limits<float>::infinity();
    }

    /// The same for the solid fraction at a gap; narrows the band to where that will do.
    void take_solid(std::size_t c, double enthalpy, EnthalpyBand& band)
    {
        const materials::EnthalpyCurve& curve = tables_[network_.material[c]].curve();
        const auto slack = static_cast<double>(solid_slack_[c]);
        double solid = curve.solid_fraction(enthalpy);
        if (started_) {
            const bool melting = enthalpy > static_cast<double>(highest_[c]);
            solid = std::clamp(solid + (melting ? -0.9 : 0.9) * slack, 0.0, 1.0);
        }
        solid_[c] = static_cast<float>(solid);
        if (solid + slack < 1)
            band.lowest = std::max(band.lowest, curve.enthalpy_at_solid_fraction(solid + slack));
        if (solid - slack > 0)
            band.highest = std::min(band.highest, curve.enthalpy_at_solid_fraction(solid - slack));
    }

    template <class Real>
    void look_at_slice(std::size_t first, std::span<const Real> enthalpy)
    {
        const float* lowest = lowest_.data() + first;
        const float* highest = highest_.data() + first;
        const Real* now = enthalpy.data() + first;
        std::uint8_t* changed = changed_.data() + first;
        bool any = false;
        for (int l = 0; l < lanes; ++l) {
            const auto h = static_cast<float>(now[l]);
            changed[l] = h < lowest[l] || h > highest[l] ? 1 : 0;
            any = any || changed[l] != 0;
        }
        if (!any) return;
        for (std::size_t l = 0; l < static_cast<std::size_t>(lanes); ++l)
            if (changed[l] != 0) take(first + l, static_cast<double>(now[l]));
    }

    template <class Real>
    void update(const Link& link, std::span<Real> store) const
    {
        const auto a = static_cast<std::size_t>(link.a);
        const auto b = static_cast<std::size_t>(link.b);
        // What is not metal has no solid fraction here.
        const double solid = opens_ ? static_cast<double>(std::max(solid_[a], solid_[b])) : 0;
        const auto g = is_empty(a) || is_empty(b)
                           ? Real(0)
                           : static_cast<Real>(conductance(link, static_cast<double>(in_use_[a]),
                                                           static_cast<double>(in_use_[b]), solid));
        for (const std::int32_t slot : link.slots)
            store[static_cast<std::size_t>(slot)] = g;
    }

    /// Where both ends have changed, the first one sees to it.
    template <class Real>
    void update_around(std::int32_t cell, std::span<Real> store) const
    {
        const auto c = static_cast<std::size_t>(cell);
        for (std::uint32_t k = first_[c]; k < first_[c + 1]; ++k) {
            const Link& link = network_.links[links_of_cell_[k]];
            if (link.a == cell || changed_[static_cast<std::size_t>(link.a)] == 0) update(link, store);
        }
    }

    const Network& network_;
    const std::vector<PropertyTable>& tables_;
    bool varies_ = false;
    bool opens_ = false;  ///< some gap does
    bool started_ = false;
    double slow_slack_;
    double quick_slack_;
    std::vector<std::uint8_t> empty_;  ///< 1: metal has not come yet; none: all are full
    std::vector<float> in_use_;        ///< conductivities [W/m/K], placed order
    std::vector<float> lowest_;        ///< enthalpies between which they will do [J/m3]
    std::vector<float> highest_;
    std::vector<float> solid_;        ///< solid fractions in use in metal at gaps, 0 elsewhere
    std::vector<float> solid_slack_;  ///< what they may be off by; 0 away from gaps
    std::vector<std::uint8_t> changed_;
    std::vector<std::uint8_t> touched_;
    std::vector<std::uint32_t> first_;  ///< where the links of each cell begin in the next
    std::vector<std::uint32_t> links_of_cell_;
};

}  // namespace sandfreeze::conduction
