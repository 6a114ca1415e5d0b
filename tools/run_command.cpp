#include "tools/run_command.hpp"

#include <unistd.h>

#include <chrono>
#include <cstdlib>
#include <filesystem>
#include <iostream>
#include <string_view>
#include <utility>

#include "io/text.hpp"
#include "solver/advice.hpp"
#include "solver/what_matters.hpp"
#include "tools/advice_text.hpp"
#include "tools/answer_folder.hpp"
#include "tools/case_source.hpp"
#include "tools/findings.hpp"
#include "tools/machine.hpp"
#include "tools/matters_text.hpp"
#include "tools/progress_line.hpp"
#include "tools/section_facts.hpp"
#include "tools/sketch_text.hpp"
#include "tools/stop_signal.hpp"
#include "tools/summary_text.hpp"

namespace sandfreeze::tools
{

namespace
{

using Clock = std::chrono::steady_clock;

double seconds_since(Clock::time_point start)
{
    return std::chrono::duration<double>(Clock::now() - start).count();
}

solver::Answer solve_watched(const CaseSource& source, const RunRequest& request,
                             CheckpointFolder& checkpoints)
{
    ProgressLine line(showing_progress(request.chatter));
    const auto watch = [&](const solver::Progress& progress) {
        line.show(progress);
        return !stop_asked();
    };
    solver::Answer answer = solver::solve(source.file.case_, request.solve, watch, &checkpoints);
    answer.run.solve_seconds = checkpoints.seconds();
    std::vector<std::string> warnings = source.file.warnings;
    for (const mesh::ThinPlace& place : thin_places_of(source.file.case_, answer.painting, answer.run.finer))
        warnings.push_back(thin_words(source.file.case_, place) + ".");
    answer.warnings.insert(answer.warnings.begin(), warnings.begin(), warnings.end());
    return answer;
}

/// Finds out what the answer hangs on, and puts it into it.
void study_what_matters(const CaseSource& source, const RunRequest& request, solver::Answer& answer)
{
    if (!answer.run.all_solid) {
        answer.warnings.emplace_back("What matters was not looked into: not all metal became solid.");
        return;
    }
    const solver::Case& c = source.file.case_;
    const std::vector<solver::Variation> variations = solver::variations_of(c, answer.painting);
    if (request.chatter == Chatter::progress)
        std::cerr << matters_notice(variations.size(), answer.run.solve_seconds, answer.run.threads);
    ProgressLine line(showing_progress(request.chatter));
    const auto watch = [&](const solver::Progress& progress) {
        line.show(progress);
        return !stop_asked();
    };
    answer.what_matters = solver::what_matters(c, answer, variations, request.solve, watch);
}

/// Tries out what would mend bad verdicts, and puts it into the answer. Where nothing is wrong nothing is
/// done.
void find_advice(const CaseSource& source, const RunRequest& request, solver::Answer& answer)
{
    if (!answer.run.all_solid || stop_asked()) return;
    const solver::Case& c = source.file.case_;
    const std::size_t solves = solver::advice_solves_foreseen(c, answer);
    if (solves == 0) return;
    if (request.chatter == Chatter::progress)
        std::cerr << advice_notice(solves, answer.run.solve_seconds, answer.run.threads);
    ProgressLine line(showing_progress(request.chatter));
    const auto watch = [&](const solver::Progress& progress) {
        line.show(progress);
        return !stop_asked();
    };
    const Clock::time_point start = Clock::now();
    solver::AdviceLimits limits;
    limits.time_is_up = [&] { return seconds_since(start) > advice_seconds(answer.run.solve_seconds); };
    answer.advice = solver::advise(c, answer, request.solve, watch, limits);
}

std::vector<std::string> write_answer(AnswerFolder& folder, const CaseSource& source, solver::Answer& answer,
                                      const Extras& extras, const CheckpointFolder& checkpoints)
{
    std::vector<std::string> names = folder.write_fields(source, answer, extras);
    answer.run.wall_seconds = checkpoints.seconds();
    answer.run.peak_memory_bytes = peak_memory();
    folder.write_summary(source, answer);
    names.emplace_back("summary.json");
    return names;
}

RunFacts facts_of(const CaseSource& source, const RunRequest& request)
{
    RunFacts facts{SANDFREEZE_VERSION, source.text, request};
    facts.request.case_file = std::filesystem::absolute(request.case_file);
    return facts;
}

/// The value of an environment variable; empty where it is not set.
std::string_view environment(const char* name)
{
    const char* value = std::getenv(name);
    return value != nullptr ? value : "";
}

/// Colour and bold on terminals that can, unless NO_COLOR is set to anything (no-color.org).
Emphasis emphasis_for_output()
{
    const bool plain =
        !environment("NO_COLOR").empty() || environment("TERM") == "dumb" || isatty(STDOUT_FILENO) != 1;
    return plain ? Emphasis::none : Emphasis::colour;
}

/// What the locale's characters can show.
Alphabet alphabet_of_locale()
{
    for (const char* name : {"LC_ALL", "LC_CTYPE", "LANG"}) {
        const std::string_view value = environment(name);
        if (value.empty()) continue;
        const bool utf8 = value.find("UTF-8") != value.npos || value.find("utf8") != value.npos ||
                          value.find("utf-8") != value.npos || value.find("UTF8") != value.npos;
        return utf8 ? Alphabet::utf8 : Alphabet::ascii;
    }
    return Alphabet::ascii;
}

ExitCode exit_code_of(const solver::Answer& answer, Judging judging)
{
    if (const auto stopped = stop_asked()) return *stopped;
    const bool failed = has_failed_check(answer) || (judging == Judging::strict && has_bad_verdict(answer));
    return failed ? ExitCode::check_failed : ExitCode::done;
}

}  // namespace

ExitCode run(const RunRequest& request)
{
    return compute(read_case_source(request.case_file), request, {});
}

ExitCode compute(const CaseSource& source, const RunRequest& request, std::optional<Continuation> earlier)
{
    AnswerFolder folder(request.folder, source.text, request.replacing,
                        earlier ? std::optional(std::move(earlier->lock)) : std::nullopt);
    CheckpointFolder checkpoints = earlier ? CheckpointFolder(folder.path(), std::move(earlier->past))
                                           : CheckpointFolder(folder.path(), facts_of(source, request));
    listen_for_stop();
    solver::Answer answer = solve_watched(source, request, checkpoints);
    if (request.mattering == Mattering::study) study_what_matters(source, request, answer);
    if (request.advising == Advising::give) find_advice(source, request, answer);
    SummaryContext context{"", {}, emphasis_for_output()};
    const bool keeps_earlier = is_of_stopped_run(answer) && answer_in(folder.path()) == AnswerThere::whole;
    try {
        if (!keeps_earlier) {
            context.files = write_answer(folder, source, answer, request.extras, checkpoints);
            context.folder = io::printable(request.folder.string());
        }
        if (!checkpoints.unfinished()) checkpoints.remove();
    } catch (...) {  // a full disk takes the files, not the answer
        std::cout << summary_text(source.file.case_, answer, context);
        throw;
    }
    std::cout << summary_text(source.file.case_, answer, context);
    if (request.sketching == Sketching::draw)
        std::cout << '\n' << sketch_text(source.file.case_, answer, alphabet_of_locale());
    if (answer.what_matters) std::cout << '\n' << matters_text(*answer.what_matters);
    if (answer.advice) std::cout << '\n' << advice_text(*answer.advice);
    if (keeps_earlier)
        std::cout << "\nNot written: " << io::printable(request.folder.string())
                  << " holds the whole answer of an earlier run, and that stays.\n";
    if (checkpoints.can_go_on())
        std::cout << "\nTo go on with it: sandfreeze resume " << io::printable(request.folder.string())
                  << '\n';
    return exit_code_of(answer, request.judging);
}

}  // namespace sandfreeze::tools
