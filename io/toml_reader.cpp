#include "io/toml_reader.hpp"

#include <algorithm>
#include <sstream>
#include <stdexcept>

#include "io/text.hpp"
#include "materials/toml_scan.hpp"

// The library checks itself only with assertions on, and an assertion of its must not end the program: here,
// and in no other file, they throw.
#undef NDEBUG
namespace
{
[[noreturn]] void toml_gave_up()
{
    throw std::logic_error("the TOML reader met something it does not expect");
}
}  // namespace
#define TOML_ASSERT(condition) ((condition) ? static_cast<void>(0) : toml_gave_up())
#define TOML_MAX_NESTED_VALUES 32
#define TOML_HEADER_ONLY 1
#define TOML_ENABLE_FORMATTERS 0
#include <toml++/toml.h>

namespace sandfreeze::io
{

namespace
{

constexpr int most_levels = 600;  // of tables in tables: sixteen parts of a key in 32 nested values

Place place_of(const toml::source_region& region)
{
    return {static_cast<int>(region.begin.line), static_cast<int>(region.begin.column)};
}

TomlValue value_of(const toml::node& node, int level);

std::vector<TomlEntry> entries_of(const toml::table& table, int level)
{
    std::vector<TomlEntry> out;
    for (const auto& [key, node] : table)
        out.push_back({std::string(key.str()), place_of(key.source()), value_of(node, level + 1)});
    std::stable_sort(out.begin(), out.end(), [](const TomlEntry& a, const TomlEntry& b) {
        return a.place.line != b.place.line ? a.place.line < b.place.line : a.place.column < b.place.column;
    });
    return out;
}

template <class Date>
std::string date_text(const Date& date)
{
    std::ostringstream out;
    out << date;
    return out.str();
}

TomlValue value_of(const toml::node& node, int level)
{
    using Type = TomlValue::Type;
    if (level > most_levels) throw std::logic_error("tables are nested too deeply");
    TomlValue out;
    out.place = place_of(node.source());
    if (const auto* table = node.as_table()) {
        out.entries = entries_of(*table, level);
    } else if (const auto* array = node.as_array()) {
        out.type = Type::array;
        for (const auto& item : *array)
            out.items.push_back(value_of(item, level + 1));
    } else if (const auto* text = node.as_string()) {
        out.type = Type::text;
        out.text = text->get();
    } else if (const auto* integer = node.as_integer()) {
        out.type = Type::integer;
        out.number = static_cast<double>(integer->get());
    } else if (const auto* number = node.as_floating_point()) {
        out.type = Type::number;
        out.number = number->get();
    } else if (const auto* truth = node.as_boolean()) {
        out.type = Type::boolean;
        out.truth = truth->get();
    } else {
        out.type = Type::date;
        if (const auto* date = node.as_date()) out.text = date_text(date->get());
        if (const auto* time = node.as_time()) out.text = date_text(time->get());
        if (const auto* date_time = node.as_date_time()) out.text = date_text(date_time->get());
    }
    return out;
}

/// What a caster most likely did where the library says this.
std::string_view hint(std::string_view words)
{
    if (words.find("could not determine value type") != std::string_view::npos)
        return "; texts stand between double quotes, numbers are written like 12.5";
    if (words.find("saw ','") != std::string_view::npos) return "; decimals take a point, not a comma";
    if (words.find("cannot redefine") != std::string_view::npos)
        return "; each name may stand only once here";
    return "";
}

/// The library's own words without what only its programmers need.
std::string syntax_message(std::string words)
{
    for (const std::string_view noise : {"Error while parsing ", " (TOML_MAX_NESTED_VALUES)"})
        if (const auto at = words.find(noise); at != std::string::npos) words.erase(at, noise.size());
    return "not valid TOML: " + words + std::string(hint(words));
}

/// The line at which the library gives up: the first one that, added to those before it, makes it do so.
int line_that_defeats_the_library(std::string_view text)
{
    std::vector<std::size_t> ends;
    for (std::size_t at = text.find('\n'); at != std::string_view::npos; at = text.find('\n', at + 1))
        ends.push_back(at + 1);
    ends.push_back(text.size());
    const auto gives_up = [&](std::size_t end) {
        try {
            (void)toml::parse(text.substr(0, end));
        } catch (const toml::parse_error&) {
            return false;
        } catch (const std::logic_error&) {
            return true;
        }
        return false;
    };
    const auto found =
        std::partition_point(ends.begin(), ends.end(), [&](std::size_t end) { return !gives_up(end); });
    return static_cast<int>(found - ends.begin()) + 1;
}

void append_text(std::string& out, const TomlValue& value, std::size_t most);

template <class Items, class Append>
void append_list(std::string& out, const Items& items, std::size_t most, Append append)
{
    bool first = true;
    for (const auto& item : items) {
        if (out.size() > most) return;
        out += first ? "" : ", ";
        append(item);
        first = false;
    }
}

void append_text(std::string& out, const TomlValue& value, std::size_t most)
{
    using Type = TomlValue::Type;
    switch (value.type) {
    case Type::text:
        out += quoted(value.text);
        break;
    case Type::boolean:
        out += value.truth ? "true" : "false";
        break;
    case Type::integer:
    case Type::number:
        out += number_text(value.number);
        break;
    case Type::date:
        out += value.text;
        break;
    case Type::array:
        out += '[';
        append_list(out, value.items, most, [&](const TomlValue& item) { append_text(out, item, most); });
        out += ']';
        break;
    case Type::table:
        if (value.entries.empty()) {
            out += "{}";
            break;
        }
        out += "{ ";
        append_list(out, value.entries, most, [&](const TomlEntry& entry) {
            out += entry.key + " = ";
            append_text(out, entry.value, most);
        });
        out += " }";
        break;
    }
}

}  // namespace

std::variant<TomlValue, Problem> read_toml(std::string_view text)
{
    if (const auto fault = materials::scan_toml(text); !fault.message.empty())
        return Problem{fault.line, fault.column, fault.message};
    try {
        return value_of(toml::parse(text), 0);
    } catch (const toml::parse_error& error) {
        const Place place = place_of(error.source());
        return Problem{place.line, place.column, syntax_message(std::string(error.description()))};
    } catch (const std::logic_error&) {
        return Problem{line_that_defeats_the_library(text), 1,
                       "not valid TOML: this line cannot be understood"};
    }
}

std::string toml_text(const TomlValue& value, std::size_t most)
{
    std::string out;
    append_text(out, value, most);
    if (out.size() > most) {
        std::size_t end = most;
        while (end > 0 && (static_cast<unsigned char>(out[end]) & 0xC0U) == 0x80U)
            --end;
        out.resize(end);
        out += "...";
    }
    return out;
}

}  // namespace sandfreeze::io
