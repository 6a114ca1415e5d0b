#pragma once
// Cooling curves of the probes for a spreadsheet.

#include <filesystem>
#include <span>

#include "solver/results.hpp"

namespace sandfreeze::io
{

/// One line a moment: time_s, then <name>_C of each probe [°C]; UTF-8, commas, a point for decimals.
/// A probe that has no sample at a moment leaves its field empty. Names are quoted as RFC 4180 asks.
/// Throws FileError.
void write_probe_csv(const std::filesystem::path& file, std::span<const solver::ProbeReport> probes);

}  // namespace sandfreeze::io
