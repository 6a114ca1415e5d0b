#include <doctest/doctest.h>

#include <algorithm>

#include "io/matters_picture.hpp"
#include "picture_reader.hpp"
#include "sample_answer.hpp"

using namespace sandfreeze;

namespace
{

solver::UncertainInput input(const char* name, double low, double high)
{
    solver::UncertainInput i;
    i.input = name;
    i.range = "± 20 %";
    i.low = {"2.8 %", "at 2.8 %", true, -low, low, {}};
    i.high = {"4.2 %", "at 4.2 %", true, -high, high, {}};
    i.margin_of = "margin of gate 'gate'";
    i.margin = 5;
    i.limit = 1;
    return i;
}

io_test::Picture picture_of(const solver::WhatMatters& matters)
{
    const io_test::ScratchFolder folder;
    io::write_matters_picture(folder.path() / "m.png", "Bar", matters);
    return io_test::read_picture(folder.path() / "m.png");
}

std::ptrdiff_t dark_blue(const io_test::Picture& picture)
{
    return std::count(picture.pixels.begin(), picture.pixels.end(), 0x0072B2U);
}

}  // namespace

TEST_CASE("io: the picture of what matters has a row for each input, bars as long as what they stand for")
{
    solver::WhatMatters one;
    one.inputs = {input("moisture of green sand", 2, -3)};
    one.because = "No verdict and no check changes over these ranges.";
    solver::WhatMatters two = one;
    two.inputs.push_back(input("pouring temperature", 1, -1.5));
    const io_test::Picture small = picture_of(one);
    const io_test::Picture large = picture_of(two);
    CHECK(large.width == small.width);
    CHECK(large.height == small.height + 62);
    // The second bar is half as long, in both columns.
    CHECK(static_cast<double>(dark_blue(large)) / static_cast<double>(dark_blue(small)) ==
          doctest::Approx(1.5).epsilon(0.03));
}

TEST_CASE("io: the picture of what matters stands without margins, and without anything solved")
{
    solver::WhatMatters matters;
    matters.inputs = {input("moisture of green sand", 2, -3)};
    matters.inputs[0].margin.reset();
    matters.inputs[0].high.margin_change.reset();
    matters.inputs[0].low = {"2.8 %", "at 2.8 %"};
    CHECK(dark_blue(picture_of(matters)) > 500);
    matters.inputs[0].high = {"4.2 %", "at 4.2 %"};
    CHECK(picture_of(matters).height > 100);
}
