#pragma once
// What all sections of the sheet work from, and short ways to write down their lines.

#include <string>
#include <utility>
#include <vector>

#include "solver/pouring/mould_scan.hpp"
#include "solver/results_sheet.hpp"

namespace sandfreeze::pouring
{

/// A part that is poured, in the real mould.
struct MetalPart {
    std::size_t part = 0;
    solver::Role role = solver::Role::casting;
    double volume = 0;   ///< [m3]
    double mass = 0;     ///< [kg]
    double modulus = 0;  ///< [m], infinite where nothing cools it
};

/// The flask's inside [m]. Where the case says nothing it is that of the sand box.
struct Flask {
    solver::Stated length;
    solver::Stated width;
    solver::Stated cope;
    solver::Stated drag;
};

struct Desk {
    const solver::Case& c;
    const mesh::Painting& painting;
    const solver::SolvedTimes* solved = nullptr;  ///< none: by the modulus rule
    MouldScan scan;
    std::vector<MetalPart> metal;
    Flask flask;
    double volume = 0;        ///< of all metal in the mould [m3]
    double mass = 0;          ///< likewise [kg]
    double casting_mass = 0;  ///< [kg]

    /// What most of the metal is.
    const materials::Material& alloy() const { return c.materials[alloy_]; }
    const materials::Material& sand() const
    {
        return c.materials[static_cast<std::size_t>(c.parts.front().material)];
    }
    /// Bonded by clay and water.
    bool green() const { return sand().moisture_percent > 0 && sand().clay_percent > 0; }
    bool light() const;  ///< aluminium and its alloys

    std::size_t alloy_ = 0;
};

Desk desk_of(const solver::Case& c, const mesh::Painting& painting, const solver::SolvedTimes* solved);

/// Pouring time, and from where it is.
struct PouringTime {
    double seconds = 0;
    solver::SheetOrigin origin = solver::SheetOrigin::assumed;
};
/// The case's, else that of its choke, else the usual one for the mass.
PouringTime pouring_time(const Desk& desk);
/// Of the metal over the gates; without gates over the parting plane [m].
double gate_height(const Desk& desk);
double effective_head(const Desk& desk);
/// Whether the metal falls through a sprue: one is drawn, or the case gives its height or choke.
bool has_sprue(const Desk& desk);
/// The choke that the pouring time asks for, E14; 0 where the metal's level is too low [m2].
double choke_wanted(const Desk& desk);

/// A number in the units of its input row.
struct Quantity {
    double value = 0;
    std::string unit{};
};

inline solver::SheetInput stated(std::string symbol, std::string what, const solver::Stated& number,
                                 double factor, std::string unit, std::string key)
{
    return {std::move(symbol),
            std::move(what),
            number.value * factor,
            std::move(unit),
            number.given ? solver::SheetOrigin::given : solver::SheetOrigin::assumed,
            std::move(key)};
}
inline solver::SheetInput computed(std::string symbol, std::string what, Quantity q, std::string line)
{
    return {std::move(symbol), std::move(what), q.value, std::move(q.unit), solver::SheetOrigin::computed,
            std::move(line)};
}
inline solver::SheetInput drawn(std::string symbol, std::string what, Quantity q)
{
    return {std::move(symbol), std::move(what), q.value, std::move(q.unit), solver::SheetOrigin::drawn, {}};
}
inline solver::SheetInput data(std::string symbol, std::string what, Quantity q, std::string from)
{
    return {std::move(symbol), std::move(what),           q.value,
            std::move(q.unit), solver::SheetOrigin::data, std::move(from)};
}

constexpr double to_mm = 1e3;
constexpr double to_mm2 = 1e6;
constexpr double to_cm3 = 1e6;
constexpr double to_litre = 1e3;

// The sections, one file each.
solver::SheetSection metal_section(const Desk& desk);
solver::SheetSection filling_section(const Desk& desk);
solver::SheetSection flask_section(const Desk& desk);
solver::SheetSection sand_section(const Desk& desk);
solver::SheetSection pattern_section(const Desk& desk);
solver::SheetSection times_section(const Desk& desk);

}  // namespace sandfreeze::pouring
