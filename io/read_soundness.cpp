#include "io/read_soundness.hpp"

#include <algorithm>
#include <string>

#include "io/text.hpp"
#include "materials/mush_range.hpp"

namespace sandfreeze::io
{

namespace
{

const materials::Material& material_of(const Draft& draft, const solver::Part& part)
{
    return draft.case_.materials[static_cast<std::size_t>(part.material)];
}

bool is_casting(const solver::Part& part)
{
    return part.role == solver::Role::casting && part.material >= 0;
}

}  // namespace

void read_hydrogen(const Block& pour, Draft& draft)
{
    if (!pour.has("hydrogen_ml_100g")) return;
    draft.case_.hydrogen = pour.number("hydrogen_ml_100g");
    const auto& parts = draft.case_.parts;
    const bool dissolves = std::any_of(parts.begin(), parts.end(), [&](const solver::Part& part) {
        return is_casting(part) && material_of(draft, part).hydrogen;
    });
    const auto casting = std::find_if(parts.begin(), parts.end(), is_casting);
    if (casting != parts.end() && !dissolves)
        draft.warn(pour.place_of("hydrogen_ml_100g"),
                   "hydrogen_ml_100g does nothing: how much hydrogen " +
                       quoted(material_of(draft, *casting).name) +
                       " dissolves is not known; give hydrogen_solubility_ml_100g and hydrogen_partition in "
                       "a [[material]] of your own, or take it out");
}

void read_opening(const Block& mould, Draft& draft)
{
    if (!mould.has("open_below_C")) return;
    const double below = mould.number("open_below_C");
    draft.case_.run.open_below = below;
    const std::string value = "open_below_C = " + number_text(below);
    const double mould_temperature = draft.case_.parts.front().temperature;
    if (below <= mould_temperature) {
        draft.problem(mould.place_of("open_below_C"),
                      value + " is not above the mould's temperature_C = " + number_text(mould_temperature) +
                          ", so that no casting ever cools to it; give a higher one");
        return;
    }
    for (const solver::Part& part : draft.case_.parts) {
        if (!is_casting(part)) continue;
        const auto mush = materials::mush_range(material_of(draft, part));
        if (!mush || below < mush->end) continue;
        draft.problem(mould.place_of("open_below_C"),
                      value + ", but " + quoted(part.name) + " is wholly solid only below " +
                          number_text(mush->end) + " °C; give a temperature well below that");
        return;
    }
}

}  // namespace sandfreeze::io
