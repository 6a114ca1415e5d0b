#include "io/schema_tables.hpp"

namespace sandfreeze::io
{

namespace
{

using Type = ValueType;

constexpr std::array<std::string_view, 14> roles{"casting", "gate",   "neck",  "runner", "sprue",
                                                 "basin",   "feeder", "chill", "sleeve", "core",
                                                 "flask",   "insert", "sand",  "air"};

constexpr std::array part_keys{
    KeySpec{.name = "name",
            .type = Type::text,
            .meaning = "What you call it; every part has its own name.",
            .required = true},
    KeySpec{.name = "role",
            .type = Type::choice,
            .meaning = "What it is for. casting, gate, neck, runner, sprue, basin and feeder are filled with "
                       "metal; chill, "
                       "sleeve, core, flask and insert are solid from the start; sand is a patch of another "
                       "sand; air is "
                       "an open hole.",
            .required = true,
            .choices = roles},
    KeySpec{.name = "material",
            .type = Type::text,
            .meaning = "What it is made of: from the library or a [[material]] of your own.",
            .fallback_words = "\"air\" for air; needed otherwise"},
    rectangle_key,
    circle_key,
    polygon_key,
    strip_key,
    KeySpec{.name = "z_mm",
            .type = Type::interval,
            .unit = "mm",
            .meaning = "Plan only: from bottom face to top face.",
            .required = true,
            .limits = places,
            .views = plan_only},
    KeySpec{.name = "taper_deg",
            .type = Type::number,
            .unit = "degrees",
            .meaning = "Plan only, circles and rectangles: how far the sides lean inwards going up. What is "
                       "drawn is the bottom face; below 0 it widens towards the top.",
            .fallback = "0",
            .limits = {.least = -45, .most = 45, .least_itself = false, .most_itself = false},
            .views = plan_only},
    KeySpec{.name = "dome_mm",
            .type = Type::number,
            .unit = "mm",
            .meaning = "Plan only, circles: the uppermost so many mm are a round cap that ends at the top of "
                       "z_mm.",
            .fallback = "0",
            .limits = {.least = 0, .most = far_mm},
            .views = plan_only},
    KeySpec{.name = "temperature_C",
            .type = Type::number,
            .unit = "°C",
            .meaning = "Of chills, sleeves, cores and the like: when warmed before the pour.",
            .fallback_words = "the mould's; metal starts at the pour's",
            .limits = temperatures},
    KeySpec{.name = "open_top",
            .type = Type::boolean,
            .meaning =
                "Feeders, basins and sprues: the metal's top is open to the air, and above it there is air.",
            .fallback_words = "open where it reaches the top of the box (y; z in a plan), unless domed"},
    KeySpec{.name = "cover_mm",
            .type = Type::number,
            .unit = "mm",
            .meaning = "Open tops: so thick a layer of covering powder on the metal. It conducts and shines; "
                       "what heat it takes up itself is left out. Draw a thick one as a sleeve of covering "
                       "powder.",
            .fallback_words = "0",
            .limits = {.least = 0, .most = 500}},
    KeySpec{.name = "atmospheric_core",
            .type = Type::boolean,
            .meaning =
                "Closed feeders: a core or a vent breaks the skin, so that the air presses on the metal "
                "inside and it can feed.",
            .fallback_words = "false"},
};

constexpr std::array rectangle_keys{
    KeySpec{.name = "x_mm",
            .type = Type::interval,
            .unit = "mm",
            .meaning = "Left and right.",
            .required = true,
            .limits = places},
    KeySpec{.name = "y_mm",
            .type = Type::interval,
            .unit = "mm",
            .meaning = "Bottom and top.",
            .required = true,
            .limits = places},
};
constexpr std::array circle_keys{
    KeySpec{.name = "centre_mm",
            .type = Type::point,
            .unit = "mm",
            .meaning = "[x, y] of the middle.",
            .required = true,
            .limits = places},
    KeySpec{.name = "diameter_mm",
            .type = Type::number,
            .unit = "mm",
            .meaning = "Across.",
            .required = true,
            .limits = lengths},
};
constexpr std::array polygon_keys{
    KeySpec{.name = "points_mm",
            .type = Type::points,
            .unit = "mm",
            .meaning = "Corners [x, y] in order, three or more; it closes by itself.",
            .required = true,
            .limits = places},
};
constexpr std::array strip_keys{
    KeySpec{.name = "points_mm",
            .type = Type::points,
            .unit = "mm",
            .meaning = "Points [x, y] along the middle, two or more.",
            .required = true,
            .limits = places},
    KeySpec{.name = "width_mm",
            .type = Type::number,
            .unit = "mm",
            .meaning = "Across.",
            .required = true,
            .limits = lengths},
};

using Form = TableSpec::Form;

constexpr std::array tables{
    TableSpec{"part", Form::many,
              "One for each thing in the mould. Later parts cover earlier ones where they overlap. Each has "
              "one shape: "
              "rectangle, circle, polygon or strip.",
              part_keys},
    TableSpec{"rectangle", Form::inlined, "An upright rectangle.", rectangle_keys},
    TableSpec{"circle", Form::inlined, "A circle.", circle_keys},
    TableSpec{"polygon", Form::inlined, "Any outline of straight lines that does not cross itself.",
              polygon_keys},
    TableSpec{"strip", Form::inlined, "A band along a line, with flat ends and round joints.", strip_keys},
};

}  // namespace

std::span<const TableSpec> part_tables()
{
    return tables;
}

}  // namespace sandfreeze::io
