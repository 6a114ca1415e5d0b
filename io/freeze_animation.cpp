#include "io/freeze_animation.hpp"

#include <algorithm>
#include <cmath>
#include <string>
#include <system_error>
#include <vector>

#include <fmt/format.h>

#include "io/errors.hpp"
#include "io/frame_choice.hpp"
#include "io/gif_file.hpp"
#include "io/isolines.hpp"
#include "io/map_drawing.hpp"
#include "io/picture_canvas.hpp"
#include "io/picture_plot.hpp"
#include "io/plan_maps.hpp"
#include "io/viridis.hpp"
#include "io/voxel_box.hpp"

namespace sandfreeze::io
{
namespace
{

namespace fs = std::filesystem;

constexpr double margin = 20;
constexpr double heading_room = 84;
constexpr double most_width = 660;
constexpr double most_height = 620;
constexpr double least_width = 520;
constexpr double legend_room = 66;
constexpr double beside_parts = 0.04;  ///< sand shown around the parts, of their extent
constexpr double half_solid = 0.5;
constexpr double playing_time = 8;  // [s]
constexpr double shortest = 0.05;   // [s] that a frame is shown
constexpr double pause_at_end = 2;  // [s]

std::string seconds_text(double time)
{
    const int decimals = time < 10 ? 2 : time < 100 ? 1 : 0;
    return fmt::format("{:.{}f} s", time, decimals);
}

/// What is seen of the mould: the section, or the plan from above, cut to what is around the parts.
class Scene
{
public:
    Scene(const solver::Case& c, const mesh::Painting& painting)
        : all_(painting.grid)
        , flat_{painting.grid, painting.part_of_voxel, {}, {}, {}, nullptr}
    {
        if (all_.has_levels()) {
            flat_.grid = flat_grid(all_);
            flat_.part_of_voxel = seen_from_above(c, painting);
        }
        box_ = parts_box(c, flat_, beside_parts);
        shown_.grid = cut_out(flat_.grid, box_);
        shown_.part_of_voxel.resize(shown_.grid.size());
        cut_out<mesh::PartId>(flat_.grid, box_, flat_.part_of_voxel, shown_.part_of_voxel);
    }

    const mesh::Painting& painting() const { return shown_; }

    /// A field of all voxels as it is seen: of plans the smallest value of each column.
    std::vector<float> seen(std::span<const float> field) const
    {
        std::vector<float> out(shown_.grid.size());
        if (all_.has_levels()) {
            const std::vector<float> least = through_thickness(all_, field, Through::smallest);
            cut_out<float>(flat_.grid, box_, least, out);
        } else {
            cut_out<float>(flat_.grid, box_, field, out);
        }
        return out;
    }

private:
    const mesh::Grid& all_;
    mesh::Painting flat_;
    VoxelBox box_;
    mesh::Painting shown_;
};

/// Share of the metal that is solid, by volume.
double solid_share(const mesh::Grid& grid, std::span<const float> solid_fraction)
{
    double solid = 0;
    double all = 0;
    std::size_t v = 0;
    for (int k = 0; k < grid.nz(); ++k) {
        for (int j = 0; j < grid.ny; ++j) {
            for (int i = 0; i < grid.nx; ++i, ++v) {
                if (std::isfinite(solid_fraction[v])) {
                    const double volume = grid.voxel_volume(i, k);
                    all += volume;
                    solid += volume * static_cast<double>(solid_fraction[v]);
                }
            }
        }
    }
    return all > 0 ? solid / all : 0;
}

/// A bar that fills up as the metal becomes solid.
void draw_solid_bar(const Canvas& canvas, const Patch& bar, double share)
{
    canvas.fill(bar, paper);
    canvas.fill({bar.x, bar.y, bar.width * share, bar.height}, ink);
    canvas.frame(bar, ink, 1.4);
    canvas.text(bar.x + bar.width + 10, bar.y + bar.height - 2, fmt::format("{:.0f} % solid", share * 100),
                {15, Weight::bold, Align::left, ink});
}

/// From liquid, bright, to solid, dark, with the front's line in the middle.
void draw_key(const Canvas& canvas, const Patch& bar)
{
    draw_gradient(canvas, bar, [](double share) { return colour_of(viridis(1 - share)); });
    const double below = bar.y + bar.height + 16;
    const Lettering letters{12, Weight::normal, Align::left, ink};
    canvas.text(bar.x, below, "liquid", letters);
    canvas.text(bar.x + bar.width / 2, below, "front: half solid", {12, Weight::normal, Align::centre, ink});
    canvas.text(bar.x + bar.width, below, "solid", {12, Weight::normal, Align::right, ink});
    const double middle = bar.x + bar.width / 2;
    for (const auto& [colour, width] : {std::pair{paper, 6.0}, std::pair{ink, 2.4}}) {
        canvas.set(colour);
        cairo_set_line_width(canvas.pen(), width);
        canvas.line(middle, bar.y + 1, middle, bar.y + bar.height - 1);
    }
}

void draw_front(const Canvas& canvas, const Plot& plot, const std::vector<LinePiece>& front)
{
    for (const auto& [colour, width] : {std::pair{paper, 6.0}, std::pair{ink, 2.4}}) {
        trace(canvas, plot, front);
        canvas.set(colour);
        cairo_set_line_width(canvas.pen(), width);
        cairo_set_line_cap(canvas.pen(), CAIRO_LINE_CAP_ROUND);
        cairo_stroke(canvas.pen());
        cairo_set_line_cap(canvas.pen(), CAIRO_LINE_CAP_BUTT);
    }
}

/// One moment on a sheet of its own; all sheets of an animation are alike.
class FrameSheet
{
public:
    FrameSheet(const solver::Case& c, const Scene& scene)
        : case_(c)
        , scene_(scene)
        , plot_(scene.painting().grid, margin + axis_room_left, margin + heading_room + axis_room_above,
                most_width, most_height)
        , width_(static_cast<int>(std::ceil(std::max(
              plot_.patch().x + std::max(plot_.patch().width, least_width - axis_room_left) + 2 * margin,
              least_width))))
        , height_(static_cast<int>(
              std::ceil(plot_.patch().y + plot_.patch().height + axis_room_below + legend_room)))
    {
    }

    int width() const { return width_; }
    int height() const { return height_; }

    void draw(const Canvas& canvas, double time, double solid, std::span<const float> solid_fraction) const
    {
        const mesh::Painting& painting = scene_.painting();
        const Lettering title{16, Weight::bold, Align::left, ink};
        canvas.text(margin, margin + 14, canvas.fitted(case_.title, width_ - 2 * margin, title), title);
        const bool plan = case_.section.view == solver::View::plan;
        canvas.text(margin, margin + 36,
                    plan ? "from above: the least solid metal through the thickness" : "",
                    {12, Weight::normal, Align::left, faint_ink});
        canvas.text(margin, margin + 66, seconds_text(time) + " after the pour",
                    {17, Weight::bold, Align::left, ink});
        draw_solid_bar(canvas, {margin + 220, margin + 51, width_ - 3 * margin - 330, 18}, solid);
        draw_metal(canvas, painting, solid_fraction);
        draw_axes(canvas, plot_, plan ? mesh::Symmetry::planar : painting.grid.symmetry);
        draw_turning_axis(canvas, plot_, painting.grid);
        draw_key(canvas, {plot_.patch().x, plot_.patch().y + plot_.patch().height + axis_room_below + 14,
                          std::min(320.0, width_ - plot_.patch().x - margin), 16});
    }

private:
    void draw_metal(const Canvas& canvas, const mesh::Painting& painting,
                    std::span<const float> solid_fraction) const
    {
        std::vector<float> liquid(solid_fraction.begin(), solid_fraction.end());
        for (float& value : liquid) {
            value = 1 - value;
        }
        Range range;
        range.high = 1;
        range.empty = false;
        draw_voxels(canvas, plot_, painting, liquid, range);
        draw_borders(canvas, plot_, painting.grid, painting.part_of_voxel, paper, 2.6);
        draw_borders(canvas, plot_, painting.grid, painting.part_of_voxel, ink, 1.2);
        draw_front(canvas, plot_, isoline(painting.grid, solid_fraction, half_solid));
    }

    const solver::Case& case_;
    const Scene& scene_;
    Plot plot_;
    int width_;
    int height_;
};

fs::path frame_file(const fs::path& folder, std::size_t n)
{
    return folder / fmt::format("freeze_{:02}.png", n);
}

/// How long each frame is shown [s].
std::vector<double> durations_of(const std::vector<double>& times)
{
    std::vector<double> durations;
    const double length = times.back() - times.front();
    for (std::size_t n = 0; n + 1 < times.size(); ++n) {
        durations.push_back(std::max(shortest, playing_time * (times[n + 1] - times[n]) / length));
    }
    durations.push_back(pause_at_end);
    return durations;
}

void make_folder(const fs::path& folder)
{
    std::error_code code;
    fs::create_directories(folder, code);
    if (code) {
        throw FileError(folder.string(), "make the folder", code.value(), "choose a folder you may write to");
    }
}

}  // namespace

std::size_t write_freeze_animation(const fs::path& folder, const solver::Case& c,
                                   const solver::Answer& answer)
{
    if (!answer.frames || answer.frames->count() == 0) {
        remove_animation_frames(folder, 0);
        return 0;
    }
    const solver::FrameSource& frames = *answer.frames;
    const mesh::Grid& grid = answer.painting.grid;
    const Scene scene(c, answer.painting);
    const FrameSheet sheet(c, scene);
    const std::vector<std::size_t> chosen =
        chosen_frames(most_animation_frames, frames, answer.fields.freezes);
    const std::vector<double> durations = durations_of(times_of(chosen, &frames));
    make_folder(folder / "frames");
    GifFile gif(folder / "freeze.gif", sheet.width(), sheet.height());
    std::vector<float> temperature(grid.size());
    std::vector<float> solid_fraction(grid.size());
    for (std::size_t n = 0; n < chosen.size(); ++n) {
        frames.fill(chosen[n], temperature, solid_fraction);
        const Canvas canvas(sheet.width(), sheet.height());
        sheet.draw(canvas, frames.time(chosen[n]), solid_share(grid, solid_fraction),
                   scene.seen(solid_fraction));
        canvas.save(frame_file(folder / "frames", n));
        gif.add(canvas.pixels(), durations[n]);
    }
    gif.commit();
    remove_animation_frames(folder, chosen.size());
    return chosen.size();
}

void remove_animation_frames(const fs::path& folder, std::size_t from)
{
    std::error_code ignored;
    for (std::size_t n = from; fs::remove(frame_file(folder / "frames", n), ignored); ++n) {
    }
    fs::remove(folder / "frames", ignored);  // does nothing to a folder that is not empty
}

}  // namespace sandfreeze::io
