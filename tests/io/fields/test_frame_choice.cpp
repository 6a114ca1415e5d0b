#include <doctest/doctest.h>

#include <algorithm>
#include <limits>

#include "io/frame_choice.hpp"

using namespace sandfreeze;

namespace
{

class CountedFrames : public solver::FrameSource
{
public:
    explicit CountedFrames(std::size_t count)
        : count_(count)
    {
    }
    std::size_t count() const override { return count_; }
    double time(std::size_t frame) const override { return 0.5 * static_cast<double>(frame); }
    void fill(std::size_t, std::span<float>, std::span<float>) const override {}

private:
    std::size_t count_;
};

mesh::Grid grid_of(int nx, int ny, int levels)
{
    mesh::Grid grid;
    grid.nx = nx;
    grid.ny = ny;
    grid.cell = 0.002;
    grid.level_heights.assign(static_cast<std::size_t>(levels), 0.002);
    return grid;
}

}  // namespace

TEST_CASE("io: all frames of a section and of a small plan are written whole")
{
    const CountedFrames sixty(60);
    CHECK(io::whole_frames(grid_of(4000, 3000, 1), &sixty).size() == 60);
    CHECK(io::whole_frames(grid_of(100, 100, 50), &sixty).size() == 60);
    CHECK(io::whole_frames(grid_of(100, 100, 50), nullptr).empty());
}

TEST_CASE(
    "io: of a large plan so many frames are written whole as are held by sixty million voxels, ends included")
{
    const CountedFrames sixty(60);
    const auto chosen = io::whole_frames(grid_of(300, 200, 50), &sixty);
    REQUIRE(chosen.size() == 20);
    CHECK(chosen.front() == 0);
    CHECK(chosen.back() == 59);
    for (std::size_t n = 1; n < chosen.size(); ++n) {
        CHECK(chosen[n] - chosen[n - 1] >= 3);
        CHECK(chosen[n] - chosen[n - 1] <= 4);
    }
    CHECK(io::times_of(chosen, &sixty).back() == 29.5);
}

TEST_CASE("io: of a gigantic plan eight frames are written whole, or all where there are fewer")
{
    const CountedFrames sixty(60);
    const CountedFrames three(3);
    CHECK(io::whole_frames(grid_of(3000, 2000, 100), &sixty).size() == 8);
    CHECK(io::whole_frames(grid_of(3000, 2000, 100), &three) == std::vector<std::size_t>{0, 1, 2});
}

TEST_CASE("io: frames are chosen by what changes: half of them by time, half by the metal that becomes solid")
{
    const CountedFrames sixty(61);           // to 30 s
    std::vector<float> freezes(1000, 2.0F);  // all within the first three seconds but one
    for (std::size_t v = 0; v < freezes.size(); ++v) {
        freezes[v] = 3.0F * static_cast<float>(v) / 1000;
    }
    freezes.push_back(30);
    freezes.push_back(std::numeric_limits<float>::quiet_NaN());
    const auto chosen = io::chosen_frames(11, sixty, freezes);
    REQUIRE(chosen.size() == 11);
    CHECK(chosen.front() == 0);
    CHECK(chosen.back() == 60);
    CHECK(std::is_sorted(chosen.begin(), chosen.end()));
    CHECK(std::adjacent_find(chosen.begin(), chosen.end()) == chosen.end());
    const auto early = std::count_if(chosen.begin(), chosen.end(), [](std::size_t n) { return n <= 7; });
    CHECK(early >= 5);
    CHECK(early <= 7);
}
