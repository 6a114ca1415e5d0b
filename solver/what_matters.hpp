#pragma once
// What the answer hangs on: every uncertain input on its own, from one end of its range to the other.

#include <cstddef>
#include <span>

#include "solver/solve.hpp"
#include "solver/variations.hpp"

namespace sandfreeze::solver
{

/// How many further solves that many inputs ask for, as far as can be told beforehand.
std::size_t solves_foreseen(std::size_t inputs);

/// Solves each variation at its high end, as many at a time as there are threads, and judges it as the answer
/// was. The low end is solved of the three inputs that move most, and wherever the opposite of what the high
/// end did would change a verdict. Solves go to where all metal is solid, whatever the case's own end;
/// chills are not tested in them. The answer is one of `c` in which all metal became solid.
/// A watcher that has had enough, and a solve that cannot go on, leave their ends unsolved.
WhatMatters what_matters(const Case& c, const Answer& answer, std::span<const Variation> variations,
                         const SolveOptions& options, const Watcher& watcher = {});

}  // namespace sandfreeze::solver
