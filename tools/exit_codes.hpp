#pragma once
// What the program tells the shell.

#include <stdexcept>

namespace sandfreeze::tools
{

enum class ExitCode {
    done = 0,           ///< done, and every check holds
    check_failed = 1,   ///< done, but a check fails (with --strict a bad verdict too)
    wrong_input = 2,    ///< the case or the command line is wrong
    solver_failed = 3,  ///< the solver could not go on
    file_failed = 4,    ///< a file could not be read or written
    hung_up = 129,      ///< stopped because its terminal was closed
    interrupted = 130,  ///< stopped by Ctrl-C
    terminated = 143,   ///< stopped by SIGTERM
};

/// A command line that cannot be followed. Text: problem, value, way out.
class UsageError : public std::runtime_error
{
public:
    using std::runtime_error::runtime_error;
};

}  // namespace sandfreeze::tools
