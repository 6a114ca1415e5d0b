#pragma once
// What the files that make up the schema share.

#include <array>
#include <span>

#include "io/schema.hpp"

namespace sandfreeze::io
{

inline constexpr double far_mm = 1e5;  // a hundred metres: no mould is larger, slips of units are
inline constexpr Limits lengths{.least = 0, .most = far_mm, .least_itself = false};
inline constexpr Limits depths{.least = 1e-3, .most = far_mm};
inline constexpr Limits places{.least = -far_mm, .most = far_mm};
inline constexpr Limits temperatures{.least = -100, .most = 3500};
inline constexpr Limits percents{.least = 0, .most = 100};
inline constexpr Limits seconds{.least = 0, .most = 1e8, .least_itself = false};
inline constexpr Limits shares{.least = 0, .most = 1};

std::span<const TableSpec> frame_tables();     ///< top, section, mould, pour, edges, edge
std::span<const TableSpec> part_tables();      ///< part and its shapes
std::span<const TableSpec> material_tables();  ///< material, contact
std::span<const TableSpec> report_tables();    ///< region, probe, check, run
std::span<const TableSpec> pouring_tables();   ///< melt, sprue, flask, green_sand, lifting

inline constexpr KeySpec shape_key(std::string_view name, std::string_view meaning)
{
    return {.name = name, .type = ValueType::table, .meaning = meaning};
}
inline constexpr KeySpec rectangle_key = shape_key("rectangle", "{ x_mm = [50, 350], y_mm = [80, 100] }");
inline constexpr KeySpec circle_key = shape_key("circle", "{ centre_mm = [60, 70], diameter_mm = 25 }");
inline constexpr KeySpec polygon_key = shape_key("polygon", "{ points_mm = [[0, 0], [10, 0], [10, 5]] }");
inline constexpr KeySpec strip_key =
    shape_key("strip", "{ points_mm = [[0, 0], [40, 0], [40, 30]], width_mm = 12 }");

}  // namespace sandfreeze::io
