#pragma once
// Values of the answer as JSON has them: null for what did not happen. Inside io only, in .cpp files.

#include <nlohmann/json.hpp>
#include <optional>
#include <string>

#include "mesh/shape.hpp"

namespace sandfreeze::io
{

using Json = nlohmann::ordered_json;

constexpr double to_mm = 1e3;
constexpr double to_cm2 = 1e4;
constexpr double to_cm3 = 1e6;

Json number(double value);
Json number(const std::optional<double>& value);
/// Times a factor, without the dust of unit conversion.
Json converted(double value, double factor);
Json converted(const std::optional<double>& value, double factor);
/// [x, y] in mm, in plans [x, y, z].
Json position(mesh::Place place);
Json position(const std::optional<mesh::Place>& place);
Json name_or_null(const std::optional<std::string>& name);

template <class Items, class Write>
Json list(const Items& items, Write write)
{
    Json out = Json::array();
    for (const auto& item : items)
        out.push_back(write(item));
    return out;
}

}  // namespace sandfreeze::io
