#pragma once
// What goes wrong with files: the user's case, and the file system.

#include <stdexcept>
#include <string>
#include <string_view>
#include <vector>

namespace sandfreeze::io
{

/// A place in a text file; lines and columns count from 1, 0 when there is none.
struct Place {
    int line = 0;
    int column = 0;
};

/// One mistake in a case file: problem, value, what was expected, the way out.
struct Problem {
    int line = 0;
    int column = 0;
    std::string message;
};

/// A case file that cannot be used. what() prints every problem, by place, as `FILE:LINE:COLUMN: message`
/// with the source line and a caret beneath (the first twenty, then how many more).
class InputError : public std::runtime_error
{
public:
    /// Sorts the problems by place and drops repetitions. `text` is the file's text, for its lines.
    InputError(std::string_view file_name, std::string_view text, std::vector<Problem> problems);

    const std::vector<Problem>& problems() const { return problems_; }

private:
    std::vector<Problem> problems_;
};

/// A file that could not be read or written.
class FileError : public std::runtime_error
{
public:
    /// `failed` is what was tried, such as "write"; `error_number` an errno, 0 for none. The message reads
    /// `cannot WRITE "PATH": REASON; WAY OUT`.
    FileError(std::string path, std::string_view failed, int error_number, std::string_view way_out);

    const std::string& path() const { return path_; }

    /// The same of another path, with more words at the end of its message.
    FileError told_of(const std::string& path, std::string_view more = {}) const;

private:
    std::string path_;
    std::string failed_;
    int error_number_;
    std::string way_out_;
};

}  // namespace sandfreeze::io
