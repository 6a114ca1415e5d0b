#include "io/value_checks.hpp"

#include <algorithm>
#include <cmath>

#include "io/nearest_name.hpp"
#include "io/text.hpp"

namespace sandfreeze::io
{

namespace
{

using Type = TomlValue::Type;

constexpr std::size_t longest_value_shown = 48;
constexpr std::size_t longest_text = 200;
constexpr std::size_t longest_source = 10'000;
constexpr std::size_t most_points = 10'000;  // of an outline or a line: checking it takes their square
constexpr std::size_t most_rows = 2'000;     // of a table over the temperature

std::string said(const KeySpec& key, const TomlValue& value)
{
    return std::string(key.name) + " = " + toml_text(value, longest_value_shown);
}

bool refuse(const TomlValue& value, const KeySpec& key, std::string_view why, Draft& draft,
            const std::string& more = {})
{
    draft.problem(value.place,
                  said(key, value) + ' ' + std::string(why) + "; expected " + expectation(key) + more);
    return false;
}

bool refuse_count(const TomlValue& value, const KeySpec& key, std::string_view of_what, std::size_t most,
                  std::string_view way_out, Draft& draft)
{
    draft.problem(value.place, std::string(key.name) + " has " + std::to_string(value.items.size()) + ' ' +
                                   std::string(of_what) + "; at most " + std::to_string(most) +
                                   " are allowed: " + std::string(way_out));
    return false;
}

bool is_numeric(const TomlValue& value)
{
    return value.type == Type::integer || value.type == Type::number;
}

std::string unit_after(const KeySpec& key)
{
    return key.unit.empty() ? "" : ' ' + std::string(key.unit);
}

/// "from 0 to 100 mm", "above 0 mm", or nothing where any number does.
std::string range_words(const KeySpec& key)
{
    const Limits& limits = key.limits;
    constexpr double unbounded = std::numeric_limits<double>::max();
    const bool below = limits.least > -unbounded;
    const bool above = limits.most < unbounded;
    if (below && above && limits.least == limits.most)
        return " " + number_text(limits.least) + unit_after(key);
    std::string out;
    if (below)
        out += (limits.least_itself ? (above ? " from " : " of at least ") : " above ") +
               number_text(limits.least);
    const char* up_to = !limits.most_itself ? " and below " : limits.least_itself ? " to " : ", at most ";
    if (above) out += up_to + number_text(limits.most);
    out += below || above || !key.unit.empty() ? unit_after(key) : "";
    return out + (limits.may_be_infinite ? ", or inf" : "");
}

/// Of places: their limits are there to catch slips and are named only when one was made.
std::string unit_words(const KeySpec& key)
{
    return key.unit.empty() ? "" : " in " + std::string(key.unit);
}

bool check_number(const TomlValue& value, const KeySpec& key, const TomlValue& whole, Draft& draft)
{
    const std::string quotes = value.type == Type::text ? ", without quotes" : "";
    if (!is_numeric(value))
        return refuse(whole, key, &value == &whole ? "is not a number" : "is not made of numbers", draft,
                      quotes);
    const double number = value.number;
    const Limits& limits = key.limits;
    if (std::isnan(number) || (std::isinf(number) && !(limits.may_be_infinite && number > 0)))
        return refuse(whole, key, "cannot be computed with", draft);
    const bool too_small = limits.least_itself ? number < limits.least : number <= limits.least;
    const bool too_large =
        (limits.most_itself ? number > limits.most : number >= limits.most) && !std::isinf(number);
    if (too_small || too_large)
        return refuse(whole, key, "is out of range", draft,
                      key.type == ValueType::height ? std::string(range_words(key))
                      : &value == &whole            ? ""
                                                    : ", each number" + range_words(key));
    return true;
}

/// Two numbers; of a list of them, `whole` is the list.
bool check_two_numbers(const TomlValue& value, const KeySpec& key, Draft& draft)
{
    if (value.type != Type::array || value.items.size() != 2)
        return refuse(value, key, "is not two numbers", draft);
    return check_number(value.items[0], key, value, draft) && check_number(value.items[1], key, value, draft);
}

bool check_interval(const TomlValue& value, const KeySpec& key, Draft& draft)
{
    if (!check_two_numbers(value, key, draft)) return false;
    if (!(value.items[0].number < value.items[1].number)) return refuse(value, key, "does not rise", draft);
    return true;
}

bool check_points(const TomlValue& value, const KeySpec& key, Draft& draft)
{
    if (value.type != Type::array) return refuse(value, key, "is not a list of points", draft);
    if (value.items.size() > most_points)
        return refuse_count(value, key, "points", most_points,
                            "leave out those between which it is nearly straight", draft);
    for (const TomlValue& point : value.items)
        if (!check_two_numbers(point, key, draft)) return false;
    return true;
}

/// A table [[temperature, value], ...] in rising temperature. Which values are allowed is up to the key.
bool check_curve_table(const TomlValue& value, const KeySpec& key, Draft& draft)
{
    if (value.items.empty()) return refuse(value, key, "is an empty table", draft);
    if (value.items.size() > most_rows)
        return refuse_count(value, key, "rows", most_rows,
                            "leave out those that lie on a straight line between others", draft);
    double last = -std::numeric_limits<double>::infinity();
    for (const TomlValue& knot : value.items) {
        if (knot.type != Type::array || knot.items.size() != 2 || !is_numeric(knot.items[0]))
            return refuse(knot, key, "is not a pair [temperature, value]", draft);
        const double temperature = knot.items[0].number;
        if (!std::isfinite(temperature)) return refuse(knot, key, "cannot be computed with", draft);
        if (temperature <= last) return refuse(knot, key, "does not rise in temperature", draft);
        last = temperature;
        if (!check_number(knot.items[1], key, knot, draft)) return false;
    }
    return true;
}

bool check_curve(const TomlValue& value, const KeySpec& key, Draft& draft)
{
    return value.type == Type::array ? check_curve_table(value, key, draft)
                                     : check_number(value, key, value, draft);
}

bool check_property(const TomlValue& value, const KeySpec& key, Draft& draft)
{
    if (value.type != Type::table) return check_curve(value, key, draft);
    const std::vector<std::string> names{"solid", "liquid"};
    bool right = true;
    std::size_t found = 0;
    for (const TomlEntry& entry : value.entries) {
        if (entry.key != names[0] && entry.key != names[1]) {
            draft.problem(entry.place, "unknown key \"" + entry.key + "\" in " + std::string(key.name) +
                                           "; " + suggestion(entry.key, names, "the keys here"));
            right = false;
            continue;
        }
        ++found;
        right = check_curve(entry.value, key, draft) && right;
    }
    if (right && found != 2) return refuse(value, key, "is not given for both solid and liquid", draft);
    return right;
}

bool check_choice(const TomlValue& value, const KeySpec& key, Draft& draft)
{
    const std::vector<std::string> names(key.choices.begin(), key.choices.end());
    if (value.type != Type::text) return refuse(value, key, "is not a name in quotes", draft);
    for (const std::string& name : names)
        if (name == value.text) return true;
    draft.problem(value.place, "unknown " + std::string(key.name) + ' ' +
                                   toml_text(value, longest_value_shown) + "; " +
                                   suggestion(value.text, names, "the names to choose from"));
    return false;
}

bool check_text(const TomlValue& value, const KeySpec& key, Draft& draft)
{
    if (value.type != Type::text) return refuse(value, key, "is not text in quotes", draft);
    if (value.text.find_first_not_of(" \t\n") == std::string::npos)
        return refuse(value, key, "is empty", draft);
    std::string text = value.text;
    if (key.name == "source") std::erase_if(text, [](char c) { return c == '\n' || c == '\r' || c == '\t'; });
    if (has_disturbing(text))
        return refuse(value, key, "contains a line break or another control character", draft);
    if (value.text.size() > longest_text && key.name != "source")
        return refuse(value, key, "is longer than 200 characters", draft);
    if (value.text.size() > longest_source)
        return refuse(value, key, "is longer than 10000 characters", draft);
    return true;
}

bool check_pair(const TomlValue& value, const KeySpec& key, Draft& draft)
{
    const bool right = value.type == Type::array && value.items.size() == 2 &&
                       value.items[0].type == Type::text && value.items[1].type == Type::text;
    return right || refuse(value, key, "is not two names", draft);
}

bool check_edge(const TomlValue& value, const KeySpec& key, Draft& draft)
{
    if (value.type == Type::table && !value.entries.empty()) return true;
    if (value.type != Type::text || value.text == "insulated")
        return value.type == Type::text || refuse(value, key, "is not an edge", draft);
    const std::vector<std::string> names{"insulated"};
    const auto nearest = nearest_name(value.text, names);
    draft.problem(value.place,
                  "unknown edge " + said(key, value) + "; " +
                      (nearest ? "did you mean \"insulated\"?" : "expected " + expectation(key)));
    return false;
}

}  // namespace

bool check_value(const TomlValue& value, const KeySpec& key, Draft& draft)
{
    switch (key.type) {
    case ValueType::text:
        return check_text(value, key, draft);
    case ValueType::choice:
        return check_choice(value, key, draft);
    case ValueType::number:
    case ValueType::height:
        return check_number(value, key, value, draft);
    case ValueType::boolean:
        return value.type == Type::boolean || refuse(value, key, "is neither true nor false", draft);
    case ValueType::interval:
        return check_interval(value, key, draft);
    case ValueType::point:
        return check_two_numbers(value, key, draft);
    case ValueType::points:
        return check_points(value, key, draft);
    case ValueType::table:
        return value.type == Type::table || refuse(value, key, "is not a shape", draft);
    case ValueType::edge:
        return check_edge(value, key, draft);
    case ValueType::property:
        return check_property(value, key, draft);
    case ValueType::fraction:
        return value.type == Type::array ? check_curve_table(value, key, draft)
                                         : check_choice(value, key, draft);
    case ValueType::pair:
        return check_pair(value, key, draft);
    case ValueType::any:
        return true;
    }
    return false;
}

std::string expectation(const KeySpec& key)
{
    switch (key.type) {
    case ValueType::text:
        return "text in quotes";
    case ValueType::choice: {
        std::string out = "one of ";
        for (std::size_t c = 0; c < key.choices.size(); ++c)
            out += (c > 0 ? ", " : "") + std::string(key.choices[c]);
        return out;
    }
    case ValueType::number:
        return (key.limits.least == key.limits.most ? "the number" : "a number") + range_words(key);
    case ValueType::height:
        return "a number" + unit_words(key);
    case ValueType::boolean:
        return "true or false";
    case ValueType::interval:
        return "[from, to]" + unit_words(key) + ", the smaller first";
    case ValueType::point:
        return "[x, y]" + unit_words(key);
    case ValueType::points:
        return "points [[x, y], ...]" + unit_words(key);
    case ValueType::table:
        return std::string(key.meaning);
    case ValueType::edge:
        return R"("insulated", { temperature_C = 20 } or { h_W_m2K = 10, air_C = 20 })";
    case ValueType::property:
        return "a number" + range_words(key) +
               ", a table [[T_C, value], ...] in rising temperature, or { solid = ..., liquid = ... } of "
               "such";
    case ValueType::fraction:
        return "linear, scheil, lever, or a table [[T_C, fraction], ...] in rising temperature, fractions "
               "from 0 to 1";
    case ValueType::pair:
        return "two names, as in [\"metal\", \"mould\"]";
    case ValueType::any:
        return "nothing yet";
    }
    return {};
}

}  // namespace sandfreeze::io
