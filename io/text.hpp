#pragma once
// Numbers and lines as text, the same on every machine.

#include <cstddef>
#include <string>
#include <string_view>

namespace sandfreeze::io
{

/// The shortest text that reads back as the same number; also valid TOML (inf, nan).
std::string number_text(double value);

/// A number for people, with so many significant digits and no trailing zeros.
std::string rounded_text(double value, int digits);

/// "text" with TOML's quotes and escapes.
std::string quoted(std::string_view text);

/// Whether UTF-8 text has characters that could disturb a terminal or make it read as another text: control
/// characters, tabs and line ends among them, and what turns the direction of writing.
bool has_disturbing(std::string_view text);

/// The text with such characters written out as \u001B; tabs and line ends stay.
std::string printable(std::string_view text);

/// Breaks words into lines of at most `width` characters; every line but the first starts with `indent`
/// spaces.
std::string wrapped(std::string_view words, std::size_t width, std::size_t first_column, std::size_t indent);

}  // namespace sandfreeze::io
