#include <doctest/doctest.h>

#include <algorithm>

#include "io/errors.hpp"
#include "io/material_curves.hpp"
#include "io/material_picture.hpp"
#include "io/picture_chart.hpp"
#include "picture_reader.hpp"
#include "sample_answer.hpp"

using namespace sandfreeze;

namespace
{

const materials::LibraryEntry& entry_of(const char* name)
{
    const materials::LibraryEntry* entry = materials::find(name);
    REQUIRE(entry != nullptr);
    return *entry;
}

io_test::Picture picture_of(const char* name)
{
    const io_test::ScratchFolder folder;
    io::write_material_picture(folder.path() / "m.png", entry_of(name));
    return io_test::read_picture(folder.path() / "m.png");
}

}  // namespace

TEST_CASE("io: the states of a material run up in heat, down in solid, and hold all of the latent heat")
{
    for (const auto& entry : materials::library()) {
        const materials::Material& material = entry.material;
        CAPTURE(material.name);
        const double highest = io::highest_drawn(material);
        const auto states = io::material_states(material, highest);
        CHECK(states.size() > 200);
        CHECK(states.front().temperature == doctest::Approx(0).epsilon(1e-9));
        CHECK(states.back().temperature == doctest::Approx(highest));
        for (std::size_t i = 1; i < states.size(); ++i) {
            CHECK(states[i].heat > states[i - 1].heat);
            CHECK(states[i].temperature >= states[i - 1].temperature);
            CHECK(states[i].solid <= states[i - 1].solid);
        }
        CHECK(states.front().solid == 1);
        CHECK(states.back().solid == (material.freezing ? 0 : 1));
        CHECK(states.back().conductivity == doctest::Approx(material.conductivity.liquid(highest)));
        double sensible = 0;
        for (std::size_t i = 1; i < states.size(); ++i)
            sensible += 0.5 * material.density * (states[i].specific_heat + states[i - 1].specific_heat) *
                        (states[i].temperature - states[i - 1].temperature);
        const double latent = material.freezing ? material.density * material.latent_heat : 0;
        CHECK(states.back().heat - states.front().heat == doctest::Approx(sensible + latent).epsilon(1e-4));
    }
}

TEST_CASE("io: freezing at one temperature is an upright line, not a slope")
{
    const auto states = io::material_states(entry_of("pure tin").material, 300);
    const auto frozen = std::find_if(states.begin(), states.end(), [](const auto& s) { return s.solid < 1; });
    REQUIRE(frozen != states.begin());
    CHECK((frozen - 1)->temperature == doctest::Approx(231.9));
    CHECK(frozen->temperature == doctest::Approx(231.9));
    CHECK(frozen->solid == 0);
}

TEST_CASE("io: axes end at round numbers")
{
    CHECK(io::round_end(767.5) == 800);
    CHECK(io::round_end(182.6) == 200);
    CHECK(io::round_end(1) == 1);
    CHECK(io::round_end(0.24) == doctest::Approx(0.25));
    CHECK(io::round_end(5200) == 6000);
}

TEST_CASE("io: a material's picture is light, without colour, and its lines fill the charts")
{
    for (const char* name : {"AlSi7Mg0.3", "green sand", "pure tin", "air"}) {
        CAPTURE(name);
        const io_test::Picture picture = picture_of(name);
        CHECK(picture.width == 1240);
        std::size_t dark = 0;
        std::size_t light = 0;
        int least_grey = 255;
        for (const std::uint32_t pixel : picture.pixels) {
            const int red = static_cast<int>(pixel >> 16U);
            const int green = static_cast<int>((pixel >> 8U) & 0xFFU);
            const int blue = static_cast<int>(pixel & 0xFFU);
            least_grey =
                std::min(least_grey, 255 - (std::max({red, green, blue}) - std::min({red, green, blue})));
            dark += red < 80 ? 1U : 0U;
            light += red > 240 ? 1U : 0U;
        }
        CHECK(least_grey > 240);  // in black and white nothing gets lost
        CHECK(light > picture.pixels.size() * 7 / 10);
        CHECK(dark > 5000);
        CHECK(dark < picture.pixels.size() / 20);
    }
}

TEST_CASE("io: the line of the conductivity goes where the values are")
{
    // Pure tin: 66 W/m/K cold, 60 hot, 30 liquid on a chart that ends at 80, over 0 to 300 °C.
    const io_test::Picture picture = picture_of("pure tin");
    const double left = 28 + 72;
    const double top = 28 + 56 + 46;
    const auto at = [&](double temperature, double value) {
        return picture.at(left + 490 * temperature / 300, top + 270 * (1 - value / 80)) & 0xFFU;
    };
    CHECK(at(10, 66) < 80);
    CHECK(at(270, 30) < 80);
    CHECK(at(231.9, 45) < 80);
    CHECK(at(10, 50) > 200);
    CHECK(at(270, 60) > 200);
}

TEST_CASE("io: a picture of a material that cannot be written says so")
{
    CHECK_THROWS_AS(io::write_material_picture("/nowhere/at/all.png", entry_of("air")), io::FileError);
}
