#include "materials/library.hpp"

#include <doctest/doctest.h>

#include <algorithm>
#include <cctype>
#include <cmath>
#include <map>
#include <set>

#include "materials/freezing_curve.hpp"
#include "of_library.hpp"

using namespace sandfreeze::materials;

namespace
{

std::set<std::string> properties(const LibraryEntry& entry)
{
    std::set<std::string> out;
    for (const auto& value : entry.values)
        out.insert(value.property);
    return out;
}

/// What a body takes up from a hotter face: sqrt(k rho c) [W s^0.5/m2/K].
double effusivity(const std::string& name, double temperature)
{
    const Material& m = get(name);
    return std::sqrt(m.conductivity.solid(temperature) * m.density * m.specific_heat.solid(temperature));
}

}  // namespace

TEST_CASE("materials: the library holds what a sand caster needs, in order")
{
    const std::vector<std::pair<Kind, std::vector<std::string>>> expected = {
        {Kind::metal,
         {"pure aluminium",
          "AlCu4MgTi",
          "AlSi7Mg",
          "AlSi7Mg0.3",
          "AlSi9Cu3",
          "AlSi10Mg",
          "AlSi11",
          "AlSi12",
          "AlSi12(b)",
          "pure copper",
          "CuSn10",
          "CuSn12",
          "CuSn5Zn5Pb5",
          "CuZn33Pb2",
          "CuZn39Pb1Al",
          "silicon bronze",
          "grey cast iron",
          "ductile cast iron",
          "cast carbon steel",
          "ZA-12",
          "ZA-27",
          "pure tin",
          "pewter"}},
        {Kind::mould,
         {"green sand", "dry silica sand", "resin-bonded sand", "sodium silicate sand", "zircon sand",
          "chromite sand", "olivine sand", "plaster investment", "refractory board"}},
        {Kind::chill, {"mild steel", "grey iron", "copper", "graphite", "aluminium"}},
        {Kind::sleeve, {"insulating sleeve", "exothermic sleeve", "covering powder"}},
        {Kind::air, {"air"}}};
    std::size_t at = 0;
    for (const auto& [kind, names] : expected) {
        for (const auto& name : names) {
            REQUIRE(at < library().size());
            CHECK(library()[at].material.name == name);
            CHECK(library()[at].material.kind == kind);
            ++at;
        }
    }
    CHECK(at == library().size());
}

TEST_CASE("materials: alloys carry the designation of their standard and are found by it")
{
    // EN 1706, EN 1982, EN 1561, EN 1563 and EN 10293; numbers from memory.
    const std::map<std::string, std::string> designations = {{"AlCu4MgTi", "EN AC-21000"},
                                                             {"AlSi7Mg", "EN AC-42000"},
                                                             {"AlSi7Mg0.3", "EN AC-42100"},
                                                             {"AlSi10Mg", "EN AC-43000"},
                                                             {"AlSi11", "EN AC-44000"},
                                                             {"AlSi12(b)", "EN AC-44100"},
                                                             {"AlSi12", "EN AC-44200"},
                                                             {"AlSi9Cu3", "EN AC-46000"},
                                                             {"CuSn10", "EN CC480K"},
                                                             {"CuSn12", "EN CC483K"},
                                                             {"CuSn5Zn5Pb5", "EN CC491K"},
                                                             {"CuZn33Pb2", "EN CC750S"},
                                                             {"CuZn39Pb1Al", "EN CC754S"},
                                                             {"grey cast iron", "EN-GJL-250"},
                                                             {"ductile cast iron", "EN-GJS-400-15"},
                                                             {"cast carbon steel", "GE300"}};
    for (const auto& [name, designation] : designations) {
        CHECK(get(name).designation == designation);
        CHECK(find(designation) == find(name));
        if (designation.starts_with("EN ")) CHECK(find(designation.substr(3)) == find(name));
    }
}

TEST_CASE("materials: iron, steel, copper and aluminium to be poured are not those that chill")
{
    const std::map<std::string, std::string> chills = {{"grey cast iron", "grey iron"},
                                                       {"cast carbon steel", "mild steel"},
                                                       {"pure copper", "copper"},
                                                       {"pure aluminium", "aluminium"}};
    for (const auto& [poured, chill] : chills) {
        CHECK(get(poured).kind == Kind::metal);
        CHECK(get(chill).kind == Kind::chill);
    }
}

TEST_CASE("materials: other names find the same entry, unknown and misspelt ones none")
{
    for (const auto& entry : library()) {
        CHECK(find(entry.material.name) == &entry);
        for (const auto& name : entry.also_known_as)
            CHECK(find(name) == &entry);
    }
    CHECK(find("gray iron") == find("grey iron"));
    CHECK(find("A356") == find("AlSi7Mg0.3"));
    CHECK(find("cast iron") == find("grey iron"));
    CHECK(find("AlSi13Mg") == nullptr);
    CHECK(find("Green Sand") == nullptr);
    CHECK(find("") == nullptr);
}

TEST_CASE("materials: every number of the library has a source and an uncertainty")
{
    for (const auto& entry : library()) {
        CAPTURE(entry.material.name);
        CHECK_FALSE(entry.note.empty());
        CHECK_FALSE(entry.material.source.empty());
        for (const auto& value : entry.values) {
            CAPTURE(value.property);
            CHECK_FALSE(value.source.empty());
            CHECK_FALSE(value.value.empty());
            const bool is_word = std::isalpha(static_cast<unsigned char>(value.value.front())) != 0;
            CHECK((is_word || value.uncertainty_percent > 0));
        }
    }
}

TEST_CASE("materials: every property of a library material stands in its list of sourced values")
{
    for (const auto& entry : library()) {
        CAPTURE(entry.material.name);
        auto listed = properties(entry);
        std::set<std::string> needed = {"density_kg_m3", "specific_heat_J_kgK", "conductivity_W_mK"};
        if (const auto& freezing = entry.material.freezing) {
            needed.insert(
                {"liquidus_C", "latent_heat_J_kg", "solid_fraction", "feeding_limit", "shrinkage_percent"});
            if (freezing->law == Freezing::Law::scheil)
                needed.insert({"melting_point_C", "partition_coefficient", "eutectic_C"});
            else
                needed.insert("solidus_C");
        }
        const Material& m = entry.material;
        if (m.kind == Kind::metal)
            needed.insert({"liquid_contraction_percent_per_100K", "emissivity", "pattern_allowance_percent"});
        if (m.dendrite_arm) needed.insert({"dendrite_um", "dendrite_exponent"});
        if (m.liquid_viscosity) needed.insert("liquid_viscosity_mPa_s");
        if (m.surface_tension) needed.insert("surface_tension_N_m");
        if (m.hydrogen) needed.insert({"hydrogen_solubility_ml_100g", "hydrogen_partition"});
        if (m.exothermic) needed.insert({"ignition_C", "burn_s", "heat_J_kg"});
        if (m.melts) needed.insert("melts_C");
        if (m.dry) needed.insert({"dry_density_kg_m3", "dry_specific_heat_J_kgK", "dry_conductivity_W_mK"});
        if (m.clay_percent > 0) needed.insert("clay_percent");
        if (m.moisture_percent > 0) needed.insert("moisture_percent");
        CHECK(listed == needed);
    }
}

TEST_CASE("materials: the liquidus of the Al-Si alloys lies on the straight line of the diagram")
{
    // From 660.3 °C to the eutectic at 577 °C and 12.6 % Si; see Kurz & Fisher, Flemings (1974), from memory.
    const std::map<std::string, double> silicon = {
        {"AlSi7Mg", 7}, {"AlSi10Mg", 10}, {"AlSi11", 11}, {"AlSi12", 12}};
    for (const auto& alloy : silicon) {
        CAPTURE(alloy.first);
        const double on_line = 660.3 + (577 - 660.3) / 12.6 * alloy.second;
        CHECK(std::abs(get(alloy.first).freezing->liquidus - on_line) < 1.5);
    }
    CHECK(get("AlSi7Mg").freezing->solidus == 577);
    CHECK(get("pure aluminium").freezing->solidus == get("pure aluminium").freezing->liquidus);
}

TEST_CASE("materials: the more silicon, the more freezes as eutectic and the less the metal shrinks")
{
    // Shrinkage: Magnusson & Arnberg, Metall. Mater. Trans. A 32 (2001) 2605, abstract.
    const std::vector<std::string> rising = {"AlSi7Mg", "AlSi10Mg", "AlSi11"};
    for (std::size_t i = 1; i < rising.size(); ++i)
        CHECK(FreezingCurve(*get(rising[i]).freezing).isothermal_rest() >
              FreezingCurve(*get(rising[i - 1]).freezing).isothermal_rest());
    CHECK(get("pure aluminium").shrinkage_percent == 6.6);
    CHECK(get("AlSi12").shrinkage_percent == 4.4);
    for (const auto& name : rising) {
        CHECK(get(name).shrinkage_percent < 6.6);
        CHECK(get(name).shrinkage_percent > 4.4);
    }
}

TEST_CASE("materials: mild steel follows the formulae of EN 1993-1-2")
{
    // EN 1993-1-2, 3.4.1.2 and 3.4.1.3, from memory.
    const Material& steel = get("mild steel");
    for (const double t : {20.0, 75.0, 150.0, 250.0, 350.0, 450.0, 550.0}) {
        CAPTURE(t);
        const double c = 425 + 0.773 * t - 1.69e-3 * t * t + 2.22e-6 * t * t * t;
        CHECK(steel.specific_heat.solid(t) == doctest::Approx(c).epsilon(0.01));
        CHECK(steel.conductivity.solid(t) == doctest::Approx(54 - 0.0333 * t).epsilon(0.01));
    }
    CHECK(steel.specific_heat.solid(735) == doctest::Approx(5000));
    CHECK(steel.specific_heat.solid(1000) == doctest::Approx(650));
}

TEST_CASE("materials: chills take up heat in the order the trade knows, and moist sand more than dry")
{
    // Common practice: copper chills hardest, then iron, steel and graphite, each far beyond any sand.
    for (const double t : {50.0, 200.0}) {
        CAPTURE(t);
        CHECK(effusivity("copper", t) > effusivity("aluminium", t));
        CHECK(effusivity("aluminium", t) > effusivity("mild steel", t));
        for (const char* chill : {"mild steel", "grey iron", "graphite"})
            CHECK(effusivity(chill, t) > 8 * effusivity("green sand", t));
        CHECK(effusivity("green sand", t) > effusivity("dry silica sand", t));
        CHECK(effusivity("dry silica sand", t) > 50 * effusivity("air", t));
    }
}
