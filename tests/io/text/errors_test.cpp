#include <doctest/doctest.h>

#include <cerrno>

#include "base_case.hpp"
#include "io/case_file.hpp"

namespace sandfreeze::io::testing
{

TEST_CASE("errors: a problem is shown as file, line, column, message, source line and caret")
{
    const InputError error("case.toml", "a = 1\n\tb = 2\r\n", {{2, 6, "b = 2 is wrong; expected 3"}});
    CHECK(std::string(error.what()) == "case.toml:2:6: b = 2 is wrong; expected 3\n"
                                       "  2 |  b = 2\n"
                                       "    |      ^");
}

TEST_CASE("errors: problems are sorted by place, and one said twice is said once")
{
    const InputError error("f", "a\nb\n", {{2, 1, "late"}, {1, 1, "early"}, {2, 1, "late"}});
    REQUIRE(error.problems().size() == 2);
    CHECK(error.problems()[0].message == "early");
    CHECK(std::string(error.what()) == "f:1:1: early\n  1 | a\n    | ^\nf:2:1: late\n  2 | b\n    | ^");
}

TEST_CASE("errors: the caret stands under characters, not bytes")
{
    const InputError error("f", "n = \"°°\" x", {{1, 10, "x"}});
    CHECK(std::string(error.what()) == "f:1:10: x\n  1 | n = \"°°\" x\n    |          ^");
}

TEST_CASE("errors: of a long line the piece around the place is shown")
{
    const std::string line = std::string(300, 'a') + "HERE" + std::string(300, 'b');
    const std::string what = InputError("f", line, {{1, 301, "x"}}).what();
    const std::string shown = "..." + std::string(48, 'a') + "HERE" + std::string(44, 'b') + "...";
    CHECK(what == "f:1:301: x\n  1 | " + shown + "\n    | " + std::string(51, ' ') + "^");
}

TEST_CASE("errors: a place beyond the text or none at all is named without a source line")
{
    CHECK(std::string(InputError("f", "a\n", {{9, 1, "x"}}).what()) == "f:9:1: x");
    CHECK(std::string(InputError("f", "", {{1, 1, "x"}}).what()) == "f:1:1: x");
}

TEST_CASE("errors: twenty problems are printed, then how many more there are")
{
    std::vector<Problem> many;
    for (int line = 1; line <= 25; ++line)
        many.push_back({line, 1, "x"});
    const InputError error("f", "", many);
    CHECK(error.problems().size() == 25);
    const std::string what = error.what();
    CHECK(what.find("f:20:1: x") != std::string::npos);
    CHECK(what.find("f:21:1: x") == std::string::npos);
    CHECK(what.ends_with("... and 5 more problems"));
}

TEST_CASE("errors: a case is shown with its own lines")
{
    try {
        (void)read_case(changed("cell_mm = 2", "cell_mm = 0"), "bar.toml");
        FAIL("it was read");
    } catch (const InputError& error) {
        CHECK(std::string(error.what()) ==
              "bar.toml:5:11: cell_mm = 0 is out of range; expected a number from 0.001 to 1000 mm\n"
              "  5 | cell_mm = 0\n"
              "    |           ^");
    }
}

TEST_CASE("errors: a file error says what failed, on which file, why, and the way out")
{
    const FileError error("out/summary.json", "write", ENOSPC, "free some space");
    CHECK(std::string(error.what()) ==
          "cannot write \"out/summary.json\": No space left on device; free some space");
    CHECK(error.path() == "out/summary.json");
}

}  // namespace sandfreeze::io::testing
