#include <doctest/doctest.h>

#include <algorithm>
#include <fstream>
#include <set>

#include "io/freeze_animation.hpp"
#include "io/picture_set.hpp"
#include "picture_reader.hpp"
#include "sample_answer.hpp"

using namespace sandfreeze;
namespace fs = std::filesystem;

namespace
{

/// Pixels that are ink in the bar of the solid share.
long bar_length(const io_test::Picture& frame)
{
    const double row = 80;  // the bar's middle
    long length = 0;
    for (double x = 240; x < frame.width - 150; ++x) {
        length += frame.at(x, row) == 0x191C21 ? 1 : 0;
    }
    return length;
}

}  // namespace

TEST_CASE("io: every map with something to show becomes a picture, what says nothing none")
{
    const io_test::ScratchFolder folder;
    const io_test::Sample sample = io_test::small_sample();
    const auto written = io::write_picture_set(folder.path() / "pictures", sample.c, sample.answer);
    const std::set<std::string> maps{"arm_spacing.png",   "closing_time.png", "cooling_rate.png",
                                     "cut_off_time.png",  "freeze.gif",       "freeze_time.png",
                                     "gradient.png",      "hollow.png",       "pores.png",
                                     "pressure_loss.png", "temperature.png",  "unfed_time.png"};
    CHECK(std::set<std::string>(written.begin(), written.end()) == maps);
    std::set<std::string> files = maps;
    files.insert({"frames/freeze_00.png", "frames/freeze_01.png", "frames/freeze_02.png"});
    CHECK(io_test::files_in(folder.path() / "pictures") == files);
}

TEST_CASE("io: pictures that an answer has no more are removed, other files are left alone")
{
    const io_test::ScratchFolder folder;
    const fs::path pictures = folder.path() / "pictures";
    io_test::Sample sample = io_test::small_sample();
    io::write_picture_set(pictures, sample.c, sample.answer);
    std::fill(sample.answer.fields.unfed.begin(), sample.answer.fields.unfed.end(), 0.0F);
    sample.answer.frames = nullptr;
    io::write_picture_set(pictures, sample.c, sample.answer);
    const auto files = io_test::files_in(pictures);
    CHECK_FALSE(files.contains("unfed_time.png"));
    CHECK_FALSE(files.contains("freeze.gif"));
    CHECK_FALSE(files.contains("frames/freeze_00.png"));
    CHECK(files.contains("freeze_time.png"));
}

TEST_CASE("io: pictures are known by their names, and no other file is taken for one")
{
    const io_test::ScratchFolder folder;
    const io_test::Sample sample = io_test::small_sample();
    io::write_picture_set(folder.path(), sample.c, sample.answer);
    for (const std::string& file : io_test::files_in(folder.path())) {
        CAPTURE(file);
        CHECK(io::is_of_picture_set(file));
    }
    for (const char* file :
         {"notes.txt", "mine.png", "frames/mine.png", "frames/freeze_.png", "frames/freeze_0x.png",
          "../freeze_time.png", "freeze_00.png", "frames", "", "frames/freeze.png"}) {
        CAPTURE(file);
        CHECK_FALSE(io::is_of_picture_set(file));
    }
}

TEST_CASE("io: an animation has at most forty frames, and its bar fills up as metal becomes solid")
{
    const io_test::ScratchFolder folder;
    const io_test::Sample sample = io_test::large_sample(60, 40, 61);
    CHECK(io::write_freeze_animation(folder.path(), sample.c, sample.answer) == 40);
    CHECK(io_test::files_in(folder.path()).size() == 41);
    const io_test::Picture first = io_test::read_picture(folder.path() / "frames" / "freeze_00.png");
    const io_test::Picture middle = io_test::read_picture(folder.path() / "frames" / "freeze_20.png");
    const io_test::Picture last = io_test::read_picture(folder.path() / "frames" / "freeze_39.png");
    CHECK(first.width == last.width);
    CHECK(first.height == last.height);
    CHECK(bar_length(first) < bar_length(middle));
    CHECK(bar_length(middle) < bar_length(last));
}

TEST_CASE("io: a plan is animated from above")
{
    const io_test::ScratchFolder folder;
    const io_test::Sample sample = io_test::large_plan(30, 20, 6, 3);
    CHECK(io::write_freeze_animation(folder.path(), sample.c, sample.answer) == 3);
    CHECK(io_test::read_picture(folder.path() / "frames" / "freeze_01.png").colours().size() > 20);
}
