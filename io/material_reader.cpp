#include "io/material_reader.hpp"

#include <algorithm>
#include <array>
#include <span>
#include <string>
#include <string_view>
#include <vector>

#include "io/text.hpp"

namespace sandfreeze::io
{

namespace
{

using materials::Curve;
using materials::Freezing;
using materials::Kind;
using materials::Material;
using materials::PhaseProperty;
using Type = TomlValue::Type;

std::vector<Curve::Knot> knots_of(const TomlValue& table)
{
    std::vector<Curve::Knot> out;
    for (const TomlValue& knot : table.items)
        out.push_back({knot.items[0].number, knot.items[1].number});
    return out;
}

Curve curve_of(const TomlValue& value)
{
    return value.type == Type::array ? Curve(knots_of(value)) : Curve(value.number);
}

std::string knots_text(const std::vector<Curve::Knot>& knots)
{
    std::string out = "[";
    for (std::size_t k = 0; k < knots.size(); ++k)
        out += (k > 0 ? ", [" : "[") + number_text(knots[k].temperature) + ", " +
               number_text(knots[k].value) + "]";
    return out + "]";
}

std::string curve_text(const Curve& curve)
{
    return curve.is_constant() ? number_text(curve.knots().front().value) : knots_text(curve.knots());
}

std::string property_text(const PhaseProperty& property)
{
    const std::string solid = curve_text(property.solid);
    const std::string liquid = curve_text(property.liquid);
    return solid == liquid ? solid : "{ solid = " + solid + ", liquid = " + liquid + " }";
}

std::string_view law_name(Freezing::Law law)
{
    return law == Freezing::Law::scheil ? "scheil" : law == Freezing::Law::lever ? "lever" : "linear";
}
/// Reads one [[material]] on top of what it is like.
class MaterialReader
{
public:
    MaterialReader(Block& block, const Material* like, Draft& draft)
        : block_(&block)
        , draft_(&draft)
        , has_base_(like != nullptr)
    {
        if (like != nullptr) material_ = *like;
    }

    /// False where something is missing or wrong, which has been reported.
    bool read()
    {
        material_.name = block_->text("name");
        material_.designation = has_base_ ? material_.designation : "";
        if (!read_kind()) return false;
        const std::string before =
            property_text(material_.specific_heat) + property_text(material_.conductivity);
        read_density();
        read_property("specific_heat_J_kgK", material_.specific_heat);
        read_property("conductivity_W_mK", material_.conductivity);
        if (block_->has("source") || has_base_) material_.source = block_->text("source", material_.source);
        drop_what_belongs_elsewhere(before);
        if (material_.kind == Kind::metal)
            read_metal();
        else
            refuse_keys(metal_keys, "metals");
        if (material_.kind == Kind::sleeve)
            read_burning();
        else
            refuse_keys(burning_keys, "sleeves");
        if (material_.kind == Kind::chill)
            read_optional("melts_C", material_.melts);
        else
            refuse_keys(chill_keys, "chills");
        return complete_;
    }

    const Material& material() const { return material_; }

private:
    static constexpr std::array<std::string_view, 18> metal_keys{
        "liquidus_C",          "solidus_C",
        "latent_heat_J_kg",    "solid_fraction",
        "melting_point_C",     "partition_coefficient",
        "eutectic_C",          "feeding_limit",
        "shrinkage_percent",   "liquid_contraction_percent_per_100K",
        "dendrite_um",         "dendrite_exponent",
        "emissivity",          "liquid_viscosity_mPa_s",
        "surface_tension_N_m", "hydrogen_solubility_ml_100g",
        "hydrogen_partition",  "pattern_allowance_percent"};
    static constexpr double mPa_s = 1e-3;  // in Pa s
    static constexpr std::array<std::string_view, 3> burning_keys{"ignition_C", "burn_s", "heat_J_kg"};
    static constexpr std::array<std::string_view, 1> chill_keys{"melts_C"};

    /// Rammed harder or looser, a sand is so also when dry.
    void read_density()
    {
        need("density_kg_m3", has_base_);
        const double before = material_.density;
        material_.density = block_->number("density_kg_m3", before);
        if (material_.dry && before > 0) material_.dry->density *= material_.density / before;
    }

    bool read_kind()
    {
        if (!block_->has("kind") && !has_base_) {
            need("kind", false);
            return false;
        }
        const bool was_metal = material_.kind == Kind::metal;
        const std::string own_kind(materials::to_string(material_.kind));
        material_.kind = materials::kind_from(block_->text("kind", own_kind)).value_or(material_.kind);
        if (has_base_ && was_metal != (material_.kind == Kind::metal)) {
            draft_->problem(block_->place_of("kind"),
                            "kind = " + quoted(materials::to_string(material_.kind)) + ", but " +
                                quoted(block_->text("like")) + " is of kind " + own_kind +
                                "; start from a material that freezes only for one that does");
            return false;
        }
        return true;
    }

    /// Reports a key that is neither given nor taken from elsewhere.
    void need(std::string_view key, bool otherwise_known)
    {
        if (block_->is_faulty(key)) complete_ = false;
        if (block_->has(key) || otherwise_known || block_->is_faulty(key)) return;
        complete_ = false;
        draft_->problem(block_->place(), block_->label() + " has no " + std::string(key) +
                                             "; give it, or start from a material of the "
                                             "library with like = \"...\"");
    }

    void read_property(std::string_view key, PhaseProperty& property)
    {
        need(key, has_base_);
        const TomlValue* value = block_->find(key);
        if (value == nullptr) {
            if (has_base_) block_->note(key, property_text(property));
            return;
        }
        if (value->type != Type::table) {
            property.solid = property.liquid = curve_of(*value);
            return;
        }
        if (material_.kind != Kind::metal) {
            draft_->problem(value->place,
                            std::string(key) + " of " + block_->label() +
                                " is given for solid and liquid, but it is not a metal; give one number "
                                "or table");
            complete_ = false;
            return;
        }
        for (const TomlEntry& entry : value->entries)
            (entry.key == "solid" ? property.solid : property.liquid) = curve_of(entry.value);
    }

    /// What the starting point has and this material cannot have: of another kind, or of a sand with other
    /// numbers.
    void drop_what_belongs_elsewhere(const std::string& before)
    {
        if (material_.kind != Kind::sleeve) material_.exothermic.reset();
        if (material_.kind != Kind::chill) material_.melts.reset();
        const bool sand = material_.kind == Kind::mould || material_.kind == Kind::core;
        if (!sand) material_.clay_percent = 0;
        if (!sand || property_text(material_.specific_heat) + property_text(material_.conductivity) != before)
            material_.dry.reset();
    }

    void refuse_keys(std::span<const std::string_view> keys, std::string_view owners)
    {
        for (const std::string_view key : keys)
            if (block_->has(key)) {
                draft_->problem(block_->place_of(key),
                                std::string(key) + " belongs to " + std::string(owners) + ", and " +
                                    block_->label() + " is of kind " +
                                    std::string(materials::to_string(material_.kind)) + "; take it out");
                complete_ = false;
            }
    }

    /// A number that may be missing; the starting point's own is echoed.
    void read_optional(std::string_view key, std::optional<double>& number)
    {
        if (number || block_->has(key)) number = block_->number(key, number.value_or(0));
    }

    void read_dendrites()
    {
        if (!material_.dendrite_arm && !block_->has("dendrite_um") && !block_->has("dendrite_exponent"))
            return;
        need("dendrite_um", material_.dendrite_arm.has_value());
        need("dendrite_exponent", material_.dendrite_arm.has_value());
        materials::DendriteArm arm = material_.dendrite_arm.value_or(materials::DendriteArm{});
        if (block_->has("dendrite_um") || material_.dendrite_arm)
            arm.constant_um = block_->number("dendrite_um", arm.constant_um);
        if (block_->has("dendrite_exponent") || material_.dendrite_arm)
            arm.exponent = block_->number("dendrite_exponent", arm.exponent);
        material_.dendrite_arm = arm;
    }

    void read_liquid()
    {
        read_optional("emissivity", material_.emissivity);
        std::optional<double> viscosity;
        if (material_.liquid_viscosity) viscosity = *material_.liquid_viscosity / mPa_s;
        read_optional("liquid_viscosity_mPa_s", viscosity);
        if (viscosity) material_.liquid_viscosity = *viscosity * mPa_s;
        read_optional("surface_tension_N_m", material_.surface_tension);
        read_optional("pattern_allowance_percent", material_.pattern_allowance_percent);
        const bool known = material_.hydrogen.has_value();
        if (!known && !block_->has("hydrogen_solubility_ml_100g") && !block_->has("hydrogen_partition"))
            return;
        need("hydrogen_solubility_ml_100g", known);
        need("hydrogen_partition", known);
        materials::HydrogenSolubility gas = material_.hydrogen.value_or(materials::HydrogenSolubility{});
        const auto read = [&](std::string_view key, double& number) {
            if (known || block_->has(key)) number = block_->number(key, number);
        };
        read("hydrogen_solubility_ml_100g", gas.solubility_ml_100g);
        read("hydrogen_partition", gas.partition);
        material_.hydrogen = gas;
    }

    void read_burning()
    {
        const bool known = material_.exothermic.has_value();
        if (!known && std::none_of(burning_keys.begin(), burning_keys.end(),
                                   [&](std::string_view key) { return block_->has(key); }))
            return;
        for (const std::string_view key : burning_keys)
            need(key, known);
        materials::Exothermic sleeve = material_.exothermic.value_or(materials::Exothermic{});
        const auto read = [&](std::string_view key, double& number) {
            if (known || block_->has(key)) number = block_->number(key, number);
        };
        read("ignition_C", sleeve.ignition);
        read("burn_s", sleeve.burn);
        read("heat_J_kg", sleeve.heat);
        material_.exothermic = sleeve;
    }

    void read_metal()
    {
        Freezing freezing = material_.freezing.value_or(Freezing{});
        const bool known = material_.freezing.has_value();
        read_law(freezing);
        const bool table = freezing.law == Freezing::Law::table;
        const bool diagram = freezing.law == Freezing::Law::scheil || freezing.law == Freezing::Law::lever;
        if (diagram) read_diagram(freezing);
        if (block_->is_faulty("solid_fraction")) complete_ = false;
        need("liquidus_C", known || table || block_->is_faulty("solid_fraction"));
        need("solidus_C", known || table || diagram || block_->is_faulty("solid_fraction"));
        need("latent_heat_J_kg", has_base_);
        if (!complete_) return;
        read_range(freezing, known);
        material_.latent_heat = block_->number("latent_heat_J_kg", material_.latent_heat);
        material_.feeding_limit = block_->number("feeding_limit", material_.feeding_limit);
        material_.shrinkage_percent = block_->number("shrinkage_percent", material_.shrinkage_percent);
        read_optional("liquid_contraction_percent_per_100K", material_.liquid_contraction_percent_per_100K);
        read_dendrites();
        read_liquid();
        material_.freezing = freezing;
    }

    void read_law(Freezing& freezing)
    {
        const TomlValue* value = block_->find("solid_fraction");
        if (value == nullptr) {
            block_->note("solid_fraction", freezing.law == Freezing::Law::table
                                               ? knots_text(freezing.table)
                                               : quoted(law_name(freezing.law)));
            return;
        }
        freezing.table.clear();
        if (value->type == Type::array) {
            freezing.law = Freezing::Law::table;
            freezing.table = knots_of(*value);
        } else {
            freezing.law = value->text == "scheil"  ? Freezing::Law::scheil
                           : value->text == "lever" ? Freezing::Law::lever
                                                    : Freezing::Law::linear;
        }
    }

    void read_diagram(Freezing& freezing)
    {
        const auto read = [&](std::string_view key, std::optional<double>& target) {
            need(key, target.has_value());
            if (block_->has(key) || target) target = block_->number(key, target.value_or(0));
        };
        read("melting_point_C", freezing.melting_point);
        read("partition_coefficient", freezing.partition_coefficient);
        read("eutectic_C", freezing.eutectic);
    }

    /// Liquidus and solidus: given, else those of a table given here, of the starting point or the eutectic.
    void read_range(Freezing& freezing, bool known)
    {
        double liquidus = freezing.liquidus;
        double solidus = freezing.solidus;
        const bool own_table = freezing.law == Freezing::Law::table && block_->has("solid_fraction");
        if (own_table) {
            liquidus = freezing.table.back().temperature;
            solidus = freezing.table.front().temperature;
        } else if (freezing.eutectic && (!known || block_->has("eutectic_C"))) {
            solidus = *freezing.eutectic;
        }
        freezing.liquidus = block_->number("liquidus_C", liquidus);
        freezing.solidus = block_->number("solidus_C", solidus);
    }

    Block* block_;
    Draft* draft_;
    Material material_;
    bool has_base_;
    bool complete_ = true;
};

}  // namespace

std::optional<Material> read_material(Block& block, const Material* like, Draft& draft)
{
    MaterialReader reader(block, like, draft);
    if (!reader.read()) return std::nullopt;
    return reader.material();
}

}  // namespace sandfreeze::io
