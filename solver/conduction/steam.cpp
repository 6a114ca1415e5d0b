#include "solver/conduction/steam.hpp"

#include <algorithm>

namespace sandfreeze::conduction
{

Steam::Steam(const Network& network, const std::vector<PropertyTable>& tables, std::span<const double> volume)
    : network_(network)
    , volume_(volume)
    , water_(volume.size(), 0.0)
    , lifted_(volume.size(), 0)
    , away_(volume.size(), elsewhere)
    , steam_(volume.size(), 0.0)
{
    for (const PropertyTable& table : tables) {
        Boiling boiling;
        if (table.boils()) {
            boiling.any = true;
            boiling.starts = table.curve().enthalpy_at_solid_fraction(1.0);
            boiling.takes = table.curve().enthalpy_at_solid_fraction(0.0) - boiling.starts;
        }
        of_material_.push_back(boiling);
    }
    for (std::size_t c = 0; c < water_.size(); ++c)
        if (is_porous(c)) water_[c] = rest_of(c);
    list_paths();
}

void Steam::list_paths()
{
    first_path_.assign(volume_.size() + 1, 0);
    const auto joins = [&](const Link& l) {
        return is_porous(static_cast<std::size_t>(l.a)) && is_porous(static_cast<std::size_t>(l.b));
    };
    for (const Link& l : network_.links)
        if (joins(l))
            for (const std::int32_t c : {l.a, l.b})
                ++first_path_[static_cast<std::size_t>(c) + 1];
    for (std::size_t c = 0; c + 1 < first_path_.size(); ++c)
        first_path_[c + 1] += first_path_[c];
    paths_.resize(first_path_.back());
    std::vector<std::size_t> next(first_path_.begin(), first_path_.end() - 1);
    for (const Link& l : network_.links) {
        if (!joins(l)) continue;
        const float strength = l.area / (l.distance_a + l.distance_b);
        paths_[next[static_cast<std::size_t>(l.a)]++] = {l.b, strength};
        paths_[next[static_cast<std::size_t>(l.b)]++] = {l.a, strength};
    }
}

bool Steam::move(std::span<double> enthalpy)
{
    if (!boil(enthalpy)) return false;
    do {
        find_ways_out(enthalpy);
        flow();
    } while (condense(enthalpy) && boil(enthalpy));
    return true;
}

/// Lifts a cell that has no water left over the heat of boiling, and lets it down again when it has cooled.
/// Whether it did.
bool Steam::settle(std::size_t cell, double& enthalpy)
{
    const double over = start_of(cell) + (lifted_[cell] != 0 ? rest_of(cell) : 0.0);
    if (lifted_[cell] == 0 && water_[cell] <= 0 && enthalpy > over) {
        lifted_[cell] = 1;
        enthalpy += rest_of(cell);
        return true;
    }
    if (lifted_[cell] != 0 && enthalpy < over) {
        lifted_[cell] = 0;
        enthalpy -= rest_of(cell);
        return true;
    }
    return false;
}

/// Takes the heat beyond 100 °C out of wet cells, with as much water as it boils. Whether anything changed.
bool Steam::boil(std::span<double> enthalpy)
{
    zone_.clear();
    bool any = false;
    for (std::size_t c = 0; c < static_cast<std::size_t>(network_.slow_cells); ++c) {  // sand is slow
        if (lifted_[c] != 0) any = settle(c, enthalpy[c]) || any;
        if (lifted_[c] != 0 || !is_porous(c) || enthalpy[c] < start_of(c)) continue;
        zone_.push_back(static_cast<std::int32_t>(c));
        const double beyond = enthalpy[c] - start_of(c);
        const double boils = std::min(beyond, water_[c]);
        if (beyond <= 0) continue;
        any = true;
        enthalpy[c] = start_of(c) + (beyond - boils);
        water_[c] -= boils;
        steam_[c] = boils * volume_[c];
        settle(c, enthalpy[c]);
    }
    return any;
}

/// Rings of cells at 100 °C, counted from the cooler sand around them.
void Steam::find_ways_out(std::span<const double> enthalpy)
{
    for (const std::int32_t c : zone_)
        away_[static_cast<std::size_t>(c)] = unknown;
    order_.clear();
    cooler_.clear();
    for (const std::int32_t c : zone_) {
        bool at_edge = false;
        for (const Path& p : paths(static_cast<std::size_t>(c))) {
            const auto other = static_cast<std::size_t>(p.cell);
            if (away_[other] == elsewhere && enthalpy[other] < start_of(other)) {
                away_[other] = 0;
                cooler_.push_back(p.cell);
            }
            at_edge = at_edge || away_[other] == 0;
        }
        if (at_edge) order_.push_back(c);
    }
    for (const std::int32_t c : order_)
        away_[static_cast<std::size_t>(c)] = 1;
    for (std::size_t k = 0; k < order_.size(); ++k) {
        const auto here = static_cast<std::size_t>(order_[k]);
        for (const Path& p : paths(here)) {
            std::int32_t& there = away_[static_cast<std::size_t>(p.cell)];
            if (there != unknown) continue;
            there = away_[here] + 1;
            order_.push_back(p.cell);
        }
    }
    for (const std::int32_t c : zone_)
        if (away_[static_cast<std::size_t>(c)] == unknown) {
            escaped_ += steam_[static_cast<std::size_t>(c)];
            steam_[static_cast<std::size_t>(c)] = 0;
        }
}

/// Passes steam on from ring to ring, shared out by area over distance.
void Steam::flow()
{
    const auto leads_out = [&](std::size_t from, const Path& p) {
        return away_[static_cast<std::size_t>(p.cell)] == away_[from] - 1;
    };
    for (auto k = order_.rbegin(); k != order_.rend(); ++k) {
        const auto here = static_cast<std::size_t>(*k);
        const double heat = steam_[here];
        if (heat <= 0) continue;
        double all = 0;
        for (const Path& p : paths(here))
            if (leads_out(here, p)) all += static_cast<double>(p.strength);
        for (const Path& p : paths(here))
            if (leads_out(here, p))
                steam_[static_cast<std::size_t>(p.cell)] += heat * static_cast<double>(p.strength) / all;
        steam_[here] = 0;
    }
    for (const auto* list : {&zone_, &cooler_})
        for (const std::int32_t c : *list)
            away_[static_cast<std::size_t>(c)] = elsewhere;
}

/// Whether a cell was given more than it can hold at 100 °C, as the last cool one among many that boil is:
/// then that boils on at once.
bool Steam::condense(std::span<double> enthalpy)
{
    bool too_much = false;
    for (const std::int32_t cell : cooler_) {
        const auto c = static_cast<std::size_t>(cell);
        enthalpy[c] += steam_[c] / volume_[c];
        water_[c] += steam_[c] / volume_[c];
        steam_[c] = 0;
        too_much = too_much || enthalpy[c] > start_of(c) + rest_of(c);
    }
    return too_much;
}

double Steam::take_over(std::size_t cell, double water, double heat)
{
    water_[cell] = water;
    lifted_[cell] = 0;
    double enthalpy = heat;
    if (is_porous(cell)) settle(cell, enthalpy);
    return enthalpy;
}

BoiledWater Steam::report() const
{
    BoiledWater out;
    out.escaped = escaped_;
    for (std::size_t c = 0; c < water_.size(); ++c) {
        if (!is_porous(c)) continue;
        const double gone = std::max(0.0, rest_of(c) - water_[c]);
        out.boiled += gone * volume_[c];
        out.dried += gone / rest_of(c) * volume_[c];
        out.wet += volume_[c];
        out.water += rest_of(c) * volume_[c];
    }
    return out;
}

BoiledWater boiled_in_place(const Network& n, const std::vector<PropertyTable>& tables,
                            std::span<const double> enthalpy, std::span<const double> volume)
{
    BoiledWater out;
    for (std::size_t k = 0; k < volume.size(); ++k) {
        const PropertyTable& table = tables[n.material[k]];
        if (!table.boils() || volume[k] <= 0) continue;
        const materials::EnthalpyCurve& curve = table.curve();
        const double dry_share = 1 - curve.solid_fraction(enthalpy[k]);
        const double takes = curve.enthalpy_at_solid_fraction(0.0) - curve.enthalpy_at_solid_fraction(1.0);
        out.wet += volume[k];
        out.water += takes * volume[k];
        out.dried += dry_share * volume[k];
        out.boiled += dry_share * takes * volume[k];
    }
    return out;
}

}  // namespace sandfreeze::conduction
