#pragma once
// Single measurements on the yardstick, each made in a process of its own.

#include <string>
#include <vector>

namespace sandfreeze::bench
{

/// What a measuring process finds out about itself.
struct Measure {
    std::size_t voxels = 0;
    std::size_t cells = 0;
    std::size_t steps = 0;
    double wall = 0;        ///< from the painted section to freeze times [s]
    double cpu = 0;         ///< of all its threads, likewise [s]
    double peak_bytes = 0;  ///< of the process
};

/// What to measure. `idle` reads the case and stops: what a process holds before it solves.
/// `answer`: everything the program computes, without the files.
enum class Job { idle, merged, plain, peer, answer };

struct Order {
    Job job = Job::idle;
    std::string voxel_mm;
    int threads = 1;
    std::string times_file;  ///< where freeze times are written, after the clock has stopped; may be empty
};

/// Has it measured by a child process of this program.
Measure measure(const Order& order);

/// The child's side: measures and prints when the arguments ask for it; else returns false.
bool serve_as_child(const std::vector<std::string>& arguments);

}  // namespace sandfreeze::bench
