#include <doctest/doctest.h>

#include <algorithm>
#include <cmath>
#include <stdexcept>

#include "io/hollow_picture.hpp"
#include "picture_reader.hpp"
#include "sample_answer.hpp"

using namespace sandfreeze;

namespace
{

constexpr std::uint32_t metal_tone = 0xD5DEE6;
constexpr std::uint32_t strong_tone = 0xE2562B;

io_test::Picture picture_of(const io_test::Sample& sample)
{
    const io_test::ScratchFolder folder;
    io::write_hollow_picture(folder.path() / "hollow.png", sample.c, sample.answer);
    return io_test::read_picture(folder.path() / "hollow.png");
}

void hollow_out(io_test::Sample& sample, int i, int j, int k, float share)
{
    sample.answer.fields.hollow.resize(sample.answer.painting.grid.size(), 0);
    sample.answer.fields.hollow[sample.answer.painting.grid.index(i, j, k)] = share;
}

/// How often a colour stands in voxel (i, j) of the small sample's picture.
long count_in_voxel(const io_test::Picture& picture, int i, int j, std::uint32_t colour)
{
    const double left = 86;
    const double top = 110;
    const double cell = std::floor((1200 - left - 48) / 12);
    long count = 0;
    for (double y = top + (6 - j) * cell + 2; y < top + (7 - j) * cell - 2; ++y) {
        for (double x = left + i * cell + 2; x < left + (i + 1) * cell - 2; ++x) {
            count += picture.at(x, y) == colour ? 1 : 0;
        }
    }
    return count;
}

}  // namespace

TEST_CASE("io: what is empty has a strong tone under a hatch, full metal a quiet one")
{
    io_test::Sample sample = io_test::small_sample();
    hollow_out(sample, 5, 3, 0, 1);
    hollow_out(sample, 7, 3, 0, 0.3F);
    const io_test::Picture picture = picture_of(sample);
    const long all = count_in_voxel(picture, 2, 3, metal_tone);
    CHECK(all > 5000);
    CHECK(count_in_voxel(picture, 5, 3, metal_tone) == 0);
    const long strong = count_in_voxel(picture, 5, 3, strong_tone);
    CHECK(strong > all / 6);
    CHECK(strong < all * 9 / 10);  // the rest is hatch
    CHECK(count_in_voxel(picture, 7, 3, metal_tone) == 0);
    CHECK(count_in_voxel(picture, 7, 3, strong_tone) == 0);
    CHECK(count_in_voxel(picture, 0, 6, metal_tone) == 0);  // sand
}

TEST_CASE("io: a hole of a plan shows from above and in both cuts through it")
{
    io_test::Sample sample = io_test::small_plan();
    sample.answer.fields.hollow.assign(sample.answer.painting.grid.size(), 0);
    const io_test::Picture whole = picture_of(sample);
    hollow_out(sample, 5, 3, 2, 1);
    solver::Cavity hole;
    hole.at = sample.answer.painting.grid.place(sample.answer.painting.grid.index(5, 3, 2));
    hole.volume = 2e-8;
    sample.answer.shrinkage.cavities = {hole};
    const io_test::Picture picture = picture_of(sample);
    const auto strong = [](const io_test::Picture& p) {
        return std::count(p.pixels.begin(), p.pixels.end(), strong_tone);
    };
    const double swatch = static_cast<double>(strong(whole));  // in the legend
    CHECK(swatch > 0);
    CHECK(static_cast<double>(strong(picture)) > 3 * swatch);
}

TEST_CASE("io: a field of holes of another size than the section is refused")
{
    io_test::Sample sample = io_test::small_sample();
    sample.answer.fields.hollow = {0, 1};
    CHECK_THROWS_WITH_AS(picture_of(sample), "picture of holes: 2 values for 84 voxels",
                         std::invalid_argument);
}
