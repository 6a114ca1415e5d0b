#pragma once
// Pictures that are written outside an answer's folder, where other files lie about.

#include <filesystem>

namespace sandfreeze::tools
{

/// A picture may take the place of a picture, and of nothing else: not of a case whose name was given by
/// mistake, nor of a link. Throws io::FileError.
void refuse_other_than_picture(const std::filesystem::path& target);

}  // namespace sandfreeze::tools
