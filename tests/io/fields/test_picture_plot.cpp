#include <doctest/doctest.h>

#include "io/picture_plot.hpp"

using namespace sandfreeze;

TEST_CASE("io: ticks stand at round numbers between the ends")
{
    CHECK(io::round_ticks(0, 400, 5) == std::vector<double>{0, 100, 200, 300, 400});
    CHECK(io::round_ticks(-10, 14, 3) == std::vector<double>{-10, 0, 10});
    CHECK(io::round_ticks(3.2, 4.1, 5).size() == 5);
    CHECK(io::round_ticks(7, 7, 5) == std::vector<double>{7});
}

TEST_CASE("io: numbers at ticks have no needless zeros and no minus before zero")
{
    CHECK(io::tick_text(100) == "100");
    CHECK(io::tick_text(-1e-13) == "0");
    CHECK(io::tick_text(0.30000000000000004) == "0.3");
}

TEST_CASE("io: a scale bar is 1, 2 or 5 times a power of ten long")
{
    CHECK(io::round_down(100) == 100);
    CHECK(io::round_down(499) == 200);
    CHECK(io::round_down(0.0999) == doctest::Approx(0.05));
}

TEST_CASE("io: the plot puts y up, keeps the section's proportions and fits its room")
{
    mesh::Grid grid;
    grid.nx = 400;
    grid.ny = 100;
    grid.cell = 0.001;
    grid.x0 = -0.2;
    grid.y0 = 0.05;
    const io::Plot plot(grid, 80, 90, 1000, 700);
    CHECK(plot.cell() == 2.5);
    CHECK(plot.patch().height == 250);
    CHECK(plot.x(-0.2) == doctest::Approx(80));
    CHECK(plot.x(0.2) == doctest::Approx(1080));
    CHECK(plot.y(0.05) == doctest::Approx(340));
    CHECK(plot.y(0.15) == doctest::Approx(90));
    CHECK(plot.left_of(100) == doctest::Approx(plot.x(-0.1)));
    CHECK(plot.bottom_of(40) == doctest::Approx(plot.y(0.09)));
}
