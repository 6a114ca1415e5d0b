#include "materials/mush_range.hpp"

#include "materials/freezing_curve.hpp"

namespace sandfreeze::materials
{

std::optional<MushRange> mush_range(const Material& material)
{
    if (material.kind != Kind::metal || !material.freezing) return {};
    const FreezingCurve curve(*material.freezing);
    return MushRange{curve.liquidus(), curve.solidus(), curve.isothermal_rest()};
}

}  // namespace sandfreeze::materials
