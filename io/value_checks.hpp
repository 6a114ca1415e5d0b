#pragma once
// Whether a value is what its key may be.

#include <string>

#include "io/draft.hpp"
#include "io/schema.hpp"
#include "io/toml_reader.hpp"

namespace sandfreeze::io
{

/// Whether the value is of the key's type and within its limits; reports to the draft where it is not.
/// Tables within the value (shapes, edges) are only checked for being tables.
bool check_value(const TomlValue& value, const KeySpec& key, Draft& draft);

/// What a key expects, for messages and the manual: "a number from 0 to 100 %".
std::string expectation(const KeySpec& key);

}  // namespace sandfreeze::io
