#include <doctest/doctest.h>

#include <cstdlib>
#include <limits>

#include "io/text.hpp"

namespace sandfreeze::io::testing
{

TEST_CASE("text: a number is the shortest text that reads back as the same")
{
    CHECK(number_text(20) == "20");
    CHECK(number_text(0.1) == "0.1");
    CHECK(number_text(-273.15) == "-273.15");
    CHECK(number_text(100000) == "100000");
    CHECK(number_text(0) == "0");
    CHECK(number_text(std::numeric_limits<double>::infinity()) == "inf");
    for (const double value : {1.0 / 3.0, 1e-300, 6.02214076e23, 384615.384615, 1e15, 1.5e-5})
        CHECK(std::strtod(number_text(value).c_str(), nullptr) == value);
}

TEST_CASE("text: rounding keeps the digits asked for and drops zeros")
{
    CHECK(rounded_text(0.1 + 0.2, 12) == "0.3");
    CHECK(rounded_text(74.5058, 3) == "74.5");
    CHECK(rounded_text(10449.3, 3) == "10400");
    CHECK(rounded_text(0, 6) == "0");
}

TEST_CASE("text: quotes escape what would end or break the text")
{
    CHECK(quoted("a \"b\" \\ c") == R"("a \"b\" \\ c")");
    CHECK(quoted("a\nb\tc\x01") == R"("a\nb\tc\u0001")");
    CHECK(quoted("5 °C") == "\"5 °C\"");
}

TEST_CASE("text: wrapping breaks at words and indents what follows")
{
    CHECK(wrapped("one two three four", 9, 0, 2) == "one two\n  three\n  four");
    CHECK(wrapped("one two", 9, 4, 2) == "one\n  two");
    CHECK(wrapped("°°°° °°°°", 9, 0, 2) == "°°°° °°°°");
    CHECK(wrapped("", 9, 0, 2).empty());
}

}  // namespace sandfreeze::io::testing
