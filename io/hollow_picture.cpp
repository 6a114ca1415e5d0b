#include "io/hollow_picture.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <stdexcept>
#include <string>
#include <vector>

#include <fmt/format.h>

#include "io/map_drawing.hpp"
#include "io/mark_drawing.hpp"
#include "io/picture_canvas.hpp"
#include "io/picture_labels.hpp"
#include "io/picture_plot.hpp"
#include "io/picture_sheet.hpp"
#include "io/picture_style.hpp"
#include "io/plan_sheet.hpp"
#include "io/plan_views.hpp"
#include "io/text.hpp"

namespace sandfreeze::io
{
namespace
{

constexpr double mm = 1e3;  // per m

constexpr double swatch_row = 30;    // [px]
constexpr double words_line = 19;    // [px]
constexpr double letter = 6.9;       // [px], on the wide side
constexpr float partly_from = 0.1F;  ///< share of a place that is empty
constexpr float empty_from = 0.5F;
constexpr double told_from = 0.5e-9;  ///< draw-downs [m3]
constexpr double hardly_any = 1e-8;   ///< [m3]
constexpr std::uint32_t metal_tone = 0xD5DEE6;
constexpr std::uint32_t mould_tone = 0xFAFAF8;
constexpr std::uint32_t strong_tone = 0xE2562B;
constexpr char title[] = "Where metal is missing in the end: draw-downs and holes";

Fill empty_fill()
{
    return {colour_of(strong_tone), Hatch::dense_crossed, ink};
}
Fill partly_fill()
{
    return {lighter(colour_of(strong_tone), 0.62), Hatch::dots, ink};
}

/// Something to say at a place.
struct Note {
    mesh::Place at;
    std::string words;
};

/// Deepest place of a surface: lowest in y, in z where there is one.
mesh::Place deepest_of(const std::vector<mesh::Place>& surface)
{
    return *std::min_element(surface.begin(), surface.end(), [](const mesh::Place& a, const mesh::Place& b) {
        return a.has_height() ? a.z < b.z : a.y < b.y;
    });
}

std::vector<Note> draw_downs_of(const solver::Answer& answer)
{
    std::vector<Note> notes;
    for (const solver::DrawDown& down : answer.shrinkage.draw_downs) {
        if (down.given > told_from && !down.surface.empty()) {
            notes.push_back({deepest_of(down.surface),
                             fmt::format("{}: {} {}", down.name, down.open ? "drawn down" : "hollowed out",
                                         volume_words(down.given))});
        }
    }
    return notes;
}

std::vector<VerdictMark> holes_of(const solver::Answer& answer)
{
    std::vector<VerdictMark> marks = marks_of(answer);
    std::erase_if(marks, [](const VerdictMark& mark) { return mark.kind != MarkKind::hole; });
    return marks;
}

std::string amount_words(double volume)
{
    return volume < told_from ? "nothing" : volume < hardly_any ? "hardly any" : volume_words(volume);
}

/// Where the metal went, in a sentence.
std::string sum_words(const solver::Shrinkage& s)
{
    if (!(s.shrinks > told_from)) {
        return "Nothing is missing: the metal does not shrink while it freezes, or the run was stopped "
               "before.";
    }
    return fmt::format(
        "Of {} poured {} get empty until all is solid: {} in draw-downs, {} in closed holes, {} in "
        "pores too small to draw.",
        volume_words(s.poured), volume_words(s.shrinks), amount_words(s.drawn), amount_words(s.hollow),
        amount_words(s.pores));
}

/// Voxels with such a share empty as part 1 of a painting of their own.
mesh::Painting mask_of(const mesh::Grid& grid, std::span<const float> share, float from, float below)
{
    mesh::Painting mask;
    mask.grid = grid;
    mask.part_of_voxel.reserve(share.size());
    for (const float value : share) {
        mask.part_of_voxel.push_back(value >= from && value < below ? 1 : 0);
    }
    return mask;
}

void draw_view(const Canvas& canvas, const Plot& plot, const mesh::Painting& painting, const solver::Case& c,
               std::span<const float> share)
{
    draw_pixels(canvas, plot, painting.grid, [&](std::size_t v) {
        const mesh::PartId part = painting.part_of_voxel[v];
        return solver::is_poured(c.parts[part].role) ? metal_tone : part == 0 ? mould_tone : part_grey;
    });
    const mesh::Painting partly = mask_of(painting.grid, share, partly_from, empty_from);
    const mesh::Painting empty = mask_of(painting.grid, share, empty_from, 2);
    add_part_path(canvas, plot, partly, 1);
    fill_path(canvas, partly_fill());
    add_part_path(canvas, plot, empty, 1);
    fill_path(canvas, empty_fill());
    draw_borders(canvas, plot, painting.grid, empty.part_of_voxel, ink, 1.6);
    draw_borders(canvas, plot, painting.grid, painting.part_of_voxel, ink, 1.2);
}

std::vector<std::string> lines_of(const std::string& words, double width)
{
    std::vector<std::string> lines;
    const std::string text = wrapped(words, static_cast<std::size_t>(std::max(40.0, width / letter)), 0, 0);
    for (std::size_t from = 0; from < text.size();) {
        const std::size_t end = std::min(text.find('\n', from), text.size());
        lines.push_back(text.substr(from, end - from));
        from = end + 1;
    }
    return lines;
}

double legend_height(const std::string& sums, double width)
{
    return swatch_row + 10 + words_line * static_cast<double>(lines_of(sums, width).size());
}

void draw_legend(const Canvas& canvas, double x, double y, double width, bool holes, const std::string& sums)
{
    const double left = x;
    const Lettering letters{13, Weight::normal, Align::left, ink};
    const auto entry = [&](const Fill& fill, const std::string& words) {
        cairo_rectangle(canvas.pen(), x, y, 26, 17);
        fill_path(canvas, fill);
        canvas.frame({x, y, 26, 17}, ink, 1);
        canvas.text(x + 34, y + 13, words, letters);
        x += 34 + canvas.text_width(words, letters) + 26;
    };
    entry({colour_of(metal_tone), Hatch::none, ink}, "metal");
    entry(empty_fill(), "empty");
    entry(partly_fill(), "partly empty");
    if (holes) {
        draw_mark(canvas, MarkKind::hole, true, x + mark_reach, y + 8);
        canvas.text(x + 2 * mark_reach + 8, y + 13, "hole in a casting", letters);
    }
    y += swatch_row + 14;
    for (const std::string& line : lines_of(sums, width)) {
        canvas.text(left, y, line, {13, Weight::normal, Align::left, faint_ink});
        y += words_line;
    }
}

/// Labels shall not hide what is empty.
void keep_clear_of_empty(Labels& labels, const Plot& plot, const mesh::Grid& grid,
                         std::span<const float> share)
{
    for (int j = 0; j < grid.ny; ++j) {
        for (int i = 0; i < grid.nx; ++i) {
            const int start = i;
            while (i < grid.nx && share[grid.index(i, j)] >= partly_from) {
                ++i;
            }
            if (i > start) {
                labels.keep_clear({plot.left_of(start), plot.bottom_of(j + 1),
                                   plot.left_of(i) - plot.left_of(start),
                                   plot.bottom_of(j) - plot.bottom_of(j + 1)});
            }
        }
    }
}

/// Marks at the holes and words at the draw-downs, x across and y up.
void draw_notes(const Canvas& canvas, const Plot& plot, const mesh::Painting& painting,
                std::span<const float> share, const solver::Answer& answer,
                const std::vector<VerdictMark>& holes)
{
    Labels labels(canvas, plot, painting, plot.patch());
    keep_clear_of_empty(labels, plot, painting.grid, share);
    std::vector<PlacedMark> marks;
    marks.reserve(holes.size());
    for (const VerdictMark& hole : holes) {
        marks.push_back({&hole, plot.x(hole.at.x), plot.y(hole.at.y)});
    }
    draw_marks(canvas, labels, marks, MarkWords::beside);
    for (const Note& note : draw_downs_of(answer)) {
        labels.place_beside(plot.x(note.at.x), plot.y(note.at.y), note.words, 12);
    }
}

void write_section(const std::filesystem::path& png, const solver::Case& c, const solver::Answer& answer)
{
    const mesh::Painting& painting = answer.painting;
    const mesh::Grid& grid = painting.grid;
    const double left = sheet_margin + axis_room_left;
    const double top = sheet_margin + sheet_heading + axis_room_above;
    const Plot plot(grid, left, top, section_width - left - 2 * sheet_margin, most_plot_height);
    const double width = std::max(left + plot.patch().width + 2 * sheet_margin, 640.0);
    const double words_width = width - left - sheet_margin;
    const std::string sums = sum_words(answer.shrinkage);
    const double below = top + plot.patch().height + axis_room_below + 6;
    const Canvas canvas(static_cast<int>(std::ceil(width)),
                        static_cast<int>(std::ceil(below + legend_height(sums, words_width) + sheet_margin)));
    draw_heading(canvas, title, c.title, width);
    draw_view(canvas, plot, painting, c, answer.fields.hollow);
    const std::vector<VerdictMark> holes = holes_of(answer);
    draw_notes(canvas, plot, painting, answer.fields.hollow, answer, holes);
    draw_legend(canvas, left, below, words_width, !holes.empty(), sums);
    draw_axes(canvas, plot, grid.symmetry);
    draw_turning_axis(canvas, plot, grid);
    canvas.save(png);
}

/// What a plan is cut through.
struct CutPlace {
    std::string_view words;
    std::size_t voxel = 0;
};

/// The largest hole, else the deepest place of the largest draw-down.
CutPlace shown_place(const solver::Answer& answer)
{
    const mesh::Grid& grid = answer.painting.grid;
    const auto& holes = answer.shrinkage.cavities;
    if (!holes.empty()) {
        return {"the largest hole", grid.voxel_at(holes.front().at)};
    }
    const auto& downs = answer.shrinkage.draw_downs;
    const auto largest = std::max_element(downs.begin(), downs.end(),
                                          [](const auto& a, const auto& b) { return a.given < b.given; });
    if (largest != downs.end() && !largest->surface.empty()) {
        return {"the largest draw-down", grid.voxel_at(deepest_of(largest->surface))};
    }
    return {"the middle", grid.size() / 2};
}

void write_plan(const std::filesystem::path& png, const solver::Case& c, const solver::Answer& answer)
{
    const mesh::Painting& painting = answer.painting;
    const std::vector<float>& field = answer.fields.hollow;
    const auto [through, voxel] = shown_place(answer);
    const mesh::Place cut = painting.grid.place(voxel);
    const FlatView above = cut_through(Side::above, c, painting, field, voxel);
    const FlatView front = cut_through(Side::front, c, painting, field, voxel);
    const FlatView right = cut_through(Side::right, c, painting, field, voxel);
    const FlatView parts_above = seen_from(Side::above, c, painting);
    const PlanSheet sheet = lay_out(above, front, right);
    const double words_width = sheet.width - 4 * sheet_margin;
    const std::string sums = sum_words(answer.shrinkage);
    const Canvas canvas(
        static_cast<int>(std::ceil(sheet.width)),
        static_cast<int>(std::ceil(sheet.bottom + 8 + legend_height(sums, words_width) + sheet_margin)));
    draw_heading(canvas, title, c.title, sheet.width);
    draw_view(canvas, sheet.above, parts_above.painting, c, above.field);
    draw_view(canvas, sheet.front, front.painting, c, front.field);
    draw_view(canvas, sheet.right, right.painting, c, right.field);
    draw_cuts(canvas, sheet.above, cut);
    const std::vector<VerdictMark> holes = holes_of(answer);
    draw_notes(canvas, sheet.above, parts_above.painting, above.field, answer, holes);
    draw_legend(canvas, sheet.above.patch().x, sheet.bottom + 8, words_width, !holes.empty(), sums);
    const auto place = [](double metres) { return tick_text(std::round(metres * mm * 10) / 10); };
    draw_frames(canvas, sheet,
                {"From above: what is empty anywhere in the thickness",
                 fmt::format("Cut from the front through {}, y = {} mm", through, place(cut.y)),
                 fmt::format("Cut from the right, x = {} mm", place(cut.x))});
    canvas.save(png);
}

}  // namespace

void write_hollow_picture(const std::filesystem::path& png, const solver::Case& c,
                          const solver::Answer& answer)
{
    const std::size_t voxels = answer.painting.grid.size();
    if (answer.fields.hollow.size() != voxels) {
        throw std::invalid_argument(
            fmt::format("picture of holes: {} values for {} voxels", answer.fields.hollow.size(), voxels));
    }
    if (answer.painting.grid.has_levels()) {
        write_plan(png, c, answer);
    } else {
        write_section(png, c, answer);
    }
}

}  // namespace sandfreeze::io
