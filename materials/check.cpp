#include <cmath>

#include "materials/freezing_curve.hpp"
#include "materials/material.hpp"
#include "materials/number_text.hpp"

namespace sandfreeze::materials
{

namespace
{

constexpr std::string_view kind_names[] = {"metal", "mould", "chill", "sleeve", "core", "air"};

void refuse_not_positive(double number, const std::string& property, const std::string& where = {})
{
    if (!std::isfinite(number) || number <= 0)
        throw DataError(property + " = " + number_text(number) + where +
                        " is not possible: it must be above 0");
}

void refuse_not_positive(const Curve& curve, const std::string& property)
{
    for (const auto& knot : curve.knots())
        refuse_not_positive(knot.value, property,
                            curve.is_constant() ? "" : " at " + number_text(knot.temperature) + " °C");
}

void refuse_not_positive(const PhaseProperty& property, const std::string& name)
{
    refuse_not_positive(property.solid, name);
    refuse_not_positive(property.liquid, name);
}

void refuse_outside(double number, double low, double high, const std::string& property)
{
    if (!(number >= low && number <= high))
        throw DataError(property + " = " + number_text(number) + " is not possible: it must lie from " +
                        number_text(low) + " to " + number_text(high));
}

void refuse_not_a_share(double number, const std::string& property)
{
    if (!(number > 0 && number <= 1))
        throw DataError(property + " = " + number_text(number) +
                        " is not possible: it must be above 0 and at most 1");
}

/// What only some kinds have; `owner` is such as "a metal".
void refuse_elsewhere(const Material& material, bool there, bool right_kind, const std::string& keys,
                      const std::string& owner)
{
    if (there && !right_kind)
        throw DataError(keys + " belong to " + owner + ", but this is of kind " +
                        std::string(to_string(material.kind)) + ": leave them out");
}

void check_dendrites(const DendriteArm& arm)
{
    if (arm.constant_um == 0 || arm.exponent == 0)
        throw DataError("dendrite_um and dendrite_exponent belong together: give both, above 0");
    refuse_not_positive(arm.constant_um, "dendrite_um");
    refuse_not_a_share(arm.exponent, "dendrite_exponent");
}

void check_hydrogen(const HydrogenSolubility& hydrogen)
{
    if (hydrogen.solubility_ml_100g == 0 || hydrogen.partition == 0)
        throw DataError(
            "hydrogen_solubility_ml_100g and hydrogen_partition belong together: give both, above 0");
    refuse_not_positive(hydrogen.solubility_ml_100g, "hydrogen_solubility_ml_100g");
    refuse_not_a_share(hydrogen.partition, "hydrogen_partition");
}

/// What the liquid metal is like.
void check_liquid(const Material& material)
{
    if (const auto& contraction = material.liquid_contraction_percent_per_100K)
        refuse_outside(*contraction, 0, 10, "liquid_contraction_percent_per_100K");
    if (material.emissivity) refuse_not_a_share(*material.emissivity, "emissivity");
    if (material.liquid_viscosity)
        refuse_outside(*material.liquid_viscosity * 1e3, 0.01, 1000, "liquid_viscosity_mPa_s");
    if (material.surface_tension) refuse_outside(*material.surface_tension, 0.01, 10, "surface_tension_N_m");
    if (material.hydrogen) check_hydrogen(*material.hydrogen);
    if (const auto& allowance = material.pattern_allowance_percent)
        refuse_outside(*allowance, -1, 5, "pattern_allowance_percent");
}

void check_exothermic(const Exothermic& sleeve)
{
    if (sleeve.ignition == 0 || sleeve.burn == 0 || sleeve.heat == 0)
        throw DataError("ignition_C, burn_s and heat_J_kg belong together: give all three, above 0");
    refuse_outside(sleeve.ignition, 50, 1500, "ignition_C");
    refuse_not_positive(sleeve.burn, "burn_s");
    refuse_not_positive(sleeve.heat, "heat_J_kg");
}

void check_dry(const DrySand& dry, double wet_density)
{
    if (dry.density == 0 || dry.specific_heat(0) == 0 || dry.conductivity(0) == 0)
        throw DataError("dry_density_kg_m3, dry_specific_heat_J_kgK and dry_conductivity_W_mK belong "
                        "together: give all three, above 0");
    refuse_not_positive(dry.density, "dry_density_kg_m3");
    refuse_not_positive(dry.specific_heat, "dry_specific_heat_J_kgK");
    refuse_not_positive(dry.conductivity, "dry_conductivity_W_mK");
    if (dry.density > wet_density)
        throw DataError("dry_density_kg_m3 = " + number_text(dry.density) + " is above density_kg_m3 = " +
                        number_text(wet_density) + ": sand does not gain weight by drying");
}

/// What a material may have besides, and which kinds may have it.
void check_extras(const Material& material)
{
    const bool metal = material.kind == Kind::metal;
    const bool sand = material.kind == Kind::mould || material.kind == Kind::core;
    refuse_elsewhere(
        material,
        material.liquid_contraction_percent_per_100K || material.dendrite_arm || material.emissivity, metal,
        "liquid_contraction_percent_per_100K, dendrite_um, dendrite_exponent and emissivity", "a metal");
    refuse_elsewhere(
        material, material.liquid_viscosity || material.surface_tension || material.hydrogen, metal,
        "liquid_viscosity_mPa_s, surface_tension_N_m, hydrogen_solubility_ml_100g and hydrogen_partition",
        "a metal");
    refuse_elsewhere(material, material.exothermic.has_value(), material.kind == Kind::sleeve,
                     "ignition_C, burn_s and heat_J_kg", "a sleeve");
    if (material.pattern_allowance_percent && !metal)
        throw DataError("pattern_allowance_percent belongs to a metal, but this is of kind " +
                        std::string(to_string(material.kind)) + ": leave it out");
    if (material.melts && material.kind != Kind::chill)
        throw DataError("melts_C belongs to a chill, but this is of kind " +
                        std::string(to_string(material.kind)) + ": leave it out");
    refuse_elsewhere(material, material.dry || material.clay_percent != 0, sand,
                     "clay_percent and what begins with dry_", "a mould or core");
    check_liquid(material);
    if (material.dendrite_arm) check_dendrites(*material.dendrite_arm);
    if (material.exothermic) check_exothermic(*material.exothermic);
    if (material.melts) refuse_outside(*material.melts, 50, 4000, "melts_C");
    refuse_outside(material.clay_percent, 0, 50, "clay_percent");
    if (material.dry) check_dry(*material.dry, material.density);
}

void check_metal(const Material& material)
{
    if (!material.freezing) throw DataError("a metal needs liquidus_C, solidus_C and latent_heat_J_kg");
    const FreezingCurve possible(*material.freezing);
    refuse_not_positive(material.latent_heat, "latent_heat_J_kg");
    if (!(material.feeding_limit > 0 && material.feeding_limit <= 1))
        throw DataError("feeding_limit = " + number_text(material.feeding_limit) +
                        " is not possible: it is a solid fraction, above 0 and at most 1");
    refuse_outside(material.shrinkage_percent, -20, 20, "shrinkage_percent");
}

void check_properties(const Material& material)
{
    refuse_not_positive(material.density, "density_kg_m3");
    refuse_not_positive(material.specific_heat, "specific_heat_J_kgK");
    refuse_not_positive(material.conductivity, "conductivity_W_mK");
    refuse_outside(material.moisture_percent, 0, 50, "moisture_percent");
    check_extras(material);
    if (material.kind == Kind::metal)
        check_metal(material);
    else if (material.freezing && !(material.moisture_percent > 0))  // wet sand: its water boils
        throw DataError("only a metal freezes, but this is a " + std::string(to_string(material.kind)) +
                        ": leave out liquidus_C and what belongs to it, or make it kind = \"metal\"");
}

}  // namespace

std::string_view to_string(Kind kind)
{
    return kind_names[static_cast<std::size_t>(kind)];
}

std::optional<Kind> kind_from(std::string_view name)
{
    for (std::size_t i = 0; i < std::size(kind_names); ++i) {
        if (kind_names[i] == name) return static_cast<Kind>(i);
    }
    return std::nullopt;
}

void check(const Material& material)
{
    if (material.name.empty()) throw DataError("a material without a name");
    try {
        check_properties(material);
    } catch (const DataError& error) {
        throw DataError(material.name + ": " + error.what());
    }
}

}  // namespace sandfreeze::materials
