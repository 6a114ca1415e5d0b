#include <doctest/doctest.h>

#include <random>

#include "base_case.hpp"
#include "io/toml_reader.hpp"
#include "materials/toml_scan.hpp"

namespace sandfreeze::io::testing
{

namespace
{

/// "LINE:COLUMN MESSAGE" of what the scan refuses; empty when it refuses nothing.
std::string scanned(std::string_view text)
{
    const auto p = materials::scan_toml(text);
    return p.message.empty() ? "" : std::to_string(p.line) + ':' + std::to_string(p.column) + ' ' + p.message;
}

TomlValue tree(std::string_view text)
{
    auto read = read_toml(text);
    const auto* problem = std::get_if<Problem>(&read);
    REQUIRE_MESSAGE(problem == nullptr, (problem != nullptr ? problem->message : ""));
    return std::get<TomlValue>(read);
}

constexpr std::string_view not_utf8 = "this byte is not UTF-8; save the file as UTF-8 text";

}  // namespace

TEST_CASE("toml: keys and values come in the file's order with their places")
{
    const TomlValue root = tree("b = 1\na = [1.5, \"x\"]\n[t]\n  c = { d = true }\n");
    REQUIRE(root.entries.size() == 3);
    CHECK(root.entries[0].key == "b");
    CHECK(root.entries[0].value.number == 1);
    CHECK(root.entries[1].key == "a");
    CHECK(root.entries[1].value.items[1].text == "x");
    CHECK(root.entries[1].value.items[1].place.column == 11);
    const TomlEntry& c = root.entries[2].value.entries[0];
    CHECK(c.place.line == 4);
    CHECK(c.place.column == 3);
    CHECK(c.value.entries[0].value.truth);
}

TEST_CASE("toml: letters beyond ASCII are fine between quotes and in comments")
{
    CHECK(
        scanned("a = \"70 °C\" # größer\nb = '→'\nc = \"\"\"x\n\"é\" \\\"\"\"\"\nd = '''\n'ü'''\n").empty());
    CHECK(scanned("\xEF\xBB\xBFtitle = \"x\"\r\n").empty());
}

TEST_CASE("toml: letters beyond ASCII elsewhere are named with their place")
{
    CHECK(scanned("a = 1\nb =\xC2\xA0"
                  "2") == "2:4 \"\xC2\xA0\" (U+00A0) is allowed only between quotes and in comments; write "
                          "plain letters, spaces and "
                          "\" here");
    CHECK(scanned("a = \"x\\\\\"é").starts_with("1:10 \"é\" (U+00E9)"));
    CHECK(scanned("a = \"x\né").starts_with("2:1 \"é\""));
    CHECK(scanned("\xF0\x9F\x94\xA5 = 1").starts_with("1:1 \"\xF0\x9F\x94\xA5\" (U+01F525)"));
}

TEST_CASE("toml: control characters and malformed UTF-8 are refused wherever they stand")
{
    CHECK(scanned(std::string_view("a = \"\0\"", 7)) ==
          "1:6 control character U+0000 is not allowed; remove it");
    CHECK(scanned("# \x1B[31m") == "1:3 control character U+001B is not allowed; remove it");
    CHECK(scanned("a = 1\rb = 2") == "1:6 control character U+000D is not allowed; remove it");
    CHECK(scanned("# \xFF") == "1:3 " + std::string(not_utf8));
    CHECK_MESSAGE(scanned("# \xC0\x80") == "1:3 " + std::string(not_utf8), "overlong");
    CHECK_MESSAGE(scanned("# \xE0\x80\x80") == "1:3 " + std::string(not_utf8), "overlong");
    CHECK_MESSAGE(scanned("# \xED\xA0\x80") == "1:3 " + std::string(not_utf8), "surrogate");
    CHECK_MESSAGE(scanned("# \xF4\x90\x80\x80") == "1:3 " + std::string(not_utf8), "beyond U+10FFFF");
    CHECK_MESSAGE(scanned("# \xE2\x82") == "1:3 " + std::string(not_utf8), "cut short");
}

TEST_CASE("toml: deep nesting, endless keys and huge files are refused")
{
    CHECK(std::holds_alternative<Problem>(read_toml("a = " + std::string(5000, '['))));
    std::string key = "a";
    for (int part = 0; part < 5000; ++part)
        key += ".a";
    CHECK(scanned(key + " = 1") == "1:34 this key has too many parts joined by dots; at most 16 are allowed");
    CHECK(
        scanned(
            "a = [1.5, 2.5, 3.5, 4.5, 5.5, 6.5, 7.5, 8.5, 9.5, 1.5, 2.5, 3.5, 4.5, 5.5, 6.5, 7.5, 8.5, 9.5]")
            .empty());
    CHECK(scanned(std::string((std::size_t{4} << 20U) + 1, '\n')) ==
          "1:1 the file is larger than 4 MB; is this a case file?");
}

TEST_CASE("toml: characters that the library takes for neither spaces nor others are refused where it asks")
{
    CHECK(scanned("a = \"\"\"x \\\n  \xC4\x8A\"\"\"") == "2:3 after a backslash \"\xC4\x8A\" (U+010A) cannot "
                                                         "stand; write \\\\ for a backslash, or take it out");
    CHECK(scanned("a = \"\"\"\\\xEF\xBA\xBF\"\"\"").starts_with("1:9 after a backslash"));
    CHECK(scanned("a = \"\\\xC3\xA9\"").starts_with("1:7 after a backslash"));
    CHECK(scanned("a = \"\"\"x \\\n  b \xC3\xA9 \\\\\xC3\xA9 \\t\xC3\xA9\"\"\"").empty());
    CHECK(scanned("a = '\\\xC3\xA9' # \\\xC3\xA9").empty());
}

TEST_CASE("toml: what begins like a number holds no quote, behind which the library would go on asking")
{
    const std::string quote =
        "a quote cannot stand in a number; write the number alone, or the whole text between quotes";
    CHECK(scanned("title = 8888\"An88888\xC8\xBD"
                  "8enters") == "1:13 " + quote);
    CHECK(scanned("width = 5\"") == "1:10 " + quote);
    for (const std::string_view value :
         {"-'\xC3\xA9'", "+1.\"\xC3\xA9\"", "1e5=\"\xC3\xA9\"", "0[\"\xC3\xA9\"]", "7{'\xC3\xA9",
          "[1, 2\"\xC3\xA9", "{ b =1\"\xC3\xA9"})
        CHECK_MESSAGE(scanned("a=" + std::string(value)).ends_with(quote), value);
    CHECK(scanned("a.1.\"\xC3\xA9\" = [1,\"\xC3\xA9\", -1 ,'\xC3\xA9'] # 1'\xC3\xA9'\nb = '1\"\xC3\xA9'")
              .empty());
}

TEST_CASE("toml: no number goes on after a space, where the library would look for a time of day")
{
    const std::string space =
        "a number cannot go on after a space; write it without the space, several as [1, 2]";
    CHECK(scanned("at = 10 20") == "1:9 " + space);
    for (const std::string_view rest : {" \"\xC3\xA9\"", ",\"\xC3\xA9\"", "#\xC3\xA9", "\n\"\xC3\xA9\" = 1"})
        CHECK_MESSAGE(scanned("a = 1979-05-27 0" + std::string(rest)) == "1:16 " + space, rest);
    CHECK(scanned("a = [1 , 2] # 3 4\nb = 1979-05-27T07:32:00\nc = \"5 6\"\n").empty());
}

TEST_CASE("toml: where the library would end the program the line is named instead")
{
    const auto read = read_toml("a = 1\nb = 2\n[ = 1\nc = 3\n");
    REQUIRE(std::holds_alternative<Problem>(read));
    CHECK(std::get<Problem>(read).line == 3);
}

TEST_CASE("toml: damaged cases are read or refused, never more than that")
{
    std::mt19937 random(20240229);  // a fixed seed: the same damage in every run
    const std::string_view bytes("\0\x01\t\n\r \"'#=.,[]{}\\-+0e_a\x7F\x80\xC3\xE2\xF0\xFF", 29);
    int refused = 0;
    for (int trial = 0; trial < 4000; ++trial) {
        std::string text(base_case());
        for (unsigned blow = 0; blow <= random() % 4; ++blow) {
            const std::size_t at = random() % text.size();
            if (random() % 2 == 0)
                text[at] = bytes[random() % bytes.size()];
            else
                text.erase(at, random() % 20);
        }
        refused += std::holds_alternative<Problem>(read_toml(text)) ? 1 : 0;
    }
    CHECK(refused > 1000);
}

TEST_CASE("toml: a value shown in a message is cut to length between characters")
{
    const TomlValue root = tree("a = [1, { b = \"°°°°\" }]\n");
    CHECK(toml_text(root.entries[0].value) == "[1, { b = \"°°°°\" }]");
    CHECK(toml_text(root.entries[0].value, 12) == "[1, { b = \"...");
    CHECK(toml_text(tree("a = 1979-05-27\n").entries[0].value) == "1979-05-27");
}

}  // namespace sandfreeze::io::testing
