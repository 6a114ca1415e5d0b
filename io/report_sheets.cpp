#include "io/report_sheets.hpp"

#include <algorithm>
#include <cmath>

#include <fmt/format.h>

#include "io/plan_maps.hpp"

namespace sandfreeze::io
{
namespace
{

constexpr std::size_t most_pixels = 400'000;
constexpr std::size_t most_levels = 10;
constexpr double mm = 1e3;  // per m

std::string mm_text(double metres)
{
    const double tenths = std::round(metres * mm * 10) / 10;
    return fmt::format("{}", tenths == 0 ? 0.0 : tenths);
}

/// The sheet of one level, or of the whole section.
Sheet flat_sheet(const mesh::Grid& grid, int level)
{
    Sheet sheet;
    sheet.nx = grid.nx;
    sheet.ny = grid.ny;
    sheet.pixel = grid.cell;
    sheet.x0 = grid.x0;
    sheet.y0 = grid.y0;
    for (std::size_t v = grid.index(0, 0, level); v < grid.index(0, 0, level + 1); ++v) {
        sheet.voxel.push_back(static_cast<std::uint32_t>(v));
    }
    return sheet;
}

Sheet level_sheet(const mesh::Grid& grid, int level)
{
    Sheet sheet = flat_sheet(grid, level);
    sheet.lie = Lie::level;
    sheet.from = grid.z_face(level);
    sheet.to = grid.z_face(level + 1);
    sheet.name = fmt::format("Level from z {} to {} mm", mm_text(sheet.from), mm_text(sheet.to));
    return sheet;
}

/// Levels are as high as they are; the cut has square pixels.
Sheet upright_sheet(const mesh::Grid& grid, Lie lie, mesh::Place at)
{
    const bool front = lie == Lie::from_front;
    const std::size_t place = grid.voxel_at(at);
    const mesh::Place middle = grid.place(place);
    Sheet sheet;
    sheet.lie = lie;
    sheet.nx = front ? grid.nx : grid.ny;
    sheet.pixel = grid.cell;
    sheet.x0 = front ? grid.x0 : grid.y0;
    sheet.y0 = grid.z0;
    const double high = grid.z_face(grid.nz()) - grid.z0;
    sheet.ny = std::max(1, static_cast<int>(std::lround(high / grid.cell)));
    const double across = front ? middle.y : middle.x;
    sheet.from = across - grid.cell / 2;
    sheet.to = across + grid.cell / 2;
    sheet.name = fmt::format("Cut at {} {} mm, seen from the {}", front ? 'y' : 'x', mm_text(across),
                             front ? "front" : "right");
    for (int row = 0; row < sheet.ny; ++row) {
        const double z = std::min(grid.z0 + (row + 0.5) * grid.cell, grid.z_face(grid.nz()) - 1e-9);
        for (int column = 0; column < sheet.nx; ++column) {
            const mesh::Place p{front ? grid.x_centre(column) : middle.x,
                                front ? middle.y : grid.y_centre(column), z};
            sheet.voxel.push_back(static_cast<std::uint32_t>(grid.voxel_at(p)));
        }
    }
    return sheet;
}

/// Levels that hold metal, at most so many of them: the middle one, and others spread evenly.
std::vector<int> shown_levels(const solver::Case& c, const mesh::Painting& painting, std::size_t most)
{
    const mesh::Grid& grid = painting.grid;
    std::vector<int> with_metal;
    for (int k = 0; k < grid.nz(); ++k) {
        const auto begin = painting.part_of_voxel.begin() + static_cast<std::ptrdiff_t>(grid.index(0, 0, k));
        const auto end = begin + static_cast<std::ptrdiff_t>(grid.index(0, 0, 1));
        if (std::any_of(begin, end,
                        [&](mesh::PartId part) { return solver::is_poured(c.parts[part].role); })) {
            with_metal.push_back(k);
        }
    }
    const int middle = middle_level(c, painting);
    std::vector<int> shown;
    const std::size_t kept = std::min(most, with_metal.size());
    for (std::size_t n = 0; n < kept; ++n) {
        shown.push_back(with_metal[kept < 2 ? 0 : n * (with_metal.size() - 1) / (kept - 1)]);
    }
    if (std::find(shown.begin(), shown.end(), middle) == shown.end()) {
        shown.push_back(middle);
        std::sort(shown.begin(), shown.end());
    }
    return shown;
}

std::vector<Sheet> plan_sheets(const solver::Case& c, const mesh::Painting& painting, mesh::Place last)
{
    const mesh::Grid& grid = painting.grid;
    if (!last.has_height()) {
        last = {(grid.x0 + grid.x_face(grid.nx)) / 2, (grid.y0 + grid.y_face(grid.ny)) / 2,
                (grid.z0 + grid.z_face(grid.nz())) / 2};
    }
    std::vector<Sheet> sheets{flat_sheet(grid, 0)};
    sheets[0].lie = Lie::from_above;
    sheets[0].name = "From above, through the whole thickness";
    const std::size_t room = most_pixels / std::max<std::size_t>(grid.index(0, 0, 1), 1);
    const std::size_t most = std::clamp<std::size_t>(room > 3 ? room - 3 : 1, 1, most_levels);
    std::vector<int> levels = shown_levels(c, painting, most);
    std::reverse(levels.begin(), levels.end());  // the uppermost first
    for (const int level : levels) {
        sheets.push_back(level_sheet(grid, level));
    }
    sheets.push_back(upright_sheet(grid, Lie::from_front, last));
    sheets.push_back(upright_sheet(grid, Lie::from_right, last));
    return sheets;
}

void thin(Sheet& sheet, int factor)
{
    std::vector<std::uint32_t> kept;
    for (const std::uint32_t pixel : thinned_pixels(sheet.nx, sheet.ny, factor)) {
        kept.push_back(sheet.voxel[pixel]);
    }
    sheet.voxel = std::move(kept);
    sheet.nx = blocks(sheet.nx, factor);
    sheet.ny = blocks(sheet.ny, factor);
    sheet.pixel *= factor;
    sheet.thinned = factor;
}

}  // namespace

std::string_view to_string(Lie lie)
{
    switch (lie) {
    case Lie::section:
        return "section";
    case Lie::from_above:
        return "from above";
    case Lie::level:
        return "level";
    case Lie::from_front:
        return "from front";
    case Lie::from_right:
        return "from right";
    }
    return "";
}

int blocks(int length, int factor)
{
    return (length + factor - 1) / factor;
}

std::vector<std::uint32_t> thinned_pixels(int nx, int ny, int factor)
{
    std::vector<std::uint32_t> pixels;
    for (int row = 0; row < blocks(ny, factor); ++row) {
        const int j = std::min(row * factor + factor / 2, ny - 1);
        for (int column = 0; column < blocks(nx, factor); ++column) {
            const int i = std::min(column * factor + factor / 2, nx - 1);
            pixels.push_back(static_cast<std::uint32_t>(j * nx + i));
        }
    }
    return pixels;
}

std::vector<Sheet> sheets_of(const solver::Case& c, const mesh::Painting& painting, const mesh::Place& last)
{
    std::vector<Sheet> sheets;
    if (painting.grid.has_levels()) {
        sheets = plan_sheets(c, painting, last);
    } else {
        sheets.push_back(flat_sheet(painting.grid, 0));
        sheets[0].name = "The section";
    }
    std::size_t pixels = 0;
    for (const Sheet& sheet : sheets) {
        pixels += sheet.voxel.size();
    }
    int factor = 1;
    while (pixels / (static_cast<std::size_t>(factor) * static_cast<std::size_t>(factor)) >
           most_pixels + most_pixels / 8) {
        ++factor;
    }
    if (factor > 1) {
        for (Sheet& sheet : sheets) {
            thin(sheet, factor);
        }
    }
    return sheets;
}

}  // namespace sandfreeze::io
