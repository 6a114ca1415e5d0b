#include "io/text.hpp"

#include <array>
#include <charconv>
#include <cmath>
#include <cstdint>

namespace sandfreeze::io
{

namespace
{

template <class... How>
std::string converted(double value, How... how)
{
    std::array<char, 400> buffer{};
    const auto end = std::to_chars(buffer.data(), buffer.data() + buffer.size(), value, how...).ptr;
    return {buffer.data(), end};
}

bool reads_well_without_exponent(double value)
{
    return value == 0 || (std::abs(value) >= 1e-5 && std::abs(value) < 1e15);
}

std::size_t characters(std::string_view text)
{
    std::size_t n = 0;
    for (const char c : text)
        n += (static_cast<unsigned char>(c) & 0xC0U) != 0x80U ? 1 : 0;
    return n;
}

constexpr std::string_view hex = "0123456789ABCDEF";

struct Character {
    std::uint32_t code = 0;
    std::size_t bytes = 1;
};

/// The first character of UTF-8 text; a byte that is no UTF-8 counts as a character of its own.
Character first_character(std::string_view text)
{
    const auto first = static_cast<std::uint32_t>(static_cast<unsigned char>(text[0]));
    const std::size_t bytes = first < 0xC2U   ? 1
                              : first < 0xE0U ? 2
                              : first < 0xF0U ? 3
                              : first < 0xF5U ? 4
                                              : 1;
    if (bytes == 1 || bytes > text.size()) return {first, 1};
    std::uint32_t code = first & (0xFFU >> (bytes + 1));
    for (const char c : text.substr(1, bytes - 1)) {
        const auto byte = static_cast<std::uint32_t>(static_cast<unsigned char>(c));
        if ((byte & 0xC0U) != 0x80U) return {first, 1};
        code = (code << 6U) | (byte & 0x3FU);
    }
    return {code, bytes};
}

}  // namespace

std::string number_text(double value)
{
    if (std::isfinite(value) && reads_well_without_exponent(value))
        return converted(value, std::chars_format::fixed);
    return converted(value);
}

std::string rounded_text(double value, int digits)
{
    const std::string text = converted(value, std::chars_format::scientific, digits - 1);
    double rounded = value;
    std::from_chars(text.data(), text.data() + text.size(), rounded);
    return number_text(rounded);
}

namespace
{

/// Control characters, and what breaks lines or turns the direction of writing.
bool is_disturbing(std::uint32_t code)
{
    const auto within = [code](std::uint32_t from, std::uint32_t to) { return code >= from && code <= to; };
    return code < 0x20U || within(0x7FU, 0x9FU) || within(0x2028U, 0x202EU) || within(0x2066U, 0x2069U);
}

}  // namespace

std::string printable(std::string_view text)
{
    std::string out;
    while (!text.empty()) {
        const Character c = first_character(text);
        if (!is_disturbing(c.code) || c.code == '\n' || c.code == '\t') {
            out += text.substr(0, c.bytes);
        } else {
            out += "\\u";
            for (const unsigned shift : {12U, 8U, 4U, 0U})
                out += hex[(c.code >> shift) & 15U];
        }
        text.remove_prefix(c.bytes);
    }
    return out;
}

bool has_disturbing(std::string_view text)
{
    while (!text.empty()) {
        const Character c = first_character(text);
        if (is_disturbing(c.code)) return true;
        text.remove_prefix(c.bytes);
    }
    return false;
}

std::string quoted(std::string_view text)
{
    std::string out = "\"";
    for (const char c : text) {
        const auto code = static_cast<unsigned char>(c);
        if (c == '"' || c == '\\')
            out += {'\\', c};
        else if (c == '\n')
            out += "\\n";
        else if (c == '\t')
            out += "\\t";
        else if (code < 0x20U || code == 0x7FU)
            out += {'\\', 'u', '0', '0', hex[code >> 4U], hex[code & 15U]};
        else
            out += c;
    }
    return out + '"';
}

std::string wrapped(std::string_view words, std::size_t width, std::size_t first_column, std::size_t indent)
{
    std::string out;
    std::size_t column = first_column;
    bool first = true;
    while (!words.empty()) {
        const std::string_view word = words.substr(0, words.find(' '));
        words.remove_prefix(std::min(words.size(), word.size() + 1));
        if (word.empty()) continue;
        if (!first && column + 1 + characters(word) > width) {
            out += '\n' + std::string(indent, ' ');
            column = indent;
        } else if (!first) {
            out += ' ';
            ++column;
        }
        out += word;
        column += characters(word);
        first = false;
    }
    return out;
}

}  // namespace sandfreeze::io
