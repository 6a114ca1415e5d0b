#pragma once
// A small plan that is right, for tests that change one thing in it.

#include <string>
#include <string_view>
#include <vector>

#include "base_case.hpp"

namespace sandfreeze::io::testing
{

/// Sand box 100 by 80 by 100 mm, 2 mm cells: a plate 10 mm thick on the parting plane, a feeder on it that
/// ends 20 mm below the top of the cope, a chill under it.
std::string_view plan_case();

/// The plan with the first `from` replaced; fails the test where there is none. Empty: `to` is added at its
/// end.
std::string changed_plan(std::string_view from, std::string_view to);

/// A part as lines of a plan.
std::string plan_part(const std::string& name, const std::string& role, const std::string& shape,
                      const std::string& z);

/// As check_all, of mistakes in the plan.
void check_all_in_plan(const std::vector<Mistake>& mistakes);

}  // namespace sandfreeze::io::testing
