// Writes the sample answers for readers that are not ours.
//   write_sample_answer FOLDER                 the small sample: VTK, HDF5 and CSV
//   write_sample_answer FOLDER plan            the small plan
//   write_sample_answer FOLDER NX NY LEVELS FRAMES   a large plan likewise
//   write_sample_answer FOLDER NX NY FRAMES    a large one, and says how long each writer took

#include <chrono>
#include <cstdio>
#include <ctime>
#include <exception>
#include <string>

#include "io/freeze_animation.hpp"
#include "io/hdf5_file.hpp"
#include "io/map_picture.hpp"
#include "io/probe_csv.hpp"
#include "io/section_picture.hpp"
#include "io/vtk_series.hpp"
#include "sample_answer.hpp"

namespace
{

using namespace sandfreeze;

template <class Write>
void timed(const char* what, Write&& write)
{
    const auto start = std::chrono::steady_clock::now();
    const std::clock_t busy = std::clock();
    write();
    const std::chrono::duration<double> took = std::chrono::steady_clock::now() - start;
    std::printf("%s: %.2f s, processor %.2f s\n", what, took.count(),
                static_cast<double>(std::clock() - busy) / CLOCKS_PER_SEC);
}

void write_everything(const std::filesystem::path& folder, const io_test::Sample& sample)
{
    std::filesystem::create_directories(folder);
    timed("vtk", [&] { io::write_vtk_series(folder, sample.c, sample.answer); });
    timed("vtk, everything", [&] {
        io::write_vtk_series(folder / "full", sample.c, sample.answer, io::FrameExtent::everything);
    });
    timed("hdf5", [&] {
        io::write_hdf5(folder / "answer.h5", sample.c, sample.answer, "title = \"Prüfstück\"\n# the case\n");
    });
    timed("csv", [&] { io::write_probe_csv(folder / "probes.csv", sample.answer.probes); });
    timed("section picture",
          [&] { io::write_section_picture(folder / "section.png", sample.c, sample.answer.painting); });
    timed("map picture", [&] {
        io::write_map_picture(folder / "freeze_time.png", "Freeze time", "s", sample.c,
                              sample.answer.painting, sample.answer.fields.freezes);
    });
    timed("animation", [&] { io::write_freeze_animation(folder, sample.c, sample.answer); });
}

}  // namespace

int main(int count, char** words)
{
    try {
        if (count == 2) {
            write_everything(words[1], io_test::small_sample());
        } else if (count == 3 && std::string(words[2]) == "plan") {
            write_everything(words[1], io_test::small_plan());
        } else if (count == 6) {
            write_everything(words[1], io_test::large_plan(std::stoi(words[2]), std::stoi(words[3]),
                                                           std::stoi(words[4]),
                                                           static_cast<std::size_t>(std::stoi(words[5]))));
        } else if (count == 5) {
            write_everything(words[1], io_test::large_sample(std::stoi(words[2]), std::stoi(words[3]),
                                                             static_cast<std::size_t>(std::stoi(words[4]))));
        } else {
            std::fputs("usage: write_sample_answer FOLDER [plan | NX NY [LEVELS] FRAMES]\n", stderr);
            return 2;
        }
    } catch (const std::exception& error) {
        std::fprintf(stderr, "%s\n", error.what());
        return 1;
    }
    return 0;
}
