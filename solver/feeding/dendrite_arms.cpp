#include "solver/feeding/dendrite_arms.hpp"

#include <cmath>
#include <limits>

namespace sandfreeze::feeding
{

double arm_spacing(const materials::Material& material, double local_freezing)
{
    if (!material.dendrite_arm || !(local_freezing > 0) || !std::isfinite(local_freezing))
        return std::numeric_limits<double>::quiet_NaN();
    return 1e-6 * material.dendrite_arm->constant_um *
           std::pow(local_freezing, material.dendrite_arm->exponent);
}

}  // namespace sandfreeze::feeding
