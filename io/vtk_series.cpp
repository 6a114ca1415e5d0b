#include "io/vtk_series.hpp"

#include <string>
#include <system_error>
#include <vector>

#include <fmt/format.h>
#include <vtkImageData.h>

#include "io/errors.hpp"
#include "io/frame_values.hpp"
#include "io/result_maps.hpp"
#include "io/vtk_image.hpp"
#include "io/whole_file.hpp"

namespace sandfreeze::io
{
namespace
{

namespace fs = std::filesystem;

std::string frame_name(std::size_t frame)
{
    return fmt::format("freeze_{:04}.vti", frame);
}

void check(const std::error_code& code, const fs::path& path, std::string_view failed)
{
    if (code) {
        throw FileError(path.string(), failed, code.value(), "choose a folder you may write to");
    }
}

/// Frames in the making: written beside their place, moved there together.
class StagedFrames
{
public:
    explicit StagedFrames(const fs::path& folder)
        : target_(folder / "frames")
        , staging_(folder / "frames.partial")
    {
        std::error_code code;
        fs::remove_all(staging_, code);  // left by a run that was killed
        check(code, staging_, "remove");
        fs::create_directories(staging_, code);
        check(code, staging_, "make the folder");
    }
    ~StagedFrames()
    {
        std::error_code ignored;
        fs::remove_all(staging_, ignored);
    }
    StagedFrames(const StagedFrames&) = delete;
    StagedFrames& operator=(const StagedFrames&) = delete;

    fs::path staged(std::size_t frame) const { return staging_ / frame_name(frame); }
    fs::path target(std::size_t frame) const { return target_ / frame_name(frame); }

    void move_into_place(std::size_t count) const
    {
        std::error_code code;
        fs::create_directories(target_, code);
        check(code, target_, "make the folder");
        for (std::size_t frame = 0; frame < count; ++frame) {
            fs::rename(staged(frame), target(frame), code);
            check(code, target(frame), "write");
        }
        for (std::size_t frame = count; fs::remove(target(frame), code); ++frame) {
        }
        check(code, target_, "remove old frames in");
    }

private:
    fs::path target_;
    fs::path staging_;
};

void write_maps(const fs::path& folder, const solver::Case& c, const solver::Answer& answer)
{
    std::vector<std::vector<float>> rooms(metal_maps().size());
    const std::vector<std::uint16_t> material = material_of_voxel(c, answer.painting);
    const auto image = image_of(answer.painting.grid);
    auto room = rooms.begin();
    for (const MetalMap& map : metal_maps()) {
        add_cells(*image, std::string(map.name), values_of(map, c, answer, *room++));
    }
    add_cells(*image, "part", answer.painting.part_of_voxel);
    add_cells(*image, "material", material);
    const CaseNames names = names_of(c);
    add_names(*image, "part_names", names.parts);
    add_names(*image, "part_roles", names.roles);
    add_names(*image, "material_names", names.materials);

    WholeFile whole(folder / "maps.vti");
    write_image(*image, whole.path(), folder / "maps.vti");
    whole.commit();
}

void write_frames(const StagedFrames& staged, const mesh::Grid& grid, const solver::FrameSource& frames)
{
    const auto image = image_of(grid);
    std::vector<float> temperature(grid.size());
    std::vector<float> solid_fraction(grid.size());
    for (std::size_t frame = 0; frame < frames.count(); ++frame) {
        frames.fill(frame, temperature, solid_fraction);
        round_frame(temperature, solid_fraction);
        // Anew, since VTK remembers what it found out about an array.
        add_cells(*image, "temperature_C", temperature);
        add_cells(*image, "solid_fraction", solid_fraction);
        set_time(*image, frames.time(frame));
        write_image(*image, staged.staged(frame), staged.target(frame));
    }
}

std::string collection_text(const solver::FrameSource& frames)
{
    std::string text = "<?xml version=\"1.0\"?>\n"
                       "<VTKFile type=\"Collection\" version=\"0.1\" byte_order=\"LittleEndian\">\n"
                       "  <Collection>\n";
    for (std::size_t frame = 0; frame < frames.count(); ++frame) {
        text += fmt::format("    <DataSet timestep=\"{}\" part=\"0\" file=\"frames/{}\"/>\n",
                            frames.time(frame), frame_name(frame));
    }
    return text + "  </Collection>\n</VTKFile>\n";
}

}  // namespace

void write_vtk_series(const fs::path& folder, const solver::Case& c, const solver::Answer& answer)
{
    std::error_code code;
    fs::create_directories(folder, code);
    check(code, folder, "make the folder");
    const std::size_t count = answer.frames ? answer.frames->count() : 0;
    const StagedFrames staged(folder);
    if (count > 0) {
        write_frames(staged, answer.painting.grid, *answer.frames);
    }
    write_maps(folder, c, answer);
    const fs::path collection = folder / "freeze.pvd";
    fs::remove(collection, code);  // no list while the frames behind it change
    check(code, collection, "replace");
    staged.move_into_place(count);
    if (count > 0) {
        write_whole(collection, collection_text(*answer.frames));
    }
}

}  // namespace sandfreeze::io
