// Whole cases against answers of an independent code: a plain explicit enthalpy solver on the same voxels,
// first order in time, and the widest liquid ways found on its closing times by an independent route.

#include <doctest/doctest.h>

#include <fstream>
#include <sstream>

#include <nlohmann/json.hpp>

#include "io/case_file.hpp"
#include "verification/bench_cases.hpp"

using namespace sandfreeze;
using namespace sandfreeze::verification;
using nlohmann::json;

namespace
{

std::string read(const std::string& path)
{
    std::ifstream file(std::string(SANDFREEZE_TEST_DATA) + "/" + path);
    REQUIRE(file.good());
    std::stringstream text;
    text << file.rdbuf();
    return text.str();
}

struct Compared {
    solver::Answer answer;
    json times;
    json ways;
};

Compared solve_and_read(const std::string& name)
{
    solver::SolveOptions o;
    o.chill_test = solver::ChillTest::skip;
    solver::Case c = io::read_case(read("cases/" + name + ".toml"), name, {}).case_;
    c.models.open_tops = false;  // the independent code knows conduction alone
    return {solver::solve(c, o), json::parse(read("verification/reference/" + name + ".reference.json")),
            json::parse(read("verification/reference/" + name + ".ways.json"))};
}

template <class List>
const auto& named(const List& list, const std::string& name)
{
    for (const auto& item : list)
        if (item.name == name) return item;
    FAIL("nothing is named " << name);
    return list.front();
}

void compare_times(const Compared& c)
{
    for (const json& probe : c.times["probes"]) {
        const auto& mine = named(c.answer.probes, probe["name"]);
        CAPTURE(mine.name);
        CHECK(relative(*mine.freezes, probe["freeze_s"]) == doctest::Approx(0).epsilon(0.02));
    }
    for (const json& part : c.times["parts"]) {
        const auto& mine = named(c.answer.parts, part["name"]);
        CAPTURE(mine.name);
        CHECK(relative(*mine.last_freeze, part["last_freeze_s"]) == doctest::Approx(0).epsilon(0.02));
    }
    CHECK(relative(*c.answer.metal.last_freeze, c.times["metal_last_freeze_s"]) ==
          doctest::Approx(0).epsilon(0.02));
}

/// The limit by which the independent answer judged.
double limit_at(double time)
{
    return std::max(1.0, 0.02 * time);
}

void compare_ways(const Compared& c)
{
    for (const json& gate : c.ways["gates"]) {
        const auto& mine = named(c.answer.gates, gate["name"]);
        CAPTURE(mine.name);
        CHECK(relative(*mine.closes, gate["closes_s"]) == doctest::Approx(0).epsilon(0.02));
        CHECK(relative(*mine.needed_until, gate["needed_until_s"]) == doctest::Approx(0).epsilon(0.02));
        CHECK(relative(*mine.section_closes, gate["section_closes_s"]) == doctest::Approx(0).epsilon(0.02));
        const double closes = gate["closes_s"];
        const double margin = gate["margin_s"];
        // Nearer to the limit than the grid's own error a verdict may fall on either side.
        if (std::abs(std::abs(margin) - limit_at(closes)) > 0.02 * closes) {
            std::string verdict(to_string(*mine.verdict));
            CHECK(verdict == gate["verdict"].get<std::string>());
        }
    }
    for (const json& part : c.ways["parts"]) {
        const auto& mine = named(c.answer.parts, part["name"]);
        CAPTURE(mine.name);
        CHECK(relative(*mine.closes, part["closes_s"]) == doctest::Approx(0).epsilon(0.02));
        CHECK(std::abs(mine.largest_unfed - part["largest_unfed_s"].get<double>()) < 3);
        std::size_t spots = 0;
        for (const auto& spot : c.answer.hot_spots)
            if (spot.part == mine.name) {
                REQUIRE(spots < part["hot_spots"].size());
                const json& theirs = part["hot_spots"][spots++];
                CHECK(relative(spot.closes, theirs["closes_s"]) == doctest::Approx(0).epsilon(0.02));
                CHECK(std::abs(spot.unfed - theirs["unfed_s"].get<double>()) < 3);
                CHECK(std::string(to_string(spot.verdict)) == theirs["verdict"].get<std::string>());
            }
        CHECK(spots == part["hot_spots"].size());
    }
}

}  // namespace

TEST_CASE("verification: a stepped bar with chills and a feeder freezes as an independent code finds")
{
    const Compared c = solve_and_read("stepped_planar");
    compare_times(c);
    compare_ways(c);
}

TEST_CASE("verification: a turned bronze pulley freezes as an independent code finds")
{
    const Compared c = solve_and_read("pulley_axisymmetric");
    compare_times(c);
    compare_ways(c);
}
