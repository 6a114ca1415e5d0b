#pragma once
// A small answer with values that a reader can foretell, and a larger one to look at and to time.

#include <filesystem>
#include <set>
#include <string>
#include <vector>

#include "solver/case.hpp"
#include "solver/results.hpp"

namespace sandfreeze::io_test
{

struct Sample {
    solver::Case c;
    solver::Answer answer;
};

/// 12 by 7 voxels of 2 mm from (-10, 30) mm; four parts; three frames at 0, 1.25 and 7.1 s.
/// In metal: freeze time 10 i + j s (never in voxel (3, 2)), closing time half of it, cut-off a quarter,
/// unfed an eighth, below liquidus a sixteenth, cooling rate 1 + i K/s, gradient 1000 (1 + j) K/m,
/// hollow i / 1024, pores j / 1024. Frame f:
/// temperature 600 + 10 i + j + 0.25 f °C everywhere, solid fraction (f + i / 16) / 4 in metal.
Sample small_sample();

/// The small sample in three levels, 4, 2 and 6 mm high from z = -4 mm: the plate in all but the lowest, the
/// feeder in the uppermost alone, the chill in the lowest alone. Times of level k are 100 k s longer, cooling
/// rates and gradients as they were, temperatures 100 k °C higher.
Sample small_plan();

/// A round disk freezing inwards between sand, nx by ny voxels, that many frames.
Sample large_sample(int nx, int ny, std::size_t frames);

/// A lens of metal freezing inwards, its middle in the middle of the box: nx by ny voxels of 2 mm, levels of
/// 1, 2 and 3 mm in turn, that many frames.
Sample large_plan(int nx, int ny, int levels, std::size_t frames);

/// A section with the given parts painted behind the mould, and nothing solved. Materials: 0 green sand,
/// 1 AlSi10Mg, 2 grey iron.
Sample drawn_sample(const solver::Section& section, std::vector<solver::Part> parts);

/// A folder of its own, removed at the end.
class ScratchFolder
{
public:
    ScratchFolder();
    ~ScratchFolder();
    ScratchFolder(const ScratchFolder&) = delete;
    ScratchFolder& operator=(const ScratchFolder&) = delete;
    const std::filesystem::path& path() const { return path_; }

private:
    std::filesystem::path path_;
};

/// Names of all files in a folder and below, from there.
std::set<std::string> files_in(const std::filesystem::path& folder);

/// While it lives, files cannot grow beyond so many bytes, as on a full disk.
class SmallDisk
{
public:
    explicit SmallDisk(unsigned long bytes);
    ~SmallDisk();
    SmallDisk(const SmallDisk&) = delete;
    SmallDisk& operator=(const SmallDisk&) = delete;

private:
    unsigned long earlier_;
};

std::string text_of(const std::filesystem::path& file);

}  // namespace sandfreeze::io_test
