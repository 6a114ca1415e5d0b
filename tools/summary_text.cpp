#include "tools/summary_text.hpp"

#include <algorithm>
#include <limits>
#include <optional>
#include <span>

#include "io/text.hpp"
#include "tools/feeding_text.hpp"
#include "tools/findings.hpp"
#include "tools/soundness_text.hpp"
#include "tools/words.hpp"

namespace sandfreeze::tools
{

namespace
{

using solver::Verdict;
using Lines = std::vector<std::string>;

/// How much room facts take beside the findings.
enum class Room { ample, less, scarce };

constexpr std::size_t label_width = 16;
constexpr std::size_t all_lines = std::numeric_limits<std::size_t>::max();
constexpr std::string_view everything_in = "report.html";

void append(Lines& lines, const Lines& more)
{
    lines.insert(lines.end(), more.begin(), more.end());
}

/// A fact after its label; at most so many lines, the last one cut short.
Lines fact(std::string_view label, std::string_view text, std::size_t most)
{
    Lines lines = labelled_lines(padded(label, label_width), text);
    if (lines.size() <= most) return lines;
    lines.resize(most);
    lines.back() = shortened(lines.back() + " ...", screen_width);
    if (!lines.back().ends_with("...")) lines.back() += " ...";
    return lines;
}

std::string joined(const Lines& pieces)
{
    std::string text;
    for (const std::string& piece : pieces)
        text += (text.empty() ? "" : ", ") + piece;
    return text;
}

/// A list after its label; pieces that have no room are left out whole.
Lines list_fact(std::string_view label, std::string_view opening, const Lines& pieces, std::size_t most)
{
    std::string text(opening);
    for (std::size_t n = 0; n < pieces.size(); ++n) {
        const std::string next = (n == 0 ? std::string() : ", ") + pieces[n];
        const std::string more = n + 1 < pieces.size() ? ", ..." : "";
        std::string longer = text;
        longer += next;
        longer += more;
        if (n > 0 && fact(label, longer, most + 1).size() > most) return fact(label, text + ", ...", most);
        text += next;
    }
    return fact(label, text, most);
}

std::string named_seconds(const std::string& name, std::optional<double> seconds)
{
    return name_words(name) + (seconds ? " " + seconds_words(*seconds) : "");
}

/// Gates or feeders that are ok, with what they have to spare.
template <class Reports>
void add_ok(std::string_view label, const Reports& reports, std::size_t most, Lines& lines)
{
    Lines ok;
    for (const auto& report : reports)
        if (report.verdict == Verdict::ok)
            ok.push_back(kept_together(named_seconds(report.name, report.margin)));
    if (!ok.empty()) append(lines, list_fact(label, "ok, to spare: ", ok, most));
}

void add_fed_spots(const solver::Answer& answer, std::size_t most, Lines& lines)
{
    Lines fed;
    for (const solver::HotSpot& spot : answer.hot_spots)
        if (spot.verdict == Verdict::fed)
            fed.push_back(name_words(spot.part) + " at " + place_words(spot.at));
    if (!fed.empty()) append(lines, list_fact("hot spots", "fed to the end: ", fed, most));
}

void add_chills(const solver::Answer& answer, std::size_t most, Lines& lines)
{
    Lines working;
    Lines unjudged;
    for (const solver::ChillReport& chill : answer.chills)
        if (chill.verdict == Verdict::working)
            working.push_back(name_words(chill.name) + ", the metal by it freezes " +
                              decimal(-chill.change_percent.value_or(0), 0) + " % sooner");
        else if (!chill.verdict)
            unjudged.push_back(name_words(chill.name));
    if (!working.empty()) append(lines, list_fact("chills", "working: ", working, most));
    if (!unjudged.empty()) append(lines, list_fact("chills", "not judged: ", unjudged, most));
}

void add_passed_checks(const solver::Answer& answer, std::size_t most, Lines& lines)
{
    Lines passed;
    for (const solver::CheckReport& check : answer.checks)
        if (check.passed) passed.push_back(name_words(check.first) + " before " + name_words(check.then));
    if (!passed.empty()) append(lines, list_fact("checks", "hold: ", passed, most));
}

Lines fine_lines(const solver::Answer& answer, Room room)
{
    const std::size_t most = room != Room::scarce ? 2 : 1;
    Lines lines;
    add_ok("gates, necks", answer.gates, most, lines);
    add_ok("feeders", answer.feeders, most, lines);
    add_fed_spots(answer, most, lines);
    add_chills(answer, most, lines);
    add_passed_checks(answer, most, lines);
    return lines;
}

std::optional<double> last_freeze_of(const solver::Answer& answer, const std::string& name)
{
    for (const auto* list : {&answer.parts, &answer.regions})
        for (const solver::MetalReport& report : *list)
            if (report.name == name) return report.last_freeze;
    return std::nullopt;
}

Lines order_lines(const solver::Answer& answer, Room room)
{
    const std::size_t most = room != Room::scarce ? 3 : 1;
    Lines timed;
    Lines names;
    for (const std::string& name : answer.freeze_order) {
        timed.push_back(kept_together(named_seconds(name, last_freeze_of(answer, name))));
        names.push_back(kept_together(name_words(name)));
    }
    if (names.empty()) return {};
    const bool times_fit = fact("freezing order", joined(timed), most + 1).size() <= most;
    return list_fact("freezing order", "", times_fit ? timed : names, most);
}

/// The part whose metal is the last of all.
std::string part_at_last(const solver::Answer& answer)
{
    const auto last =
        std::max_element(answer.parts.begin(), answer.parts.end(), [](const auto& a, const auto& b) {
            return a.last_freeze.value_or(-1) < b.last_freeze.value_or(-1);
        });
    return last == answer.parts.end() ? "" : " in " + name_words(last->name);
}

Lines total_lines(const solver::Answer& answer)
{
    Lines lines;
    const solver::MetalTotal& metal = answer.metal;
    if (metal.last_freeze && metal.last_freeze_at)
        append(lines,
               fact("last metal",
                    "after " + decimal(*metal.last_freeze, 0) + " s (" + time_words(*metal.last_freeze) +
                        "), at " + place_words(*metal.last_freeze_at) + part_at_last(answer),
                    2));
    append(lines, fact("poured",
                       io::rounded_text(metal.mass, 3) + " kg, " + io::rounded_text(metal.volume * 1e6, 3) +
                           " cm3; " + decimal(answer.shrinkage.yield_percent, 0) + " % of it is casting",
                       1));
    return lines;
}

/// How the mould filled; what was wrong with it is among the findings.
Lines filling_lines(const solver::Answer& answer)
{
    if (!answer.filling) return {};
    const solver::FillingReport& filling = *answer.filling;
    std::string text =
        filling.filled ? "full after " + decimal(*filling.filled, 1) + " s" : "not full when the run ended";
    text += " from " + name_words(filling.enters);
    if (filling.verdict == solver::FillingVerdict::hot) text += ". " + filling.because;
    return fact("filling", text, 3);
}

Lines warning_lines(const solver::Answer& answer, Room room, bool written)
{
    Lines warnings = answer.warnings;
    if (answer.filling)  // stands among the findings
        std::erase_if(warnings, [&](const std::string& w) { return w.ends_with(answer.filling->because); });
    const std::size_t all = warnings.size();
    const bool scarce = room == Room::scarce;
    // What was not written can only be read here.
    const std::size_t shown = written ? std::min<std::size_t>(all, scarce ? 1 : 2) : all;
    const std::size_t most = !written ? all_lines : scarce ? 1 : 2;
    Lines lines;
    for (std::size_t w = 0; w < shown; ++w)
        append(lines, fact("warning", warnings[w], most));
    if (all > shown)
        append(lines, fact("warnings",
                           std::to_string(all - shown) + (shown > 0 ? " more" : "") + " in " +
                               std::string(everything_in),
                           1));
    return lines;
}

std::string heat_words(double joules)
{
    return joules >= 1e6 ? decimal(joules / 1e6, 1) + " MJ" : decimal(joules / 1e3, 1) + " kJ";
}

/// What models besides conduction did.
Lines model_lines(const solver::Answer& answer)
{
    constexpr std::size_t most = 2;
    Lines sleeves;
    for (const solver::BurningReport& r : answer.models.burning)
        sleeves.push_back(name_words(r.name) + (r.ignited
                                                    ? " lit up after " + decimal(*r.ignited, 0) +
                                                          " s and gave off " + heat_words(r.heat_released)
                                                    : " did not light up"));
    Lines tops;
    for (const solver::OpenTopReport& r : answer.models.open_tops)
        if (r.emissivity)
            tops.push_back(name_words(r.name) + " lost " + heat_words(r.radiated + r.convected) +
                           (r.cover > 0 ? " through its cover" : " to the open"));
    Lines lines;
    if (!sleeves.empty()) append(lines, list_fact("sleeves", "", sleeves, most));
    if (!tops.empty()) append(lines, list_fact("open tops", "", tops, most));
    if (answer.models.moisture) append(lines, fact("sand's water", answer.models.moisture->because, most));
    return lines;
}

/// How far the answer is from a finer one, and whose verdicts that would change.
Lines self_check_lines(const solver::Answer& answer)
{
    if (!answer.self_check) return {};
    const solver::SelfCheck& check = *answer.self_check;
    Lines changed;
    for (const auto* list : {&check.gates, &check.feeders})
        for (const solver::MarginShift& shift : *list)
            if (shift.verdict_changes) changed.push_back(name_words(shift.name));
    return fact("self-check",
                "with finer cells and steps 99 of 100 places freeze within " +
                    decimal(check.most_percent, 1) + " % of these times; " +
                    (changed.empty() ? "no verdict changes" : "other verdicts for " + joined(changed)),
                2);
}

Lines file_lines(const SummaryContext& context, Room room)
{
    if (context.folder.empty()) return {};
    const std::string folder = shortened(context.folder, screen_width - label_width - 1);
    return room != Room::scarce ? fact("files in", folder + ": " + joined(context.files), 3)
                                : list_fact("files in", folder + ": ", context.files, 1);
}

Lines tail_lines(const solver::Answer& answer, const SummaryContext& context, Room room)
{
    Lines lines = fine_lines(answer, room);
    for (const auto& [label, text] : feeding_facts(answer))
        append(lines, fact(label, text, 1));
    append(lines, order_lines(answer, room));
    append(lines, filling_lines(answer));
    append(lines, total_lines(answer));
    for (const auto& [label, text] : soundness_facts(answer))
        append(lines, fact(label, text, room == Room::ample ? 2 : 1));
    if (room == Room::ample) append(lines, model_lines(answer));
    append(lines, self_check_lines(answer));
    append(lines, warning_lines(answer, room, !context.folder.empty()));
    append(lines, file_lines(context, room));
    return lines;
}

/// `colour` is a terminal's number: 31 red, 33 yellow.
std::string emphasised(const std::string& text, Emphasis emphasis, std::string_view colour = "")
{
    if (emphasis == Emphasis::none) return text;
    return "\033[1" + (colour.empty() ? "" : ';' + std::string(colour)) + 'm' + text + "\033[0m";
}

std::string_view colour_of(Gravity gravity)
{
    return gravity == Gravity::bad ? "31" : gravity == Gravity::close_call ? "33" : "";
}

Lines finding_lines(const Finding& finding, Emphasis emphasis)
{
    Lines lines = labelled_lines("", capitalised(finding.verdict) + ": " + finding.what);
    lines.front() = emphasised(lines.front(), emphasis, colour_of(finding.gravity));
    append(lines, labelled_lines("    ", finding.because));
    return lines;
}

/// Findings that there is no room for, by their verdicts.
std::string rest_line(std::span<const Finding> rest)
{
    Lines verdicts;
    for (const Finding& finding : rest)
        if (std::find(verdicts.begin(), verdicts.end(), finding.verdict) == verdicts.end())
            verdicts.push_back(finding.verdict);
    return shortened("and " + std::to_string(rest.size()) + " more in " + std::string(everything_in) + ": " +
                         joined(verdicts),
                     screen_width);
}

/// As many findings as there is room for, the worst first; at least one.
Lines all_findings(const std::vector<Finding>& found, std::size_t room, Emphasis emphasis)
{
    Lines lines;
    for (std::size_t f = 0; f < found.size(); ++f) {
        const Lines next = finding_lines(found[f], emphasis);
        const std::size_t rest = f + 1 < found.size() ? 1 : 0;
        if (f > 0 && lines.size() + next.size() + rest > room) {
            lines.push_back(rest_line(std::span(found).subspan(f)));
            break;
        }
        append(lines, next);
    }
    return lines;
}

std::size_t room_beside(const Lines& head, const Lines& tail)
{
    const std::size_t taken = head.size() + 1 + tail.size();
    return screen_height - std::min(screen_height, taken);
}

}  // namespace

std::string summary_text(const solver::Case& c, const solver::Answer& answer, const SummaryContext& context)
{
    const std::vector<Finding> found = findings(answer);
    const Lines head{emphasised(shortened(c.title, screen_width), context.emphasis), headline(answer, found)};
    std::size_t needed = head.size() + 1;
    for (const Finding& finding : found)
        needed += finding_lines(finding, Emphasis::none).size();
    Lines tail;
    for (const Room room : {Room::ample, Room::less, Room::scarce}) {
        tail = tail_lines(answer, context, room);
        if (needed + tail.size() <= screen_height) break;
    }

    Lines lines = head;
    const std::size_t room = context.folder.empty() ? all_lines : room_beside(head, tail);
    append(lines, all_findings(found, room, context.emphasis));
    lines.emplace_back();
    append(lines, tail);
    std::string text;
    for (const std::string& line : lines)
        text += line + '\n';
    return text;
}

}  // namespace sandfreeze::tools
