#include <doctest/doctest.h>

#include "materials/library.hpp"

using namespace sandfreeze::materials;

namespace
{

Material of_kind(Kind kind, const std::string& name = "some")
{
    Material m;
    m.kind = kind;
    m.name = name;
    return m;
}

const Material metal = of_kind(Kind::metal);

}  // namespace

TEST_CASE("materials: default contacts are the same from either side")
{
    for (const Kind kind : {Kind::mould, Kind::chill, Kind::sleeve, Kind::core}) {
        const Material other = of_kind(kind);
        REQUIRE(default_contact(metal, other) != nullptr);
        CHECK(default_contact(metal, other) == default_contact(other, metal));
    }
}

TEST_CASE("materials: pairs without a default are in perfect contact")
{
    CHECK(default_contact(of_kind(Kind::mould), of_kind(Kind::chill)) == nullptr);
    CHECK(default_contact(metal, metal) == nullptr);
    CHECK(default_contact(metal, of_kind(Kind::air)) == nullptr);
}

TEST_CASE("materials: a chill takes heat through its face faster than sand, and each value has its source")
{
    const DefaultContact& on_chill = *default_contact(metal, of_kind(Kind::chill));
    const DefaultContact& on_copper = *default_contact(metal, of_kind(Kind::chill, "copper"));
    CHECK(on_chill.h > default_contact(metal, of_kind(Kind::mould))->h);
    CHECK(on_copper.h > on_chill.h);
    for (const auto& contact : default_contacts()) {
        CHECK(contact.h > 0);
        CHECK(contact.h_gap.value_or(contact.h) <= contact.h);
        CHECK_FALSE(contact.source.empty());
        CHECK(contact.uncertainty_percent > 0);
        CHECK((contact.only.empty() || find(contact.only) != nullptr));
    }
}
