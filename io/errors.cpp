#include "io/errors.hpp"

#include <algorithm>
#include <system_error>
#include <tuple>

#include "io/text.hpp"

namespace sandfreeze::io
{

namespace
{

constexpr std::size_t most_problems_shown = 20;
constexpr std::size_t widest_line_shown = 96;

bool continues_character(char c)
{
    return (static_cast<unsigned char>(c) & 0xC0U) == 0x80U;
}

/// The given line (from 1) without its end.
std::string_view line_of(std::string_view text, int line)
{
    for (int l = 1; l < line; ++l) {
        const auto end = text.find('\n');
        if (end == std::string_view::npos) return {};
        text.remove_prefix(end + 1);
    }
    auto found = text.substr(0, text.find('\n'));
    if (found.ends_with('\r')) found.remove_suffix(1);
    return found;
}

/// Byte at which a column (in characters, from 1) begins.
std::size_t byte_of_column(std::string_view line, int column)
{
    std::size_t at = 0;
    for (int c = 1; c < column && at < line.size(); ++c) {
        ++at;
        while (at < line.size() && continues_character(line[at]))
            ++at;
    }
    return at;
}

/// Printable copy: control characters would disturb the terminal and the caret's place.
std::string shown(std::string_view piece)
{
    std::string out(piece);
    std::replace(out.begin(), out.end(), '\t', ' ');
    return printable(out);
}

/// The source line with a caret beneath; long lines are cut to a window around the place.
std::string excerpt(std::string_view text, const Problem& problem)
{
    const std::string_view line = line_of(text, problem.line);
    if (problem.line < 1 || line.empty()) return {};
    const std::size_t caret = byte_of_column(line, problem.column);
    std::size_t begin = caret > widest_line_shown * 2 / 3 ? caret - widest_line_shown / 2 : 0;
    while (begin > 0 && continues_character(line[begin]))
        --begin;
    std::size_t end = std::min(line.size(), begin + widest_line_shown);
    while (end < line.size() && continues_character(line[end]))
        ++end;

    const std::string number = std::to_string(problem.line);
    const std::string lead = begin > 0 ? "..." : "";
    const std::string before = shown(line.substr(begin, caret - begin));
    const auto width = static_cast<std::size_t>(
        std::count_if(before.begin(), before.end(), [](char c) { return !continues_character(c); }));
    return "\n  " + number + " | " + lead + shown(line.substr(begin, end - begin)) +
           (end < line.size() ? "..." : "") + "\n  " + std::string(number.size(), ' ') + " | " +
           std::string(lead.size() + width, ' ') + '^';
}

std::string report(std::string_view file_name, std::string_view text, const std::vector<Problem>& problems)
{
    std::string out;
    for (std::size_t p = 0; p < std::min(problems.size(), most_problems_shown); ++p) {
        const Problem& problem = problems[p];
        out += (p > 0 ? "\n" : "") + printable(file_name) + ':' + std::to_string(problem.line) + ':' +
               std::to_string(problem.column) + ": " + printable(problem.message) + excerpt(text, problem);
    }
    if (problems.size() > most_problems_shown)
        out += "\n... and " + std::to_string(problems.size() - most_problems_shown) + " more problems";
    return out;
}

std::vector<Problem> sorted(std::vector<Problem> problems)
{
    const auto key = [](const Problem& p) { return std::tie(p.line, p.column, p.message); };
    std::sort(problems.begin(), problems.end(),
              [&](const Problem& a, const Problem& b) { return key(a) < key(b); });
    const auto same = [&](const Problem& a, const Problem& b) { return key(a) == key(b); };
    problems.erase(std::unique(problems.begin(), problems.end(), same), problems.end());
    return problems;
}

std::string file_message(const std::string& path, std::string_view failed, int error_number,
                         std::string_view way_out)
{
    std::string out = "cannot " + std::string(failed) + " \"" + printable(path) + '"';
    if (error_number != 0) out += ": " + std::generic_category().message(error_number);
    if (!way_out.empty()) out += "; " + printable(way_out);
    return out;
}

}  // namespace

InputError::InputError(std::string_view file_name, std::string_view text, std::vector<Problem> problems)
    : std::runtime_error(report(file_name, text, sorted(problems)))
    , problems_(sorted(std::move(problems)))
{
}

FileError::FileError(std::string path, std::string_view failed, int error_number, std::string_view way_out)
    : std::runtime_error(file_message(path, failed, error_number, way_out))
    , path_(std::move(path))
    , failed_(failed)
    , error_number_(error_number)
    , way_out_(way_out)
{
}

FileError FileError::told_of(const std::string& path, std::string_view more) const
{
    return {path, failed_, error_number_, way_out_ + std::string(more)};
}

}  // namespace sandfreeze::io
