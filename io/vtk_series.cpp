#include "io/vtk_series.hpp"

#include <algorithm>
#include <cmath>
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
#include "io/voxel_box.hpp"
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
        add_cells(*image, std::string(map.name), values_of(map, c, answer, *room++), map.unit);
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
        add_cells(*image, std::string(plan_maps()[m].name), values[m], "s");
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
    FrameWriter(const fs::path& folder, const solver::Case& c, const solver::Answer& answer,
                FrameExtent extent)
        : all_(answer.painting.grid)
        , freezes_(answer.fields.freezes)
        , extent_(extent)
        , box_(extent == FrameExtent::everything ? whole_box(all_) : metal_box(c, answer.painting))
        , grid_(cut_out(all_, box_))
        , staged_(folder, {"frames", "freeze", std::string(image_ending(all_))})
        , image_(image_of(grid_, all_.has_levels() ? ImageShape::levels : flat_shape()))
    {
        for (const solver::Part& part : c.parts) {
            poured_at_ = solver::is_poured(part.role) ? std::max(poured_at_, part.temperature) : poured_at_;
        }
        if (!all_.has_levels()) {
            return;
        }
        middle_ = middle_level(c, answer.painting) - box_.k0;
        staged_flat_.emplace(folder, SeriesNames{"plan_frames", "plan", "vti"});
        flat_image_ = image_of(flat_grid(grid_), flat_shape());
    }

    void write(const solver::FrameSource& frames)
    {
        temperature_.resize(all_.size());
        solid_fraction_.resize(all_.size());
        shown_temperature_.resize(grid_.size());
        shown_fraction_.resize(grid_.size());
        const std::vector<std::size_t> whole = whole_frames(grid_, &frames, freezes_);
        find_ranges(frames);
        std::size_t next = 0;
        for (std::size_t frame = 0; frame < frames.count(); ++frame) {
            const bool is_whole = next < whole.size() && whole[next] == frame;
            if (!is_whole && !staged_flat_) {
                continue;
            }
            fill(frames, frame);
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
        put(staged_, times_of(whole_frames(grid_, frames, freezes_), frames));
        if (staged_flat_) {
            std::vector<std::size_t> all(frames != nullptr ? frames->count() : 0);
            std::iota(all.begin(), all.end(), std::size_t{0});
            put(*staged_flat_, times_of(all, frames));
        }
    }

private:
    ImageShape flat_shape() const
    {
        return extent_ == FrameExtent::metal ? ImageShape::layer : ImageShape::flat;
    }

    /// The list last, and none while the frames behind it change.
    static void put(const StagedFrames& series, const std::vector<double>& times)
    {
        series.remove_list();
        series.move_into_place(times.size());
        if (!times.empty()) {
            series.write_list(times);
        }
    }

    /// A frame as it is shown: of the box, rounded, and of the metal alone unless everything is.
    void fill(const solver::FrameSource& frames, std::size_t frame)
    {
        frames.fill(frame, temperature_, solid_fraction_);
        round_frame(temperature_, solid_fraction_);
        cut_out<float>(all_, box_, temperature_, shown_temperature_);
        cut_out<float>(all_, box_, solid_fraction_, shown_fraction_);
        if (extent_ == FrameExtent::everything) {
            return;
        }
        for (std::size_t v = 0; v < shown_fraction_.size(); ++v) {
            if (std::isnan(shown_fraction_[v])) {
                shown_temperature_[v] = shown_fraction_[v];
            }
        }
    }

    /// From the pour to the last frame; metal only cools.
    void find_ranges(const solver::FrameSource& frames)
    {
        double low = poured_at_;
        double high = poured_at_;
        for (const std::size_t frame : {std::size_t{0}, frames.count() - 1}) {
            fill(frames, frame);
            for (const float value : shown_temperature_) {
                if (std::isfinite(value)) {
                    low = std::min(low, static_cast<double>(value));
                    high = std::max(high, static_cast<double>(value));
                }
            }
        }
        for (vtkDataSet* image : {image_.Get(), flat_image_.Get()}) {
            if (image != nullptr) {
                add_numbers(*image, "solid_fraction_range", {{0, 1}});
                add_numbers(*image, "temperature_C_range", {{low, high}});
            }
        }
    }

    void write_whole_frame(std::size_t number, double time)
    {
        // Anew, since VTK remembers what it found out about an array.
        add_cells(*image_, "solid_fraction", shown_fraction_, "1");
        add_cells(*image_, "temperature_C", shown_temperature_, "°C");
        if (extent_ == FrameExtent::metal) {
            blank_where_none(*image_, shown_fraction_);
        }
        set_time(*image_, time);
        write_image(*image_, staged_.staged(number), staged_.target(number));
    }

    void write_flat(std::size_t frame, double time)
    {
        const std::vector<float> least = through_thickness(grid_, shown_fraction_, Through::smallest);
        add_cells(*flat_image_, "least_solid_fraction", least, "1");
        add_cells(*flat_image_, "solid_fraction", level_values<float>(grid_, shown_fraction_, middle_), "1");
        add_cells(*flat_image_, "temperature_C", level_values<float>(grid_, shown_temperature_, middle_),
                  "°C");
        if (extent_ == FrameExtent::metal) {
            blank_where_none(*flat_image_, least);
        }
        set_time(*flat_image_, time);
        write_image(*flat_image_, staged_flat_->staged(frame), staged_flat_->target(frame));
    }

    const mesh::Grid& all_;
    const std::vector<float>& freezes_;
    FrameExtent extent_;
    VoxelBox box_;
    mesh::Grid grid_;  ///< of the box
    StagedFrames staged_;
    vtkSmartPointer<vtkDataSet> image_;
    std::optional<StagedFrames> staged_flat_;  ///< of a plan
    vtkSmartPointer<vtkDataSet> flat_image_;
    int middle_ = 0;        ///< level of the box
    double poured_at_ = 0;  ///< [°C]; where the mould fills over time the first frame has no metal
    std::vector<float> temperature_;
    std::vector<float> solid_fraction_;
    std::vector<float> shown_temperature_;  ///< in the box
    std::vector<float> shown_fraction_;
};

}  // namespace

void write_vtk_series(const fs::path& folder, const solver::Case& c, const solver::Answer& answer,
                      FrameExtent extent)
{
    std::error_code code;
    fs::create_directories(folder, code);
    check(code, folder, "make the folder");
    FrameWriter writer(folder, c, answer, extent);
    if (answer.frames && answer.frames->count() > 0) {
        writer.write(*answer.frames);
    }
    write_maps(folder, c, answer);
    if (answer.painting.grid.has_levels()) {
        write_plan_maps(folder, c, answer);
    }
    writer.put_in_place(answer.frames.get());
}

}  // namespace sandfreeze::io
