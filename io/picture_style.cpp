#include "io/picture_style.hpp"

#include <array>
#include <cmath>
#include <map>

namespace sandfreeze::io
{
namespace
{

using solver::Role;

// Okabe and Ito 2008 (values from memory).
constexpr std::uint32_t orange = 0xE69F00;
constexpr std::uint32_t sky_blue = 0x56B4E9;
constexpr std::uint32_t bluish_green = 0x009E73;
constexpr std::uint32_t yellow = 0xF0E442;
constexpr std::uint32_t blue = 0x0072B2;
constexpr std::uint32_t vermilion = 0xD55E00;
constexpr std::uint32_t reddish_purple = 0xCC79A7;
// Ours, for what is neither metal nor chill.
constexpr std::uint32_t sand_colour = 0xDCCFB4;
constexpr std::uint32_t steel_grey = 0x6E7276;
constexpr std::uint32_t mould_colour = 0xF3EEE3;

constexpr double tile = 12;  ///< side of the repeated hatch [px]

struct RoleLook {
    std::uint32_t colour = 0;
    Hatch hatch = Hatch::none;
};

RoleLook look_of(Role role)
{
    switch (role) {
    case Role::casting:
        return {orange, Hatch::rising};
    case Role::gate:
        return {vermilion, Hatch::falling};
    case Role::neck:
        return {vermilion, Hatch::dense_crossed};
    case Role::runner:
        return {yellow, Hatch::level};
    case Role::sprue:
        return {yellow, Hatch::upright};
    case Role::basin:
        return {yellow, Hatch::grid};
    case Role::feeder:
        return {reddish_purple, Hatch::crossed};
    case Role::chill:
        return {blue, Hatch::dots};
    case Role::insert:
        return {blue, Hatch::plus};
    case Role::sleeve:
        return {bluish_green, Hatch::waves};
    case Role::core:
        return {sky_blue, Hatch::rings};
    case Role::flask:
        return {steel_grey, Hatch::none};
    case Role::sand:
        return {sand_colour, Hatch::dots};
    case Role::air:
        return {0xFFFFFF, Hatch::none};
    }
    return {};
}

Fill fill_of(Role role, int turn)
{
    constexpr std::array<double, 4> tints{0.30, 0.58, 0.10, 0.45};
    const RoleLook look = look_of(role);
    const double tint = tints[static_cast<std::size_t>(turn) % tints.size()];
    Fill fill{lighter(colour_of(look.colour), tint), look.hatch, ink};
    if (role == Role::chill) {  // dark, with light dots: nothing else looks like it without colour
        fill = {lighter(colour_of(look.colour), tint / 2), look.hatch, paper};
    }
    return fill;
}

void draw_lines(cairo_t* pen, Hatch hatch)
{
    const auto line = [pen](double x0, double y0, double x1, double y1) {
        cairo_move_to(pen, x0, y0);
        cairo_line_to(pen, x1, y1);
    };
    const auto diagonals = [&](double slope, double apart) {
        const int lines = static_cast<int>(tile / apart);
        for (int n = -2 * lines; n <= 2 * lines; ++n) {
            const double x = n * apart;
            line(x, slope > 0 ? tile + 1 : -1, x + tile + 2, slope > 0 ? -1 : tile + 1);
        }
    };
    if (hatch == Hatch::rising) {
        diagonals(1, tile);
    }
    if (hatch == Hatch::falling) {
        diagonals(-1, tile / 2);
    }
    if (hatch == Hatch::crossed || hatch == Hatch::dense_crossed) {
        const double apart = hatch == Hatch::crossed ? tile : tile / 2;
        diagonals(1, apart);
        diagonals(-1, apart);
    }
    for (const double at : {tile / 4, tile * 3 / 4}) {
        if (hatch == Hatch::level || hatch == Hatch::grid) {
            line(0, at, tile, at);
        }
        if (hatch == Hatch::upright || hatch == Hatch::grid) {
            line(at, 0, at, tile);
        }
    }
    if (hatch == Hatch::plus) {
        line(tile / 4, tile / 2, tile * 3 / 4, tile / 2);
        line(tile / 2, tile / 4, tile / 2, tile * 3 / 4);
    }
    if (hatch == Hatch::waves) {
        cairo_move_to(pen, 0, tile / 2);
        cairo_curve_to(pen, tile / 3, 0, tile * 2 / 3, tile, tile, tile / 2);
    }
    cairo_stroke(pen);
}

void draw_round_marks(cairo_t* pen, Hatch hatch)
{
    constexpr double circle = 6.2831853;
    if (hatch == Hatch::dots) {
        for (const double at : {tile / 4, tile * 3 / 4}) {
            cairo_arc(pen, at, at, 1.3, 0, circle);
            cairo_fill(pen);
        }
    }
    if (hatch == Hatch::rings) {
        cairo_arc(pen, tile / 2, tile / 2, 3, 0, circle);
        cairo_stroke(pen);
    }
}

cairo_pattern_t* hatch_pattern(const Fill& fill)
{
    cairo_surface_t* surface =
        cairo_image_surface_create(CAIRO_FORMAT_ARGB32, static_cast<int>(tile), static_cast<int>(tile));
    cairo_t* pen = cairo_create(surface);
    cairo_set_source_rgba(pen, fill.hatch_colour.red, fill.hatch_colour.green, fill.hatch_colour.blue, 0.6);
    cairo_set_line_width(pen, 1);
    draw_lines(pen, fill.hatch);
    draw_round_marks(pen, fill.hatch);
    cairo_destroy(pen);
    cairo_pattern_t* pattern = cairo_pattern_create_for_surface(surface);
    cairo_surface_destroy(surface);
    cairo_pattern_set_extend(pattern, CAIRO_EXTEND_REPEAT);
    cairo_pattern_set_filter(pattern, CAIRO_FILTER_NEAREST);
    return pattern;
}

}  // namespace

std::vector<Fill> fills_of(const solver::Case& c)
{
    std::vector<Fill> fills{{colour_of(mould_colour), Hatch::none, ink}};
    std::map<Role, int> turns;
    for (std::size_t p = 1; p < c.parts.size(); ++p) {
        const Role role = c.parts[p].role;
        fills.push_back(fill_of(role, turns[role]++));
    }
    return fills;
}

void fill_path(const Canvas& canvas, const Fill& fill)
{
    cairo_t* pen = canvas.pen();
    cairo_set_antialias(pen, CAIRO_ANTIALIAS_NONE);  // neighbouring voxels leave no seam
    canvas.set(fill.colour);
    cairo_fill_preserve(pen);
    if (fill.hatch != Hatch::none) {
        cairo_pattern_t* pattern = hatch_pattern(fill);
        cairo_set_source(pen, pattern);
        cairo_fill_preserve(pen);
        cairo_pattern_destroy(pattern);
    }
    cairo_new_path(pen);
    cairo_set_antialias(pen, CAIRO_ANTIALIAS_DEFAULT);
}

void add_part_path(const Canvas& canvas, const Plot& plot, const mesh::Painting& painting, mesh::PartId part)
{
    const mesh::Grid& grid = painting.grid;
    for (int j = 0; j < grid.ny; ++j) {
        const double top = std::round(plot.bottom_of(j + 1));  // whole pixels, so that rows leave no gap
        const double bottom = std::round(plot.bottom_of(j));
        for (int i = 0; i < grid.nx; ++i) {
            const int start = i;
            while (i < grid.nx && painting.part_of_voxel[grid.index(i, j)] == part) {
                ++i;
            }
            if (i > start) {
                const double left = std::round(plot.left_of(start));
                cairo_rectangle(canvas.pen(), left, top, std::round(plot.left_of(i)) - left, bottom - top);
            }
        }
    }
}

}  // namespace sandfreeze::io
