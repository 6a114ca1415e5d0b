#pragma once
// The kernels as built for each vector width.

#include "solver/conduction/kernels.hpp"

namespace sandfreeze::conduction
{

extern const Kernels<float> kernels_baseline_single;
extern const Kernels<double> kernels_baseline_double;
#ifdef SANDFREEZE_X86_WIDTHS
extern const Kernels<float> kernels_avx2_single;
extern const Kernels<double> kernels_avx2_double;
extern const Kernels<float> kernels_avx512_single;
extern const Kernels<double> kernels_avx512_double;
#endif

}  // namespace sandfreeze::conduction
