#include "solver/conduction/kernel_sets.hpp"

#include "solver/conduction/kernels_body.hpp"

namespace sandfreeze::conduction
{

const Kernels<float> kernels_avx512_single = kernels_named<float>("avx512");
const Kernels<double> kernels_avx512_double = kernels_named<double>("avx512");

}  // namespace sandfreeze::conduction
