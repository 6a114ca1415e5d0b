#pragma once
// Cells in the order in which they are computed, and the conductances between them, E3.

#include <cstdint>
#include <vector>

#include "mesh/cells.hpp"
#include "solver/case.hpp"
#include "solver/conduction/bodies.hpp"
#include "solver/conduction/open_surface.hpp"
#include "solver/conduction/property_table.hpp"

namespace sandfreeze::conduction
{

/// Slices of rows with their neighbours, see kernels.hpp.
struct Slices {
    std::vector<std::int32_t> rows;  ///< cell of each row, -1 for padding
    std::vector<std::int32_t> start;
    std::vector<std::int32_t> runs;
    std::vector<std::int32_t> run_start;
    std::vector<std::int32_t> neighbour;

    std::int32_t count() const { return static_cast<std::int32_t>(rows.size() / 16); }
};

/// A face between two placed cells: what its conductance is made of and where it is stored.
struct Link {
    std::int32_t a = 0;  ///< placed cells
    std::int32_t b = 0;
    float area = 0;                    ///< [m2]
    float distance_a = 0;              ///< [m]
    float distance_b = 0;              ///< [m]
    float contact_resistance = 0;      ///< while the metal at the face is liquid [m2 K/W]
    float gap_resistance = 0;          ///< once it is solid; the same where no gap opens [m2 K/W]
    std::int32_t slots[2] = {-1, -1};  ///< places in the conductance store
};

/// A face to the outside: of the box, or of metal to an open hole.
struct Outlet {
    std::int32_t cell = 0;       ///< placed cell
    double area = 0;             ///< [m2]
    double distance = 0;         ///< [m]
    double film_resistance = 0;  ///< of the air outside [m2 K/W]
    double temperature = 0;      ///< outside [°C]
    /// The part whose metal is open here, −1 elsewhere. Heat then goes by the surface, and the film is its
    /// least resistance.
    std::int32_t open_top = -1;
    OpenSurface surface{};
};

/// The cells of a mesh placed for computing: slow ones first (sand and the like), then quick ones (metal,
/// chills), each group sorted by material, block size and place and padded to whole slices for each material.
struct Network {
    std::int32_t slow_cells = 0;          ///< placed cells [0, slow_cells) are slow
    std::int32_t cells = 0;               ///< all placed, padding included
    std::vector<std::int32_t> mesh_cell;  ///< of each placed cell, -1 for padding
    std::vector<std::int32_t> place;      ///< of each mesh cell
    std::vector<double> volume;           ///< [m3], placed order, 0 for padding
    std::vector<std::uint8_t> material;   ///< index into Case::materials, placed order
    std::vector<mesh::BodyId> body;       ///< placed order; padding repeats a neighbour's
    Slices slow;                          ///< slow cells, all neighbours
    Slices quick;                         ///< quick cells, quick neighbours
    Slices interface;                     ///< quick cells that touch slow ones, their slow neighbours
    std::size_t slow_store = 0;           ///< where each group's conductances start in the store
    std::size_t quick_store = 0;
    std::size_t interface_store = 0;
    std::size_t store_size = 0;
    std::vector<Link> links;  ///< a < b, sorted by a
    std::vector<Outlet> outlets;
};

/// What lies outside a side of the box.
const solver::Edge& edge_of(const solver::Edges& edges, mesh::BoxSide side);

/// Places the cells of a mesh and links them by the case's contacts and edges.
Network build_network(const solver::Case& c, const mesh::CellMesh& mesh, const Bodies& bodies);

/// Conductance of a link when its sides conduct ka and kb and so much of the metal at it is solid, E3 [W/K].
double conductance(const Link& link, double ka, double kb, double solid);
/// Conductance of an outlet whose cell conducts k [W/K].
double conductance(const Outlet& outlet, double k);

/// Heat out of a cell as far as it is straight in the cell's temperature: that of an open surface by its
/// tangent.
struct LinearFlow {
    double conductance = 0;  ///< [W/K]
    double outside = 0;      ///< temperature at which none would flow [°C]
};
/// Of an outlet whose cell conducts k [W/m/K] and is at a temperature [°C].
LinearFlow flow_of(const Outlet& outlet, double k, double temperature);

/// Twice the sum of each placed cell's conductances to its own group and to outside, over its volume, at each
/// material's largest conductivity [W/K/m3]: times dT/dH, a bound on its rate of decay (Gershgorin).
std::vector<double> strongest_pull(const Network& network, const std::vector<PropertyTable>& tables);

}  // namespace sandfreeze::conduction
