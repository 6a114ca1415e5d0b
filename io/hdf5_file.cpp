#include "io/hdf5_file.hpp"

#include <array>
#include <optional>
#include <string>
#include <vector>

#include <fmt/format.h>

#include "io/errors.hpp"
#include "io/frame_choice.hpp"
#include "io/frame_values.hpp"
#include "io/hdf5_disk.hpp"
#include "io/hdf5_handle.hpp"
#include "io/hdf5_images.hpp"
#include "io/plan_maps.hpp"
#include "io/result_maps.hpp"
#include "io/whole_file.hpp"

namespace sandfreeze::io
{
namespace
{

using hdf5::Handle;

constexpr double mm = 1e3;  // per m
constexpr int file_format = 1;

std::string_view view_name(solver::View view)
{
    return view == solver::View::planar ? "planar" : view == solver::View::plan ? "plan" : "axisymmetric";
}

void write_heading(hid_t file, const solver::Case& c)
{
    hdf5::write_attribute(file, "format", file_format);
    hdf5::write_attribute(file, "title", c.title);
    hdf5::write_attribute(file, "view", view_name(c.section.view));
    hdf5::write_attribute(file, "cell_mm", c.section.cell * mm);
    hdf5::write_attribute(file, "depth_mm", c.section.depth * mm);
    hdf5::write_attribute(file, "multiply", c.section.multiply);
}

void write_places(hid_t file, const mesh::Grid& grid)
{
    const auto write = [&](const char* name, int count, const auto& place) {
        std::vector<double> places;
        places.reserve(static_cast<std::size_t>(count));
        for (int n = 0; n < count; ++n) {
            places.push_back(place(n) * mm);
        }
        hdf5::write_numbers(file, name, places, "mm");
    };
    write("x_mm", grid.nx, [&](int i) { return grid.x_centre(i); });
    write("y_mm", grid.ny, [&](int j) { return grid.y_centre(j); });
    if (!grid.has_levels()) {
        return;
    }
    write("z_mm", grid.nz(), [&](int k) { return grid.z_centre(k); });
    write("x_faces_mm", grid.nx + 1, [&](int i) { return grid.x_face(i); });
    write("y_faces_mm", grid.ny + 1, [&](int j) { return grid.y_face(j); });
    write("z_faces_mm", grid.nz() + 1, [&](int k) { return grid.z_face(k); });
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

hdf5::ImageShape shape_of(const mesh::Grid& grid)
{
    return {static_cast<hsize_t>(grid.nx), static_cast<hsize_t>(grid.ny)};
}

/// The counts of a dataset of the grid's images: of frames, where there are any, and of levels.
std::vector<hsize_t> counts_of(const mesh::Grid& grid, std::optional<std::size_t> frames = {})
{
    std::vector<hsize_t> counts;
    if (frames) {
        counts.push_back(*frames);
    }
    if (grid.has_levels()) {
        counts.push_back(grid.level_heights.size());
    }
    return counts;
}

/// Writes the grid's values level by level.
template <class Value>
void write_levels(hdf5::Images<Value>& images, const mesh::Grid& grid, std::span<const Value> values,
                  std::size_t frame = 0)
{
    for (int k = 0; k < grid.nz(); ++k) {
        const std::size_t image = frame * grid.level_heights.size() + static_cast<std::size_t>(k);
        images.write(level_values(grid, values, k), image);
    }
}

template <class Value>
void write_map(hid_t maps, const mesh::Grid& grid, const char* name, std::span<const Value> values,
               std::string_view unit, std::string_view meaning)
{
    hdf5::Images<Value> map(maps, name, counts_of(grid), shape_of(grid), unit);
    write_levels(map, grid, values);
    hdf5::write_attribute(map.id(), "meaning", meaning);
}

void write_maps(hid_t file, const solver::Case& c, const solver::Answer& answer)
{
    const mesh::Grid& grid = answer.painting.grid;
    const Handle maps = hdf5::create_group(file, "maps");
    std::vector<float> room;
    for (const MetalMap& map : metal_maps()) {
        write_map(maps.id(), grid, std::string(map.name).c_str(), values_of(map, c, answer, room), map.unit,
                  map.meaning);
    }
    write_map(maps.id(), grid, "part", std::span<const std::uint16_t>(answer.painting.part_of_voxel), "1",
              "index into /parts");
    const std::vector<std::uint16_t> material = material_of_voxel(c, answer.painting);
    write_map(maps.id(), grid, "material", std::span<const std::uint16_t>(material), "1",
              "index into /materials");
}

/// The flat maps of a plan.
void write_plan_maps(hid_t file, const solver::Case& c, const solver::Answer& answer)
{
    const mesh::Painting& painting = answer.painting;
    const mesh::Grid flat = flat_grid(painting.grid);
    const Handle group = hdf5::create_group(file, "plan");
    for (const PlanMap& map : plan_maps()) {
        const std::vector<float> values = values_of(map, c, answer);
        write_map(group.id(), flat, std::string(map.name).c_str(), std::span<const float>(values), "s",
                  map.meaning);
    }
    const int middle = middle_level(c, painting);
    const std::vector<mesh::PartId> from_above = seen_from_above(c, painting);
    write_map(group.id(), flat, "part_at_middle_level",
              level_values<mesh::PartId>(painting.grid, painting.part_of_voxel, middle), "1",
              "index into /parts, in the level where the middle of the castings lies");
    write_map(group.id(), flat, "part_from_above", std::span<const mesh::PartId>(from_above), "1",
              "index into /parts, the first from above that is neither mould nor air");
    hdf5::write_attribute(
        group.id(), "middle_level_z_mm",
        std::array{painting.grid.z_face(middle) * mm, painting.grid.z_face(middle + 1) * mm});
}

void write_frames(const hdf5::DiskFile& file, const solver::Answer& answer)
{
    const mesh::Grid& grid = answer.painting.grid;
    const solver::FrameSource* frames = answer.frames.get();
    const std::vector<std::size_t> chosen = whole_frames(grid, frames, answer.fields.freezes);
    const std::size_t count = chosen.size();
    const Handle group = hdf5::create_group(file.id(), "frames");
    hdf5::write_numbers(group.id(), "time_s", times_of(chosen, frames), "s");
    if (count == 0) {
        return;
    }
    const std::vector<hsize_t> counts = counts_of(grid, count);
    hdf5::Images<float> temperatures(group.id(), "temperature_C", counts, shape_of(grid), "°C");
    hdf5::Images<float> fractions(group.id(), "solid_fraction", counts, shape_of(grid), "1");
    std::vector<float> temperature(grid.size());
    std::vector<float> fraction(grid.size());
    for (std::size_t frame = 0; frame < count && !file.failed(); ++frame) {
        frames->fill(chosen[frame], temperature, fraction);
        round_frame(temperature, fraction);
        write_levels<float>(temperatures, grid, temperature, frame);
        write_levels<float>(fractions, grid, fraction, frame);
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
        std::vector<double> at{probe.at.x * mm, probe.at.y * mm};
        if (probe.at.has_height()) {
            at.push_back(probe.at.z * mm);
        }
        hdf5::write_attribute(group.id(), "at_mm", at);
        hdf5::write_numbers(group.id(), "time_s", probe.curve.time, "s");
        hdf5::write_numbers(group.id(), "temperature_C", probe.curve.temperature, "°C");
        hdf5::write_numbers(group.id(), "solid_fraction", probe.curve.solid_fraction, "1");
    }
}

void write_contents(const hdf5::DiskFile& file, const solver::Case& c, const solver::Answer& answer,
                    std::string_view case_text)
{
    write_heading(file.id(), c);
    hdf5::write_text(file.id(), "case_text", case_text);
    write_places(file.id(), answer.painting.grid);
    write_names(file.id(), c);
    write_probes(file.id(), answer.probes);
    write_maps(file.id(), c, answer);
    if (answer.painting.grid.has_levels()) {
        write_plan_maps(file.id(), c, answer);
    }
    write_frames(file, answer);
}

FileError library_error(const std::filesystem::path& file, const hdf5::Failure& failure)
{
    return {file.string(), "write", 0,
            fmt::format("the HDF5 library could not {}; is there enough memory?", failure.what())};
}

}  // namespace

void write_hdf5(const std::filesystem::path& file, const solver::Case& c, const solver::Answer& answer,
                std::string_view case_text)
{
    const hdf5::Quiet quiet;
    WholeFile whole(file);
    int disk_error = 0;
    try {
        const hdf5::DiskFile contents(whole.path(), disk_error);
        write_contents(contents, c, answer, case_text);
    } catch (const hdf5::Failure& failure) {
        if (disk_error == 0) {
            throw library_error(file, failure);
        }
    }
    if (disk_error != 0) {
        throw write_error(file, disk_error);
    }
    whole.commit();
}

}  // namespace sandfreeze::io
