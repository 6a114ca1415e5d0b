#include "io/vtk_series.hpp"

#include <numeric>
#include <optional>
#include <string>
#include <system_error>
#include <vector>

#include <fmt/format.h>
#include <vtkDataSet.h>

#include "io/errors.hpp"
#include "io/frame_choice.hpp"
#include "io/frame_values.hpp"
#include "io/plan_maps.hpp"
#include "io/result_maps.hpp"
#include "io/vtk_image.hpp"
#include "io/whole_file.hpp"

namespace sandfreeze::io
{
namespace
{

namespace fs = std::filesystem;

constexpr double mm = 1e3;  // per m

void check(const std::error_code& code, const fs::path& path, std::string_view failed)
{
    if (code) {
        throw FileError(path.string(), failed, code.value(), "choose a folder you may write to");
    }
}

/// A series of frames: its folder, and how its files are called.
struct SeriesNames {
    std::string folder;
    std::string stem;
    std::string ending;

    std::string frame(std::size_t n) const { return fmt::format("{}_{:04}.{}", stem, n, ending); }
    std::string list() const { return stem + ".pvd"; }
};

/// Frames in the making: written beside their place, moved there together.
class StagedFrames
{
public:
    StagedFrames(const fs::path& folder, SeriesNames names)
        : names_(std::move(names))
        , target_(folder / names_.folder)
        , staging_(folder / (names_.folder + ".partial"))
        , list_(folder / names_.list())
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

    fs::path staged(std::size_t frame) const { return staging_ / names_.frame(frame); }
    fs::path target(std::size_t frame) const { return target_ / names_.frame(frame); }

    void remove_list() const
    {
        std::error_code code;
        fs::remove(list_, code);
        check(code, list_, "replace");
    }
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
    /// After the frames, which are at these times.
    void write_list(const std::vector<double>& times) const
    {
        std::string text = "<?xml version=\"1.0\"?>\n"
                           "<VTKFile type=\"Collection\" version=\"0.1\" byte_order=\"LittleEndian\">\n"
                           "  <Collection>\n";
        for (std::size_t frame = 0; frame < times.size(); ++frame) {
            text += fmt::format("    <DataSet timestep=\"{}\" part=\"0\" file=\"{}/{}\"/>\n", times[frame],
                                names_.folder, names_.frame(frame));
        }
        write_whole(list_, text + "  </Collection>\n</VTKFile>\n");
    }

private:
    SeriesNames names_;
    fs::path target_;
    fs::path staging_;
    fs::path list_;
};

void write_whole_image(vtkDataSet& image, const fs::path& file)
{
    WholeFile whole(file);
    write_image(image, whole.path(), file);
    whole.commit();
}

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
    write_whole_image(*image, folder / fmt::format("maps.{}", image_ending(answer.painting.grid)));
}

/// The flat maps of a plan.
void write_plan_maps(const fs::path& folder, const solver::Case& c, const solver::Answer& answer)
{
    const mesh::Painting& painting = answer.painting;
    const auto image = image_of(flat_grid(painting.grid));
    std::vector<std::vector<float>> values;
    for (const PlanMap& map : plan_maps()) {
        values.push_back(values_of(map, c, answer));
    }
    for (std::size_t m = 0; m < values.size(); ++m) {
        add_cells(*image, std::string(plan_maps()[m].name), values[m]);
    }
    const int middle = middle_level(c, painting);
    const std::vector<mesh::PartId> from_above = seen_from_above(c, painting);
    add_cells(*image, "part_at_middle_level",
              level_values<mesh::PartId>(painting.grid, painting.part_of_voxel, middle));
    add_cells(*image, "part_from_above", from_above);
    add_numbers(*image, "middle_level_z_mm",
                {{painting.grid.z_face(middle) * mm, painting.grid.z_face(middle + 1) * mm}});
    const CaseNames names = names_of(c);
    add_names(*image, "part_names", names.parts);
    add_names(*image, "part_roles", names.roles);
    write_whole_image(*image, folder / "plan_maps.vti");
}

/// One frame of either series after the other, drawn from the source once each; one of them is held.
class FrameWriter
{
public:
    FrameWriter(const fs::path& folder, const solver::Case& c, const mesh::Painting& painting)
        : grid_(painting.grid)
        , staged_(folder, {"frames", "freeze", std::string(image_ending(grid_))})
        , image_(image_of(grid_))
    {
        if (!grid_.has_levels()) {
            return;
        }
        middle_ = middle_level(c, painting);
        staged_flat_.emplace(folder, SeriesNames{"plan_frames", "plan", "vti"});
        flat_image_ = image_of(flat_grid(grid_));
    }

    void write(const solver::FrameSource& frames)
    {
        temperature_.resize(grid_.size());
        solid_fraction_.resize(grid_.size());
        const std::vector<std::size_t> whole = whole_frames(grid_, &frames);
        std::size_t next = 0;
        for (std::size_t frame = 0; frame < frames.count(); ++frame) {
            const bool is_whole = next < whole.size() && whole[next] == frame;
            if (!is_whole && !staged_flat_) {
                continue;
            }
            frames.fill(frame, temperature_, solid_fraction_);
            round_frame(temperature_, solid_fraction_);
            if (is_whole) {
                write_whole_frame(next++, frames.time(frame));
            }
            if (staged_flat_) {
                write_flat(frame, frames.time(frame));
            }
        }
    }

    void put_in_place(const solver::FrameSource* frames) const
    {
        put(staged_, times_of(whole_frames(grid_, frames), frames));
        if (staged_flat_) {
            std::vector<std::size_t> all(frames != nullptr ? frames->count() : 0);
            std::iota(all.begin(), all.end(), std::size_t{0});
            put(*staged_flat_, times_of(all, frames));
        }
    }

private:
    /// The list last, and none while the frames behind it change.
    static void put(const StagedFrames& series, const std::vector<double>& times)
    {
        series.remove_list();
        series.move_into_place(times.size());
        if (!times.empty()) {
            series.write_list(times);
        }
    }

    void write_whole_frame(std::size_t number, double time)
    {
        // Anew, since VTK remembers what it found out about an array.
        add_cells(*image_, "temperature_C", temperature_);
        add_cells(*image_, "solid_fraction", solid_fraction_);
        set_time(*image_, time);
        write_image(*image_, staged_.staged(number), staged_.target(number));
    }

    void write_flat(std::size_t frame, double time)
    {
        const std::vector<float> least = through_thickness(grid_, solid_fraction_, Through::smallest);
        add_cells(*flat_image_, "temperature_C", level_values<float>(grid_, temperature_, middle_));
        add_cells(*flat_image_, "solid_fraction", level_values<float>(grid_, solid_fraction_, middle_));
        add_cells(*flat_image_, "least_solid_fraction", least);
        set_time(*flat_image_, time);
        write_image(*flat_image_, staged_flat_->staged(frame), staged_flat_->target(frame));
    }

    const mesh::Grid& grid_;
    StagedFrames staged_;
    vtkSmartPointer<vtkDataSet> image_;
    std::optional<StagedFrames> staged_flat_;  ///< of a plan
    vtkSmartPointer<vtkDataSet> flat_image_;
    int middle_ = 0;
    std::vector<float> temperature_;
    std::vector<float> solid_fraction_;
};

}  // namespace

void write_vtk_series(const fs::path& folder, const solver::Case& c, const solver::Answer& answer)
{
    std::error_code code;
    fs::create_directories(folder, code);
    check(code, folder, "make the folder");
    FrameWriter writer(folder, c, answer.painting);
    if (answer.frames) {
        writer.write(*answer.frames);
    }
    write_maps(folder, c, answer);
    if (answer.painting.grid.has_levels()) {
        write_plan_maps(folder, c, answer);
    }
    writer.put_in_place(answer.frames.get());
}

}  // namespace sandfreeze::io
