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
    if (material.kind == Kind::metal)
        check_metal(material);
    else if (material.freezing)
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
