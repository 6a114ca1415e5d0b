#include "tools/command_line.hpp"

#include <CLI/CLI.hpp>

#include <algorithm>
#include <array>
#include <string>
#include <vector>

#include "io/nearest_name.hpp"
#include "io/text.hpp"
#include "tools/help_topics.hpp"

namespace sandfreeze::tools
{

namespace
{

constexpr int most_threads = 256;

/// What the options of all commands fill in.
struct Words {
    std::string case_file;
    std::string folder;
    std::string picture;
    std::string material;
    std::string plot;
    std::string topic;
    std::string html;
    std::string json;
    std::string explain;
    int threads = 0;
    bool version = false;
    bool quiet = false;
    bool strict = false;
    bool no_chill_test = false;
    bool self_check = false;
    bool what_matters = false;
    bool no_advice = false;
    bool plain = false;
    bool pictures = false;
    bool full_fields = false;
    bool sketch = false;
    double checkpoint_every = 60;
    bool replace = false;
};

/// [s]
constexpr double longest_interval = 1e6;

void add_checkpoint_every(CLI::App& command, Words& words, const std::string& meaning)
{
    command.add_option("--checkpoint-every", words.checkpoint_every, meaning)->option_text("SECONDS");
}

void add_run(CLI::App& app, Words& words)
{
    CLI::App* run = app.add_subcommand("run", "Compute how a case freezes and write the answer");
    run->add_option("CASE", words.case_file, "The case file")->type_name("")->option_text(" ");
    run->add_option("-o", words.folder, "Folder for the answer; made if missing")->type_name("DIR");
    run->add_option("--threads", words.threads, "Processors to use, 1 to 256; default: as many as help")
        ->check(CLI::Range(1, most_threads))
        ->option_text("N");
    run->add_flag("--quiet", words.quiet, "Show no progress");
    run->add_flag("--strict", words.strict,
                  "Exit code 1 also for a bad verdict, such as a gate that\n"
                  "is too early or a hot spot cut off");
    run->add_flag("--no-chill-test", words.no_chill_test,
                  "Do not compute chills against mould in their place:\n"
                  "faster, but chills get no verdict");
    run->add_flag("--self-check", words.self_check,
                  "Compute again with finer cells and steps, and tell how\n"
                  "far freeze times and margins are from these");
    run->add_flag("--what-matters", words.what_matters,
                  "Compute again with every uncertain input at the ends of\n"
                  "its range, and tell which of them the verdicts hang on");
    run->add_flag("--no-advice", words.no_advice, "Do not try out what would mend a bad verdict: faster");
    run->add_flag("--pictures", words.pictures,
                  "Draw all maps into DIR/pictures, with what is wrong\n"
                  "marked, and the freeze front as an animation");
    run->add_flag("--sketch", words.sketch, "Draw the freezing in text, after the summary");
    run->add_flag("--full-fields", words.full_fields,
                  "Write the temperature of sand and chills into the\n"
                  "frames as well: about four times as large");
    add_checkpoint_every(*run, words,
                         "How often to keep what was done, so that \"sandfreeze\n"
                         "resume DIR\" can go on; default: 60, 0: never");
    run->add_flag("--replace", words.replace,
                  "Write over the answer to another case in DIR as well,\n"
                  "and give up the checkpoints of its run");
    run->add_flag("--plain", words.plain,
                  "One cell a voxel, never merged: slow, to check the\n"
                  "merging by");
    run->footer("What a run writes: sandfreeze help files\nExit codes: sandfreeze help exit-codes");
}

void add_resume(CLI::App& app, Words& words)
{
    CLI::App* resume = app.add_subcommand("resume", "Go on with a run that was stopped or killed");
    resume->add_option("DIR", words.folder, "The folder of its answer")->type_name("")->option_text(" ");
    resume->add_option("--threads", words.threads, "Processors to use, 1 to 256; default: as the run began")
        ->check(CLI::Range(1, most_threads))
        ->option_text("N");
    resume->add_flag("--quiet", words.quiet, "Show no progress");
    add_checkpoint_every(*resume, words, "How often to keep what was done; default: as before");
    resume->footer("All else is as the run began. More: sandfreeze help exit-codes");
}

void add_others(CLI::App& app, Words& words)
{
    CLI::App* look = app.add_subcommand("look", "Show a section without computing anything");
    look->add_option("CASE", words.case_file, "The case file")->type_name("")->option_text(" ");
    look->add_option("-o", words.picture, "The picture; default: CASE_section.png in this folder")
        ->type_name("PNG");
    CLI::App* sheet =
        app.add_subcommand("sheet", "What to take to the furnace: metal, filling, flask, sand, times");
    sheet
        ->add_option("CASE", words.case_file,
                     "The case file, or the folder of its answer, whose\n"
                     "computed times the sheet then has")
        ->type_name("")
        ->option_text(" ");
    sheet->add_option("--html", words.html, "Write it as a page to print, A4 or Letter")->type_name("FILE");
    sheet->add_option("--json", words.json, "Write it for scripts, with all that each number\nhangs on")
        ->type_name("FILE");
    sheet
        ->add_option("--explain", words.explain,
                     "How a number was worked out: formula, numbers put\n"
                     "in, source; all: every one of them")
        ->type_name("ID");
    sheet->footer("What the sheet can be told: sandfreeze help case, from [melt] to [lifting]");
    CLI::App* materials =
        app.add_subcommand("materials", "List the materials the program knows, or show one");
    CLI::App* show = materials->add_subcommand("show", "Every number of one material, with its source");
    show->add_option("NAME", words.material, "Its name, or another it is known by")
        ->type_name("")
        ->option_text(" ");
    show->add_option("--plot", words.plot,
                     "Draw it against temperature; default:\n"
                     "NAME_properties.png in this folder")
        ->expected(0, 1)
        ->option_text("[PNG]");
    app.add_subcommand("help", "Read about a topic")
        ->add_option("TOPIC", words.topic, "case, verdicts, files ...; none: what there is")
        ->type_name("")
        ->option_text(" ");
    app.add_flag("--version", words.version, "Say which version this is");
}

/// The subcommand that was named last.
CLI::App& innermost(CLI::App& app)
{
    const auto chosen = app.get_subcommands();
    return chosen.empty() ? app : innermost(*chosen.front());
}

std::vector<std::string> option_names(const CLI::App& app)
{
    std::vector<std::string> names;
    for (const CLI::Option* option : app.get_options())
        for (const std::string& name : option->get_lnames())
            names.push_back("--" + name);
    return names;
}

std::vector<std::string> command_names(CLI::App& app)
{
    std::vector<std::string> names;
    for (const CLI::App* command :
         app.get_subcommands([](const CLI::App* c) { return !c->get_group().empty(); }))
        names.push_back(command->get_name());
    return names;
}

std::string full_name(const CLI::App& app)
{
    const CLI::App* parent = app.get_parent();
    return parent == nullptr ? app.get_name() : full_name(*parent) + ' ' + app.get_name();
}

/// What nobody asked for: a misspelt option or command, or a word too many.
void refuse_extras(CLI::App& app)
{
    CLI::App& command = innermost(app);
    const std::vector<std::string> extras = app.remaining(true);
    if (extras.empty()) return;
    const auto option =
        std::find_if(extras.begin(), extras.end(), [](const std::string& e) { return e.starts_with('-'); });
    if (option != extras.end())
        throw UsageError(full_name(command) + " has no option " + io::quoted(*option) + "; " +
                         io::suggestion(*option, option_names(command), "its options"));
    const std::vector<std::string> commands = command_names(command);
    if (!commands.empty())
        throw UsageError("there is no command " + io::quoted(extras.front()) + "; " +
                         io::suggestion(extras.front(), commands, "the commands"));
    throw UsageError(full_name(command) + " does not know what to do with " + io::quoted(extras.front()) +
                     "; see " + full_name(command) + " --help");
}

/// An option whose value is an empty text, as an unset variable of a shell leaves it.
void refuse_empty(const CLI::App& command)
{
    for (const CLI::Option* option : command.get_options())
        for (const std::string& value : option->results())
            if (value.empty() && !option->get_positional() && option->get_expected_min() > 0)
                throw UsageError(option->get_name() + " needs a value after it; see " + full_name(command) +
                                 " --help");
}

std::string mismatch_words(const CLI::ArgumentMismatch& error, const CLI::App& command)
{
    const std::string text = error.what();  // begins with the option's name
    const std::string name = text.substr(0, text.find(':'));
    const CLI::Option* option = command.get_option_no_throw(name);
    const bool twice = option != nullptr && option->count() > 1;
    return name + (twice ? " is given twice; see " : " needs a value after it; see ") + full_name(command) +
           " --help";
}

void require_case(const Words& words, std::string_view usage)
{
    if (words.case_file.empty()) throw UsageError("which case? Name its file: " + std::string(usage));
}

double interval_of(const Words& words)
{
    if (words.checkpoint_every >= 0 && words.checkpoint_every <= longest_interval)
        return words.checkpoint_every;
    throw UsageError("--checkpoint-every takes seconds from 0 (never) to 1000000");
}

RunRequest run_request(const Words& words)
{
    constexpr std::string_view usage = "sandfreeze run CASE.toml -o DIR";
    require_case(words, usage);
    if (words.folder.empty())
        throw UsageError("where to put the answer? Name a folder with -o: " + std::string(usage));
    RunRequest request;
    request.case_file = words.case_file;
    request.folder = words.folder;
    request.solve.threads = words.threads;
    request.solve.cells = words.plain ? solver::Cells::plain : solver::Cells::merged;
    request.solve.chill_test = words.no_chill_test ? solver::ChillTest::skip : solver::ChillTest::run;
    request.solve.self_check = words.self_check ? solver::SelfChecking::run : solver::SelfChecking::skip;
    request.mattering = words.what_matters ? Mattering::study : Mattering::skip;
    request.advising = words.no_advice ? Advising::skip : Advising::give;
    request.sketching = words.sketch ? Sketching::draw : Sketching::skip;
    request.replacing = words.replace ? Replacing::any : Replacing::own;
    request.extras = {words.pictures, words.full_fields};
    request.judging = words.strict ? Judging::strict : Judging::lenient;
    request.chatter = words.quiet ? Chatter::quiet : Chatter::progress;
    request.checkpoint_every = interval_of(words);
    return request;
}

ResumeRequest resume_request(const CLI::App& command, const Words& words)
{
    if (words.folder.empty())
        throw UsageError("which run? Name the folder of its answer: sandfreeze resume DIR");
    ResumeRequest request;
    request.folder = words.folder;
    request.threads = words.threads;
    if (command.count("--checkpoint-every") > 0) request.checkpoint_every = interval_of(words);
    request.chatter = words.quiet ? Chatter::quiet : Chatter::progress;
    return request;
}

Request request_from(CLI::App& app, const Words& words)
{
    const CLI::App& command = innermost(app);
    const std::string name = command.get_name();
    const auto if_given = [](const std::string& word) {
        return word.empty() ? std::nullopt : std::optional<std::string>(word);
    };
    if (name == "run") return run_request(words);
    if (name == "resume") return resume_request(command, words);
    if (name == "look") {
        require_case(words, "sandfreeze look CASE.toml");
        return LookRequest{words.case_file, words.picture};
    }
    if (name == "sheet") {
        require_case(words, "sandfreeze sheet CASE.toml");
        return SheetRequest{words.case_file, words.html, words.json, if_given(words.explain)};
    }
    if (name == "materials") return MaterialsRequest{};
    if (name == "show") {
        if (words.material.empty())
            throw UsageError("which material? Name it: sandfreeze materials show NAME; sandfreeze materials "
                             "lists them");
        return MaterialsRequest{words.material, command.count("--plot") > 0 ? Plotting::draw : Plotting::skip,
                                words.plot};
    }
    if (name == "help") return HelpRequest{if_given(words.topic)};
    throw UsageError("no command was given\n\n" + overview());
}

void set_up(CLI::App& app, Words& words)
{
    add_run(app, words);
    add_resume(app, words);
    add_others(app, words);
    app.allow_extras();
    app.require_subcommand(0, 1);
    app.get_formatter()->column_width(24);
    for (CLI::App* command : app.get_subcommands({})) {
        command->allow_extras();
        for (CLI::App* inner : command->get_subcommands({}))
            inner->allow_extras();
    }
}

}  // namespace

Request read_command_line(std::span<const char* const> words)
{
    CLI::App app("Will this sand casting freeze towards its feeders?", "sandfreeze");
    Words read;
    set_up(app, read);
    try {
        app.parse(static_cast<int>(words.size()), words.data());
    } catch (const CLI::CallForHelp&) {
        CLI::App& command = innermost(app);
        return TextRequest{&command == &app ? overview() : command.help(full_name(*command.get_parent()))};
    } catch (const CLI::ArgumentMismatch& error) {
        throw UsageError(mismatch_words(error, innermost(app)));
    } catch (const CLI::ParseError& error) {
        throw UsageError(std::string(error.what()) + "; see " + full_name(innermost(app)) + " --help");
    }
    refuse_extras(app);
    refuse_empty(innermost(app));
    if (read.version) return TextRequest{"sandfreeze " SANDFREEZE_VERSION "\n"};
    return request_from(app, read);
}

}  // namespace sandfreeze::tools
