#include "solver/pouring/metal.hpp"

#include <algorithm>

namespace sandfreeze::pouring
{

double liquid_density(const materials::Material& metal, double temperature)
{
    const double above = metal.freezing ? std::max(0.0, temperature - metal.freezing->liquidus) : 0;
    const double expansion = metal.liquid_contraction_percent_per_100K.value_or(0) / 1e4 * above;
    return metal.density * (1 - metal.shrinkage_percent / 100) * (1 - expansion);
}

}  // namespace sandfreeze::pouring
