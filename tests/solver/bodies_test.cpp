#include <doctest/doctest.h>

#include <cmath>

#include "solver/conduction/bodies.hpp"
#include "verification/bench_cases.hpp"

using namespace sandfreeze;
using namespace sandfreeze::verification;

namespace
{

solver::Case two_pours_and_a_chill()
{
    solver::Case c =
        bar({pure_aluminium(), sand(), steel()},
            {{0, 0.02, 700, true}, {0, 0.02, 700, true}, {2, 0.02, 25, false}, {1, 0.02, 25, false}}, 1e-3);
    c.parts[1].name = "plate";
    c.parts[2].name = "feeder";
    c.parts[2].role = solver::Role::feeder;
    c.parts[3].role = solver::Role::chill;
    c.contacts = {{{"metal", "mould"}, 500}, {{"metal", "chill"}, 2000}};
    return c;
}

}  // namespace

TEST_CASE("solver: poured parts of one alloy are one body, sand patches one with the mould")
{
    const conduction::Bodies b = conduction::find_bodies(two_pours_and_a_chill());
    CHECK(b.list.size() == 3);
    CHECK(b.of_part[1] == b.of_part[2]);
    CHECK(b.of_part[0] == b.of_part[4]);
    CHECK(b.list[b.of_part[1]].quick);
    CHECK(b.list[b.of_part[3]].quick);
    CHECK_FALSE(b.list[b.of_part[0]].quick);
    CHECK(b.contact(b.of_part[1], b.of_part[3]).h == 2000);
    CHECK(b.contact(b.of_part[3], b.of_part[1]).h == 2000);
}

TEST_CASE("solver: a contact between two poured parts, or an other contact to a third, makes them two bodies")
{
    solver::Case c = two_pours_and_a_chill();
    c.contacts.push_back({{"plate", "feeder"}, 800});
    CHECK(conduction::find_bodies(c).list.size() == 4);
    c.contacts.back() = {{"feeder", "mould"}, 300};
    CHECK(conduction::find_bodies(c).list.size() == 4);
}

TEST_CASE("solver: every chill is a body of its own, and a warmed part is one")
{
    solver::Case c = two_pours_and_a_chill();
    c.parts[2].role = solver::Role::chill;
    c.parts[2].material = 2;
    c.parts[2].temperature = c.parts[3].temperature;
    CHECK(conduction::find_bodies(c).list.size() == 4);
    c = two_pours_and_a_chill();
    c.parts[4].temperature = 80;
    CHECK(conduction::find_bodies(c).list.size() == 4);
}
