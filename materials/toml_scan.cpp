#include "materials/toml_scan.hpp"

#include <array>
#include <cstdint>

namespace sandfreeze::materials
{

namespace
{

constexpr std::size_t most_bytes = std::size_t{4} << 20U;
constexpr int most_key_dots = 16;

/// A character of the text: its code point (or malformed) and how many bytes it takes.
struct Character {
    std::uint32_t code = 0;
    std::size_t bytes = 1;
    bool malformed = false;
};

/// Decodes UTF-8, refusing overlong forms, surrogates and what lies beyond U+10FFFF.
Character decode(std::string_view rest)
{
    const auto byte = [&](std::size_t b) { return static_cast<unsigned char>(rest[b]); };
    const unsigned first = byte(0);
    if (first < 0x80U) return {first, 1, false};
    const std::size_t bytes = first >= 0xF0U ? 4 : first >= 0xE0U ? 3 : 2;
    constexpr std::array<std::uint32_t, 5> least{0, 0, 0x80, 0x800, 0x10000};
    if (first < 0xC2U || first > 0xF4U || rest.size() < bytes) return {first, 1, true};
    std::uint32_t code = first & (0xFFU >> (bytes + 1));
    for (std::size_t b = 1; b < bytes; ++b) {
        if ((byte(b) & 0xC0U) != 0x80U) return {first, 1, true};
        code = (code << 6U) | (byte(b) & 0x3FU);
    }
    const bool surrogate = code >= 0xD800U && code <= 0xDFFFU;
    return {code, bytes, code < least[bytes] || code > 0x10FFFFU || surrogate};
}

std::string code_point(std::uint32_t code)
{
    constexpr std::string_view hex = "0123456789ABCDEF";
    std::string digits;
    for (int shift = code > 0xFFFFU ? 20 : 12; shift >= 0; shift -= 4)
        digits += hex[(code >> static_cast<unsigned>(shift)) & 15U];
    return "U+" + digits;
}

/// Follows quotes and comments through the text, character by character.
class Scanner
{
public:
    explicit Scanner(std::string_view text)
        : text_(text)
    {
    }

    TextFault run()
    {
        if (text_.size() > most_bytes) return {1, 1, "the file is larger than 4 MB; is this a case file?"};
        if (text_.starts_with("\xEF\xBB\xBF")) at_ = 3;
        while (at_ < text_.size()) {
            const Character c = decode(text_.substr(at_));
            if (auto message = refusal(c); !message.empty()) return {line_, column_, std::move(message)};
            follow(c);
        }
        return {};
    }

private:
    enum class In { open, comment, basic, literal, long_basic, long_literal };

    /// What stands before a character outside quotes without a break.
    enum class Bare { nothing, word, number, number_and_space };

    std::string refusal(const Character& c) const
    {
        if (c.malformed) return "this byte is not UTF-8; save the file as UTF-8 text";
        const bool line_end = c.code == '\n' || (c.code == '\r' && text_.substr(at_).starts_with("\r\n"));
        if ((c.code < 0x20U && c.code != '\t' && !line_end) || c.code == 0x7FU)
            return "control character " + code_point(c.code) + " is not allowed; remove it";
        if (in_ == In::open && c.code > 0x7FU)
            return '"' + std::string(text_.substr(at_, c.bytes)) + "\" (" + code_point(c.code) +
                   ") is allowed only between quotes and in comments; write plain letters, spaces and \" "
                   "here";
        if (in_ == In::open && c.code <= 0x7FU) return refusal_in_number(static_cast<char>(c.code));
        // There the library asks whether it is a space, and not for all characters has an answer.
        if (after_backslash_ && c.code > 0x7FU)
            return "after a backslash \"" + std::string(text_.substr(at_, c.bytes)) + "\" (" +
                   code_point(c.code) + ") cannot stand; write \\\\ for a backslash, or take it out";
        return {};
    }

    /// What begins like a number the library looks through to the next space or comma, over quotes too, and
    /// beyond one space, which may part a date from a time.
    std::string refusal_in_number(char c) const
    {
        if (c == '.' && key_dots_ >= most_key_dots)
            return "this key has too many parts joined by dots; at most 16 are allowed";
        if (bare_ == Bare::number && (c == '"' || c == '\''))
            return "a quote cannot stand in a number; write the number alone, or the whole text between "
                   "quotes";
        if (bare_ == Bare::number_and_space && is_digit(c))
            return "a number cannot go on after a space; write it without the space, several as [1, 2]";
        return {};
    }

    static bool is_digit(char c) { return c >= '0' && c <= '9'; }

    void follow(const Character& c)
    {
        // A backslash at the end of a line takes out the line's end and the spaces that follow.
        if (std::string_view(" \t\r\n").find(static_cast<char>(c.code)) == std::string_view::npos ||
            c.code > 0x7FU)
            after_backslash_ = false;
        switch (in_) {
        case In::open:
            open(static_cast<char>(c.code));
            break;
        case In::comment:
            if (c.code == '\n') in_ = In::open;
            break;
        case In::basic:
        case In::literal:
            short_text(c);
            return;
        case In::long_basic:
        case In::long_literal:
            long_text(c);
            return;
        }
        step(c);
    }

    void follow_bare(char c)
    {
        const bool may_begin = bare_ == Bare::nothing || bare_ == Bare::number_and_space;
        if (c == ' ')
            bare_ = bare_ == Bare::number ? Bare::number_and_space : Bare::nothing;
        else if (std::string_view("\t\r\n,]}#\"'").find(c) != std::string_view::npos)
            bare_ = Bare::nothing;
        else if (c == '=' || c == '[' || c == '{')  // a value may follow; within a number they end nothing
            bare_ = bare_ == Bare::number ? Bare::number : Bare::nothing;
        else if (may_begin)
            bare_ = is_digit(c) || c == '+' || c == '-' ? Bare::number : Bare::word;
    }

    void open(char c)
    {
        follow_bare(c);
        if (c == '#') {
            in_ = In::comment;
        } else if (c == '"' || c == '\'') {
            const bool is_long = text_.substr(at_).starts_with(c == '"' ? R"(""")" : "'''");
            in_ = c == '"' ? (is_long ? In::long_basic : In::basic)
                           : (is_long ? In::long_literal : In::literal);
            if (is_long) skip(2);
        }
        if (c == '.')
            ++key_dots_;
        else if (std::string_view("=,[]{}\n#").find(c) != std::string_view::npos)
            key_dots_ = 0;
    }

    void short_text(const Character& c)
    {
        const bool escapes =
            in_ == In::basic && c.code == '\\' && at_ + 1 < text_.size() && text_[at_ + 1] != '\n';
        if (c.code == '\n' || c.code == (in_ == In::basic ? '"' : '\'')) in_ = In::open;
        step(c);
        if (escapes) skip_escaped();
    }

    void long_text(const Character& c)
    {
        const std::string_view end = in_ == In::long_basic ? R"(""")" : "'''";
        const bool escapes = in_ == In::long_basic && c.code == '\\';
        if (text_.substr(at_).starts_with(end)) {
            std::size_t quotes = 3;  // up to two quotes may stand before the closing three
            while (quotes < 5 && at_ + quotes < text_.size() && text_[at_ + quotes] == end[0])
                ++quotes;
            skip(quotes);
            in_ = In::open;
            return;
        }
        step(c);
        if (escapes) skip_escaped();
    }

    /// An escaped quote or backslash does not end the text.
    void skip_escaped()
    {
        if (at_ < text_.size() && (text_[at_] == '"' || text_[at_] == '\\'))
            skip(1);
        else
            after_backslash_ = true;
    }

    void skip(std::size_t bytes)
    {
        at_ += bytes;
        column_ += static_cast<int>(bytes);
    }

    void step(const Character& c)
    {
        at_ += c.bytes;
        ++column_;
        if (c.code != '\n') return;
        ++line_;
        column_ = 1;
    }

    std::string_view text_;
    std::size_t at_ = 0;
    int line_ = 1;
    int column_ = 1;
    In in_ = In::open;
    Bare bare_ = Bare::nothing;
    int key_dots_ = 0;
    bool after_backslash_ = false;
};

}  // namespace

TextFault scan_toml(std::string_view text)
{
    return Scanner(text).run();
}

}  // namespace sandfreeze::materials
