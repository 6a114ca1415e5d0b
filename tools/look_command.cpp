#include "tools/look_command.hpp"

#include <iostream>

#include "io/plan_levels.hpp"
#include "io/section_picture.hpp"
#include "io/text.hpp"
#include "tools/case_source.hpp"
#include "tools/part_table.hpp"
#include "tools/section_facts.hpp"
#include "tools/target_file.hpp"
#include "tools/words.hpp"

namespace sandfreeze::tools
{

namespace
{

namespace fs = std::filesystem;
using solver::Case;

constexpr double to_mm = 1e3;

void print_lines(const std::vector<std::string>& lines)
{
    for (const std::string& line : lines)
        std::cout << line << '\n';
}

/// In the current folder, so that it works where the case lies in a folder that cannot be written to.
fs::path picture_for(const LookRequest& request)
{
    if (!request.picture.empty()) return request.picture;
    return request.case_file.stem().string() + "_section.png";
}

std::string grid_words(const Case& c, const mesh::Grid& grid)
{
    const mesh::Box box = grid.box();
    const auto range = [](double from, double to) {
        return decimal(from * to_mm, 3) + " to " + decimal(to * to_mm, 3) + " mm";
    };
    const bool plan = c.section.view == solver::View::plan;
    const std::string height = plan ? ", z " + range(c.section.bottom, c.section.top) : "";
    const std::string levels = plan ? " x " + std::to_string(grid.nz()) : "";
    return "x " + range(box.x0, box.x1) + ", y " + range(box.y0, box.y1) + height + "; " +
           std::to_string(grid.nx) + " x " + std::to_string(grid.ny) + levels + " = " +
           std::to_string(grid.size()) + " cells of " + decimal(c.section.cell * to_mm, 4) + " mm" +
           (plan ? " by the height of their level" : "");
}

std::string view_words(const Case& c)
{
    std::string text = c.section.view == solver::View::planar
                           ? "planar, " + decimal(c.section.depth * to_mm, 3) + " mm deep"
                       : c.section.view == solver::View::plan
                           ? std::string("plan, seen from above; z is up from the parting plane")
                           : std::string("axisymmetric, x is the radius; volumes are of full rings");
    if (c.section.multiply != 1) text += "; times " + decimal(c.section.multiply, 3) + " in the real mould";
    return text;
}

std::string materials_words(const Case& c)
{
    std::string text;
    for (const materials::Material& material : c.materials) {
        text += (text.empty() ? "" : ", ") + io::quoted(material.name);
        if (!material.designation.empty()) text += " (" + material.designation + ")";
    }
    return text;
}

void print_thin_places(const Case& c, const std::vector<mesh::ThinPlace>& thin,
                       const std::optional<solver::FinerVoxels>& finer)
{
    if (finer) print_lines(labelled_lines("", finer->because));
    if (thin.empty()) {
        std::cout << "Every wall has three " << (finer ? "of these" : "cells") << " or more across.\n";
        return;
    }
    std::cout << "Thinner than three " << (finer ? "of these" : "cells")
              << ", too few to be computed well:\n";
    for (const mesh::ThinPlace& place : thin)
        print_lines(labelled_lines("  ", thin_words(c, place)));
}

}  // namespace

ExitCode look(const LookRequest& request)
{
    const CaseSource source = read_case_source(request.case_file);
    const Case& c = source.file.case_;
    const mesh::Painting painting = solver::paint_section(c);
    const std::optional<solver::FinerVoxels> finer = solver::finer_voxels(c, painting);
    const std::vector<mesh::ThinPlace> thin = thin_places_of(c, painting, finer);
    const fs::path picture = picture_for(request);
    refuse_other_than(TargetKind::picture, picture);
    io::write_section_picture(picture, c, painting, thin);

    std::cout << c.title << "\n\n";
    print_lines(labelled_lines("section    ", view_words(c)));
    print_lines(labelled_lines("sand box   ", grid_words(c, painting.grid)));
    if (c.section.view == solver::View::plan)
        print_lines(labelled_lines("levels     ", io::grading_words(c, io::level_facts(c, painting))));
    print_lines(
        labelled_lines("mould      ", c.materials[static_cast<std::size_t>(c.parts[0].material)].name));
    print_lines(labelled_lines("materials  ", materials_words(c)));
    std::cout << '\n' << part_table(c, painting) << '\n';
    print_thin_places(c, thin, finer);
    for (const std::string& warning : source.file.warnings)
        print_lines(labelled_lines("Warning: ", warning));
    std::cout << "Picture: " << io::printable(picture.string()) << '\n';
    return ExitCode::done;
}

}  // namespace sandfreeze::tools
