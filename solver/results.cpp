#include "solver/results.hpp"

#include <array>

namespace sandfreeze::solver
{

namespace
{

/// In the order of the enumeration.
constexpr std::array<std::string_view, 12> verdict_names{"ok",        "marginal", "too early", "not needed",
                                                         "fed",       "cut off",  "working",   "weak",
                                                         "no effect", "runs dry", "fails",     "not known"};

constexpr std::array<std::string_view, 7> questions{"needed", "heat",     "volume",  "junction",
                                                    "path",   "gradient", "pressure"};

}  // namespace

std::string_view to_string(Verdict verdict)
{
    return verdict_names[static_cast<std::size_t>(verdict)];
}

std::string_view to_string(Question question)
{
    return questions[static_cast<std::size_t>(question)];
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
