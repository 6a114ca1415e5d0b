// Picks the kernels for the processor the program runs on.

#include "solver/conduction/kernel_sets.hpp"

namespace sandfreeze::conduction
{
namespace
{

#ifdef SANDFREEZE_X86_WIDTHS
template <class Real>
const Kernels<Real>& choose(const Kernels<Real>& widest, const Kernels<Real>& wide,
                            const Kernels<Real>& baseline)
{
    __builtin_cpu_init();
    if (__builtin_cpu_supports("avx512f") && __builtin_cpu_supports("avx512vl") &&
        __builtin_cpu_supports("avx512dq"))
        return widest;
    if (__builtin_cpu_supports("avx2") && __builtin_cpu_supports("fma")) return wide;
    return baseline;
}
#endif

}  // namespace

template <>
const Kernels<float>& best_kernels<float>()
{
#ifdef SANDFREEZE_X86_WIDTHS
    return choose(kernels_avx512_single, kernels_avx2_single, kernels_baseline_single);
#else
    return kernels_baseline_single;
#endif
}

template <>
const Kernels<double>& best_kernels<double>()
{
#ifdef SANDFREEZE_X86_WIDTHS
    return choose(kernels_avx512_double, kernels_avx2_double, kernels_baseline_double);
#else
    return kernels_baseline_double;
#endif
}

}  // namespace sandfreeze::conduction
