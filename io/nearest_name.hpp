#pragma once
// "Did you mean": the valid name nearest to a misspelt one.

#include <optional>
#include <span>
#include <string>
#include <string_view>

namespace sandfreeze::io
{

/// The candidate within two edits (insert, delete, change, swap of neighbours; case does not count), the
/// nearest first, the earlier one where two are as near. Short names must be nearer: fewer edits than half
/// their letters.
std::optional<std::string> nearest_name(std::string_view name, std::span<const std::string> candidates);

/// `did you mean "NAME"?`, else the valid names: `KIND are: a, b, c`.
std::string suggestion(std::string_view name, std::span<const std::string> candidates, std::string_view kind);

}  // namespace sandfreeze::io
