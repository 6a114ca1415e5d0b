#include <doctest/doctest.h>

#include <fstream>
#include <set>
#include <stdexcept>

#include "io/errors.hpp"
#include "io/vtk_series.hpp"
#include "sample_answer.hpp"

using namespace sandfreeze;
namespace fs = std::filesystem;

namespace
{

const std::set<std::string> whole_series{"freeze.pvd", "frames/freeze_0000.vti", "frames/freeze_0001.vti",
                                         "frames/freeze_0002.vti", "maps.vti"};

}  // namespace

TEST_CASE("io: a series is a list, its frames and the maps, and nothing unfinished beside them")
{
    const io_test::ScratchFolder folder;
    const io_test::Sample sample = io_test::small_sample();
    io::write_vtk_series(folder.path() / "new" / "deeper", sample.c, sample.answer);
    CHECK(io_test::files_in(folder.path() / "new" / "deeper") == whole_series);
}

TEST_CASE("io: a shorter series removes the frames of a longer one and no other file")
{
    const io_test::ScratchFolder folder;
    io_test::Sample longer = io_test::large_sample(20, 10, 5);
    io::write_vtk_series(folder.path(), longer.c, longer.answer);
    std::ofstream(folder.path() / "frames" / "notes.txt") << "mine";
    const io_test::Sample sample = io_test::small_sample();
    io::write_vtk_series(folder.path(), sample.c, sample.answer);
    std::set<std::string> expected = whole_series;
    expected.insert("frames/notes.txt");
    CHECK(io_test::files_in(folder.path()) == expected);
}

TEST_CASE("io: frames left behind by a killed run are cleared away")
{
    const io_test::ScratchFolder folder;
    fs::create_directories(folder.path() / "frames.partial");
    std::ofstream(folder.path() / "frames.partial" / "freeze_0007.vti") << "half";
    const io_test::Sample sample = io_test::small_sample();
    io::write_vtk_series(folder.path(), sample.c, sample.answer);
    CHECK(io_test::files_in(folder.path()) == whole_series);
    CHECK_FALSE(fs::exists(folder.path() / "frames.partial"));
}

TEST_CASE("io: without frames there are the maps and no list, not even an earlier one")
{
    const io_test::ScratchFolder folder;
    io_test::Sample sample = io_test::small_sample();
    io::write_vtk_series(folder.path(), sample.c, sample.answer);
    sample.answer.frames = nullptr;
    io::write_vtk_series(folder.path(), sample.c, sample.answer);
    CHECK(io_test::files_in(folder.path()) == std::set<std::string>{"maps.vti"});
}

TEST_CASE("io: a series that does not fit onto the disk leaves the earlier one as it was")
{
    const io_test::ScratchFolder folder;
    const io_test::Sample sample = io_test::small_sample();
    io::write_vtk_series(folder.path(), sample.c, sample.answer);
    const std::string list = io_test::text_of(folder.path() / "freeze.pvd");
    const std::string frame = io_test::text_of(folder.path() / "frames" / "freeze_0001.vti");
    const std::string maps = io_test::text_of(folder.path() / "maps.vti");
    io_test::Sample large = io_test::large_sample(300, 200, 4);
    {
        const io_test::SmallDisk disk(20000);
        CHECK_THROWS_AS(io::write_vtk_series(folder.path(), large.c, large.answer), io::FileError);
    }
    CHECK(io_test::files_in(folder.path()) == whole_series);
    CHECK(io_test::text_of(folder.path() / "freeze.pvd") == list);
    CHECK(io_test::text_of(folder.path() / "frames" / "freeze_0001.vti") == frame);
    CHECK(io_test::text_of(folder.path() / "maps.vti") == maps);
}

TEST_CASE("io: a file where the folder should be is an error that names it")
{
    const io_test::ScratchFolder folder;
    const fs::path in_the_way = folder.path() / "results";
    std::ofstream(in_the_way) << "a file";
    const io_test::Sample sample = io_test::small_sample();
    try {
        io::write_vtk_series(in_the_way / "deeper", sample.c, sample.answer);
        FAIL("must throw");
    } catch (const io::FileError& error) {
        CHECK(std::string(error.what()) == "cannot make the folder \"" + (in_the_way / "deeper").string() +
                                               "\": Not a directory; choose a folder you may write to");
    }
    CHECK(io_test::text_of(in_the_way) == "a file");
}

TEST_CASE("io: fields of one level are not written for several")
{
    const io_test::ScratchFolder folder;
    io_test::Sample sample = io_test::small_sample();
    sample.answer.painting.grid.level_heights = {0.01, 0.01};
    sample.answer.frames = nullptr;
    CHECK_THROWS_WITH_AS(io::write_vtk_series(folder.path(), sample.c, sample.answer),
                         "84 voxels have an owner in a section of 168", std::invalid_argument);
}

TEST_CASE("io: a plan's frames and maps are rectilinear grids, with flat maps and a flat series beside them")
{
    const io_test::ScratchFolder folder;
    const io_test::Sample sample = io_test::small_plan();
    io::write_vtk_series(folder.path(), sample.c, sample.answer);
    CHECK(io_test::files_in(folder.path()) ==
          std::set<std::string>{"freeze.pvd", "frames/freeze_0000.vtr", "frames/freeze_0001.vtr",
                                "frames/freeze_0002.vtr", "maps.vtr", "plan.pvd", "plan_frames/plan_0000.vti",
                                "plan_frames/plan_0001.vti", "plan_frames/plan_0002.vti", "plan_maps.vti"});
}
