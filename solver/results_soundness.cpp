#include "solver/results_soundness.hpp"

namespace sandfreeze::solver
{

std::string_view to_string(FreezingManner manner)
{
    switch (manner) {
    case FreezingManner::one_temperature:
        return "at one temperature";
    case FreezingManner::hardly_shrinks:
        return "hardly shrinks";
    case FreezingManner::steel:
        return "steel";
    case FreezingManner::short_range:
        return "short range";
    case FreezingManner::middling:
        return "middling range";
    case FreezingManner::long_range:
        return "long range";
    }
    return "";
}

}  // namespace sandfreeze::solver
