// What no case needs is refused before it costs time or memory, and no text of a case reaches a terminal raw.

#include <doctest/doctest.h>

#include <string>

#include "base_case.hpp"
#include "io/case_file.hpp"
#include "io/nearest_name.hpp"
#include "io/text.hpp"

using namespace sandfreeze::io;
using namespace sandfreeze::io::testing;

namespace
{

std::string times(int count, const std::string& piece)
{
    std::string out;
    for (int n = 0; n < count; ++n)
        out += piece;
    return out;
}

std::string said_of(const std::string& text)
{
    try {
        (void)read_case(text, "case.toml");
    } catch (const InputError& error) {
        return error.what();
    }
    return {};
}

}  // namespace

TEST_CASE("limits: more contacts, probes and the like than anyone writes are refused by their number")
{
    const auto problems = problems_of(with(times(1001, "[[contact]]\n")));
    REQUIRE(problems.size() == 1);
    CHECK(problems[0].find("there are 1001 [[contact]]; at most 1000 are allowed") != std::string::npos);
    CHECK(problems_of(with(times(1000, "[[probe]]\n"))).size() == 1000);  // each of them incomplete
}

TEST_CASE("limits: outlines and tables are refused by the number of their points")
{
    const std::string points = "polygon = { points_mm = [" + times(10001, "[1,2],") + "] }";
    const auto outline = problems_of(changed("rectangle = { x_mm = [20, 80], y_mm = [20, 30] }", points));
    REQUIRE(outline.size() == 1);
    CHECK(outline[0] ==
          "17:25 points_mm has 10001 points; at most 10000 are allowed: leave out those between which it is "
          "nearly straight");
    const auto table = problems_of(
        changed("specific_heat_J_kgK = 1100", "specific_heat_J_kgK = [" + times(2001, "[1,2],") + "]"));
    REQUIRE(table.size() == 1);
    CHECK(table[0].find(
              "specific_heat_J_kgK has 2001 rows; at most 2000 are allowed: leave out those that lie on a "
              "straight line between others") != std::string::npos);
}

TEST_CASE("limits: sources are refused by their length")
{
    const auto problems = problems_of(with("source = \"" + std::string(10001, 'a') + "\"\n"));
    REQUIRE(problems.size() == 1);
    CHECK(problems[0].find("is longer than 10000 characters") != std::string::npos);
}

TEST_CASE("limits: of very many mistakes a thousand are kept")
{
    std::string keys;
    for (int n = 0; n < 3000; ++n)
        keys += "x" + std::to_string(n) + " = 1\n";
    CHECK(problems_of(keys + std::string(base_case())).size() == 1000);
}

TEST_CASE("limits: of very many names a suggestion lists sixty")
{
    std::vector<std::string> names;
    for (int n = 0; n < 1000; ++n)
        names.push_back("part " + std::to_string(n));
    const std::string words = suggestion("something else", names, "the parts");
    CHECK(words.starts_with("the parts are: part 0, part 1, "));
    CHECK(words.ends_with("part 59 and 940 more"));
}

TEST_CASE("limits: names cannot steer a terminal or turn the direction of writing")
{
    for (const char* hostile : {"\\u001B[2J", "\\u009B2J",
                                "\xC2\x9B"
                                "2J",
                                "\\u202Eyx", "\\u2028", "\\u0085"}) {
        CAPTURE(hostile);
        const auto problems =
            problems_of(changed(R"(name = "bar")", "name = \"b" + std::string(hostile) + "\""));
        REQUIRE(problems.size() == 1);
        CHECK(problems[0].find("contains a line break or another control character") != std::string::npos);
    }
    CHECK(problems_of(changed(R"(name = "bar")", R"(name = "Büchse Ø 20 — 梁 ✓ ${x} `y` 'z'")")).empty());
}

TEST_CASE("limits: what is wrong is told without what would steer a terminal")
{
    const std::string told = said_of("\"\\u001B[31mred\" = 1\n\"\xC2\x9B"
                                     "2J\" = 1\n" +
                                     std::string(base_case()));
    CHECK(told.find("unknown key \"\\u001B[31mred\"") != std::string::npos);
    CHECK(told.find("unknown key \"\\u009B2J\"") != std::string::npos);
    CHECK(told.find('\x1B') == std::string::npos);
    CHECK(told.find("\xC2\x9B") == std::string::npos);
    const FileError error("a\x1B[2Jb.toml", "read", 0, "did you mean \"c\x1B[2Jd.toml\"?");
    CHECK(std::string(error.what()) ==
          "cannot read \"a\\u001B[2Jb.toml\"; did you mean \"c\\u001B[2Jd.toml\"?");
}

TEST_CASE(
    "limits: letters beyond ASCII stay as they are, also where their bytes look like control characters")
{
    const std::string letters = "Û Ö — 梁 😀 \xFF";
    CHECK(printable(letters) == letters);
    CHECK_FALSE(has_disturbing(letters));
    CHECK(printable("a\nb\tc\x7F\x9B") == "a\nb\tc\\u007F\\u009B");
    CHECK(has_disturbing("a\nb"));
}
