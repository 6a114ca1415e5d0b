#include "tools/bench/section.hpp"

#include <fstream>
#include <sstream>
#include <stdexcept>

#include "io/case_file.hpp"
#include "solver/conduction/sizes.hpp"
#include "solver/solve.hpp"

namespace sandfreeze::bench
{

std::string text_of(const std::string& file)
{
    std::ifstream stream(file);
    std::stringstream text;
    text << stream.rdbuf();
    if (!stream) throw std::runtime_error("cannot read " + file);
    return text.str();
}

std::string yardstick_text(const std::string& voxel_mm)
{
    std::string s = text_of(SANDFREEZE_YARDSTICK);
    const auto at = s.find("cell_mm");
    if (at == std::string::npos) throw std::runtime_error("no cell_mm in " SANDFREEZE_YARDSTICK);
    return s.replace(at, s.find('\n', at) - at, "cell_mm = " + voxel_mm);
}

solver::Case yardstick_case(const std::string& voxel_mm)
{
    return io::read_case(yardstick_text(voxel_mm), "yardstick.toml").case_;
}

Section::Section(const std::string& voxel_mm)
    : case_(yardstick_case(voxel_mm))
    , painting(solver::paint_section(case_))
    , bodies(conduction::find_bodies(case_))
    , body_of_voxel(conduction::bodies_of_voxels(bodies, painting.part_of_voxel))
{
    const conduction::TemperatureRange range{case_.edges.left.temperature, case_.pour_temperature};
    for (const materials::Material& m : case_.materials)
        tables.emplace_back(m, range);
}

mesh::CellMesh Section::merged() const
{
    return mesh::merge(painting.grid, voxels(),
                       conduction::cell_sizes(case_, painting.grid, bodies, tables, body_of_voxel, 1));
}

}  // namespace sandfreeze::bench
