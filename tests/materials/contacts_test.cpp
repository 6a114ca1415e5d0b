#include <doctest/doctest.h>

#include "materials/library.hpp"

using namespace sandfreeze::materials;

TEST_CASE("materials: default contacts are the same from either side")
{
    for (const Kind other : {Kind::mould, Kind::chill, Kind::sleeve, Kind::core}) {
        REQUIRE(default_contact(Kind::metal, other) != nullptr);
        CHECK(default_contact(Kind::metal, other) == default_contact(other, Kind::metal));
    }
    CHECK(default_contacts().size() == 4);
}

TEST_CASE("materials: pairs without a default are in perfect contact")
{
    CHECK(default_contact(Kind::mould, Kind::chill) == nullptr);
    CHECK(default_contact(Kind::metal, Kind::metal) == nullptr);
    CHECK(default_contact(Kind::metal, Kind::air) == nullptr);
}

TEST_CASE("materials: a chill takes heat through its face faster than sand, and each value has its source")
{
    CHECK(default_contact(Kind::metal, Kind::chill)->h > default_contact(Kind::metal, Kind::mould)->h);
    for (const auto& contact : default_contacts()) {
        CHECK(contact.h > 0);
        CHECK_FALSE(contact.source.empty());
        CHECK(contact.uncertainty_percent > 0);
    }
}
