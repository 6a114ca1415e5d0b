#include "solver/pouring/lifting.hpp"

#include <cmath>

#include "solver/feeding/sentences.hpp"

namespace sandfreeze::pouring
{

using feeding::number_words;
using feeding::words;

int people_for(double mass, double limit)
{
    return static_cast<int>(std::ceil(mass / limit - 1e-9));
}

void add_lifting(solver::SheetLine& line, const Desk& desk, double share)
{
    const solver::LiftingInputs& lifting = desk.c.pouring.lifting;
    const double limit = lifting.one_person.value * share;
    const int needed = people_for(line.value.value_or(0), limit);
    line.inputs.push_back(
        stated("one", "what one person may lift", lifting.one_person, 1, "kg", "[lifting] one_person_kg"));
    line.inputs.push_back(stated("people", "who lift together", lifting.people, 1, "", "[lifting] people"));
    if (share != 1)
        line.inputs.push_back(data("reach", "of that at arm's length", {share, ""}, "25 cm / 63 cm"));
    line.equation = line.equation.empty() ? "E23" : line.equation + ", E23";
    line.source +=
        words(line.source.empty() ? "" : " ",
              "General guidance: 23 kg (51 lb), close to the body, not often, by one person (NIOSH lifting "
              "equation, Waters et al. 1993, from memory)",
              share != 1 ? "; held 63 cm away it is 25/63 of that" : "", ". Local rules come first.");
    line.calls = needed > lifting.people.value;
    if (line.calls)
        line.caution = words("Over the ", number_words(limit * lifting.people.value), " kg that ",
                             lifting.people.value > 1 ? number_words(lifting.people.value) + " people"
                                                      : std::string("one person"),
                             " may lift here",
                             needed <= 4 ? words(": takes ", number_words(needed)) : ": use a hoist", ".");
}

}  // namespace sandfreeze::pouring
