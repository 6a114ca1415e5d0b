#pragma once
// Which inputs of a case are uncertain, over what range, and the case at both ends of it.

#include <vector>

#include "mesh/painter.hpp"
#include "solver/case.hpp"
#include "solver/results.hpp"

namespace sandfreeze::solver
{

/// An input, what its ends are called (nothing is solved yet), and the case there.
struct Variation {
    UncertainInput input;
    Case less;
    Case more;
    bool low_end_matters = false;  ///< the low end is worth a solve whatever the high one shows
};

/// Every uncertain input of a painted case: temperatures of the pour and of the mould, and
/// how long it takes to fill; of each material that
/// is to be seen its conductivity, the heat it holds, its latent heat, feeding limit, moisture, emissivity
/// and heat of burning, as far as they play a part; heat transfer wherever parts touch, and what covers open
/// tops. Ranges are those that the library states beside its numbers; for the case's own numbers they are
/// assumed, and say so. The temperature at which metal freezes is left alone.
std::vector<Variation> variations_of(const Case& c, const mesh::Painting& painting);

}  // namespace sandfreeze::solver
