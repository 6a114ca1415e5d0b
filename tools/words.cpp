#include "tools/words.hpp"

#include <algorithm>
#include <array>
#include <cctype>
#include <charconv>
#include <cmath>

#include "io/text.hpp"

namespace sandfreeze::tools
{

namespace
{

bool continues_character(char c)
{
    return (static_cast<unsigned char>(c) & 0xC0U) == 0x80U;
}

constexpr char tie = '\x1f';  // stands for a space where a line must not end

bool is_digit(char c)
{
    return std::isdigit(static_cast<unsigned char>(c)) != 0;
}

bool is_unit_at(std::string_view text, std::size_t at)
{
    for (const std::string_view unit : {"s", "mm", "%", "min", "kg", "cm3", "°C"})
        if (text.substr(at).starts_with(unit) &&
            (at + unit.size() == text.size() ||
             std::isalnum(static_cast<unsigned char>(text[at + unit.size()])) == 0))
            return true;
    return false;
}

/// Whether the space at this place stands between "x", "y" or "z" and a figure, or between a figure and its
/// unit.
bool holds_together(std::string_view text, std::size_t space)
{
    if (space == 0 || space + 1 >= text.size()) return false;
    const char before = text[space - 1];
    if (is_digit(before)) return is_unit_at(text, space + 1);
    const bool axis =
        (before == 'x' || before == 'y' || before == 'z') && (space == 1 || text[space - 2] == ' ');
    return axis && (is_digit(text[space + 1]) || text[space + 1] == '-');
}

std::string tied(std::string text)
{
    for (std::size_t k = 0; k < text.size(); ++k)
        if (text[k] == ' ' && holds_together(text, k)) text[k] = tie;
    return text;
}

std::string untied(std::string text)
{
    std::replace(text.begin(), text.end(), tie, ' ');
    return text;
}

std::vector<std::string> split_lines(std::string_view text)
{
    std::vector<std::string> lines;
    for (;;) {
        const std::size_t end = text.find('\n');
        lines.emplace_back(text.substr(0, end));
        if (end == std::string_view::npos) return lines;
        text.remove_prefix(end + 1);
    }
}

}  // namespace

std::size_t width_of(std::string_view text)
{
    std::size_t width = 0;
    for (const char c : text)
        width += continues_character(c) ? 0 : 1;
    return width;
}

std::string padded(std::string_view text, std::size_t width)
{
    const std::size_t own = width_of(text);
    return std::string(text) + std::string(own < width ? width - own : 0, ' ');
}

std::string right_aligned(std::string_view text, std::size_t width)
{
    const std::size_t own = width_of(text);
    return std::string(own < width ? width - own : 0, ' ') + std::string(text);
}

std::string shortened(std::string_view text, std::size_t width)
{
    constexpr std::string_view missing = "...";
    if (width_of(text) <= width) return std::string(text);
    std::size_t bytes = 0;
    for (std::size_t characters = 0; bytes < text.size(); ++bytes)
        if (!continues_character(text[bytes]) && ++characters > width - missing.size()) break;
    return std::string(text.substr(0, bytes)) + std::string(missing);
}

std::string capitalised(std::string text)
{
    if (!text.empty()) text[0] = static_cast<char>(std::toupper(static_cast<unsigned char>(text[0])));
    return text;
}

std::string decimal(double value, int decimals)
{
    if (!std::isfinite(value)) return "-";
    std::array<char, 400> buffer{};
    const auto end = std::to_chars(buffer.data(), buffer.data() + buffer.size(), value,
                                   std::chars_format::fixed, decimals);
    std::string text(buffer.data(), end.ptr);
    if (decimals > 0) {
        text.erase(text.find_last_not_of('0') + 1);
        if (text.back() == '.') text.pop_back();
    }
    return text == "-0" ? "0" : text;
}

std::string time_words(double seconds)
{
    if (!(seconds >= 119.5)) return decimal(seconds, seconds < 10 ? 1 : 0) + " s";
    const auto whole = std::llround(seconds);
    return std::to_string(whole / 60) + " min " + std::to_string(whole % 60) + " s";
}

std::string seconds_words(double seconds)
{
    return decimal(seconds, seconds < 100 ? 1 : 0) + " s";
}

std::string name_words(std::string_view name)
{
    return "'" + std::string(name) + "'";
}

std::string place_words(mesh::Place place)
{
    const std::string height = place.has_height() ? ", z " + decimal(place.z * 1e3, 1) : "";
    return "x " + decimal(place.x * 1e3, 1) + ", y " + decimal(place.y * 1e3, 1) + height + " mm";
}

std::string count_words(std::size_t count, std::string_view one)
{
    return std::to_string(count) + ' ' + std::string(one) + (count == 1 ? "" : "s");
}

std::string kept_together(std::string_view text)
{
    std::string out(text);
    std::replace(out.begin(), out.end(), ' ', tie);
    return out;
}

std::vector<std::string> labelled_lines(std::string_view label, std::string_view text)
{
    const std::size_t indent = width_of(label);
    return split_lines(
        untied(std::string(label) + io::wrapped(tied(std::string(text)), screen_width, indent, indent)));
}

}  // namespace sandfreeze::tools
