#pragma once
// Freeze times on files, and how far some are from better ones.

#include <string>
#include <vector>

namespace sandfreeze::bench
{

/// Errors of freeze times, each relative to the larger of the better time and 1 % of the last one [-].
struct Distance {
    double rms = 0;
    double ninety_ninth = 0;
    double largest = 0;
    double last = 0;  ///< of the last freeze
};

Distance distance(const std::vector<float>& times, const std::vector<float>& better);

/// Both throw what names the file.
void write_times(const std::string& file, const std::vector<float>& times);
std::vector<float> read_times(const std::string& file);

/// File for the reference of the yardstick at a voxel size, in the build folder; its name changes with the
/// case. The folder is made.
std::string reference_file(const std::string& voxel_mm);

}  // namespace sandfreeze::bench
