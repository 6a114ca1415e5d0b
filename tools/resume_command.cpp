#include "tools/resume_command.hpp"

#include <iostream>
#include <utility>

#include "io/errors.hpp"
#include "io/text.hpp"
#include "tools/answer_folder.hpp"
#include "tools/case_source.hpp"
#include "tools/checkpoint_folder.hpp"
#include "tools/folder_lock.hpp"
#include "tools/run_command.hpp"
#include "tools/staged_answer.hpp"

namespace sandfreeze::tools
{
namespace
{

constexpr const char* run_again = "run the case again: sandfreeze run CASE.toml -o DIR";

io::FileError cannot_go_on(const std::filesystem::path& folder, const std::string& why)
{
    return {folder.string(), "go on with", 0, why};
}

/// Why a folder without checkpoints cannot be gone on with.
std::string nothing_to_go_on_from(const std::filesystem::path& folder)
{
    if (!std::filesystem::is_directory(folder)) return "there is no such folder; name one after resume";
    if (answer_in(folder) == AnswerThere::stopped)
        return std::string("it holds a stopped run without checkpoints; ") + run_again;
    return std::string("it holds no checkpoint: a run writes them once it takes longer than "
                       "--checkpoint-every; ") +
           run_again;
}

/// The case belongs to the run: one that was edited asks for a run of its own.
void refuse_edited_case(const ResumeRequest& request, const RunFacts& facts)
{
    const std::filesystem::path copy = request.folder / "case.toml";
    if (case_was_changed(request.folder, facts.case_text))
        throw cannot_go_on(request.folder, "its case.toml was changed after the run began, and a run goes on "
                                           "with the case it began with. Run the changed one into another "
                                           "folder: sandfreeze run \"" +
                                               copy.string() + "\" -o NEW, or move it away");
    if (text_changed(facts.request.case_file, facts.case_text))
        std::cerr << "Note: " << io::printable(io::quoted(facts.request.case_file.string()))
                  << " was changed after the run began; the run goes on with the case as it was.\n";
}

RunRequest request_from(const ResumeRequest& request, const RunFacts& facts)
{
    RunRequest run = facts.request;
    run.folder = request.folder;
    run.replacing = Replacing::any;  // that was asked when the run began
    if (request.threads > 0) run.solve.threads = request.threads;
    if (request.checkpoint_every) run.checkpoint_every = *request.checkpoint_every;
    if (request.chatter == Chatter::quiet) run.chatter = Chatter::quiet;
    return run;
}

}  // namespace

ExitCode resume(const ResumeRequest& request)
{
    FolderLock lock(request.folder);
    // What a run had left to do when it was killed may be no more than that; its checkpoints go after it.
    if (finish_placing(request.folder)) {
        std::cout << io::printable(request.folder.string())
                  << " held a new answer that was not all in its place: now it is.\n";
        if (answer_in(request.folder) == AnswerThere::whole) {
            remove_checkpoints(request.folder);
            return ExitCode::done;
        }
    }
    if (!has_checkpoints(request.folder)) {
        if (answer_in(request.folder) != AnswerThere::whole)
            throw cannot_go_on(request.folder, nothing_to_go_on_from(request.folder));
        std::cout << io::printable(request.folder.string())
                  << " holds a whole answer: there is nothing to go on with.\n";
        return ExitCode::done;
    }
    Past past = find_past(request.folder);
    for (const std::string& warning : past.warnings)
        std::cerr << "sandfreeze: " << warning
                  << "\nThe run goes on from an older checkpoint, if there is one.\n";
    refuse_edited_case(request, past.facts);
    past.facts.request = request_from(request, past.facts);
    const RunRequest run = past.facts.request;
    const CaseSource source = case_source_of(past.facts.case_text, run.case_file);
    try {
        return compute(source, run, Continuation{std::move(past), std::move(lock)});
    } catch (const solver::StateError& error) {
        throw cannot_go_on(request.folder,
                           "a checkpoint does not fit: " + std::string(error.what()) + "; " + run_again);
    }
}

}  // namespace sandfreeze::tools
