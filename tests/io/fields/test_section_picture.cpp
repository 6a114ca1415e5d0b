#include <doctest/doctest.h>

#include <fstream>

#include "io/errors.hpp"
#include "io/section_picture.hpp"
#include "picture_reader.hpp"
#include "sample_answer.hpp"

using namespace sandfreeze;
using solver::Role;

namespace
{

solver::Part box_part(std::string name, Role role, mesh::Box box)
{
    solver::Part part;
    part.name = std::move(name);
    part.role = role;
    part.material = solver::is_poured(role) ? 1 : 2;
    part.shape = mesh::Rectangle{box};
    return part;
}

io_test::Picture picture_of(const io_test::Sample& sample)
{
    const io_test::ScratchFolder folder;
    io::write_section_picture(folder.path() / "section.png", sample.c, sample.answer.painting);
    return io_test::read_picture(folder.path() / "section.png");
}

}  // namespace

TEST_CASE("io: pictures of wide, square and tall sections are of sensible size")
{
    for (const mesh::Point size : {mesh::Point{0.5, 0.02}, {0.4, 0.2}, {0.3, 0.3}, {0.02, 0.5}}) {
        CAPTURE(size.x);
        solver::Section section;
        section.box = {0, size.x, 0, size.y};
        const auto bar = box_part("bar", Role::casting, {size.x / 4, size.x / 2, size.y / 4, size.y / 2});
        const io_test::Picture picture = picture_of(io_test::drawn_sample(section, {bar}));
        CHECK(picture.width >= 500);
        CHECK(picture.width <= 1240);
        CHECK(picture.height >= 250);
        CHECK(picture.height <= 1250);
    }
}

TEST_CASE("io: every role has a look of its own")
{
    solver::Section section;
    section.box = {0, 0.3, 0, 0.1};
    const auto look = [&](Role role) {
        const auto sample = io_test::drawn_sample(section, {box_part("p", role, {0.02, 0.28, 0.01, 0.09})});
        return picture_of(sample).pixels;
    };
    std::set<std::vector<std::uint32_t>> looks;
    for (int role = 0; role <= static_cast<int>(Role::air); ++role) {
        looks.insert(look(static_cast<Role>(role)));
    }
    CHECK(looks.size() == 14);
}

TEST_CASE("io: a part hidden behind others is in the list all the same")
{
    solver::Section section;
    section.box = {0, 0.1, 0, 0.1};
    const mesh::Box same{0.02, 0.08, 0.02, 0.08};
    const auto sample = io_test::drawn_sample(
        section, {box_part("under", Role::casting, same), box_part("over", Role::feeder, same)});
    CHECK_NOTHROW(picture_of(sample));
}

TEST_CASE("io: a picture that cannot be written is an error that names it, and the earlier one stays")
{
    const io_test::ScratchFolder folder;
    const auto png = folder.path() / "section.png";
    const io_test::Sample sample = io_test::small_sample();
    io::write_section_picture(png, sample.c, sample.answer.painting);
    const std::string earlier = io_test::text_of(png);
    {
        const io_test::SmallDisk disk(2000);
        try {
            io::write_section_picture(png, sample.c, sample.answer.painting);
            FAIL("must throw");
        } catch (const io::FileError& error) {
            CHECK(std::string(error.what()).find("cannot write \"" + png.string() + "\"") == 0);
        }
    }
    CHECK(io_test::text_of(png) == earlier);
    CHECK_THROWS_AS(
        io::write_section_picture(folder.path() / "no" / "section.png", sample.c, sample.answer.painting),
        io::FileError);
}
