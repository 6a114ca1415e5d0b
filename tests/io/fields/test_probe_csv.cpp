#include <doctest/doctest.h>

#include <cmath>

#include "io/errors.hpp"
#include "io/probe_csv.hpp"
#include "sample_answer.hpp"

using namespace sandfreeze;

TEST_CASE("io: cooling curves share a time column, and a probe without a sample leaves its field empty")
{
    const io_test::ScratchFolder folder;
    io::write_probe_csv(folder.path() / "probes.csv", io_test::small_sample().answer.probes);
    CHECK(io_test::text_of(folder.path() / "probes.csv") == "time_s,\"mid \"\"plate\"\", 20 °C/s_C\",sand_C\n"
                                                            "0,700,20\n"
                                                            "0.5,650.125,\n"
                                                            "2,600,21.5\n"
                                                            "4,,23\n");
}

TEST_CASE("io: without probes the file of cooling curves holds the heading alone")
{
    const io_test::ScratchFolder folder;
    io::write_probe_csv(folder.path() / "probes.csv", {});
    CHECK(io_test::text_of(folder.path() / "probes.csv") == "time_s\n");
}

TEST_CASE("io: two samples of one moment are one line, the first's")
{
    solver::ProbeReport probe;
    probe.name = "p";
    probe.curve = {{0, 1, 1, 2}, {9, 8, 7, 6}, {}};
    const io_test::ScratchFolder folder;
    io::write_probe_csv(folder.path() / "probes.csv", {{probe}});
    CHECK(io_test::text_of(folder.path() / "probes.csv") == "time_s,p_C\n0,9\n1,8\n2,6\n");
}

TEST_CASE("io: before metal gets to a probe its field is empty")
{
    solver::ProbeReport probe;
    probe.name = "p";
    probe.curve = {{0, 1, 2}, {std::nan(""), 690, 680}, {}};
    const io_test::ScratchFolder folder;
    io::write_probe_csv(folder.path() / "probes.csv", {{probe}});
    CHECK(io_test::text_of(folder.path() / "probes.csv") == "time_s,p_C\n0,\n1,690\n2,680\n");
}

TEST_CASE("io: a cooling curve file that does not fit onto the disk leaves the earlier one as it was")
{
    const io_test::ScratchFolder folder;
    const auto file = folder.path() / "probes.csv";
    io::write_probe_csv(file, {});
    {
        const io_test::SmallDisk disk(20);
        CHECK_THROWS_AS(io::write_probe_csv(file, io_test::small_sample().answer.probes), io::FileError);
    }
    CHECK(io_test::text_of(file) == "time_s\n");
    CHECK(std::distance(std::filesystem::directory_iterator(folder.path()), {}) == 1);
}
