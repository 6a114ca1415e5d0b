#pragma once
// Runs a program of its own for each measurement, so that none leaves memory behind for the next.

#include <string>
#include <vector>

namespace sandfreeze::bench
{

struct ChildRun {
    std::string output;     ///< what it printed
    double wall = 0;        ///< [s]
    double cpu = 0;         ///< user and system [s]
    double peak_bytes = 0;  ///< at least what this process held when it started the child
};

/// Runs a program with its arguments to its end. Throws std::runtime_error where it cannot be started or ends
/// with anything but 0.
ChildRun run_child(const std::vector<std::string>& command);

/// The most memory that this process has held so far [bytes]. Unlike getrusage's, it does not count what the
/// parent held.
double peak_memory_here();

}  // namespace sandfreeze::bench
