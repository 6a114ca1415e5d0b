#include <doctest/doctest.h>

#include <array>
#include <cmath>
#include <fstream>
#include <stdexcept>

#include <hdf5.h>

#include "io/errors.hpp"
#include "io/hdf5_file.hpp"
#include "sample_answer.hpp"

using namespace sandfreeze;
namespace fs = std::filesystem;

namespace
{

struct Read {
    std::vector<hsize_t> shape;
    std::vector<double> values;
};

Read read(const fs::path& file, const char* name)
{
    const hid_t opened = H5Fopen(file.c_str(), H5F_ACC_RDONLY, H5P_DEFAULT);
    REQUIRE(opened >= 0);
    const hid_t dataset = H5Dopen2(opened, name, H5P_DEFAULT);
    REQUIRE(dataset >= 0);
    const hid_t space = H5Dget_space(dataset);
    Read result;
    result.shape.resize(static_cast<std::size_t>(H5Sget_simple_extent_ndims(space)));
    H5Sget_simple_extent_dims(space, result.shape.data(), nullptr);
    result.values.resize(static_cast<std::size_t>(H5Sget_simple_extent_npoints(space)));
    REQUIRE(H5Dread(dataset, H5T_NATIVE_DOUBLE, H5S_ALL, H5S_ALL, H5P_DEFAULT, result.values.data()) >= 0);
    H5Sclose(space);
    H5Dclose(dataset);
    H5Fclose(opened);
    return result;
}

}  // namespace

TEST_CASE("io: an HDF5 file gives back the maps, the frames and the cooling curves")
{
    const io_test::ScratchFolder folder;
    const fs::path file = folder.path() / "answer.h5";
    const io_test::Sample sample = io_test::small_sample();
    const mesh::Grid& grid = sample.answer.painting.grid;
    io::write_hdf5(file, sample.c, sample.answer, "case");

    const Read freeze = read(file, "/maps/freeze_time_s");
    CHECK(freeze.shape == std::vector<hsize_t>{7, 12});
    CHECK(freeze.values[grid.index(9, 4)] == 94);
    CHECK(std::isnan(freeze.values[grid.index(0, 0)]));
    CHECK(std::isnan(freeze.values[grid.index(3, 2)]));

    const Read temperature = read(file, "/frames/temperature_C");
    CHECK(temperature.shape == std::vector<hsize_t>{3, 7, 12});
    CHECK(temperature.values[2 * grid.size() + grid.index(5, 6)] == 656.5);

    CHECK(read(file, "/frames/time_s").values == std::vector<double>{0, 1.25, 7.1});
    CHECK(read(file, "/probes/0/temperature_C").values == std::vector<double>{700, 650.125, 600});
    CHECK(H5Fget_obj_count(H5F_OBJ_ALL, H5F_OBJ_ALL) == 0);
    CHECK(fs::file_size(file) < 60000);
}

TEST_CASE("io: an HDF5 file without frames and probes is whole all the same")
{
    const io_test::ScratchFolder folder;
    io_test::Sample sample = io_test::small_sample();
    sample.answer.frames = nullptr;
    sample.answer.probes.clear();
    io::write_hdf5(folder.path() / "answer.h5", sample.c, sample.answer, "");
    CHECK(read(folder.path() / "answer.h5", "/frames/time_s").values.empty());
    CHECK(read(folder.path() / "answer.h5", "/maps/part").values[14 + 12] == 1);
}

TEST_CASE("io: an HDF5 file that does not fit onto the disk leaves the earlier one as it was")
{
    const io_test::ScratchFolder folder;
    const fs::path file = folder.path() / "answer.h5";
    const io_test::Sample sample = io_test::small_sample();
    io::write_hdf5(file, sample.c, sample.answer, "case");
    const std::string earlier = io_test::text_of(file);
    const io_test::Sample large = io_test::large_sample(300, 200, 4);
    for (const unsigned long bytes : {1000UL, 30000UL, 80000UL}) {
        CAPTURE(bytes);
        const io_test::SmallDisk disk(bytes);
        CHECK_THROWS_AS(io::write_hdf5(file, large.c, large.answer, "case"), io::FileError);
    }
    CHECK(io_test::text_of(file) == earlier);
    CHECK(std::distance(fs::directory_iterator(folder.path()), {}) == 1);
    io::write_hdf5(file, large.c, large.answer, "case");  // and the library still works
    CHECK(read(file, "/frames/time_s").values.size() == 4);
}

TEST_CASE("io: an HDF5 file in a folder that is none is an error that names it")
{
    const io_test::ScratchFolder folder;
    std::ofstream(folder.path() / "results") << "a file";
    const io_test::Sample sample = io_test::small_sample();
    const fs::path file = folder.path() / "results" / "answer.h5";
    try {
        io::write_hdf5(file, sample.c, sample.answer, "case");
        FAIL("must throw");
    } catch (const io::FileError& error) {
        CHECK(std::string(error.what()).find(file.string()) != std::string::npos);
        CHECK(std::string(error.what()).find("Not a directory") != std::string::npos);
    }
}

TEST_CASE("io: an HDF5 file of several levels is refused, not written flat")
{
    const io_test::ScratchFolder folder;
    io_test::Sample sample = io_test::small_sample();
    sample.answer.painting.grid.level_heights = {0.01, 0.01};
    CHECK_THROWS_AS(io::write_hdf5(folder.path() / "a.h5", sample.c, sample.answer, ""),
                    std::invalid_argument);
}
