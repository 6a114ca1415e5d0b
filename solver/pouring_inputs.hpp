#pragma once
// What a case may say for the sheet of the pour. Nothing of it enters a solve.

#include <optional>

namespace sandfreeze::solver
{

/// A number that the case gives, or the usual one in its place.
struct Stated {
    double value = 0;
    bool given = false;
};

struct MeltInputs {
    Stated loss{3};                       ///< of the charge, burnt and skimmed off [%]
    Stated spare{10};                     ///< melted beyond what the mould takes [%]
    Stated heel{0};                       ///< stays behind in the crucible [kg]
    Stated fill_at_most{80};              ///< of the crucible's brim [%]
    std::optional<double> brim;           ///< the crucible's volume, full to the brim [m3]
    std::optional<double> crucible_mass;  ///< [kg]
};

struct SprueInputs {
    std::optional<double> height;  ///< from the parting plane up to the metal's level at the pour [m]
    std::optional<double> choke;   ///< its narrowest cross-section [m2]
    Stated loss_factor{0.8};       ///< of the speed without friction
    Stated basin{0.05};            ///< depth of metal over the sprue's top [m]
};

struct FlaskInputs {
    std::optional<double> length;   ///< inside [m]
    std::optional<double> width;    ///< inside [m]
    std::optional<double> cope;     ///< height [m]
    std::optional<double> drag;     ///< height [m]
    std::optional<double> parting;  ///< height of the parting plane in upright sections [m]
    Stated frame_mass{0};           ///< of cope or drag without sand [kg]
    Stated lift_factor{1.5};        ///< by which weights must exceed the lift
};

struct GreenSandInputs {
    std::optional<double> clay;  ///< of the dry sand's weight [%]
    Stated spare{15};            ///< of a batch, for spills and what stays in the mixer [%]
    Stated strength{15e3};       ///< in tension, green [Pa]
};

struct LiftingInputs {
    Stated one_person{23};  ///< what one person may lift [kg]
    Stated people{1};       ///< who lift together
};

struct PouringInputs {
    MeltInputs melt;
    SprueInputs sprue;
    FlaskInputs flask;
    GreenSandInputs green_sand;
    LiftingInputs lifting;
};

}  // namespace sandfreeze::solver
