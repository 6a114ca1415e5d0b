#include "io/schema_tables.hpp"

namespace sandfreeze::io
{

namespace
{

using Type = ValueType;

constexpr std::array region_keys{
    KeySpec{.name = "name", .type = Type::text, .meaning = "What you call it.", .required = true},
    rectangle_key,
    circle_key,
    polygon_key,
    strip_key,
    KeySpec{.name = "z_mm",
            .type = Type::interval,
            .unit = "mm",
            .meaning = "Plan only: from where to where in height.",
            .fallback_words = "the whole thickness",
            .limits = places,
            .views = plan_only},
};

constexpr std::array probe_keys{
    KeySpec{.name = "name", .type = Type::text, .meaning = "What you call it.", .required = true},
    KeySpec{.name = "at_mm",
            .type = Type::point,
            .unit = "mm",
            .meaning = "[x, y] of its tip.",
            .required = true,
            .limits = places},
    KeySpec{.name = "z_mm",
            .type = Type::height,
            .unit = "mm",
            .meaning = "Plan only: its height.",
            .required = true,
            .limits = places,
            .views = plan_only},
};

constexpr std::array check_keys{
    KeySpec{.name = "first",
            .type = Type::text,
            .meaning = "The metal part or region that must be solid first, to its last metal.",
            .required = true},
    KeySpec{.name = "then",
            .type = Type::text,
            .meaning = "The one whose last metal must be solid later.",
            .required = true},
    KeySpec{.name = "margin_s",
            .type = Type::number,
            .unit = "s",
            .meaning = "By at least this much later.",
            .fallback = "0",
            .limits = {.least = 0, .most = 1e8}},
};

constexpr std::array run_keys{
    KeySpec{.name = "end_s",
            .type = Type::number,
            .unit = "s",
            .meaning = "When to stop.",
            .fallback_words = "when the last metal is solid, later where something asked for needs it",
            .limits = seconds},
    KeySpec{.name = "margin_limit_s",
            .type = Type::number,
            .unit = "s",
            .meaning = "Margins smaller than this are called marginal.",
            .fallback_words = "the larger of 1 s and 2 % of the time",
            .limits = {.least = 0, .most = 1e8}},
    KeySpec{.name = "frame_every_s",
            .type = Type::number,
            .unit = "s",
            .meaning = "Time between pictures of the fields; of more than a thousand every second one goes.",
            .fallback_words = "60 pictures over the freezing time",
            .limits = seconds},
    KeySpec{.name = "burning",
            .type = Type::boolean,
            .meaning = "Whether sleeves burn that can; false: they only insulate.",
            .fallback = "true"},
    KeySpec{.name = "open_tops",
            .type = Type::boolean,
            .meaning = "Whether open metal radiates and warms the air over it; false: still air conducts.",
            .fallback = "true"},
};

using Form = TableSpec::Form;

constexpr std::array tables{
    TableSpec{"region", Form::many, "A named patch of metal to report on, with one shape as a part has.",
              region_keys},
    TableSpec{"probe", Form::many, "A thermocouple in the section.", probe_keys},
    TableSpec{"check", Form::many,
              "What you want to be true; a check that fails makes the run end with exit code 1.", check_keys},
    TableSpec{"run", Form::one, "How long, and how often to look.", run_keys},
};

}  // namespace

std::span<const TableSpec> report_tables()
{
    return tables;
}

}  // namespace sandfreeze::io
