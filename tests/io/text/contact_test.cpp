#include <doctest/doctest.h>

#include <cmath>

#include "base_case.hpp"
#include "io/case_file.hpp"
#include "materials/library.hpp"
#include "solver/case.hpp"

// Parts of the base case: 0 mould, 1 bar, 2 neck, 3 feeder, 4 block (a chill).

namespace sandfreeze::solver::testing
{

namespace
{

Case with_contacts(std::string_view lines)
{
    return io::read_case(io::testing::with(lines), "case.toml").case_;
}

}  // namespace

TEST_CASE("solver: pairs that no contact names take the library's value for metal, and are perfect otherwise")
{
    const Case c = with_contacts("");
    const auto library = [&](std::size_t a, std::size_t b) {
        const auto material = [&](std::size_t part) {
            return c.materials[static_cast<std::size_t>(c.parts[part].material)];
        };
        const materials::DefaultContact& known = *materials::default_contact(material(a), material(b));
        return HeatTransfer{known.h, known.h_gap.value()};
    };
    CHECK(contact_between(c, 1, 0) == library(1, 0));
    CHECK(contact_between(c, 4, 1) == library(1, 4));
    CHECK_MESSAGE(std::isinf(contact_between(c, 0, 4).h), "mould against chill");
    CHECK_MESSAGE(std::isinf(contact_between(c, 1, 2).h), "metal against metal");
    CHECK_MESSAGE(std::isinf(contact_between(c, 1, 1).h), "a part against itself");
}

TEST_CASE("solver: a contact names metal, a role, a kind, a material or a part, in either order")
{
    const auto between = [](const std::string& a, const std::string& b, std::size_t first,
                            std::size_t second) {
        const Case c = with_contacts("[[contact]]\nbetween = [\"" + a + "\", \"" + b + "\"]\nh_W_m2K = 77\n");
        return contact_between(c, first, second).h;
    };
    CHECK(between("metal", "mould", 1, 0) == 77);
    CHECK(between("mould", "metal", 1, 0) == 77);
    CHECK(between("casting", "sand", 1, 0) == 77);
    CHECK(between("casting", "sand", 3, 0) != 77);
    CHECK(between("alloy", "steel", 4, 1) == 77);
    CHECK(between("bar", "block", 1, 4) == 77);
    CHECK(between("chill", "mould", 0, 4) == 77);
    CHECK(between("bar", "neck", 1, 2) == 77);
}

TEST_CASE("solver: of several contacts that match the last counts")
{
    const Case c = with_contacts("[[contact]]\nbetween = [\"metal\", \"mould\"]\nh_W_m2K = 500\n"
                                 "[[contact]]\nbetween = [\"bar\", \"mould\"]\nh_W_m2K = 900\n"
                                 "[[contact]]\nbetween = [\"metal\", \"chill\"]\nh_W_m2K = inf\n");
    CHECK(contact_between(c, 1, 0) == HeatTransfer{900, 900});
    CHECK(contact_between(c, 3, 0).h == 500);
    CHECK(std::isinf(contact_between(c, 1, 4).h));
}

TEST_CASE("solver: a gap opens between metal and what is not poured, and nowhere else")
{
    const Case c = with_contacts("[[contact]]\nbetween = [\"metal\", \"mould\"]\n"
                                 "h_liquid_W_m2K = 3000\nh_gap_W_m2K = 500\n"
                                 "[[contact]]\nbetween = [\"bar\", \"chill\"]\n"
                                 "h_liquid_W_m2K = 3000\nh_gap_W_m2K = 500\n"
                                 "coating_mm = 0.2\ncoating_conductivity_W_mK = 0.4\n");
    CHECK(contact_between(c, 1, 0) == HeatTransfer{3000, 500});
    // The coating is half a thousandth of a square metre kelvin per watt, in series.
    CHECK(contact_between(c, 1, 4).h == doctest::Approx(1 / (1 / 3000.0 + 5e-4)));
    CHECK(contact_between(c, 1, 4).h_gap == doctest::Approx(1 / (1 / 500.0 + 5e-4)));
}

TEST_CASE("solver: every role has its name and is found by it")
{
    for (int r = 0; r <= static_cast<int>(Role::air); ++r) {
        const auto role = static_cast<Role>(r);
        CHECK(role_from(to_string(role)) == role);
    }
    CHECK(to_string(Role::neck) == "neck");
    CHECK_FALSE(role_from("helmet").has_value());
    CHECK(is_poured(Role::feeder));
    CHECK_FALSE(is_poured(Role::chill));
}

TEST_CASE("solver: margins are judged by the case's limit, else by the larger of 1 s and 2 % of the time")
{
    CHECK(margin_limit({}, 20) == 1);
    CHECK(margin_limit({}, 300) == doctest::Approx(6));
    RunSettings run;
    run.margin_limit = 0.25;
    CHECK(margin_limit(run, 300) == 0.25);
}

}  // namespace sandfreeze::solver::testing
