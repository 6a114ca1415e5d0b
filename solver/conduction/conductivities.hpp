#pragma once
// Conductances that follow conductivities as these vary with temperature.

#include <cmath>
#include <cstdint>
#include <span>
#include <vector>

#include "solver/conduction/kernels.hpp"
#include "solver/conduction/network.hpp"
#include "solver/conduction/team.hpp"

namespace sandfreeze::conduction
{

/// Conductances are worked out anew beside cells whose enthalpy has changed enough since: most cells hardly
/// change from step to step. Where no conductivity varies that is once.
class Conductivities
{
public:
    /// `tolerance` as of the steps: conductivities in use may be off by that in slow cells, and by two and a
    /// half times that in quick cells, which are nearly even in temperature. Half of it is what a cell may
    /// change without being looked at.
    Conductivities(const Network& network, const std::vector<PropertyTable>& tables, double tolerance)
        : network_(network)
        , tables_(tables)
        , slow_slack_(static_cast<float>(0.5 * tolerance))
        , quick_slack_(static_cast<float>(2 * tolerance))
        , in_use_(static_cast<std::size_t>(network.cells), 0.0F)
    {
        for (const PropertyTable& table : tables)
            varies_ = varies_ || !table.constant_conductivity();
        if (!varies_) return;
        for (const PropertyTable& table : tables)
            enough_.push_back(static_cast<float>(table.change_for(0.5 * tolerance)));
        seen_.assign(in_use_.size(), 0.0F);
        changed_.assign(in_use_.size(), 0);
        list_links();
    }

    bool vary() const { return varies_; }

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
                update_from(static_cast<std::size_t>(c), store);
        });
    }

private:
    void list_links()
    {
        first_.assign(static_cast<std::size_t>(network_.cells) + 1, 0);
        for (const Link& link : network_.links) {
            ++first_[static_cast<std::size_t>(link.a) + 1];
            other_.push_back(link.b);
        }
        for (std::size_t c = 0; c + 1 < first_.size(); ++c)
            first_[c + 1] += first_[c];
    }

    template <class Real>
    void start(Team& team, std::span<const Real> enthalpy, std::span<Real> store)
    {
        started_ = true;
        for (std::size_t c = 0; c < in_use_.size(); ++c)
            take(c, enthalpy);
        team.each(static_cast<std::int32_t>(network_.links.size()),
                  [&](std::int32_t begin, std::int32_t end) {
                      for (std::int32_t k = begin; k < end; ++k)
                          update(network_.links[static_cast<std::size_t>(k)], store);
                  });
    }

    /// Whether the cell's conductivity is told anew.
    template <class Real>
    bool take(std::size_t c, std::span<const Real> enthalpy)
    {
        if (varies_) seen_[c] = static_cast<float>(enthalpy[c]);
        const auto now =
            static_cast<float>(tables_[network_.material[c]].conductivity(static_cast<double>(enthalpy[c])));
        const float slack = c < static_cast<std::size_t>(network_.slow_cells) ? slow_slack_ : quick_slack_;
        if (std::abs(now - in_use_[c]) <= slack * in_use_[c]) return false;
        in_use_[c] = now;
        return true;
    }

    template <class Real>
    void look_at_slice(std::size_t first, std::span<const Real> enthalpy)
    {
        const float enough = enough_[network_.material[first]];
        const float* seen = seen_.data() + first;
        const Real* now = enthalpy.data() + first;
        std::uint8_t* changed = changed_.data() + first;
        bool any = false;
        for (int l = 0; l < lanes; ++l) {
            changed[l] = std::abs(static_cast<float>(now[l]) - seen[l]) > enough ? 1 : 0;
            any = any || changed[l] != 0;
        }
        if (!any) return;
        for (std::size_t l = 0; l < static_cast<std::size_t>(lanes); ++l)
            if (changed[l] != 0) changed[l] = take(first + l, enthalpy) ? 1 : 0;
    }

    template <class Real>
    void update(const Link& link, std::span<Real> store) const
    {
        const auto g = static_cast<Real>(
            conductance(link, static_cast<double>(in_use_[static_cast<std::size_t>(link.a)]),
                        static_cast<double>(in_use_[static_cast<std::size_t>(link.b)])));
        for (const std::int32_t slot : link.slots)
            store[static_cast<std::size_t>(slot)] = g;
    }

    template <class Real>
    void update_from(std::size_t cell, std::span<Real> store) const
    {
        for (std::uint32_t k = first_[cell]; k < first_[cell + 1]; ++k)
            if ((changed_[cell] | changed_[static_cast<std::size_t>(other_[k])]) != 0)
                update(network_.links[k], store);
    }

    const Network& network_;
    const std::vector<PropertyTable>& tables_;
    bool varies_ = false;
    bool started_ = false;
    float slow_slack_;
    float quick_slack_;
    std::vector<float> enough_;  ///< change of enthalpy that counts, one a material [J/m3]
    std::vector<float> in_use_;  ///< conductivities [W/m/K], placed order
    std::vector<float> seen_;    ///< enthalpies that they belong to [J/m3]
    std::vector<std::uint8_t> changed_;
    std::vector<std::uint32_t> first_;  ///< where the links that start at each cell begin
    std::vector<std::int32_t> other_;   ///< the cell that each link leads to
};

}  // namespace sandfreeze::conduction
