#pragma once
// What a material is: its numbers as a caster would look them up, before anything is computed from them.

#include <optional>
#include <stdexcept>
#include <string>
#include <string_view>
#include <vector>

#include "materials/curve.hpp"

namespace sandfreeze::materials
{

/// Material data that cannot be: text names the material, the property, the value and what would do.
class DataError : public std::runtime_error
{
public:
    using std::runtime_error::runtime_error;
};

enum class Kind { metal, mould, chill, sleeve, core, air };

std::string_view to_string(Kind kind);
/// The kind of that name; empty when there is none.
std::optional<Kind> kind_from(std::string_view name);

/// How the solid fraction runs from liquidus to solidus.
struct Freezing {
    enum class Law { linear, scheil, lever, table };

    Law law = Law::linear;
    double liquidus = 0;  ///< [°C]
    /// [°C]; equal to the liquidus for freezing at one temperature. Not used by scheil and lever, which end
    /// at the eutectic (lever: or above it, where its own solidus lies there).
    double solidus = 0;
    /// scheil and lever only: melting point of the pure metal [°C], partition coefficient, and the
    /// temperature at which what is still liquid freezes at once [°C].
    std::optional<double> melting_point;
    std::optional<double> partition_coefficient;
    std::optional<double> eutectic;
    /// table only: solid fraction against temperature [°C]; rising temperatures, fractions that never rise,
    /// from 1 at the solidus to 0 at the liquidus.
    std::vector<Curve::Knot> table;
};

/// A property that may differ between solid and liquid; mixed by the solid fraction in between.
struct PhaseProperty {
    Curve solid;
    Curve liquid;
};

/// Secondary dendrite arm spacing [um] = constant_um × (local freezing time [s]) ^ exponent.
struct DendriteArm {
    double constant_um = 0;
    double exponent = 0;
};

/// Hydrogen that the metal dissolves under an atmosphere of it.
struct HydrogenSolubility {
    double solubility_ml_100g = 0;  ///< of the liquid near freezing [ml/100 g]
    double partition = 0;           ///< what the solid dissolves of what the liquid does
};

/// What an exothermic sleeve gives off once its face is hot enough.
struct Exothermic {
    double ignition = 0;  ///< [°C]
    double burn = 0;      ///< time from ignition until it is burnt out [s]
    double heat = 0;      ///< per kilogram of the sleeve [J/kg]
};

/// The same rammed sand without its water, per cubic metre and kilogram of what is then left.
struct DrySand {
    double density = 0;   ///< [kg/m3]
    Curve specific_heat;  ///< [J/kg/K]
    Curve conductivity;   ///< [W/m/K]
};

struct Material {
    std::string name;
    std::string designation;  ///< of a standard, such as "EN AC-44200"; may be empty
    Kind kind = Kind::mould;
    double density = 0;                ///< [kg/m3]
    PhaseProperty specific_heat;       ///< [J/kg/K]
    PhaseProperty conductivity;        ///< [W/m/K]
    std::optional<Freezing> freezing;  ///< metals; sand whose water boils, see moisture.hpp
    double latent_heat = 0;            ///< [J/kg]; likewise
    double feeding_limit = 0.7;        ///< solid fraction up to which metal still flows to feed
    double shrinkage_percent = 0;      ///< on freezing; negative where graphite expands
    double moisture_percent = 0;       ///< water by weight of the wet sand that the numbers already include
    std::optional<double> liquid_contraction_percent_per_100K;  ///< by volume; metals only
    std::optional<DendriteArm> dendrite_arm;                    ///< metals only
    std::optional<double> emissivity;                           ///< of the open liquid metal; metals only
    std::optional<double> liquid_viscosity;                     ///< near freezing [Pa s]; metals only
    std::optional<double> surface_tension;                      ///< of the liquid [N/m]; metals only
    std::optional<HydrogenSolubility> hydrogen;                 ///< metals only
    std::optional<Exothermic> exothermic;                       ///< sleeves only
    /// By how much a pattern is made larger than the casting, each way [%]; metals only.
    std::optional<double> pattern_allowance_percent;
    std::optional<double> melts;  ///< [°C]; chills only
    double clay_percent = 0;      ///< by weight of the dry sand; moulds, cores
    std::optional<DrySand> dry;   ///< moulds and cores only
    std::string source;           ///< where the numbers come from, for people
};

/// Refuses data that cannot be: non-positive density, heat or conductivity, liquidus below solidus, a solid
/// fraction that does not run from 1 to 0 (with which the enthalpy would not rise), what belongs to another
/// kind of material or is there by half. Throws DataError.
void check(const Material& material);

}  // namespace sandfreeze::materials
