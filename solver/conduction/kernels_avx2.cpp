#include "solver/conduction/kernel_sets.hpp"

#include "solver/conduction/kernels_body.hpp"

namespace sandfreeze::conduction
{

const Kernels<float> kernels_avx2_single = kernels_named<float>("avx2");
const Kernels<double> kernels_avx2_double = kernels_named<double>("avx2");

}  // namespace sandfreeze::conduction
