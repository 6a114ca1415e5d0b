#pragma once
// The case file: TOML text in, a checked case in SI units out.

#include <cstddef>
#include <cstdint>
#include <string>
#include <string_view>
#include <vector>

#include "io/errors.hpp"
#include "solver/case.hpp"

namespace sandfreeze::io
{

/// One key of a case as it is used, given or defaulted.
struct Setting {
    std::string table;     ///< "section", "part", ...; empty above all tables
    std::size_t item = 0;  ///< which of the [[table]]s, from 0
    std::string key;
    std::string value;   ///< as TOML; empty where the default is not one value
    std::string words;   ///< the default in words where `value` is empty
    std::string unit;    ///< for people; may be empty
    bool given = false;  ///< by the file; otherwise a default
};

struct CaseFile {
    solver::Case case_;
    std::vector<Setting> settings;      ///< every key used, in the order of the format
    std::vector<std::string> warnings;  ///< each opens with its line
};

struct ReadOptions {
    std::uint64_t memory_bytes = 0;  ///< a case that needs more is refused; 0: no limit
};

/// Reads and checks a case. `file_name` is used in messages only: no file is opened. Throws InputError with
/// every problem found. Parts of the returned case are in painting order, the mould first; over open feeders
/// that end below the top of the box stands a part "air over NAME".
CaseFile read_case(std::string_view text, std::string_view file_name, const ReadOptions& options = {});

/// Every value used, as a case file that reads back to the same case; defaults are marked.
std::string case_echo(const CaseFile& file);

/// The manual page of the case format, at most 80 columns wide.
std::string case_manual();

/// The small complete case that the manual shows.
std::string_view example_case();

}  // namespace sandfreeze::io
