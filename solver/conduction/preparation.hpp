#pragma once
// What a solve starts from: tables of the materials, cells, enthalpies, and how finely it steps.

#include <cstdint>
#include <memory>
#include <vector>

#include "mesh/painter.hpp"
#include "solver/case.hpp"
#include "solver/conduction/bodies.hpp"
#include "solver/conduction/frames.hpp"
#include "solver/conduction/network.hpp"
#include "solver/conduction/pace.hpp"
#include "solver/conduction/property_table.hpp"
#include "solver/solve.hpp"

namespace sandfreeze::conduction
{

/// From the coldest to the hottest thing at the start, around the box and in the ladle; what burns, with all
/// of its heat.
TemperatureRange temperature_range(const solver::Case& c);

/// One a material, over all temperatures that the case may bring.
std::vector<PropertyTable> make_tables(const solver::Case& c);

/// Plans take longer steps than sections, unless they are to be as exact as can be: on a plate of AlSi10Mg
/// steps of twice the error cost 0.8 % (root mean square of the times), of four times 1.6 %.
StepRules step_rules(const solver::Case& c, const solver::SolveOptions& options);

/// The cells that the painted voxels merge into, and what they are made of.
std::shared_ptr<const CellPicture> make_picture(const solver::Case& c, const mesh::Painting& painting,
                                                const Bodies& bodies,
                                                const std::vector<PropertyTable>& tables,
                                                const solver::SolveOptions& options);

/// As asked for, else as many as are worth while for so many cells.
int choose_threads(const solver::SolveOptions& options, std::int32_t cells);

double poured_volume(const CellPicture& picture);  ///< [m3]

/// Of the network's cells, each at its body's temperature [J/m3].
std::vector<double> start_enthalpies(const Bodies& bodies, const Network& network,
                                     const std::vector<PropertyTable>& tables);

}  // namespace sandfreeze::conduction
