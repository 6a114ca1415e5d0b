#include <doctest/doctest.h>

#include "io/map_picture.hpp"
#include "io/verdict_marks.hpp"
#include "picture_reader.hpp"
#include "sample_answer.hpp"

using namespace sandfreeze;
using solver::Verdict;

namespace
{

constexpr std::uint32_t ink = 0x191C21;  // of all lines and letters
constexpr std::uint32_t paper = 0xFFFFFF;

solver::HotSpot spot_at(mesh::Place at, Verdict verdict)
{
    solver::HotSpot spot;
    spot.at = at;
    spot.verdict = verdict;
    return spot;
}

solver::GateReport gate_at(mesh::Place at, Verdict verdict)
{
    solver::GateReport gate;
    gate.name = "gate";
    gate.at = at;
    gate.verdict = verdict;
    return gate;
}

io_test::Picture map_of(const io_test::Sample& sample)
{
    const io_test::ScratchFolder folder;
    io::MapLook look{"Freeze time", "s"};
    look.marks = io::marks_of(sample.answer);
    io::write_map_picture(folder.path() / "map.png", look, sample.c, sample.answer.painting,
                          sample.answer.fields.closes);
    return io_test::read_picture(folder.path() / "map.png");
}

/// Where a place of the small sample lies in its map: 12 by 7 voxels of 2 mm from (-10, 30) mm.
struct Pixel {
    double x;
    double y;
};
Pixel pixel_of(mesh::Place at)
{
    const double left = 86;
    const double top = 110;
    const double cell = std::floor((1200 - left - 48) / 12);
    return {left + (at.x + 0.010) / 0.002 * cell, top + 7 * cell - (at.y - 0.030) / 0.002 * cell};
}

}  // namespace

TEST_CASE("io: bad and marginal verdicts and holes have marks, bad ones first, good ones none")
{
    solver::Answer answer;
    answer.gates = {gate_at({0.01, 0.02}, Verdict::marginal), gate_at({0.02, 0.02}, Verdict::ok),
                    gate_at({0.03, 0.02}, Verdict::too_early)};
    answer.hot_spots = {spot_at({0.04, 0.02}, Verdict::fed), spot_at({0.05, 0.02}, Verdict::cut_off)};
    solver::FeederReport feeder;
    feeder.name = "riser";
    feeder.verdict = Verdict::ok;
    solver::FeedingRule rule;
    rule.question = solver::Question::volume;
    rule.of = "riser";
    rule.verdict = Verdict::runs_dry;
    answer.feeders = {feeder};
    answer.feeding_rules = {rule};
    solver::Cavity hole;
    hole.volume = 1.24e-6;
    answer.shrinkage.cavities = {hole};
    std::vector<std::string> words;
    for (const io::VerdictMark& mark : io::marks_of(answer)) {
        words.push_back(mark.words);
    }
    CHECK(words == std::vector<std::string>{"hole 1.24 cm³", "gate too early", "feeder runs dry",
                                            "hot spot cut off", "gate marginal"});
    CHECK(io::marks_of(answer).back().bad == false);
}

TEST_CASE("io: volumes are told to three figures")
{
    CHECK(io::volume_words(12.345e-6) == "12.3 cm³");
    CHECK(io::volume_words(1234.5e-6) == "1234 cm³");
    CHECK(io::volume_words(0.0123e-6) == "0.012 cm³");
}

TEST_CASE("io: a hot spot that is cut off is a black diamond at its place, a gate too early a black square, "
          "marginal ones white")
{
    io_test::Sample sample = io_test::small_sample();
    const mesh::Place hot{0.001, 0.037};
    const mesh::Place gate{0.007, 0.037};
    const auto diamond = pixel_of(hot);
    const auto square = pixel_of(gate);
    // 7 px up and right of its middle a square has ink or a border, a diamond nothing of its own.
    const io_test::Picture without = map_of(sample);
    CHECK(without.at(diamond.x, diamond.y) != ink);
    sample.answer.hot_spots = {spot_at(hot, Verdict::cut_off)};
    sample.answer.gates = {gate_at(gate, Verdict::too_early)};
    const io_test::Picture bad = map_of(sample);
    CHECK(bad.at(diamond.x, diamond.y) == ink);
    CHECK(bad.at(diamond.x, diamond.y + 6) == ink);
    CHECK(bad.at(square.x, square.y) == ink);
    CHECK(bad.at(square.x - 5, square.y + 5) == ink);
    CHECK(bad.at(diamond.x - 6, diamond.y + 6) != ink);
    CHECK(bad.height > without.height);  // the key to the shapes
    sample.answer.hot_spots.front().verdict = Verdict::marginal;
    const io_test::Picture marginal = map_of(sample);
    CHECK(marginal.at(diamond.x, diamond.y) == paper);
    CHECK(marginal.at(diamond.x, diamond.y - 8) == ink);
}
