#include "tools/advice_text.hpp"

#include <algorithm>
#include <cmath>
#include <sstream>

#include "tools/words.hpp"

namespace sandfreeze::tools
{

namespace
{

constexpr double times_answer = 12;
constexpr double least_seconds = 10;  // what is quick may be tried in full on a busy machine
constexpr std::size_t most_troubles = 4;
constexpr std::size_t most_in_vain = 2;

std::string lines_of(std::string_view label, const std::string& words)
{
    std::string text;
    for (const std::string& line : labelled_lines(label, words))
        text += line + '\n';
    return text;
}

std::string mass_words(const solver::TriedChange& tried)
{
    constexpr double none = 0.0005;  // kg
    if (std::abs(tried.extra_metal_kg) < none) return "no more metal";
    const bool more = tried.extra_metal_kg > 0;
    const int decimals = std::abs(tried.extra_metal_kg) < 0.1 ? 3 : 2;
    return kept_together(decimal(std::abs(tried.extra_metal_kg), decimals) + " kg") +
           (more ? " more" : " less") + " metal (" + decimal(std::abs(tried.extra_metal_percent), 1) + " %)";
}

/// "ok, 6 s to spare", "fed".
std::string outcome_words(const solver::TriedChange& tried)
{
    if (tried.verdict_after.empty()) return "not judged";
    std::string text = tried.verdict_after;
    if (tried.margin_after && *tried.margin_after > 0)
        text += ", " + kept_together(seconds_words(*tried.margin_after)) + " to spare";
    if (tried.margin_after && *tried.margin_after < 0)
        text += " by " + kept_together(seconds_words(-*tried.margin_after));
    return text;
}

/// What goes into the case file, indented as it can be copied.
std::string edit_lines(const solver::CaseEdit& edit)
{
    if (!edit.key.empty())
        return lines_of("       ",
                        edit.where + ", " + edit.key + ": " + edit.to + " instead of " + edit.from);
    std::string text = "       " + edit.where + ":\n";
    std::istringstream lines(edit.to);
    for (std::string line; std::getline(lines, line);)
        text += "         " + line + '\n';
    return text;
}

std::string offer_lines(std::size_t number, const solver::TriedChange& tried)
{
    std::string text = lines_of("  " + std::to_string(number) + ". ", capitalised(tried.change) + ".");
    std::string outcome = "Then " + outcome_words(tried) + "; " + mass_words(tried) + ".";
    for (const solver::VerdictChange& change : tried.worse)
        outcome += " But " + change.of + " is " + change.to +
                   (change.from.empty() ? "." : " instead of " + change.from + ".");
    for (const std::string& of : tried.mends_too)
        outcome += " Mends " + of + " too.";
    text += lines_of("     ", outcome);
    for (const solver::CaseEdit& edit : tried.edits)
        text += edit_lines(edit);
    return text;
}

std::string vain_words(const solver::TroubleAdvice& trouble)
{
    std::string text;
    const std::size_t told = std::min(trouble.not_enough.size(), most_in_vain);
    for (std::size_t k = 0; k < told; ++k) {
        const solver::TriedChange& tried = trouble.not_enough[k];
        text += (k == 0 ? "Nearest: " : "; ") + tried.change + " (" + outcome_words(tried);
        for (const solver::VerdictChange& change : tried.worse)
            text += ", but " + change.of + " is " + change.to;
        for (const std::string& of : tried.still_bad)
            text += ", still " + of;
        text += ")";
    }
    return text.empty() ? text : text + ".";
}

std::string trouble_lines(const solver::TroubleAdvice& trouble)
{
    std::string of = capitalised(trouble.verdict) + ": " + trouble.of;
    for (const std::string& other : trouble.with)
        of += ", " + other;
    std::string text = lines_of("", of);
    if (!trouble.because.empty()) text += lines_of("  ", trouble.because);
    for (std::size_t k = 0; k < trouble.offered.size(); ++k)
        text += offer_lines(k + 1, trouble.offered[k]);
    if (trouble.offered.empty() && !trouble.not_enough.empty()) text += lines_of("  ", vain_words(trouble));
    return text;
}

}  // namespace

double advice_seconds(double seconds_of_answer)
{
    return std::max(times_answer * seconds_of_answer, least_seconds);
}

std::string advice_notice(std::size_t solves, double seconds_of_answer, int threads)
{
    const double rounds = std::ceil(static_cast<double>(solves) / std::max(threads, 1));
    const double seconds = std::min(rounds * seconds_of_answer, advice_seconds(seconds_of_answer));
    return "What would mend it: up to " + count_words(solves, "more solve") + ", roughly " +
           time_words(std::ceil(seconds)) + ".\nCtrl-C keeps the answer; --no-advice leaves it out.\n";
}

std::string advice_text(const solver::Advice& advice)
{
    std::string text = "What would mend it, each change tried by a solve of its own (" +
                       count_words(advice.solves, "solve") + ")\n";
    const std::size_t told = std::min(advice.troubles.size(), most_troubles);
    for (std::size_t k = 0; k < told; ++k)
        text += trouble_lines(advice.troubles[k]);
    if (told < advice.troubles.size())
        text += count_words(advice.troubles.size() - told, "more") + ": see summary.json\n";
    if (!advice.because.empty()) text += lines_of("", advice.because);
    return text;
}

}  // namespace sandfreeze::tools
