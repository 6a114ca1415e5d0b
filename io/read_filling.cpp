#include "io/read_filling.hpp"

#include "io/nearest_name.hpp"
#include "io/text.hpp"

namespace sandfreeze::io
{

namespace
{

std::vector<std::string> poured_names(const Draft& draft)
{
    std::vector<std::string> names;
    for (const solver::Part& part : draft.case_.parts)
        if (solver::is_poured(part.role)) names.push_back(part.name);
    return names;
}

/// The part of that name, which must be poured; its absence is reported.
std::optional<std::size_t> poured_part(const Block& pour, const std::string& name, Draft& draft)
{
    const std::vector<solver::Part>& parts = draft.case_.parts;
    for (std::size_t p = 0; p < parts.size(); ++p) {
        if (parts[p].name != name || parts[p].hole_above) continue;
        if (solver::is_poured(parts[p].role)) return p;
        draft.problem(pour.place_of("enters"), "enters = " + quoted(name) + " is of role " +
                                                   std::string(solver::to_string(parts[p].role)) +
                                                   "; expected a part that is poured, such as a sprue");
        return std::nullopt;
    }
    draft.problem(pour.place_of("enters"), "enters = " + quoted(name) + " is no part; " +
                                               suggestion(name, poured_names(draft), "the poured parts"));
    return std::nullopt;
}

}  // namespace

void read_filling(const Block& pour, Draft& draft)
{
    if (pour.is_faulty("fill_time_s") || pour.is_faulty("enters")) return;
    const double fill_time = pour.number("fill_time_s");
    if (pour.has("enters")) {
        const auto part = poured_part(pour, pour.text("enters"), draft);
        if (part && fill_time <= 0)
            draft.warn(pour.place_of("enters"),
                       "enters is of no use with fill_time_s = 0: the mould is full at the start");
        if (fill_time > 0) draft.case_.enters = part;
    } else if (fill_time > 0) {
        draft.problem(pour.place_of("fill_time_s"),
                      "fill_time_s = " + number_text(fill_time) +
                          ", and enters is missing; give the part at whose top the metal comes in, such as "
                          "enters = \"sprue\"");
    }
    draft.case_.fill_time = fill_time;
}

}  // namespace sandfreeze::io
