#include "solver/conduction/kernel_sets.hpp"

#include "solver/conduction/kernels_body.hpp"

namespace sandfreeze::conduction
{

const Kernels<float> kernels_baseline_single = kernels_named<float>("baseline");
const Kernels<double> kernels_baseline_double = kernels_named<double>("baseline");

}  // namespace sandfreeze::conduction
