#include <doctest/doctest.h>

#include "materials/mush_range.hpp"
#include "of_library.hpp"

namespace sandfreeze::materials
{

TEST_CASE("materials: gradients are read a tenth of the mushy range above its end")
{
    const MushRange steel = *mush_range(get("cast carbon steel"));
    CHECK(steel.criterion() == doctest::Approx(1440 + 0.1 * 67));
    CHECK(steel.isothermal_share == 0);
    const MushRange scheil = *mush_range(get("AlSi7Mg"));
    CHECK(scheil.criterion() == doctest::Approx(577 + 0.1 * 37));
    CHECK(scheil.isothermal_share == doctest::Approx(0.51).epsilon(0.02));
    CHECK(scheil.is_mushy());
}

TEST_CASE("materials: metal that freezes at one temperature or nearly so has no mush")
{
    CHECK_FALSE(mush_range(get("pure aluminium"))->is_mushy());
    CHECK_FALSE(mush_range(get("green sand")).has_value());
    MushRange range{600, 599.1, 0};
    CHECK_FALSE(range.is_mushy());
    range = {600, 590, 0.96};
    CHECK_FALSE(range.is_mushy());
    range = {600, 590, 0.9};
    CHECK(range.is_mushy());
}

}  // namespace sandfreeze::materials
