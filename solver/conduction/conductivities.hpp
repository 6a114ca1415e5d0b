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
    /// `slack`: the share by which a conductivity in use may be off.
    Conductivities(const Network& network, const std::vector<PropertyTable>& tables, double slack)
        : network_(network)
        , tables_(tables)
        , slack_(static_cast<float>(slack))
        , in_use_(static_cast<std::size_t>(network.cells), 0.0F)
    {
        for (const PropertyTable& table : tables)
            varies_ = varies_ || !table.constant_conductivity();
        if (!varies_) return;
        for (const PropertyTable& table : tables)
            enough_.push_back(static_cast<float>(table.change_for(slack)));
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
                if (changed_[static_cast<std::size_t>(c)] != 0) update_around(c, store);
        });
    }

private:
    void list_links()
    {
        first_.assign(static_cast<std::size_t>(network_.cells) + 1, 0);
        for (const Link& link : network_.links) {
            ++first_[static_cast<std::size_t>(link.a) + 1];
            ++first_[static_cast<std::size_t>(link.b) + 1];
        }
        for (std::size_t c = 0; c + 1 < first_.size(); ++c)
            first_[c + 1] += first_[c];
        link_.resize(first_.back());
        std::vector<std::uint32_t> next(first_.begin(), first_.end() - 1);
        for (std::size_t k = 0; k < network_.links.size(); ++k)
            for (const std::int32_t cell : {network_.links[k].a, network_.links[k].b})
                link_[next[static_cast<std::size_t>(cell)]++] = static_cast<std::int32_t>(k);
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
        if (std::abs(now - in_use_[c]) <= slack_ * in_use_[c]) return false;
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

    /// Of two changed cells the first one sees to their link.
    template <class Real>
    void update_around(std::int32_t cell, std::span<Real> store) const
    {
        const auto c = static_cast<std::size_t>(cell);
        for (std::uint32_t k = first_[c]; k < first_[c + 1]; ++k) {
            const Link& link = network_.links[static_cast<std::size_t>(link_[k])];
            const std::int32_t other = link.a == cell ? link.b : link.a;
            if (other > cell || changed_[static_cast<std::size_t>(other)] == 0) update(link, store);
        }
    }

    const Network& network_;
    const std::vector<PropertyTable>& tables_;
    bool varies_ = false;
    bool started_ = false;
    float slack_;
    std::vector<float> enough_;  ///< change of enthalpy that counts, one a material [J/m3]
    std::vector<float> in_use_;  ///< conductivities [W/m/K], placed order
    std::vector<float> seen_;    ///< enthalpies that they belong to [J/m3]
    std::vector<std::uint8_t> changed_;
    std::vector<std::uint32_t> first_;  ///< where each cell's links begin in link_
    std::vector<std::int32_t> link_;
};

}  // namespace sandfreeze::conduction
