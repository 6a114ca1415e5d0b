#include <doctest/doctest.h>

#include "io/nearest_name.hpp"

#include <vector>

namespace sandfreeze::io::testing
{

namespace
{
const std::vector<std::string> names{"cell_mm", "x_mm", "y_mm", "depth_mm"};
}

TEST_CASE("nearest name: up to two edits away, the nearest first")
{
    CHECK(nearest_name("cel_mm", names) == "cell_mm");
    CHECK(nearest_name("clel_mm", names) == "cell_mm");
    CHECK(nearest_name("CELL_MM", names) == "cell_mm");
    CHECK(nearest_name("depht_m", names) == "depth_mm");
    CHECK(nearest_name("x_m", names) == "x_mm");
}

TEST_CASE("nearest name: nothing where three edits are needed or a short name would be another one")
{
    CHECK_FALSE(nearest_name("width_mm", names).has_value());
    CHECK_FALSE(nearest_name("ab", std::vector<std::string>{"cd"}).has_value());
    CHECK_FALSE(nearest_name("", names).has_value());
    CHECK_FALSE(nearest_name("x", std::vector<std::string>{}).has_value());
}

TEST_CASE("nearest name: other words of the trade are known")
{
    const std::vector<std::string> roles{"casting", "feeder", "gate"};
    CHECK(nearest_name("riser", roles) == "feeder");
    CHECK(nearest_name("Ingate", roles) == "gate");
    CHECK_FALSE(nearest_name("riser", names).has_value());
}

TEST_CASE("nearest name: a suggestion is the nearest, else all there are")
{
    CHECK(suggestion("cel_mm", names, "the keys") == "did you mean \"cell_mm\"?");
    CHECK(suggestion("colour", names, "the keys") == "the keys are: cell_mm, x_mm, y_mm, depth_mm");
    CHECK(suggestion("colour", std::vector<std::string>{}, "keys") == "there are no keys");
}

}  // namespace sandfreeze::io::testing
