#include "io/json_values.hpp"

#include <cmath>

#include "io/text.hpp"

namespace sandfreeze::io
{

Json number(double value)
{
    return std::isfinite(value) ? Json(value) : Json(nullptr);
}

Json number(const std::optional<double>& value)
{
    return value ? number(*value) : Json(nullptr);
}

Json converted(double value, double factor)
{
    constexpr int figures = 12;  // enough for any use, few enough to hide the dust of unit conversion
    if (!std::isfinite(value)) return nullptr;
    return std::stod(rounded_text(value * factor, figures));
}

Json converted(const std::optional<double>& value, double factor)
{
    return value ? converted(*value, factor) : Json(nullptr);
}

Json position(mesh::Place p)
{
    Json out = Json::array({converted(p.x, to_mm), converted(p.y, to_mm)});
    if (p.has_height()) out.push_back(converted(p.z, to_mm));
    return out;
}

Json position(const std::optional<mesh::Place>& p)
{
    return p ? position(*p) : Json(nullptr);
}

Json name_or_null(const std::optional<std::string>& name)
{
    return name ? Json(*name) : Json(nullptr);
}

}  // namespace sandfreeze::io
