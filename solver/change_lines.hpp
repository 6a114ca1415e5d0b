#pragma once
// Which changes may mend a trouble, each as a line of growing sizes, the most promising line first.

#include <functional>
#include <optional>
#include <vector>

#include "solver/changes.hpp"
#include "solver/troubles.hpp"

namespace sandfreeze::solver
{

/// One kind of change in growing sizes.
struct ChangeLine {
    std::function<std::optional<Change>(const Design&, double size)> apply;
    std::vector<double> sizes;
    bool can_be_too_much = false;  ///< a smaller size may do where one does harm elsewhere
};

std::vector<ChangeLine> lines_for(const Design& now, const Answer& answer, const Trouble& trouble);

}  // namespace sandfreeze::solver
