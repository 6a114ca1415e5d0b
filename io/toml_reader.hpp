#pragma once
// TOML text as a plain tree with the place of every key and value. The TOML library stays behind it.

#include <string>
#include <string_view>
#include <variant>
#include <vector>

#include "io/errors.hpp"

namespace sandfreeze::io
{

struct TomlEntry;

/// A value and where it stands. `text`, `number` or `truth` hold it, or `items`, or `entries` in source
/// order.
struct TomlValue {
    enum class Type { table, array, text, integer, number, boolean, date };

    Type type = Type::table;
    Place place;
    std::string text;   ///< of texts; of dates as written by the library
    double number = 0;  ///< of integers and numbers
    bool truth = false;
    std::vector<TomlValue> items;
    std::vector<TomlEntry> entries;
};

struct TomlEntry {
    std::string key;
    Place place;
    TomlValue value;
};

/// The tree of a TOML 1.0 document, or the first thing that is wrong with it.
///
/// The text is scanned first (materials::scan_toml), so that the library meets only text that it is known to
/// handle.
std::variant<TomlValue, Problem> read_toml(std::string_view text);

/// A value as it could stand in a TOML file, shortened with "..." beyond `most` characters.
std::string toml_text(const TomlValue& value, std::size_t most = std::string::npos);

}  // namespace sandfreeze::io
