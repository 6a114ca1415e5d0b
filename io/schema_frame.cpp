#include "io/schema_tables.hpp"

namespace sandfreeze::io
{

namespace
{

using Type = ValueType;

constexpr std::array<std::string_view, 3> views{"planar", "axisymmetric", "plan"};
constexpr std::array<std::string_view, 4> levels{"coarse", "auto", "fine", "cells"};
constexpr std::array<std::string_view, 3> waters{"boils", "condenses", "ignored"};

constexpr std::array top_keys{
    KeySpec{.name = "title",
            .type = Type::text,
            .meaning = "What the case is, in your words.",
            .fallback = "\"untitled\""},
    KeySpec{.name = "format",
            .type = Type::number,
            .meaning = "Version of the case format. This program reads format 1.",
            .fallback = "1",
            .limits = {.least = 1, .most = 1}},
};

constexpr std::array section_keys{
    KeySpec{.name = "view",
            .type = Type::choice,
            .meaning = "planar: a cut through the mould, y up. axisymmetric: a turned casting, x is the "
                       "radius and y up. plan: seen from above, every part with its heights from z_mm, z up.",
            .required = true,
            .choices = views},
    KeySpec{
        .name = "cell_mm",
        .type = Type::number,
        .unit = "mm",
        .meaning =
            "Size of the small squares the section is computed on. Three or more across the thinnest wall.",
        .required = true,
        .limits = {.least = 0.001, .most = 1000}},
    KeySpec{.name = "x_mm",
            .type = Type::interval,
            .unit = "mm",
            .meaning = "Left and right side of the sand box.",
            .fallback_words = "the parts and sand_margin_mm around them",
            .limits = places},
    KeySpec{.name = "y_mm",
            .type = Type::interval,
            .unit = "mm",
            .meaning = "Bottom and top of the sand box.",
            .fallback_words = "the parts and sand_margin_mm around them",
            .limits = places},
    KeySpec{.name = "sand_margin_mm",
            .type = Type::number,
            .unit = "mm",
            .meaning = "Sand around the parts where x_mm or y_mm is left out.",
            .fallback = "50",
            .limits = {.least = 0, .most = far_mm}},
    KeySpec{.name = "depth_mm",
            .type = Type::number,
            .unit = "mm",
            .meaning = "Planar only: length of the casting out of the page, for volumes and weights.",
            .fallback = "1000",
            .limits = depths,
            .views = planar_only},
    KeySpec{
        .name = "multiply",
        .type = Type::number,
        .meaning =
            "The real mould is this many times the section: 2 for a half model, more for several castings.",
        .fallback = "1",
        .limits = {.least = 1e-3, .most = 1e6}},
    KeySpec{.name = "z_mm",
            .type = Type::interval,
            .unit = "mm",
            .meaning = "Plan only: bottom of the drag to top of the cope; 0 is the parting plane.",
            .required = true,
            .limits = places,
            .views = plan_only},
    KeySpec{.name = "levels",
            .type = Type::choice,
            .meaning =
                "Plan only: how finely the thickness is cut into levels. cells: every level as high as "
                "a cell, which takes longest.",
            .fallback = "\"auto\"",
            .choices = levels,
            .views = plan_only},
};

constexpr std::array mould_keys{
    KeySpec{.name = "material",
            .type = Type::text,
            .meaning = "The sand that fills the box: from the library or a [[material]] of your own.",
            .required = true},
    KeySpec{.name = "temperature_C",
            .type = Type::number,
            .unit = "°C",
            .meaning = "Temperature of the mould at the pour.",
            .fallback = "20",
            .limits = temperatures},
    KeySpec{.name = "moisture_percent",
            .type = Type::number,
            .unit = "%",
            .meaning =
                "Water by weight of the wet sand; an own material's numbers are then those of the dry sand.",
            .fallback_words = "the library sand's own, 0 for an own material",
            .limits = {.least = 0, .most = 15}},
    KeySpec{
        .name = "water",
        .type = Type::choice,
        .meaning =
            "What the sand's water does at 100 °C: boils (and takes its heat where it is), condenses (moves "
            "out as steam and warms cooler sand; takes longer to compute), or ignored (as if it could not "
            "boil).",
        .fallback = "\"boils\"",
        .choices = waters},
    KeySpec{.name = "open_below_C",
            .type = Type::number,
            .unit = "°C",
            .meaning = "When the hottest place of the castings is below this, the mould may be opened; the "
                       "answer says when that is. Feeders and gates are not looked at.",
            .fallback_words = "half of what the casting becomes solid at, a rule of thumb",
            .limits = temperatures},
};

constexpr std::array pour_keys{
    KeySpec{
        .name = "temperature_C",
        .type = Type::number,
        .unit = "°C",
        .meaning =
            "Temperature of the metal as it comes into the mould; with fill_time_s = 0, in the full mould.",
        .required = true,
        .limits = temperatures},
    KeySpec{.name = "fill_time_s",
            .type = Type::number,
            .unit = "s",
            .meaning = "Time the mould takes to fill, at an even rate. 0: it is full at the start. Metal "
                       "cools on its way "
                       "and warms the mould; how it flows is not computed.",
            .fallback = "0",
            .limits = {.least = 0, .most = 1e6}},
    KeySpec{
        .name = "enters",
        .type = Type::text,
        .meaning =
            "The part at whose top the metal comes in, such as a sprue; needed when fill_time_s is above 0.",
        .fallback_words = "none"},
    KeySpec{.name = "hydrogen_ml_100g",
            .type = Type::number,
            .unit = "ml/100 g",
            .meaning = "Hydrogen in the metal, as measured; it lowers the margin against pores. Degassed "
                       "aluminium has about 0.1, common practice.",
            .fallback_words = "not considered",
            .limits = {.least = 0, .most = 1}},
};

constexpr KeySpec edge_key(std::string_view name, std::string_view meaning, std::uint8_t where = every_view)
{
    return {.name = name,
            .type = Type::edge,
            .meaning = meaning,
            .fallback_words = "still air, h 10, at the mould's temperature",
            .views = where};
}

constexpr std::array edges_keys{
    edge_key("left", "Left side of the box. The axis of a turned section needs nothing here."),
    edge_key("right", "Right side."),
    edge_key("bottom", "Underside, such as the floor or a board. In a plan the side at the smallest y."),
    edge_key("top", "Top of the sand. In a plan the side at the largest y."),
    edge_key("below", "Plan only: under the drag.", plan_only),
    edge_key("above", "Plan only: over the cope.", plan_only),
};

constexpr std::array edge_keys{
    KeySpec{.name = "h_W_m2K",
            .type = Type::number,
            .unit = "W/m2/K",
            .meaning = "Heat transfer to the air.",
            .fallback = "10",
            .limits = {.least = 0, .most = 1e7}},
    KeySpec{.name = "air_C",
            .type = Type::number,
            .unit = "°C",
            .meaning = "Temperature of the air.",
            .fallback_words = "the mould's",
            .limits = temperatures},
    KeySpec{.name = "temperature_C",
            .type = Type::number,
            .unit = "°C",
            .meaning = "Instead of air: the side is held at this temperature.",
            .limits = temperatures},
};

using Form = TableSpec::Form;

constexpr std::array tables{
    TableSpec{"", Form::top, "The first lines, above all tables.", top_keys},
    TableSpec{"section", Form::one, "The cut through the mould.", section_keys, true},
    TableSpec{"mould", Form::one, "The sand.", mould_keys, true},
    TableSpec{"pour", Form::one, "The metal as it comes.", pour_keys, true},
    TableSpec{"edges", Form::one,
              "What lies outside the sand box. Each side is \"insulated\" (also a plane of symmetry), { "
              "temperature_C = "
              "20 }, or air as { h_W_m2K = 10, air_C = 20 }.",
              edges_keys},
    TableSpec{"edge", Form::inlined, "One side of the box.", edge_keys},
};

}  // namespace

std::span<const TableSpec> frame_tables()
{
    return tables;
}

}  // namespace sandfreeze::io
