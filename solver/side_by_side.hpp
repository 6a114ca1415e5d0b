#pragma once
// Independent solves, some at a time.

#include <cstddef>
#include <functional>

namespace sandfreeze::solver
{

/// Runs jobs 0 … count − 1, as many at a time as there are threads, in that order of starting; each is told
/// how many threads it may use itself. Returns when all are done. What a job throws is thrown again then; of
/// several, what the first in order threw.
void side_by_side(std::size_t count, int threads,
                  const std::function<void(std::size_t job, int threads)>& job);

}  // namespace sandfreeze::solver
