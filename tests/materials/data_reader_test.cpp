#include "materials/data_reader.hpp"

#include <doctest/doctest.h>

#include <string>

using namespace sandfreeze::materials;

namespace
{

std::string number(const std::string& key, const std::string& value)
{
    return "[" + key + "]\nvalue = " + value + "\nuncertainty_percent = 5\nsource = \"a book\"\n";
}

const std::string head = "name = \"a sand\"\nkind = \"mould\"\nnote = \"For tests.\"\nsource = \"a book\"\n";
const std::string body = number("density_kg_m3", "1500") +
                         number("specific_heat_J_kgK", "[[25, 700], [600, 1150]]") +
                         number("conductivity_W_mK", "{ solid = 0.6, liquid = [[25, 0.5]] }");

LibraryEntry read(const std::string& text)
{
    return read_entry({"sand.toml", text});
}

}  // namespace

TEST_CASE("materials: a data file gives the material and each number as written, in its order")
{
    const LibraryEntry entry = read("also_known_as = [\"other\"]\n" + head + body);
    CHECK(entry.material.name == "a sand");
    CHECK(entry.material.kind == Kind::mould);
    CHECK(entry.material.density == 1500);
    CHECK(entry.material.specific_heat.liquid(600) == 1150);
    CHECK(entry.material.conductivity.solid(20) == 0.6);
    CHECK(entry.material.conductivity.liquid(20) == 0.5);
    CHECK(entry.also_known_as == std::vector<std::string>{"other"});
    REQUIRE(entry.values.size() == 3);
    CHECK(entry.values[0].property == "density_kg_m3");
    CHECK(entry.values[0].value == "1500");
    CHECK(entry.values[0].source == "a book");
    CHECK(entry.values[0].uncertainty_percent == 5);
    CHECK(entry.values[1].value == "[[25, 700], [600, 1150]]");
    CHECK(entry.values[2].value == "{ solid = 0.6, liquid = [[25, 0.5]] }");
}

TEST_CASE("materials: a data file may say what else is known of a metal, a sleeve or a sand")
{
    const std::string metal = "name = \"m\"\nkind = \"metal\"\nnote = \"For tests.\"\nsource = \"a book\"\n";
    const LibraryEntry alloy = read(
        metal + body + number("liquidus_C", "600") + number("solidus_C", "560") +
        number("latent_heat_J_kg", "4e5") + number("liquid_contraction_percent_per_100K", "1.2") +
        number("dendrite_um", "10.2") + number("dendrite_exponent", "0.333") + number("emissivity", "0.2") +
        number("liquid_viscosity_mPa_s", "1.3") + number("surface_tension_N_m", "0.9") +
        number("hydrogen_solubility_ml_100g", "0.7") + number("hydrogen_partition", "0.05"));
    CHECK(alloy.material.liquid_contraction_percent_per_100K == 1.2);
    CHECK(alloy.material.dendrite_arm.value().constant_um == 10.2);
    CHECK(alloy.material.dendrite_arm.value().exponent == 0.333);
    CHECK(alloy.material.emissivity == 0.2);
    CHECK(alloy.material.liquid_viscosity.value() == doctest::Approx(1.3e-3));
    CHECK(alloy.material.surface_tension == 0.9);
    CHECK(alloy.material.hydrogen.value().solubility_ml_100g == 0.7);
    CHECK(alloy.material.hydrogen.value().partition == 0.05);
    CHECK(alloy.values.size() == 14);

    const std::string sleeve =
        "name = \"s\"\nkind = \"sleeve\"\nnote = \"For tests.\"\nsource = \"a book\"\n";
    const LibraryEntry burning = read(sleeve + body + number("ignition_C", "400") + number("burn_s", "90") +
                                      number("heat_J_kg", "1.5e6"));
    CHECK(burning.material.exothermic.value().ignition == 400);
    CHECK(burning.material.exothermic.value().burn == 90);
    CHECK(burning.material.exothermic.value().heat == 1.5e6);

    const LibraryEntry wet =
        read(head + body + number("clay_percent", "8") + number("dry_density_kg_m3", "1450") +
             number("dry_specific_heat_J_kgK", "[[25, 700], [600, 1150]]") +
             number("dry_conductivity_W_mK", "0.6"));
    CHECK(wet.material.clay_percent == 8);
    CHECK(wet.material.dry.value().density == 1450);
    CHECK(wet.material.dry.value().specific_heat(600) == 1150);
    CHECK(wet.material.dry.value().conductivity(25) == 0.6);
    CHECK_THROWS_WITH_AS(read(sleeve + body + number("burn_s", "90")),
                         "sand.toml: s: ignition_C, burn_s and heat_J_kg belong together: give all three, "
                         "above 0",
                         DataError);
}

TEST_CASE("materials: a data file with an unknown key is refused by file, line and key")
{
    CHECK_THROWS_WITH_AS(
        read(head + "colour = \"red\"\n" + body),
        "sand.toml:5: colour is not known, or not a table of value, uncertainty_percent and source",
        DataError);
    CHECK_THROWS_WITH_AS(read(head + body + number("densety_kg_m3", "1")),
                         "sand.toml:17: densety_kg_m3 is not a known property", DataError);
    CHECK_THROWS_WITH_AS(
        read(head + body + "colour = 1\n"),
        "sand.toml:17: colour is not known here; a number has value, uncertainty_percent and source",
        DataError);
}

TEST_CASE("materials: a number without a source or an uncertainty is refused")
{
    CHECK_THROWS_WITH_AS(read(head + "[density_kg_m3]\nvalue = 1\nuncertainty_percent = 5\n"),
                         "sand.toml:5: density_kg_m3 has no source", DataError);
    CHECK_THROWS_WITH_AS(read(head + "[density_kg_m3]\nvalue = 1\nsource = \"a book\"\n"),
                         "sand.toml:5: density_kg_m3 has no uncertainty_percent", DataError);
    CHECK_THROWS_WITH_AS(read(head + "[density_kg_m3]\nuncertainty_percent = 1\nsource = \"a book\"\n"),
                         "sand.toml:5: density_kg_m3 has no value", DataError);
    CHECK_THROWS_WITH_AS(read(head + number("density_kg_m3", "\"heavy\"")),
                         "sand.toml:6: value must be a number", DataError);
}

TEST_CASE("materials: a data file whose numbers cannot be is refused on reading")
{
    CHECK_THROWS_WITH_AS(read(head + number("density_kg_m3", "-1")),
                         "sand.toml: a sand: density_kg_m3 = -1 is not possible: it must be above 0",
                         DataError);
    CHECK_THROWS_WITH_AS(
        read(head + number("specific_heat_J_kgK", "[[25, 700], [20, 800]]")),
        "sand.toml:6: value is not a table: the temperatures of a table must rise from row to row, "
        "but 25 °C is followed by 20 °C",
        DataError);
    CHECK_THROWS_WITH_AS(read("name = \n"), doctest::Contains("sand.toml:1: not valid TOML: "), DataError);
    CHECK_THROWS_WITH_AS(read("kind = \"sand\"\n"),
                         "sand.toml:1: kind = \"sand\" is none of metal, mould, chill, sleeve, core, air",
                         DataError);
    CHECK_THROWS_WITH_AS(read("name = \"a sand\"\n" + body), "sand.toml: needs a note and a source",
                         DataError);
}

TEST_CASE("materials: a contact names two kinds, a value, its uncertainty and its source")
{
    const auto contacts = read_contacts({"contacts.toml", "[[contact]]\nbetween = [\"chill\", \"metal\"]\n"
                                                          "h_W_m2K = 2000\nuncertainty_percent = 60\n"
                                                          "source = \"a book\"\n"});
    REQUIRE(contacts.size() == 1);
    CHECK(contacts[0].first == Kind::chill);
    CHECK(contacts[0].second == Kind::metal);
    CHECK(contacts[0].h == 2000);
    CHECK_THROWS_WITH_AS(read_contacts({"contacts.toml", "[[contact]]\nbetween = [\"metal\", \"wood\"]\n"}),
                         "contacts.toml:2: between names \"wood\", which is no kind of material", DataError);
    CHECK_THROWS_WITH_AS(read_contacts({"contacts.toml", "[[contact]]\nh_W_m2K = 100\n"}),
                         "contacts.toml:1: contact needs between, h_W_m2K, uncertainty_percent and source",
                         DataError);
}

TEST_CASE("materials: a whole number too long for a double's digits is read as the nearest")
{
    const std::string text = head + number("density_kg_m3", "9007199254740993") +
                             number("specific_heat_J_kgK", "700") + number("conductivity_W_mK", "1");
    CHECK(read(text).material.density == 9007199254740992.0);
}

TEST_CASE("materials: what the TOML library cannot be trusted with is refused before it sees it")
{
    const auto said = [](const std::string& text) -> std::string {
        try {
            (void)read(text);
        } catch (const DataError& error) {
            return error.what();
        }
        return {};
    };
    // A space beyond ASCII outside quotes: there the library reaches code that it calls unreachable.
    CHECK(said("name =\xE2\x80\x83"
               "1\n")
              .starts_with("sand.toml:1: not valid TOML: \"\xE2\x80\x83\" (U+2003) is allowed only"));
    CHECK(said("a\n" + std::string(1, '\x01'))
              .starts_with("sand.toml:2: not valid TOML: control character U+0001"));
    std::string deep = "a = ";
    for (int n = 0; n < 100; ++n)
        deep += '[';
    CHECK(said(deep).starts_with("sand.toml:1: not valid TOML: "));
}
