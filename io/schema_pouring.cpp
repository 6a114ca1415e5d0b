#include "io/schema_tables.hpp"

namespace sandfreeze::io
{

namespace
{

using Type = ValueType;

constexpr std::uint8_t upright_views = 3;  // planar and axisymmetric
constexpr Limits masses{.least = 0, .most = 1e5};
constexpr Limits positive_masses{.least = 0, .most = 1e5, .least_itself = false};

constexpr std::array melt_keys{
    KeySpec{.name = "melting_loss_percent",
            .type = Type::number,
            .unit = "%",
            .meaning = "Of the charge, what burns and is skimmed off as dross.",
            .fallback = "3",
            .limits = {.least = 0, .most = 50}},
    KeySpec{.name = "spare_percent",
            .type = Type::number,
            .unit = "%",
            .meaning = "Melted beyond what the mould takes: spills, and enough to keep the sprue full.",
            .fallback = "10",
            .limits = {.least = 0, .most = 200}},
    KeySpec{.name = "heel_kg",
            .type = Type::number,
            .unit = "kg",
            .meaning = "Stays behind in the crucible.",
            .fallback = "0",
            .limits = masses},
    KeySpec{.name = "crucible_brim_l",
            .type = Type::number,
            .unit = "l",
            .meaning = "What the crucible holds when full to the brim.",
            .fallback_words = "not known",
            .limits = {.least = 0, .most = 1e4, .least_itself = false}},
    KeySpec{.name = "crucible_mass_kg",
            .type = Type::number,
            .unit = "kg",
            .meaning = "Weight of the empty crucible.",
            .fallback_words = "not known",
            .limits = positive_masses},
    KeySpec{.name = "fill_at_most_percent",
            .type = Type::number,
            .unit = "%",
            .meaning = "How far you fill it, of its brim.",
            .fallback = "80",
            .limits = {.least = 10, .most = 100}},
};

constexpr std::array sprue_keys{
    KeySpec{.name = "height_mm",
            .type = Type::number,
            .unit = "mm",
            .meaning = "From the parting plane up to the metal's level while you pour, basin included.",
            .fallback_words = "up to the top of what is poured into, else of the sand",
            .limits = lengths},
    KeySpec{.name = "choke_mm2",
            .type = Type::number,
            .unit = "mm2",
            .meaning = "Cross-section where the way of the metal is narrowest, mostly the foot of the sprue. "
                       "Of all sprues together.",
            .fallback_words = "what the pouring time asks for",
            .limits = {.least = 0, .most = 1e7, .least_itself = false}},
    KeySpec{.name = "choke_diameter_mm",
            .type = Type::number,
            .unit = "mm",
            .meaning = "Instead of choke_mm2: its diameter, for a single round one.",
            .fallback_words = "none",
            .limits = lengths},
    KeySpec{.name = "loss_factor",
            .type = Type::number,
            .meaning =
                "The metal's speed over that without friction and bends; 0.5 for narrow or branched ways.",
            .fallback = "0.8",
            .limits = {.least = 0.05, .most = 1}},
    KeySpec{.name = "basin_mm",
            .type = Type::number,
            .unit = "mm",
            .meaning = "Depth of metal that you keep in the basin, over the top of the sprue.",
            .fallback = "50",
            .limits = lengths},
};

constexpr std::array flask_keys{
    KeySpec{.name = "length_mm",
            .type = Type::number,
            .unit = "mm",
            .meaning = "Inside, from left to right, of the whole flask.",
            .fallback_words = "that of the sand box",
            .limits = lengths},
    KeySpec{.name = "width_mm",
            .type = Type::number,
            .unit = "mm",
            .meaning = "Inside, from front to back.",
            .fallback_words = "that of the sand box; in a cut depth_mm and 50 mm of sand at either end",
            .limits = lengths},
    KeySpec{.name = "cope_mm",
            .type = Type::number,
            .unit = "mm",
            .meaning = "Height of the upper flask.",
            .fallback_words = "from the parting plane to the top of the sand box",
            .limits = lengths},
    KeySpec{.name = "drag_mm",
            .type = Type::number,
            .unit = "mm",
            .meaning = "Height of the lower flask.",
            .fallback_words = "from the bottom of the sand box to the parting plane",
            .limits = lengths},
    KeySpec{.name = "parting_mm",
            .type = Type::number,
            .unit = "mm",
            .meaning = "Cuts and turned sections only: y of the parting plane. In a plan it is at z = 0.",
            .fallback_words = "halfway up the castings",
            .limits = places,
            .views = upright_views},
    KeySpec{.name = "frame_kg",
            .type = Type::number,
            .unit = "kg",
            .meaning = "Weight of one flask without sand.",
            .fallback = "0",
            .limits = masses},
    KeySpec{.name = "lift_factor",
            .type = Type::number,
            .meaning = "Cope and weights together must weigh so many times the lift: the metal comes in with "
                       "a surge.",
            .fallback = "1.5",
            .limits = {.least = 1, .most = 10}},
};

constexpr std::array green_sand_keys{
    KeySpec{.name = "clay_percent",
            .type = Type::number,
            .unit = "%",
            .meaning = "Clay by weight of the dry sand. The water is moisture_percent of [mould].",
            .fallback_words = "the library sand's own",
            .limits = {.least = 0, .most = 50}},
    KeySpec{.name = "spare_percent",
            .type = Type::number,
            .unit = "%",
            .meaning = "Mixed beyond what the mould takes.",
            .fallback = "15",
            .limits = {.least = 0, .most = 200}},
    KeySpec{.name = "green_tensile_kPa",
            .type = Type::number,
            .unit = "kPa",
            .meaning = "Strength of the rammed sand in tension.",
            .fallback = "15",
            .limits = {.least = 1, .most = 1000}},
};

constexpr std::array lifting_keys{
    KeySpec{.name = "one_person_kg",
            .type = Type::number,
            .unit = "kg",
            .meaning = "What one person may lift by the rules of your place.",
            .fallback = "23",
            .limits = {.least = 1, .most = 200}},
    KeySpec{.name = "people",
            .type = Type::number,
            .meaning = "How many lift together.",
            .fallback = "1",
            .limits = {.least = 1, .most = 20}},
};

using Form = TableSpec::Form;

constexpr std::array tables{
    TableSpec{"melt", Form::one, "The charge and the crucible, for the sheet of the pour (sandfreeze sheet).",
              melt_keys},
    TableSpec{"sprue", Form::one, "What the metal falls through, for the sheet alone.", sprue_keys},
    TableSpec{"flask", Form::one,
              "The flasks, for the sheet alone; they are alike, cope over drag. The sand box of [section] is "
              "what is computed.",
              flask_keys},
    TableSpec{"green_sand", Form::one, "The batch of green sand, for the sheet alone.", green_sand_keys},
    TableSpec{"lifting", Form::one, "Who lifts, for the sheet alone.", lifting_keys},
};

}  // namespace

std::span<const TableSpec> pouring_tables()
{
    return tables;
}

}  // namespace sandfreeze::io
