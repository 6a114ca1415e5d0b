#include "io/hdf5_file.hpp"

#include <array>
#include <stdexcept>
#include <string>
#include <vector>

#include <fmt/format.h>

#include "io/errors.hpp"
#include "io/frame_values.hpp"
#include "io/hdf5_handle.hpp"
#include "io/result_maps.hpp"
#include "io/whole_file.hpp"

namespace sandfreeze::io
{
namespace
{

using hdf5::Handle;

constexpr double mm = 1e3;  // per m
constexpr int file_format = 1;

void write_heading(hid_t file, const solver::Case& c)
{
    hdf5::write_attribute(file, "format", file_format);
    hdf5::write_attribute(file, "title", c.title);
    hdf5::write_attribute(
        file, "view", c.section.view == solver::View::planar ? std::string_view("planar") : "axisymmetric");
    hdf5::write_attribute(file, "cell_mm", c.section.cell * mm);
    hdf5::write_attribute(file, "depth_mm", c.section.depth * mm);
    hdf5::write_attribute(file, "multiply", c.section.multiply);
}

void write_places(hid_t file, const mesh::Grid& grid)
{
    std::vector<double> x(static_cast<std::size_t>(grid.nx));
    std::vector<double> y(static_cast<std::size_t>(grid.ny));
    for (int i = 0; i < grid.nx; ++i) {
        x[static_cast<std::size_t>(i)] = grid.x_centre(i) * mm;
    }
    for (int j = 0; j < grid.ny; ++j) {
        y[static_cast<std::size_t>(j)] = grid.y_centre(j) * mm;
    }
    hdf5::write_numbers(file, "x_mm", x, "mm");
    hdf5::write_numbers(file, "y_mm", y, "mm");
}

void write_names(hid_t file, const solver::Case& c)
{
    const CaseNames names = names_of(c);
    const Handle parts = hdf5::create_group(file, "parts");
    hdf5::write_names(parts.id(), "name", names.parts);
    hdf5::write_names(parts.id(), "role", names.roles);
    hdf5::write_names(parts.id(), "material", names.part_materials);
    const Handle materials = hdf5::create_group(file, "materials");
    hdf5::write_names(materials.id(), "name", names.materials);
}

std::array<hsize_t, 2> shape_of(const mesh::Grid& grid)
{
    return {static_cast<hsize_t>(grid.ny), static_cast<hsize_t>(grid.nx)};
}

void write_indices(hid_t maps, const mesh::Grid& grid, const char* name,
                   std::span<const std::uint16_t> values, std::string_view meaning)
{
    const Handle dataset = hdf5::create_chunked(maps, name, H5T_STD_U16LE, shape_of(grid), "1");
    hdf5::write_all(dataset, values);
    hdf5::write_attribute(dataset.id(), "meaning", meaning);
}

void write_maps(hid_t file, const solver::Case& c, const solver::Answer& answer)
{
    const mesh::Grid& grid = answer.painting.grid;
    const Handle maps = hdf5::create_group(file, "maps");
    for (const MetalMap& map : metal_maps()) {
        const std::vector<float> values = values_of(map, c, answer);
        const Handle dataset = hdf5::create_chunked(maps.id(), std::string(map.name).c_str(), H5T_IEEE_F32LE,
                                                    shape_of(grid), map.unit);
        hdf5::write_all(dataset, values);
        hdf5::write_attribute(dataset.id(), "meaning", map.meaning);
    }
    write_indices(maps.id(), grid, "part", answer.painting.part_of_voxel, "index into /parts");
    write_indices(maps.id(), grid, "material", material_of_voxel(c, answer.painting),
                  "index into /materials");
}

void write_frames(hid_t file, const mesh::Grid& grid, const solver::FrameSource* frames)
{
    const std::size_t count = frames == nullptr ? 0 : frames->count();
    const Handle group = hdf5::create_group(file, "frames");
    std::vector<double> times;
    for (std::size_t frame = 0; frame < count; ++frame) {
        times.push_back(frames->time(frame));
    }
    hdf5::write_numbers(group.id(), "time_s", times, "s");
    if (count == 0) {
        return;
    }
    const std::array<hsize_t, 3> shape{count, static_cast<hsize_t>(grid.ny), static_cast<hsize_t>(grid.nx)};
    const Handle temperatures =
        hdf5::create_chunked(group.id(), "temperature_C", H5T_IEEE_F32LE, shape, "°C");
    const Handle fractions = hdf5::create_chunked(group.id(), "solid_fraction", H5T_IEEE_F32LE, shape, "1");
    std::vector<float> temperature(grid.size());
    std::vector<float> fraction(grid.size());
    for (std::size_t frame = 0; frame < count; ++frame) {
        frames->fill(frame, temperature, fraction);
        round_to_step(temperature, temperature_step);
        round_to_step(fraction, solid_fraction_step);
        hdf5::write_frame(temperatures, frame, temperature);
        hdf5::write_frame(fractions, frame, fraction);
    }
}

void write_probes(hid_t file, std::span<const solver::ProbeReport> probes)
{
    const Handle all = hdf5::create_group(file, "probes");
    for (std::size_t p = 0; p < probes.size(); ++p) {
        const solver::ProbeReport& probe = probes[p];
        // Numbered, because a name may hold a slash, which would be a group to HDF5.
        const Handle group = hdf5::create_group(all.id(), std::to_string(p));
        hdf5::write_attribute(group.id(), "name", probe.name);
        hdf5::write_attribute(group.id(), "part", probe.part);
        hdf5::write_attribute(group.id(), "at_mm", std::array{probe.at.x * mm, probe.at.y * mm});
        hdf5::write_numbers(group.id(), "time_s", probe.curve.time, "s");
        hdf5::write_numbers(group.id(), "temperature_C", probe.curve.temperature, "°C");
        hdf5::write_numbers(group.id(), "solid_fraction", probe.curve.solid_fraction, "1");
    }
}

void write_contents(hid_t file, const solver::Case& c, const solver::Answer& answer,
                    std::string_view case_text)
{
    write_heading(file, c);
    hdf5::write_text(file, "case_text", case_text);
    write_places(file, answer.painting.grid);
    write_names(file, c);
    write_maps(file, c, answer);
    write_frames(file, answer.painting.grid, answer.frames.get());
    write_probes(file, answer.probes);
}

}  // namespace

void write_hdf5(const std::filesystem::path& file, const solver::Case& c, const solver::Answer& answer,
                std::string_view case_text)
{
    if (answer.painting.grid.nz() != 1) {
        throw std::invalid_argument(fmt::format("field files hold sections of one level; this grid has {}",
                                                answer.painting.grid.nz()));
    }
    const hdf5::Quiet quiet;
    try {
        const Handle contents = hdf5::create_file_in_memory();
        write_contents(contents.id(), c, answer, case_text);
        write_whole(file, hdf5::bytes_of(contents));
    } catch (const hdf5::Failure& failure) {
        throw FileError(
            file.string(), "write", 0,
            fmt::format("the HDF5 library could not {}; is there enough memory?", failure.what()));
    }
}

}  // namespace sandfreeze::io
