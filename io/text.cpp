#include "io/text.hpp"

#include <array>
#include <charconv>
#include <cmath>

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

std::string quoted(std::string_view text)
{
    constexpr std::string_view hex = "0123456789ABCDEF";
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
