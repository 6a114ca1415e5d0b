#pragma once
// Files that are written outside an answer's folder, where other files lie about. A file may take the place
// of one of its kind and of nothing else: not of a case whose name was given by mistake, nor of a link.

#include <filesystem>

namespace sandfreeze::tools
{

enum class TargetKind { picture, sheet_page, sheet_json };

/// Throws io::FileError where something else than that is there.
void refuse_other_than(TargetKind kind, const std::filesystem::path& target);

}  // namespace sandfreeze::tools
