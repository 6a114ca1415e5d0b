#pragma once
// Water that boils in the sand, moves out as steam and condenses where it is cooler.

#include <cstdint>
#include <span>
#include <vector>

#include "solver/conduction/network.hpp"
#include "solver/conduction/property_table.hpp"
#include "solver/state.hpp"

namespace sandfreeze::conduction
{

/// What boiling has done so far.
struct BoiledWater {
    double boiled = 0;   ///< heat of boiling of the water that has left its place [J]
    double escaped = 0;  ///< heat that left with steam that found no cooler sand [J]
    double dried = 0;    ///< volume of sand without water [m3]
    double wet = 0;      ///< volume of sand that had some at the start [m3]
    double water = 0;    ///< at the start, as the heat that it takes to boil [J]
};

/// The same where water boils in its place, which shows in the sand's enthalpies [J/m3]; volumes [m3], placed
/// order.
BoiledWater boiled_in_place(const Network& network, const std::vector<PropertyTable>& tables,
                            std::span<const double> enthalpy, std::span<const double> volume);

/// Steam that moves: between steps, what a cell of wet sand holds beyond 100 °C boils water away, and goes
/// with the steam through the cells at 100 °C to the nearest cooler ones, which it warms and wets. Steam
/// meets no resistance and brings nothing but its heat of boiling; the warmth of the water itself stays
/// behind. Water is counted as the heat that it takes to boil [J/m3].
///
/// The enthalpies of T(H) run through the whole heat of boiling, so that a cell whose water has left
/// otherwise is lifted over it when it is dry; `hidden` is that lift, which is no heat.
class Steam
{
public:
    /// All wet sand holds its material's own water. Enthalpies and volumes [m3], as heat is counted by, in
    /// placed order.
    Steam(const Network& network, const std::vector<PropertyTable>& tables, std::span<const double> volume);

    /// Moves what has boiled since the last call; returns whether any enthalpy has changed [J/m3].
    bool move(std::span<double> enthalpy);

    /// What is not heat in a cell's enthalpy [J/m3].
    double hidden(std::size_t cell) const { return lifted_[cell] != 0 ? rest_of(cell) : 0.0; }
    double water(std::size_t cell) const { return water_[cell]; }  ///< [J/m3]
    /// Takes over the water of cells that were joined, and lifts those that are dry. `heat` is without what
    /// was hidden; returns the enthalpy [J/m3].
    double take_over(std::size_t cell, double water, double heat);
    BoiledWater report() const;
    double escaped() const { return escaped_; }  ///< heat so far [J]
    void go_on_from(double escaped) { escaped_ = escaped; }

    void carry(solver::Archive& archive)
    {
        archive("water", water_);
        archive("lifted", lifted_);
        archive("escaped_J", escaped_);
    }

private:
    static constexpr std::int32_t elsewhere = -2;
    static constexpr std::int32_t unknown = -1;
    struct Path {
        std::int32_t cell;
        float strength;  ///< area over distance [m]
    };
    struct Boiling {
        double starts = 0;  ///< enthalpy at which it does [J/m3]
        double takes = 0;   ///< heat of boiling of the sand's own water [J/m3]
        bool any = false;
    };

    double rest_of(std::size_t cell) const { return of_material_[network_.material[cell]].takes; }
    double start_of(std::size_t cell) const { return of_material_[network_.material[cell]].starts; }
    bool is_porous(std::size_t cell) const
    {
        return of_material_[network_.material[cell]].any && volume_[cell] > 0;
    }
    std::span<const Path> paths(std::size_t cell) const
    {
        return {paths_.data() + first_path_[cell], paths_.data() + first_path_[cell + 1]};
    }
    void list_paths();
    bool boil(std::span<double> enthalpy);
    void find_ways_out(std::span<const double> enthalpy);
    void flow();
    bool condense(std::span<double> enthalpy);
    bool settle(std::size_t cell, double& enthalpy);

    const Network& network_;
    std::span<const double> volume_;
    std::vector<Boiling> of_material_;
    std::vector<std::size_t> first_path_;
    std::vector<Path> paths_;
    std::vector<double> water_;
    std::vector<std::uint8_t> lifted_;
    std::vector<std::int32_t> zone_;  ///< cells at 100 °C, and those that have just become dry
    std::vector<std::int32_t>
        away_;  ///< cells from the nearest cooler one, which is 0; `elsewhere` between calls
    std::vector<std::int32_t> order_;
    std::vector<double> steam_;  ///< heat on its way or arrived, 0 between calls [J]
    std::vector<std::int32_t> cooler_;
    double escaped_ = 0;
};

}  // namespace sandfreeze::conduction
