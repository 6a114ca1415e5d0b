#pragma once
// What would mend a design: changes of the case, each tried by a solve.

#include <cstddef>
#include <optional>
#include <string>
#include <vector>

#include "mesh/shape.hpp"
#include "solver/verdict_change.hpp"

namespace sandfreeze::solver
{

/// Where the case file is to be edited, in its own words.
struct CaseEdit {
    std::string where;  ///< "part 'ingate'", "[pour]", "a new part, before the others"
    std::string key;    ///< "rectangle.y_mm"; empty for a new part
    std::string from;   ///< as TOML; empty for a new part
    std::string to;     ///< as TOML; a whole [[part]] table for a new part
};

/// A change of the design and what a solve of it showed.
struct TriedChange {
    std::string change;  ///< "make gate 'ingate' 8 mm thick instead of 6 mm"
    std::vector<CaseEdit> edits;
    std::optional<double> margin_before;  ///< [s]; of hot spots minus the unfed time
    std::optional<double> margin_after;   ///< likewise; empty where none is measured any more
    std::string verdict_after;
    double extra_metal_kg = 0;
    double extra_metal_percent = 0;    ///< of the metal poured so far
    std::string because;               ///< the verdict's own reason in the changed design
    std::vector<VerdictChange> worse;  ///< what it costs elsewhere; never a bad verdict in what is offered
    /// Of the trouble's verdicts those that are still bad, "check 'arm' before 'boss' failed".
    std::vector<std::string> still_bad{};
    std::vector<std::string> mends_too{};  ///< other troubles that it ends
};

/// One cause of bad verdicts.
struct TroubleAdvice {
    std::string of;       ///< "gate 'ingate'", "hot spot in 'boss'", "check 'arm' before 'boss'"
    std::string verdict;  ///< "too early"
    mesh::Place at;
    std::optional<double> margin;      ///< [s]; of hot spots minus the unfed time
    std::vector<std::string> with;     ///< bad verdicts of the same cause, such as hot spots behind the gate
    std::vector<TriedChange> offered;  ///< what mends it, three at most; the least metal first
    std::vector<TriedChange> not_enough;  ///< what was tried in vain
    std::string because;                  ///< what came of it, in a caster's words
};

struct Advice {
    std::vector<TroubleAdvice> troubles;  ///< the worst first
    std::size_t solves = 0;
    bool whole = true;    ///< false: it was stopped, or its time or its solves were used up
    std::string because;  ///< why it ended early; empty where it did not
};

}  // namespace sandfreeze::solver
