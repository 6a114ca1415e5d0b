#include "tools/bench/section.hpp"

#include <fstream>
#include <sstream>
#include <stdexcept>

#include "io/case_file.hpp"
#include "solver/conduction/sizes.hpp"
#include "solver/solve.hpp"

namespace sandfreeze::bench
{

std::string yardstick_text(const std::string& voxel_mm)
{
    std::ifstream file(SANDFREEZE_YARDSTICK);
    std::stringstream text;
    text << file.rdbuf();
    std::string s = text.str();
    const auto at = s.find("cell_mm");
    if (!file || at == std::string::npos)
        throw std::runtime_error("no case file with a cell_mm at " SANDFREEZE_YARDSTICK);
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
