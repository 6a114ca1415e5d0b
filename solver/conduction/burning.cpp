#include "solver/conduction/burning.hpp"

#include <algorithm>
#include <cmath>

namespace sandfreeze::conduction
{
namespace
{

constexpr double endless = std::numeric_limits<double>::infinity();

}  // namespace

Burning::Burning(const solver::Case& c, const Bodies& bodies, const mesh::CellMesh& first)
{
    std::vector<int> kind_of_body(bodies.list.size(), -1);
    for (std::size_t p = 0; p < c.parts.size(); ++p) {
        const materials::Material& m = c.materials[static_cast<std::size_t>(c.parts[p].material)];
        if (!c.models.burning || !m.exothermic) continue;
        kind_of_body[bodies.of_part[p]] = static_cast<int>(kinds_.size());
        kinds_.push_back(
            {p, m.exothermic->ignition, m.exothermic->burn, m.density * m.exothermic->heat, false});
    }
    if (kinds_.empty()) return;
    for (std::size_t cell = 0; cell < first.size(); ++cell) {
        const int kind = kind_of_body[first.body[cell]];
        if (kind < 0) continue;
        Cell burning;
        burning.first = static_cast<std::int32_t>(cell);
        burning.volume = first.volume[cell];
        burning.temperature = bodies.list[first.body[cell]].temperature;
        burning.kind = static_cast<std::uint32_t>(kind);
        if (burning.temperature >= kinds_[burning.kind].ignition) burning.lit = 0;
        kinds_[burning.kind].burns = kinds_[burning.kind].burns || burning.lit == 0;
        cells_.push_back(burning);
    }
}

void Burning::place(const Generation& generation)
{
    for (Cell& cell : cells_) {
        cell.placed = generation.place_of(cell.first);
        cell.share = cell.volume / generation.network().volume[static_cast<std::size_t>(cell.placed)];
    }
}

double Burning::longest_step() const
{
    double longest = approach_;
    for (const Kind& kind : kinds_)
        if (kind.burns) longest = std::min(longest, resolved(kind));
    return longest;
}

double Burning::released_at(const Cell& cell, double time) const
{
    return std::clamp((time - cell.lit) / kinds_[cell.kind].burn, 0.0, 1.0);
}

std::span<const CellSource> Burning::sources(double time, double step)
{
    sources_.clear();
    for (const Cell& cell : cells_) {
        if (cell.lit == endless || cell.released == 1) continue;
        const double share = released_at(cell, time + step) - cell.released;
        if (share > 0) sources_.push_back({cell.placed, cell.share * share * kinds_[cell.kind].heat / step});
    }
    return sources_;
}

template <class Real>
bool Burning::overshoots(std::span<const Real> tried_temperature, double step)
{
    double needed = endless;
    for (const Cell& cell : cells_) {
        const Kind& kind = kinds_[cell.kind];
        if (cell.lit != endless || resolved(kind) * (1 + 1e-9) >= step) continue;
        if (static_cast<double>(tried_temperature[static_cast<std::size_t>(cell.placed)]) >= kind.ignition)
            needed = std::min(needed, resolved(kind));
    }
    approach_ = std::min(approach_, needed);
    return needed < endless;
}

template <class Real>
void Burning::after_step(std::span<const Real> temperature, double time, double step)
{
    for (Kind& kind : kinds_)
        kind.burns = false;
    for (Cell& cell : cells_) {
        Kind& kind = kinds_[cell.kind];
        const auto now = static_cast<double>(temperature[static_cast<std::size_t>(cell.placed)]);
        if (cell.lit != endless) {
            cell.released = released_at(cell, time);
        } else if (now >= kind.ignition) {
            const double rise = now - cell.temperature;
            const double share = rise > 0 ? (kind.ignition - cell.temperature) / rise : 1.0;
            cell.lit = time - step * (1 - std::clamp(share, 0.0, 1.0));
            approach_ = endless;
        }
        kind.burns = kind.burns || (cell.lit != endless && cell.released < 1);
        cell.temperature = now;
    }
}

std::vector<BurnRecord> Burning::records() const
{
    std::vector<BurnRecord> list;
    for (const Kind& kind : kinds_)
        list.push_back({kind.part});
    std::vector<double> most(kinds_.size(), 0.0);
    for (const Cell& cell : cells_) {
        BurnRecord& record = list[cell.kind];
        record.ignited = std::min(record.ignited, cell.lit);
        record.heat += cell.released * cell.volume * kinds_[cell.kind].heat;
        most[cell.kind] += cell.volume * kinds_[cell.kind].heat;
    }
    std::vector<BurnRecord> there;  // parts that something else covers wholly have no cells
    for (std::size_t k = 0; k < list.size(); ++k) {
        if (!(most[k] > 0)) continue;
        list[k].burnt = list[k].heat / most[k];
        there.push_back(list[k]);
    }
    return there;
}

void Burning::carry(solver::Archive& archive)
{
    archive.column("temperature_C", cells_, &Cell::temperature);
    archive.column("lit_s", cells_, &Cell::lit);
    archive.column("released", cells_, &Cell::released);
    archive("approach_s", approach_);
    std::vector<std::uint8_t> burns;
    for (const Kind& kind : kinds_)
        burns.push_back(kind.burns ? 1 : 0);
    archive.copy("burns", burns);
    for (std::size_t k = 0; k < kinds_.size(); ++k)
        kinds_[k].burns = burns[k] != 0;
}

template bool Burning::overshoots(std::span<const float>, double);
template bool Burning::overshoots(std::span<const double>, double);
template void Burning::after_step(std::span<const float>, double, double);
template void Burning::after_step(std::span<const double>, double, double);

}  // namespace sandfreeze::conduction
