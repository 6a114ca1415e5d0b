#pragma once
// Small pieces of text that several commands print.

#include <cstddef>
#include <string>
#include <string_view>
#include <vector>

#include "mesh/shape.hpp"

namespace sandfreeze::tools
{

constexpr std::size_t screen_width = 80;
constexpr std::size_t screen_height = 24;

/// Characters, not bytes.
std::size_t width_of(std::string_view text);

/// Filled with spaces on the right to so many characters.
std::string padded(std::string_view text, std::size_t width);
/// Filled with spaces on the left.
std::string right_aligned(std::string_view text, std::size_t width);
/// Cut to so many characters, "..." at the end where something is missing.
std::string shortened(std::string_view text, std::size_t width);

/// With a capital letter at the front.
std::string capitalised(std::string text);

/// "85 s", from two minutes on "10 min 12 s".
std::string time_words(double seconds);

/// A number for people: at most so many decimals, no trailing zeros.
std::string decimal(double value, int decimals);

/// "x 192.5, y 60.5 mm".
std::string place_words(mesh::Place place);

/// "85 s", also of long times: what stands in one list is told in one unit.
std::string seconds_words(double seconds);

/// A name as the sentences of verdicts quote it: 'boss'.
std::string name_words(std::string_view name);

/// "1 gate", "3 gates".
std::string count_words(std::size_t count, std::string_view one);

/// The same words, which are not to be parted at the end of a line (see labelled_lines).
std::string kept_together(std::string_view text);

/// Lines of at most the screen's width, the first after `label`, the others as far in as that. A figure is
/// not parted from its unit or its axis.
std::vector<std::string> labelled_lines(std::string_view label, std::string_view text);

}  // namespace sandfreeze::tools
