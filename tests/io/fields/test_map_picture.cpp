#include <doctest/doctest.h>

#include <cmath>
#include <limits>
#include <stdexcept>

#include "io/map_picture.hpp"
#include "io/viridis.hpp"
#include "picture_reader.hpp"
#include "sample_answer.hpp"

using namespace sandfreeze;

namespace
{

io_test::Picture map_of(const io_test::Sample& sample, const std::vector<float>& field)
{
    const io_test::ScratchFolder folder;
    io::write_map_picture(folder.path() / "map.png", "Freeze time", "s", sample.c, sample.answer.painting,
                          field);
    return io_test::read_picture(folder.path() / "map.png");
}

}  // namespace

TEST_CASE("io: viridis runs from its dark end to its bright one")
{
    CHECK(io::viridis(0) == 0x440154);
    CHECK(io::viridis(1) == 0xFDE725);
    CHECK(io::viridis(-3) == io::viridis(0));
    CHECK(io::viridis(7) == io::viridis(1));
}

TEST_CASE("io: the lowest and the highest value take the ends of the colour map, sand none of it")
{
    const io_test::Sample sample = io_test::small_sample();
    const io_test::Picture picture = map_of(sample, sample.answer.fields.closes);
    const auto colours = picture.colours();
    CHECK(colours.contains(io::viridis(0)));
    CHECK(colours.contains(io::viridis(1)));
    // 12 columns over the width: a point inside voxel (0, 6), which is sand, and one in (2, 2), the lowest.
    const double left = 86;
    const double top = 110;
    const double cell = std::floor((1200 - left - 48) / 12);
    CHECK(picture.at(left + cell / 2, top + cell / 2) == 0xEFEFEF);
    CHECK(picture.at(left + 2.2 * cell, top + 4.8 * cell) == io::viridis(0));
}

TEST_CASE("io: where not every value counts, the ring lies around the place that is named")
{
    const io_test::Sample sample = io_test::small_sample();
    io::MapLook look{"Criterion", "s", io::Extreme::smallest};
    look.lines = io::Shown::left_out;
    look.ringed = sample.answer.painting.grid.place(sample.answer.painting.grid.index(6, 3));
    const io_test::ScratchFolder folder;
    io::write_map_picture(folder.path() / "map.png", look, sample.c, sample.answer.painting,
                          sample.answer.fields.closes);
    const io_test::Picture picture = io_test::read_picture(folder.path() / "map.png");
    const double cell = std::floor((1200 - 86 - 48) / 12);
    constexpr double radius = 8;
    CHECK(picture.at(86 + 6.5 * cell + radius, 110 + 3.5 * cell) == 0x191C21);  // ink
    // The lowest value of all is that of voxel (2, 2).
    CHECK(picture.at(86 + 2.5 * cell + radius, 110 + 4.5 * cell) == io::viridis(0));
}

TEST_CASE("io: maps of one value and of none are drawn all the same")
{
    const io_test::Sample sample = io_test::small_sample();
    std::vector<float> field(sample.answer.painting.grid.size(), std::numeric_limits<float>::quiet_NaN());
    CHECK_NOTHROW(map_of(sample, field));
    field[30] = 12;
    CHECK_NOTHROW(map_of(sample, field));
    field[31] = std::numeric_limits<float>::infinity();
    CHECK_NOTHROW(map_of(sample, field));
}

TEST_CASE("io: a field of another size than the section is refused")
{
    const io_test::Sample sample = io_test::small_sample();
    CHECK_THROWS_WITH_AS(map_of(sample, {1, 2, 3}), "map picture: 3 values for a section of 84 voxels",
                         std::invalid_argument);
}
