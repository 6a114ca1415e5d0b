#pragma once
// A picture of what the answer hangs on.

#include <filesystem>
#include <string>

#include "solver/results.hpp"

namespace sandfreeze::io
{

/// Writes a PNG with a row of bars for each input, in the order of their rank: how far either end of its
/// range moves the margin that it moves most, relative to that margin or its limit, and the last freeze time.
/// Throws FileError.
void write_matters_picture(const std::filesystem::path& png, const std::string& title,
                           const solver::WhatMatters& matters);

}  // namespace sandfreeze::io
