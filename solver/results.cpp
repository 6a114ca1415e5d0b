#include "solver/results.hpp"

#include <array>

namespace sandfreeze::solver
{

namespace
{

/// In the order of the enumeration.
constexpr std::array<std::string_view, 9> verdict_names{
    "ok", "marginal", "too early", "not needed", "fed", "cut off", "working", "weak", "no effect"};

}  // namespace

std::string_view to_string(Verdict verdict)
{
    return verdict_names[static_cast<std::size_t>(verdict)];
}

std::string_view to_string(FillingVerdict verdict)
{
    switch (verdict) {
    case FillingVerdict::early_skin:
        return "freezes before the mould is full";
    case FillingVerdict::cold_run:
        return "cold run";
    case FillingVerdict::frozen_way:
        return "way frozen while filling";
    default:
        return "hot";
    }
}

}  // namespace sandfreeze::solver
