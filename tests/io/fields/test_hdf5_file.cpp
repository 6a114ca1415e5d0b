#include <doctest/doctest.h>

#include <array>
#include <chrono>
#include <cmath>
#include <fstream>
#include <stdexcept>
#include <thread>

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

hsize_t chunks_in(const fs::path& file, const char* name)
{
    const hid_t opened = H5Fopen(file.c_str(), H5F_ACC_RDONLY, H5P_DEFAULT);
    REQUIRE(opened >= 0);
    const hid_t dataset = H5Dopen2(opened, name, H5P_DEFAULT);
    REQUIRE(dataset >= 0);
    const hid_t space = H5Dget_space(dataset);
    hsize_t chunks = 0;
    REQUIRE(H5Dget_num_chunks(dataset, space, &chunks) >= 0);
    H5Sclose(space);
    H5Dclose(dataset);
    H5Fclose(opened);
    return chunks;
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
    CHECK(fs::file_size(file) < 71000);  // twelve maps, 2 kB of headers each
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

TEST_CASE("io: an HDF5 file that does not fit says so, and what to do")
{
    const io_test::ScratchFolder folder;
    const fs::path file = folder.path() / "answer.h5";
    const io_test::Sample large = io_test::large_sample(300, 200, 4);
    const io_test::SmallDisk disk(50000);
    try {
        io::write_hdf5(file, large.c, large.answer, "case");
        FAIL("must throw");
    } catch (const io::FileError& error) {
        CHECK(std::string(error.what()) ==
              "cannot write \"" + file.string() + "\": File too large; nothing was written under that name");
    }
}

TEST_CASE("io: chunks without metal are left out of an HDF5 file and read as blanks")
{
    const io_test::ScratchFolder folder;
    const fs::path file = folder.path() / "answer.h5";
    const io_test::Sample sample = io_test::large_sample(700, 300, 2);  // a disk of 90 voxels' radius
    const mesh::Grid& grid = sample.answer.painting.grid;
    io::write_hdf5(file, sample.c, sample.answer, "case");
    const Read fraction = read(file, "/frames/solid_fraction");
    std::vector<float> temperature(grid.size());
    std::vector<float> solid(grid.size());
    sample.answer.frames->fill(1, temperature, solid);
    std::size_t wrong = 0;
    for (std::size_t v = 0; v < grid.size(); ++v) {
        const double found = fraction.values[grid.size() + v];
        const auto expected = static_cast<double>(solid[v]);
        wrong += std::isnan(expected) ? !std::isnan(found) : !(std::abs(found - expected) <= 0.5 / 1024);
    }
    CHECK(wrong == 0);
    CHECK(chunks_in(file, "/frames/solid_fraction") == 2 * 6);  // of 2 * 6 * 3
    CHECK(chunks_in(file, "/frames/temperature_C") == 2 * 6 * 3);
}

TEST_CASE("io: the same answer gives the same HDF5 file to the byte, at any time")
{
    const io_test::ScratchFolder folder;
    const io_test::Sample sample = io_test::small_sample();
    io::write_hdf5(folder.path() / "one.h5", sample.c, sample.answer, "case");
    std::this_thread::sleep_for(std::chrono::milliseconds(1100));  // HDF5 would note seconds
    io::write_hdf5(folder.path() / "two.h5", sample.c, sample.answer, "case");
    CHECK(io_test::text_of(folder.path() / "one.h5") == io_test::text_of(folder.path() / "two.h5"));
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

TEST_CASE("io: fields of one level are not written into an HDF5 file of several")
{
    const io_test::ScratchFolder folder;
    io_test::Sample sample = io_test::small_sample();
    sample.answer.painting.grid.level_heights = {0.01, 0.01};
    CHECK_THROWS_AS(io::write_hdf5(folder.path() / "a.h5", sample.c, sample.answer, ""),
                    std::invalid_argument);
}
