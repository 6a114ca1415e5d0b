#pragma once
// What the command line asks for.

#include <filesystem>
#include <optional>
#include <string>
#include <variant>

#include "solver/solve.hpp"

namespace sandfreeze::tools
{

enum class Judging { lenient, strict };  ///< whether a bad verdict ends the run with exit code 1
enum class Chatter { progress, quiet };
enum class Mattering { skip, study };  ///< whether to find out which inputs the answer hangs on

enum class Advising { skip, give };  ///< whether to try out what would mend a bad verdict

enum class Sketching { skip, draw };  ///< whether to draw the freezing in text

enum class Replacing { own, any };  ///< whose answer in the folder may be written over: this case's, or any

/// What is written beside the usual files.
struct Extras {
    bool pictures = false;     ///< all maps and the animation
    bool full_fields = false;  ///< frames of the temperature of everything, not of the metal alone
};

struct RunRequest {
    std::filesystem::path case_file;
    std::filesystem::path folder;
    solver::SolveOptions solve;
    Judging judging = Judging::lenient;
    Chatter chatter = Chatter::progress;
    Mattering mattering = Mattering::skip;
    Advising advising = Advising::give;
    Sketching sketching = Sketching::skip;
    Replacing replacing = Replacing::own;
    Extras extras;
    double checkpoint_every = 60;  ///< 0: never [s]
};

struct ResumeRequest {
    std::filesystem::path folder;
    int threads = 0;                         ///< 0: as many as the run began with
    std::optional<double> checkpoint_every;  ///< empty: as the run began with [s]
    Chatter chatter = Chatter::progress;
};

struct LookRequest {
    std::filesystem::path case_file;
    std::filesystem::path picture;  ///< empty: named after the case, in the current folder
};

struct SheetRequest {
    std::filesystem::path subject;  ///< a case file, or the folder of an answer
    std::filesystem::path html;     ///< empty: not written
    std::filesystem::path json;     ///< likewise
    std::optional<std::string>
        explain;  ///< a line's name or "all": how it was worked out, in place of the sheet
};

enum class Plotting { skip, draw };

struct MaterialsRequest {
    std::optional<std::string> show;  ///< one of them; empty: list all
    Plotting plotting = Plotting::skip;
    std::filesystem::path picture;  ///< empty: named after the material, in the current folder
};

struct HelpRequest {
    std::optional<std::string> topic;  ///< empty: what there is
};

/// Text that the command line itself answers with, such as the version.
struct TextRequest {
    std::string text;
};

using Request = std::variant<RunRequest, ResumeRequest, LookRequest, SheetRequest, MaterialsRequest,
                             HelpRequest, TextRequest>;

}  // namespace sandfreeze::tools
