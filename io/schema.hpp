#pragma once
// The one table of what a case file may say. Checks, messages, manual and echo come from it.

#include <cstdint>
#include <limits>
#include <span>
#include <string_view>

namespace sandfreeze::io
{

/// The three views a section may have.
enum class CaseView : std::uint8_t { planar = 1, axisymmetric = 2, plan = 4 };

/// Sets of views as bits of CaseView.
constexpr std::uint8_t every_view = 7;
constexpr std::uint8_t planar_only = 1;
constexpr std::uint8_t plan_only = 4;

enum class ValueType {
    text,
    choice,  ///< one of `choices`
    number,  ///< within `limits`
    height,  ///< a place in z: a number whose `limits` are there to catch slips
    boolean,
    interval,  ///< [from, to], rising, both within `limits`
    point,     ///< [x, y], both within `limits`
    points,    ///< [[x, y], ...]
    table,     ///< { ... } by the rules of the table of the same name
    edge,      ///< "insulated" or { ... } by the rules of the table "edge"
    property,  ///< a number, [[T, value], ...], or { solid = ..., liquid = ... } of such
    fraction,  ///< one of `choices` or [[T, fraction], ...]
    pair,      ///< two texts
    any        ///< not built yet, so not looked at
};

/// What numbers may be; infinity only where `may_be_infinite`.
struct Limits {
    double least = -std::numeric_limits<double>::max();
    double most = std::numeric_limits<double>::max();
    bool least_itself = true;  ///< whether `least` is allowed
    bool most_itself = true;   ///< whether `most` is allowed
    bool may_be_infinite = false;
};

/// A key, or one value of it, whose model the program does not have yet.
struct NotBuilt {
    std::string_view sentence;      ///< what is missing and what to do instead; empty when all is built
    std::string_view only_value;    ///< only this text is not built
    std::string_view except_value;  ///< all but this value (as written) are not built
};

struct KeySpec {
    std::string_view name = {};  ///< ends in its unit
    ValueType type = ValueType::text;
    std::string_view unit = {};     ///< for people: "mm", "W/m2/K"
    std::string_view meaning = {};  ///< what a caster would want to know
    bool required = false;
    std::string_view fallback = {};        ///< default as written in a case file
    std::string_view fallback_words = {};  ///< default in words, where it is not one value
    Limits limits = {};
    std::span<const std::string_view> choices = {};
    std::uint8_t views = every_view;
    NotBuilt not_built = {};
};

struct TableSpec {
    std::string_view name;  ///< empty for the keys above all tables
    enum class Form { top, one, many, inlined } form = Form::one;
    std::string_view meaning;
    std::span<const KeySpec> keys;
    bool required = false;
};

/// Every table, in the order of the manual.
std::span<const TableSpec> case_schema();

/// The table of that name; it must exist.
const TableSpec& table_spec(std::string_view name);

/// The key of that name; it must exist.
const KeySpec& key_spec(const TableSpec& table, std::string_view name);

/// The shapes that a part or a region may have: names of keys and of inlined tables alike.
std::span<const std::string_view> shape_names();

std::string_view to_string(CaseView view);

}  // namespace sandfreeze::io
