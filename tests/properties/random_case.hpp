#pragma once
// Case files drawn at random, small and valid as a rule: what the tests of this folder hold their claims
// against.

#include <string>

#include <rapidcheck.h>

namespace sandfreeze::properties
{

/// What may be in a case that is drawn.
enum class Contents {
    anything,  ///< every view and model
    /// Upright walls and conduction alone, with numbers that do not vary with temperature: no water, filling,
    /// burning or open tops. Here heat only flows from warm to cold, and more of it the larger the
    /// difference.
    plain_conduction,
    /// Likewise, of a size that is cast in sand: cells of 2 mm or more, and sand all around. Laws of cell
    /// sizes are in millimetres, and made for that.
    sand_castings,
    /// Likewise, of one alloy in one sand: no chills, cores, contacts or gaps, warm only where metal is. Sand
    /// all around: a pocket of it at the side of the box takes heat from hot metal and gives it back later.
    one_mould
};

/// The text of a case file of 1 to some 800 voxels (plans: some 3000). A few are refused by the reader.
rc::Gen<std::string> random_case(Contents contents);

}  // namespace sandfreeze::properties
