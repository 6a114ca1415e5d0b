#pragma once
// A case: everything a solve needs to know, in SI units, made from a case file or by hand.

#include <array>
#include <cstdint>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "materials/material.hpp"
#include "mesh/grid.hpp"
#include "mesh/levels.hpp"
#include "mesh/shape.hpp"
#include "solver/pouring_inputs.hpp"

namespace sandfreeze::solver
{

enum class View { planar, axisymmetric, plan };

/// How finely a plan is cut into levels.
enum class Levels { coarse, automatic, fine, cells };

/// What a part is for. Up to `feeder` they are poured metal.
enum class Role {
    casting,
    gate,
    neck,
    runner,
    sprue,
    basin,
    feeder,
    chill,
    sleeve,
    core,
    flask,
    insert,
    sand,
    air
};

constexpr bool is_poured(Role role)
{
    return role <= Role::feeder;
}
/// Gates and necks: ways that must stay open, judged alike.
constexpr bool is_gate(Role role)
{
    return role == Role::gate || role == Role::neck;
}
std::string_view to_string(Role role);
std::optional<Role> role_from(std::string_view name);

struct Section {
    View view = View::planar;
    double cell = 0.001;                ///< [m]
    mesh::Box box;                      ///< [m]; a whole number of cells each way
    double depth = 1;                   ///< planar: length out of the page [m]
    double multiply = 1;                ///< the real mould is this many times the section
    double bottom = 0;                  ///< plan: under the drag [m]
    double top = 0;                     ///< plan: over the cope [m]
    Levels levels = Levels::automatic;  ///< plan only
};

struct Part {
    std::string name;
    Role role = Role::casting;
    int material = 0;         ///< index into Case::materials
    mesh::Shape shape;        ///< meaningless for parts[0], which fills the box
    double temperature = 20;  ///< at the start [°C]
    bool open_top = false;    ///< feeders, basins, sprues: the metal's top is open to the air
    mesh::Reach reach{};      ///< plan only
    bool hole_above = false;  ///< not drawn: the hole of air over an open feeder
    double cover = 0;         ///< covering powder on an open top [m]
    /// Closed feeders: a core or vent breaks the skin, so that the air presses on the liquid inside.
    bool atmospheric_core = false;
};

/// What lies outside one side of the sand box.
struct Edge {
    enum class Kind { insulated, fixed_temperature, air };
    Kind kind = Kind::air;
    double h = 10;            ///< air only [W/m2/K]
    double temperature = 20;  ///< [°C]
};

struct Edges {
    Edge left;
    Edge right;
    Edge bottom;
    Edge top;
    Edge below;
    Edge above;
};

/// Heat transfer across a touching face. Each side is "metal" (anything poured), a role, a kind, a material's
/// name or a part's name. The last rule that matches a pair counts.
struct Contact {
    std::array<std::string, 2> between;
    double h = 0;                   ///< [W/m2/K]; infinite for perfect contact
    std::optional<double> h_gap{};  ///< once the metal at the face is solid and a gap has opened [W/m2/K]
};

/// Heat transfer across a face: from `h` while the metal there is liquid to `h_gap` once it is solid, in
/// between by its solid fraction [W/m2/K].
struct HeatTransfer {
    double h = 0;
    double h_gap = 0;  ///< the same where no gap opens

    bool opens() const { return h != h_gap; }
    bool operator==(const HeatTransfer&) const = default;
};

/// A named patch of metal to report on.
struct Region {
    std::string name;
    mesh::Shape shape;
    mesh::Reach reach{};  ///< plan only
};

/// A virtual thermocouple.
struct Probe {
    std::string name;
    mesh::Place at;  ///< [m]
};

/// What the caster wants to be true: the last metal of `first` is solid before that of `then`, by `margin`.
struct Check {
    std::string first;
    std::string then;
    double margin = 0;  ///< [s]
};

struct RunSettings {
    std::optional<double> end;           ///< [s]; empty: until the last metal is solid
    std::optional<double> margin_limit;  ///< [s]; empty: the larger of 1 s and 2 % of the time
    std::optional<double> frame_every;   ///< [s]; empty: chosen by the program
    /// The mould may be opened when the castings are below it [°C]; empty: chosen by the program.
    std::optional<double> open_below{};
};

/// What is computed besides conduction and freezing. Off, the rest can be held against answers without them.
struct Models {
    bool open_tops = true;  ///< open metal radiates and warms the air over it; off: still air conducts
    bool burning = true;    ///< sleeves that can burn do; off: they insulate
};

/// Length out of the page for what is solved for one metre of it; 1 for rings and plans, which are solved
/// whole.
double drawn_depth(const Section& section);

/// What the water of wet sand does at 100 °C.
enum class Water {
    ignored,   ///< it is in the sand's numbers below 100 °C, and boils for nothing
    boils,     ///< it takes its heat of boiling where it is
    condenses  ///< it boils, moves out as steam and gives its heat to the nearest sand under 100 °C
};

struct Case {
    std::string title;
    Section section;
    std::vector<materials::Material> materials;
    /// parts[0] is the mould (role sand, named "mould"); the others in the order in which they are painted.
    /// Holes of air over open feeders are parts of their own, in front of their feeder.
    std::vector<Part> parts;
    Edges edges;
    double pour_temperature = 0;          ///< of the metal as it comes in [°C]
    double fill_time = 0;                 ///< 0: the mould is full at the start [s]
    std::optional<double> hydrogen{};     ///< in the metal; empty: not considered [ml/100 g]
    std::optional<std::size_t> enters{};  ///< the part at whose top metal comes in; needed when it takes time
    Water water = Water::boils;           ///< of the materials made by materials::wet_sand
    std::vector<Contact> contacts;
    /// What the library's contacts are multiplied by, in their order there; empty: nothing is changed.
    std::vector<double> contact_factors{};
    std::vector<Region> regions;
    std::vector<Probe> probes;
    std::vector<Check> checks;
    RunSettings run;
    Models models;
    PouringInputs pouring;  ///< for the sheet alone
};

/// Place of the part of that name; the number of parts where there is none.
std::size_t part_named(const Case& c, std::string_view name);

/// Margins below this are "marginal": the case's own limit, else the larger of 1 s and 2 % of the time [s].
double margin_limit(const RunSettings& run, double time);

/// Whether a name in a contact rule means this part: "metal", its role, its material's kind or name, or its
/// own name.
bool contact_name_means(const Case& c, std::string_view name, std::size_t part);

/// Whose heat transfer counts between two parts: the place in Case::contacts, or else that in the library's
/// materials::default_contacts(). Both empty: perfect contact.
struct ContactOrigin {
    std::optional<std::size_t> rule;
    std::optional<std::size_t> library;
};
ContactOrigin contact_origin(const Case& c, std::size_t part_a, std::size_t part_b);

/// Heat transfer between two touching parts by the case's rules, else the library's defaults [W/m2/K];
/// infinite for perfect contact. A gap opens only between metal and what is not poured.
HeatTransfer contact_between(const Case& c, std::size_t part_a, std::size_t part_b);

/// The levels that a plan is cut into.
mesh::LevelStack levels_of(const Case& c);

/// The voxels of a case's section; those of a plan stacked in levels.
mesh::Grid grid_of(const Case& c);

}  // namespace sandfreeze::solver
