#include "io/schema_tables.hpp"

namespace sandfreeze::io
{

namespace
{

using Type = ValueType;

constexpr std::array<std::string_view, 6> kinds{"metal", "mould", "chill", "sleeve", "core", "air"};
constexpr std::array<std::string_view, 3> freezing_laws{"linear", "scheil", "lever"};
constexpr NotBuilt no_radiation{
    "heat that open metal radiates is not built yet; take it out, nothing is computed from it", {}, {}};
constexpr NotBuilt no_burning{
    "a sleeve that burns is not built yet; take it out, the sleeve then only insulates", {}, {}};

constexpr std::array material_keys{
    KeySpec{.name = "name", .type = Type::text, .meaning = "What you call it.", .required = true},
    KeySpec{.name = "like",
            .type = Type::text,
            .meaning = "A material of the library to start from; what is not given here is taken from it.",
            .fallback_words = "none"},
    KeySpec{.name = "kind",
            .type = Type::choice,
            .meaning = "What sort of thing it is.",
            .fallback_words = "that of like; needed otherwise",
            .choices = kinds},
    KeySpec{.name = "density_kg_m3",
            .type = Type::number,
            .unit = "kg/m3",
            .meaning = "Weight of a cubic metre.",
            .fallback_words = "that of like; needed otherwise",
            .limits = {.least = 0, .most = 30000, .least_itself = false}},
    KeySpec{.name = "specific_heat_J_kgK",
            .type = Type::property,
            .unit = "J/kg/K",
            .meaning = "Heat that a kilogram takes for a degree.",
            .fallback_words = "that of like; needed otherwise",
            .limits = {.least = 0, .most = 1e5, .least_itself = false}},
    KeySpec{.name = "conductivity_W_mK",
            .type = Type::property,
            .unit = "W/m/K",
            .meaning = "How well it conducts heat. This and the specific heat: a number, a table [[T_C, "
                       "value], ...], or "
                       "{ solid = ..., liquid = ... } of such, mixed by the solid fraction.",
            .fallback_words = "that of like; needed otherwise",
            .limits = {.least = 0, .most = 1e5, .least_itself = false}},
    KeySpec{.name = "liquidus_C",
            .type = Type::number,
            .unit = "°C",
            .meaning = "Metal: where freezing begins.",
            .fallback_words = "that of like or of the solid_fraction table; needed otherwise",
            .limits = temperatures},
    KeySpec{.name = "solidus_C",
            .type = Type::number,
            .unit = "°C",
            .meaning =
                "Metal: where it is wholly solid; the liquidus for metal that freezes at one temperature.",
            .fallback_words = "that of like, of the solid_fraction table, or eutectic_C; needed otherwise",
            .limits = temperatures},
    KeySpec{.name = "latent_heat_J_kg",
            .type = Type::number,
            .unit = "J/kg",
            .meaning = "Metal: heat given off on freezing.",
            .fallback_words = "that of like; needed otherwise",
            .limits = {.least = 0, .most = 1e7, .least_itself = false}},
    KeySpec{.name = "solid_fraction",
            .type = Type::fraction,
            .meaning =
                "Metal: how freezing runs from liquidus to solidus: linear, scheil, lever, or a table [[T_C, "
                "fraction], ...] in rising temperature.",
            .fallback_words = "that of like, else linear",
            .limits = shares,
            .choices = freezing_laws},
    KeySpec{.name = "melting_point_C",
            .type = Type::number,
            .unit = "°C",
            .meaning = "scheil and lever: melting point of the pure metal.",
            .fallback_words = "that of like; needed for scheil and lever",
            .limits = temperatures},
    KeySpec{.name = "partition_coefficient",
            .type = Type::number,
            .meaning = "scheil and lever: share of the alloying metal that the solid takes up.",
            .fallback_words = "that of like; needed for scheil and lever",
            .limits = {.least = 0, .most = 1, .least_itself = false}},
    KeySpec{.name = "eutectic_C",
            .type = Type::number,
            .unit = "°C",
            .meaning = "scheil and lever: what is still liquid here freezes here, at one temperature.",
            .fallback_words = "that of like; needed for scheil and lever",
            .limits = temperatures},
    KeySpec{.name = "feeding_limit",
            .type = Type::number,
            .meaning = "Metal: solid fraction up to which it still flows to feed.",
            .fallback_words = "that of like, else 0.7",
            .limits = {.least = 0, .most = 1, .least_itself = false}},
    KeySpec{.name = "shrinkage_percent",
            .type = Type::number,
            .unit = "%",
            .meaning = "Metal: shrinkage on freezing; negative where graphite expands.",
            .fallback_words = "that of like, else 0",
            .limits = {.least = -20, .most = 20}},
    KeySpec{.name = "liquid_contraction_percent_per_100K",
            .type = Type::number,
            .unit = "%/100 K",
            .meaning = "Metal: volume that the liquid loses for each 100 degrees it cools.",
            .fallback_words = "that of like, else not known",
            .limits = {.least = 0, .most = 10}},
    KeySpec{.name = "dendrite_um",
            .type = Type::number,
            .unit = "um",
            .meaning = "Metal: spacing of its dendrite arms where it freezes within one second. The spacing "
                       "is this times the freezing time in seconds to the power of dendrite_exponent.",
            .fallback_words = "that of like, else not known",
            .limits = {.least = 0, .most = 1000, .least_itself = false}},
    KeySpec{.name = "dendrite_exponent",
            .type = Type::number,
            .meaning = "Metal: how the spacing grows with the freezing time, mostly near 0.33.",
            .fallback_words = "that of like; needed with dendrite_um",
            .limits = {.least = 0, .most = 1, .least_itself = false}},
    KeySpec{.name = "emissivity",
            .type = Type::number,
            .meaning = "Metal: of its open surface while liquid; 1 is black.",
            .fallback_words = "that of like, else not known",
            .limits = {.least = 0, .most = 1, .least_itself = false},
            .not_built = no_radiation},
    KeySpec{.name = "ignition_C",
            .type = Type::number,
            .unit = "°C",
            .meaning = "Exothermic sleeve: where it begins to burn.",
            .fallback_words = "that of like, else it does not burn",
            .limits = {.least = 50, .most = 1500},
            .not_built = no_burning},
    KeySpec{.name = "burn_s",
            .type = Type::number,
            .unit = "s",
            .meaning = "Exothermic sleeve: how long it burns.",
            .fallback_words = "that of like; needed with ignition_C",
            .limits = seconds,
            .not_built = no_burning},
    KeySpec{.name = "heat_J_kg",
            .type = Type::number,
            .unit = "J/kg",
            .meaning = "Exothermic sleeve: heat that a kilogram of it gives off in all.",
            .fallback_words = "that of like; needed with ignition_C",
            .limits = {.least = 0, .most = 1e8, .least_itself = false},
            .not_built = no_burning},
    KeySpec{.name = "source",
            .type = Type::text,
            .meaning = "Where the numbers come from.",
            .fallback_words = "that of like, else none"},
};

constexpr std::array contact_keys{
    KeySpec{.name = "between",
            .type = Type::pair,
            .meaning = "Two sides: each \"metal\" (anything poured), a role, a kind, a material's name or a "
                       "part's name.",
            .required = true},
    KeySpec{.name = "h_W_m2K",
            .type = Type::number,
            .unit = "W/m2/K",
            .meaning = "Heat transfer across the touching faces; inf is perfect contact.",
            .fallback_words = "needed, or both h_liquid_W_m2K and h_gap_W_m2K",
            .limits = {.least = 0, .least_itself = false, .may_be_infinite = true}},
    KeySpec{.name = "h_liquid_W_m2K",
            .type = Type::number,
            .unit = "W/m2/K",
            .meaning = "Instead of h_W_m2K: with the metal still liquid against it ...",
            .fallback_words = "h_W_m2K",
            .limits = {.least = 0, .least_itself = false, .may_be_infinite = true}},
    KeySpec{.name = "h_gap_W_m2K",
            .type = Type::number,
            .unit = "W/m2/K",
            .meaning = "... and after the gap has opened, as the metal at the face becomes solid.",
            .fallback_words = "h_W_m2K",
            .limits = {.least = 0, .least_itself = false}},
    KeySpec{.name = "coating_mm",
            .type = Type::number,
            .unit = "mm",
            .meaning = "A coating between the two, thickness.",
            .fallback = "0",
            .limits = {.least = 0, .most = 50}},
    KeySpec{.name = "coating_conductivity_W_mK",
            .type = Type::number,
            .unit = "W/m/K",
            .meaning = "How well the coating conducts; needed with coating_mm.",
            .fallback_words = "none",
            .limits = {.least = 0, .most = 1e3, .least_itself = false}},
};

using Form = TableSpec::Form;

constexpr std::array tables{
    TableSpec{"material", Form::many,
              "Optional: a material of your own, or one from the library with changes.", material_keys},
    TableSpec{"contact", Form::many,
              "Heat transfer across touching faces; the last that matches counts. Without one, metal against "
              "mould, chill, "
              "sleeve, core or insert takes the library's value, and all else is in perfect contact.",
              contact_keys},
};

}  // namespace

std::span<const TableSpec> material_tables()
{
    return tables;
}

}  // namespace sandfreeze::io
