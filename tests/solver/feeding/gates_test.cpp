#include <doctest/doctest.h>

#include "drawing.hpp"

using namespace sandfreeze;
using namespace sandfreeze::feeding::testing;
using solver::Verdict;

namespace
{

/// A feeder, a gate that closes at the given time, and a casting that closes at 100 s. Limit 5 s.
Drawing gate_closing_at(const std::string& time)
{
    Drawing d = draw("f200 g" + time + " c100");
    d.c.run.margin_limit = 5;
    judge(d);
    return d;
}

}  // namespace

TEST_CASE("feeding: a gate closes when its open cells no longer join its two sides")
{
    const Drawing d = judged(R"(
        f200 g90 g60 g80 c70
        f200 g85 g75 .   c70
        f200 g50 g50 g65 c70)");
    const solver::GateReport& gate = d.gate("gate left");
    CHECK(gate.closes == 60.0);  // over the top row; down and along the bottom only until 50
    CHECK(gate.needed_until == 70.0);
    CHECK(gate.at.x == doctest::Approx(0.025));
    CHECK(gate.at.y == doctest::Approx(0.025));
}

TEST_CASE("feeding: a gate at the limit is ok, within it marginal")
{
    CHECK(gate_closing_at("105").gate("gate left").verdict == Verdict::ok);
    CHECK(gate_closing_at("104.5").gate("gate left").verdict == Verdict::marginal);
    CHECK(gate_closing_at("95").gate("gate left").verdict == Verdict::marginal);
    CHECK(gate_closing_at("94.5").gate("gate left").verdict == Verdict::too_early);
}

TEST_CASE("feeding: a gate's sentence gives the times and the margin")
{
    CHECK(gate_closing_at("130.5").gate("gate left").because ==
          "stays open until 130.5 s; the casting metal at it needs it until 100 s: 30.5 s to spare (limit 5 "
          "s).");
    CHECK(gate_closing_at("104").gate("gate left").because ==
          "stays open until 104 s; the casting metal at it needs it until 100 s: only 4 s to spare (limit 5 "
          "s).");
    CHECK(gate_closing_at("97").gate("gate left").because ==
          "closes at 97 s, 3 s before the casting metal at it (100 s): too close to call (limit 5 s).");
    CHECK(gate_closing_at("80").gate("gate left").because ==
          "closes at 80 s, but the casting metal at it stays open until 100 s: 20 s too early (limit 5 s). "
          "That "
          "metal ends 20 s unfed at x 25, y 5 mm in 'casting'.");
}

TEST_CASE("feeding: a gate that closes early is not needed where another way serves longer")
{
    const Drawing d = judged(R"(
        f200 g50  c100
        f200 h150 c100)");
    const solver::GateReport& gate = d.gate("gate left");
    CHECK(gate.margin == -50.0);
    CHECK(gate.verdict == Verdict::not_needed);
    CHECK_FALSE(gate.section_closes);
    CHECK(contains(gate.because, "That metal is fed longer by another way: through 'gate right' from 'feeder "
                                 "left'."));
    CHECK(d.gate("gate right").section_closes == 100.0);
}

TEST_CASE("feeding: a gate is not blamed for a section that the casting itself cuts off")
{
    const Drawing d = judged("f200 g110 c100 c70 c130");
    const solver::GateReport& gate = d.gate("gate left");
    CHECK(gate.verdict == Verdict::ok);
    CHECK(gate.section_closes == 130.0);
    CHECK(contains(gate.because,
                   "The section behind it stays open until 130 s, but its way closes first inside "
                   "the casting, at x 35, y 5 mm in 'casting', at 70 s: a thicker gate alone "
                   "would not help."));
}

TEST_CASE("feeding: a gate is the one to blame where the section's way closes in it")
{
    const Drawing d = judged("f200 g60 c100 c130");
    CHECK(d.gate("gate left").verdict == Verdict::too_early);
    CHECK(d.gate("gate left").section_closes == 130.0);
    CHECK_FALSE(contains(d.gate("gate left").because, "thicker gate"));
}

TEST_CASE("feeding: a gate with one side closes never, and the caster is told")
{
    const Drawing casting_only = judged("f200 c100 g50");
    CHECK_FALSE(casting_only.gate("gate left").closes);
    CHECK_FALSE(casting_only.gate("gate left").verdict);
    CHECK_FALSE(casting_only.gate("gate left").margin);
    CHECK(casting_only.gate("gate left").needed_until == 100.0);
    CHECK(warns(casting_only, "The gate 'gate left' cannot be judged: it touches casting metal but no other "
                              "metal"));

    const Drawing other_only = judged("c100 f200 h50");
    CHECK_FALSE(other_only.gate("gate right").closes);
    CHECK_FALSE(other_only.gate("gate right").needed_until);
    CHECK(warns(other_only, "The neck 'gate right' cannot be judged: it touches no casting metal"));

    const Drawing alone = judged("c100 f200 . g50");
    CHECK(warns(alone, "it touches no other metal: it joins nothing."));
}

TEST_CASE("feeding: a gate in two pieces, one at each side, joins nothing")
{
    const Drawing d = judged("f200 g90 . g90 c50");
    CHECK_FALSE(d.gate("gate left").closes);
    CHECK(warns(d, "does not hang together"));
}

TEST_CASE("feeding: a gate's other side is any metal but casting, another gate too")
{
    const Drawing d = judged("f200 h120 g110 c100");
    CHECK(d.gate("gate left").closes == 110.0);
    CHECK_FALSE(d.gate("gate right").closes);  // touches no casting
}

TEST_CASE("feeding: what a gate needs is what touches it, what it serves may lie behind")
{
    const Drawing d = judged("f200 g110 c80 c100");
    CHECK(d.gate("gate left").needed_until == 80.0);
    CHECK(d.gate("gate left").section_closes == 100.0);
}
