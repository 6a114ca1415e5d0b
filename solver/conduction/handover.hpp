#pragma once
// Internal to conduction/: heat and water as they pass from one generation of cells to the next.

#include <algorithm>
#include <cmath>
#include <optional>
#include <span>
#include <vector>

#include "solver/conduction/generation.hpp"
#include "solver/conduction/steam.hpp"
#include "solver/conduction/stepper.hpp"
#include "solver/results.hpp"
#include "solver/state.hpp"

namespace sandfreeze::conduction
{

struct Heat {
    double all = 0;
    double poured = 0;

    void carry(solver::Archive& archive)
    {
        archive("all_J", all);
        archive("poured_J", poured);
    }
};

/// What became of the heat between two moments, with what came through edges and from sources [J].
inline solver::EnergyBalance balance_between(const Heat& start, const Heat& end, double through_edges,
                                             double sources)
{
    solver::EnergyBalance e;
    e.initial = start.all;
    e.final = end.all;
    e.through_edges = through_edges;
    e.sources = sources;
    e.given_off_by_metal = start.poured - end.poured;
    const double gap = std::abs(end.all - start.all - through_edges - sources);
    const double turned_over = e.given_off_by_metal > 0
                                   ? e.given_off_by_metal
                                   : std::max({std::abs(through_edges), sources, 1e-9 * std::abs(start.all)});
    e.relative_imbalance = turned_over > 0 ? gap / turned_over : 0;
    return e;
}

template <class Real>
Heat heat_in(const Stepper<Real>& stepper, const Network& network, const Bodies& bodies,
             const std::optional<Steam>& steam)
{
    Heat heat;
    for (std::size_t k = 0; k < network.volume.size(); ++k) {
        const double hidden = steam ? steam->hidden(k) : 0.0;
        const double here = (stepper.enthalpy()[k] - hidden) * stepper.volume()[k];
        heat.all += here;
        if (bodies.list[network.body[k]].poured) heat.poured += here;
    }
    return heat;
}

/// What a stepper holds, on the first cells.
struct FirstCellState {
    std::vector<double> enthalpy;  ///< [J/m3]
    std::vector<double> heat;      ///< each cell's share of what the cell around it holds [J]
    std::vector<double> trend;     ///< of the temperature [K/s]
    std::vector<double> water;     ///< where steam moves [J/m3]
    double time = 0;
    double heat_through_edges = 0;
    double heat_from_sources = 0;
};

template <class Real>
FirstCellState on_first_cells(const Stepper<Real>& stepper, const Generation& generation,
                              const mesh::CellMesh& first, const std::optional<Steam>& steam)
{
    FirstCellState state{
        {}, {}, {}, {}, stepper.time(), stepper.heat_through_edges(), stepper.heat_from_sources()};
    for (auto* list : {&state.enthalpy, &state.heat, &state.trend})
        list->reserve(first.size());
    for (std::size_t c = 0; c < first.size(); ++c) {
        const auto k = static_cast<std::size_t>(generation.place_of(static_cast<std::int32_t>(c)));
        const double share = first.volume[c] / generation.network().volume[k];
        state.enthalpy.push_back(stepper.enthalpy()[k]);
        const double hidden = steam ? steam->hidden(k) : 0.0;
        state.heat.push_back(share * stepper.volume()[k] * (stepper.enthalpy()[k] - hidden));
        if (steam) state.water.push_back(steam->water(k));
        state.trend.push_back(static_cast<double>(stepper.trend()[k]));
    }
    return state;
}

template <class Real>
StartState on_cells_of(const Generation& generation, const FirstCellState& first, const mesh::CellMesh& cells)
{
    const std::vector<double>& volume = generation.network().volume;
    StartState state{std::vector<double>(volume.size(), 0.0), std::vector<double>(volume.size(), 0.0),
                     first.time, first.heat_through_edges, first.heat_from_sources};
    for (std::size_t c = 0; c < cells.size(); ++c) {
        const auto k = static_cast<std::size_t>(generation.place_of(static_cast<std::int32_t>(c)));
        state.enthalpy[k] += first.heat[c];
        state.trend[k] += cells.volume[c] / volume[k] * first.trend[c];
    }
    for (std::size_t k = 0; k < volume.size(); ++k)
        if (volume[k] > 0) state.enthalpy[k] /= Stepper<Real>::counted(volume[k]);
    return state;
}

/// Steam over joined cells: theirs is the water of what they were joined from.
template <class Real>
Steam steam_on_cells_of(const Generation& generation, const std::vector<PropertyTable>& tables,
                        const FirstCellState& first, const mesh::CellMesh& cells, Stepper<Real>& stepper)
{
    const std::vector<double>& volume = generation.network().volume;
    std::vector<double> water(volume.size(), 0.0);
    for (std::size_t c = 0; c < cells.size(); ++c) {
        const auto k = static_cast<std::size_t>(generation.place_of(static_cast<std::int32_t>(c)));
        water[k] += cells.volume[c] / volume[k] * first.water[c];
    }
    Steam steam(generation.network(), tables, stepper.volume());
    const std::span<double> enthalpy = stepper.enthalpy_to_change();
    for (std::size_t k = 0; k < water.size(); ++k)
        enthalpy[k] = steam.take_over(k, water[k], enthalpy[k]);
    return steam;
}

}  // namespace sandfreeze::conduction
