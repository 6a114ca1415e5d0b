#include <doctest/doctest.h>

#include "base_case.hpp"
#include "io/case_file.hpp"
#include "materials/library.hpp"

namespace sandfreeze::io::testing
{

namespace
{

using materials::Freezing;

/// The material of the bar in a case whose alloy is described by these lines instead.
materials::Material alloy(std::string_view lines)
{
    std::string text(base_case());
    const auto from = text.find("[[material]]\nname = \"alloy\"");
    const auto to = text.find("[[material]]\nname = \"steel\"");
    text.replace(from, to - from, "[[material]]\nname = \"alloy\"\n" + std::string(lines) + "\n");
    const solver::Case c = read_case(text, "case.toml").case_;
    return c.materials[static_cast<std::size_t>(c.parts[1].material)];
}

constexpr std::string_view plain = "kind = \"metal\"\ndensity_kg_m3 = 2400\nspecific_heat_J_kgK = 1100\n"
                                   "conductivity_W_mK = 100\nlatent_heat_J_kg = 400000\n";

materials::Material plain_with(std::string_view lines)
{
    return alloy(std::string(plain) + std::string(lines));
}

}  // namespace

TEST_CASE("case file: a material like one of the library has its numbers and the changes")
{
    const materials::Material& known = materials::find("AlSi10Mg")->material;
    const materials::Material m = alloy("like = \"AlSi10Mg\"\ndensity_kg_m3 = 2450\nshrinkage_percent = 5.5");
    CHECK(m.name == "alloy");
    CHECK(m.density == 2450);
    CHECK(m.shrinkage_percent == 5.5);
    CHECK(m.kind == materials::Kind::metal);
    CHECK(m.latent_heat == known.latent_heat);
    CHECK(m.freezing->liquidus == known.freezing->liquidus);
    CHECK(m.conductivity.solid(20.0) == known.conductivity.solid(20.0));
}

TEST_CASE("case file: a property may be a number, a table or one for solid and one for liquid")
{
    const std::string rest = "kind = \"metal\"\ndensity_kg_m3 = 2400\nlatent_heat_J_kg = 400000\n"
                             "liquidus_C = 600\nsolidus_C = 560\n";
    const materials::Material m =
        alloy(rest + "specific_heat_J_kgK = [[20, 900], [560, 1100]]\n"
                     "conductivity_W_mK = { solid = [[20, 160], [560, 150]], liquid = 90 }");
    CHECK(m.specific_heat.solid(290.0) == doctest::Approx(1000));
    CHECK(m.specific_heat.liquid(290.0) == doctest::Approx(1000));
    CHECK(m.conductivity.solid(20.0) == 160);
    CHECK(m.conductivity.liquid(700.0) == 90);
}

TEST_CASE("case file: the freezing laws are read with what they need")
{
    CHECK(plain_with("liquidus_C = 600\nsolidus_C = 560").freezing->law == Freezing::Law::linear);
    CHECK(plain_with("liquidus_C = 600\nsolidus_C = 600").freezing->solidus == 600);
    const std::string diagram =
        "liquidus_C = 614\nmelting_point_C = 660.3\npartition_coefficient = 0.13\neutectic_C = 577";
    const materials::Material scheil = plain_with(diagram + "\nsolid_fraction = \"scheil\"");
    CHECK(scheil.freezing->law == Freezing::Law::scheil);
    CHECK(scheil.freezing->melting_point == 660.3);
    CHECK_MESSAGE(scheil.freezing->solidus == 577, "the eutectic is the solidus where none is given");
    CHECK(plain_with(diagram + "\nsolid_fraction = \"lever\"").freezing->law == Freezing::Law::lever);
}

TEST_CASE("case file: a table of the solid fraction brings its own liquidus and solidus")
{
    const materials::Material m = plain_with("solid_fraction = [[560, 1], [575, 0.6], [600, 0]]");
    CHECK(m.freezing->law == Freezing::Law::table);
    CHECK(m.freezing->solidus == 560);
    CHECK(m.freezing->liquidus == 600);
    CHECK(m.freezing->table.size() == 3);
}

TEST_CASE("case file: the feeding limit is 0.7 unless given")
{
    const std::string range = "liquidus_C = 600\nsolidus_C = 560\n";
    CHECK(plain_with(range).feeding_limit == 0.7);
    CHECK(plain_with(range + "feeding_limit = 0.5").feeding_limit == 0.5);
}

TEST_CASE("case file: contraction and dendrite arms are read, taken over or not known")
{
    const std::string range = "liquidus_C = 600\nsolidus_C = 560\n";
    const materials::Material own = plain_with(
        range + "liquid_contraction_percent_per_100K = 1.3\ndendrite_um = 9.5\ndendrite_exponent = 0.35\n");
    CHECK(own.liquid_contraction_percent_per_100K == 1.3);
    CHECK(own.dendrite_arm.value().constant_um == 9.5);
    CHECK(own.dendrite_arm.value().exponent == 0.35);
    CHECK_FALSE(plain_with(range).liquid_contraction_percent_per_100K.has_value());
    CHECK_FALSE(plain_with(range).dendrite_arm.has_value());
    const materials::Material& known = materials::find("AlSi7Mg0.3")->material;
    const materials::Material like = alloy("like = \"AlSi7Mg0.3\"\ndendrite_um = 12");
    CHECK(like.dendrite_arm.value().constant_um == 12);
    CHECK(like.dendrite_arm.value().exponent == known.dendrite_arm.value().exponent);
    CHECK(like.liquid_contraction_percent_per_100K == known.liquid_contraction_percent_per_100K);
    CHECK(like.emissivity == known.emissivity);
}

TEST_CASE("case file: a pattern's allowance is read, or taken over, and refused of a sand")
{
    const std::string range = "liquidus_C = 600\nsolidus_C = 560\n";
    CHECK(plain_with(range + "pattern_allowance_percent = 1.3").pattern_allowance_percent == 1.3);
    CHECK_FALSE(plain_with(range).pattern_allowance_percent.has_value());
    CHECK(alloy("like = \"AlSi12\"").pattern_allowance_percent ==
          materials::find("AlSi12")->material.pattern_allowance_percent);
    CHECK(problems_of(
              with("[[material]]\nname = \"own\"\nlike = \"green sand\"\npattern_allowance_percent = 1\n"
                   "[[part]]\nname = \"patch\"\nrole = \"sand\"\nmaterial = \"own\"\n"
                   "rectangle = { x_mm = [84, 90], y_mm = [20, 60] }\n")) ==
          std::vector<std::string>{
              "57:29 pattern_allowance_percent belongs to metals, and [[material]] \"own\" is "
              "of kind mould; take it out"});
}

TEST_CASE("case file: emissivity, what burns and where a chill melts are read, or taken over")
{
    const std::string range = "liquidus_C = 600\nsolidus_C = 560\n";
    CHECK(plain_with(range + "emissivity = 0.25").emissivity == 0.25);
    CHECK_FALSE(plain_with(range).emissivity.has_value());
    const auto other = [](const std::string& lines, const std::string& role) {
        const std::string text = std::string(base_case()) + "[[material]]\nname = \"own\"\n" + lines +
                                 "[[part]]\nname = \"ring\"\nrole = \"" + role +
                                 "\"\nmaterial = \"own\"\nrectangle = { x_mm = [84, 90], y_mm = [20, 60] }\n";
        return read_case(text, "case.toml").case_.materials.back();
    };
    const materials::Exothermic burns =
        other("like = \"exothermic sleeve\"\nburn_s = 70\nignition_C = 350\n", "sleeve").exothermic.value();
    CHECK(burns.burn == 70);
    CHECK(burns.ignition == 350);
    CHECK(burns.heat == materials::find("exothermic sleeve")->material.exothermic.value().heat);
    CHECK(other("like = \"insulating sleeve\"\nburn_s = 70\nignition_C = 350\nheat_J_kg = 1e6\n", "sleeve")
              .exothermic.value()
              .heat == 1e6);
    CHECK(other("like = \"copper\"\n", "chill").melts == 1085);
    CHECK(other("like = \"copper\"\nmelts_C = 1040\n", "chill").melts == 1040);
    CHECK_FALSE(other("like = \"graphite\"\n", "chill").melts.has_value());
}

TEST_CASE("case file: a sand of one's own keeps the dry sand it starts from, while that still fits")
{
    const auto sand = [](std::string_view lines) {
        std::string text(base_case());
        const auto from = text.find("[[material]]\nname = \"sand\"");
        const auto to = text.find("[[material]]\nname = \"alloy\"");
        text.replace(from, to - from, "[[material]]\nname = \"sand\"\n" + std::string(lines) + "\n");
        return read_case(text, "case.toml").case_.materials.front();
    };
    const materials::Material& known = materials::find("green sand")->material;
    const materials::Material denser = sand("like = \"green sand\"\ndensity_kg_m3 = 1680");
    CHECK(denser.dry.value().density == doctest::Approx(known.dry.value().density * 1680 / 1600));
    CHECK(denser.clay_percent == known.clay_percent);
    // Numbers of one's own are then those of the dry sand.
    CHECK(sand("like = \"green sand\"\nconductivity_W_mK = 0.7").dry.value().conductivity(25) == 0.7);
    CHECK_FALSE(sand("like = \"green sand\"\nkind = \"sleeve\"").dry.has_value());
    CHECK(sand("like = \"green sand\"\nkind = \"core\"").dry.has_value());
    CHECK_FALSE(sand("like = \"exothermic sleeve\"\nkind = \"mould\"").exothermic.has_value());
}

TEST_CASE("case file: a material of the library is found by its other names, and keeps its own")
{
    const materials::LibraryEntry* known = nullptr;
    for (const auto& entry : materials::library())
        if (!entry.also_known_as.empty() && entry.material.kind == materials::Kind::metal) known = &entry;
    REQUIRE(known != nullptr);
    std::string text(base_case());
    for (auto at = text.find("material = \"alloy\""); at != std::string::npos;
         at = text.find("material = \"alloy\""))
        text.replace(at, 18, "material = \"" + known->also_known_as.front() + "\"");
    const solver::Case c = read_case(text, "case.toml").case_;
    CHECK(c.materials[static_cast<std::size_t>(c.parts[1].material)].name == known->material.name);
}

TEST_CASE("case file: an own material goes before one of the library of the same name, with a warning")
{
    std::string text(base_case());
    for (auto at = text.find("\"steel\""); at != std::string::npos; at = text.find("\"steel\""))
        text.replace(at, 7, "\"mild steel\"");
    const CaseFile file = read_case(text, "case.toml");
    CHECK(file.case_.materials[static_cast<std::size_t>(file.case_.parts[4].material)].density == 7800);
    REQUIRE(file.warnings.size() == 1);
    CHECK(file.warnings[0] == "line 49: your own \"mild steel\" is used instead of the library's");
}

TEST_CASE("case file: only the materials that parts are made of are in the case")
{
    const solver::Case c = read_case(case_text("stepped_planar.toml"), "case.toml").case_;
    CHECK(c.materials.size() == 3);
}

}  // namespace sandfreeze::io::testing
