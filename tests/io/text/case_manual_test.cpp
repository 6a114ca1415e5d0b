#include <doctest/doctest.h>

#include "base_case.hpp"
#include "io/case_file.hpp"
#include "io/schema.hpp"

namespace sandfreeze::io::testing
{

namespace
{

std::size_t characters(std::string_view line)
{
    std::size_t n = 0;
    for (const char c : line)
        n += (static_cast<unsigned char>(c) & 0xC0U) != 0x80U ? 1 : 0;
    return n;
}

/// The page's section on one table, from its heading to the next empty line.
std::string section_of(const std::string& manual, const std::string& heading)
{
    const auto from = manual.find("\n" + heading);
    REQUIRE_MESSAGE(from != std::string::npos, heading);
    return manual.substr(from, manual.find("\n\n", from + 1) - from) + "\n";
}

std::string heading_of(const TableSpec& table)
{
    std::string name(table.name);
    switch (table.form) {
    case TableSpec::Form::top:
        return "First lines";
    case TableSpec::Form::one:
        return "[" + name + "]";
    case TableSpec::Form::many:
        return "[[" + name + "]]  ";
    case TableSpec::Form::inlined:
        return name + " = { ... }";
    }
    return name;
}

}  // namespace

TEST_CASE("case manual: it mentions every table and every key of it with its meaning")
{
    const std::string manual = case_manual();
    const std::string all_keys = manual.substr(manual.find("ALL TABLES AND KEYS"));
    for (const TableSpec& table : case_schema()) {
        const std::string section = section_of(all_keys, heading_of(table));
        for (const KeySpec& key : table.keys) {
            INFO(table.name << '.' << key.name);
            CHECK_FALSE(key.meaning.empty());
            const std::string name(key.name);
            const bool named = section.find("\n  " + name + ":") != std::string::npos ||
                               section.find("\n  " + name + " = ") != std::string::npos;
            CHECK(named);
        }
    }
}

TEST_CASE("case manual: no line is wider than 80 characters")
{
    std::string_view rest;
    const std::string manual = case_manual();
    for (rest = manual; !rest.empty();) {
        const std::string_view line = rest.substr(0, rest.find('\n'));
        CAPTURE(line);
        CHECK(characters(line) <= 80);
        CHECK_FALSE(line.ends_with(' '));
        rest.remove_prefix(line.size() + 1);
    }
}

TEST_CASE("case manual: its example is a case that reads without an error or a warning")
{
    CHECK(problems_of(example_case()).empty());
    CHECK(read_case(example_case(), "example.toml").warnings.empty());
}

TEST_CASE("case manual: every key it lists does something")
{
    CHECK(case_manual().find("NOT BUILT YET") == std::string::npos);
}

TEST_CASE(
    "case schema: required keys have no default, ranges hold their defaults' order, units stand in the names")
{
    for (const TableSpec& table : case_schema())
        for (const KeySpec& key : table.keys) {
            INFO(table.name << '.' << key.name);
            CHECK_FALSE((key.required && !key.fallback.empty()));
            CHECK(key.limits.least <= key.limits.most);
            if (key.unit == "mm") CHECK(key.name.ends_with("_mm"));
            if (key.unit == "°C") CHECK(key.name.ends_with("_C"));
            if (key.unit == "s") CHECK(key.name.ends_with("_s"));
        }
}

}  // namespace sandfreeze::io::testing
