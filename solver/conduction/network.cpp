#include "solver/conduction/network.hpp"

#include <algorithm>
#include <cmath>
#include <limits>
#include <tuple>
#include <utility>

#include "solver/conduction/beside_larger.hpp"
#include "solver/conduction/kernels.hpp"
#include "solver/conduction/open_tops.hpp"
#include "solver/conduction/slices.hpp"

namespace sandfreeze::conduction
{
namespace
{

/// Puts cells of one group and material next to each other; within them blocks of one size row by row, so
/// that the neighbours of 16 cells in a row are mostly 16 cells in a row.
class Placing
{
public:
    Placing(const mesh::CellMesh& mesh, const Bodies& bodies, double finest)
        : mesh_(mesh)
        , bodies_(bodies)
        , finest_(finest)
    {
        for (std::size_t c = 0; c < mesh.size(); ++c)
            order_.push_back(static_cast<std::int32_t>(c));
        std::vector<Key> keys(mesh.size());
        for (std::size_t c = 0; c < mesh.size(); ++c)
            keys[c] = key(c);
        std::sort(order_.begin(), order_.end(), [&](std::int32_t a, std::int32_t b) {
            return keys[static_cast<std::size_t>(a)] < keys[static_cast<std::size_t>(b)];
        });
    }

    void place_into(Network& n) const
    {
        n.place.assign(mesh_.size(), -1);
        const Body* last = nullptr;
        bool quick = false;
        for (const std::int32_t c : order_) {
            const mesh::BodyId id = mesh_.body[static_cast<std::size_t>(c)];
            const Body& body = bodies_.list[id];
            if (last != nullptr && (body.material != last->material || body.quick != last->quick)) pad(n);
            if (body.quick && !quick) {
                n.slow_cells = static_cast<std::int32_t>(n.mesh_cell.size());
                quick = true;
            }
            n.place[static_cast<std::size_t>(c)] = static_cast<std::int32_t>(n.mesh_cell.size());
            append(n, c, mesh_.volume[static_cast<std::size_t>(c)], static_cast<std::uint8_t>(body.material),
                   id);
            last = &body;
        }
        pad(n);
        n.cells = static_cast<std::int32_t>(n.mesh_cell.size());
        if (!quick) n.slow_cells = n.cells;
    }

private:
    using Key = std::tuple<bool, int, std::uint8_t, std::int64_t, std::int64_t, double>;

    Key key(std::size_t c) const
    {
        const Body& body = bodies_.list[mesh_.body[c]];
        const double row = finest_ * (1u << mesh_.level[c]);
        const auto place = [&](double at) { return static_cast<std::int64_t>(std::floor(at / row)); };
        return {body.quick,
                body.material,
                mesh_.level[c],
                place(mesh_.centroid[c].z),
                place(mesh_.centroid[c].y),
                mesh_.centroid[c].x};
    }

    static void append(Network& n, std::int32_t cell, double volume, std::uint8_t material, mesh::BodyId body)
    {
        n.mesh_cell.push_back(cell);
        n.volume.push_back(volume);
        n.material.push_back(material);
        n.body.push_back(body);
    }

    static void pad(Network& n)
    {
        while (n.mesh_cell.size() % lanes != 0)
            append(n, -1, 0.0, n.material.back(), n.body.back());
    }

    const mesh::CellMesh& mesh_;
    const Bodies& bodies_;
    double finest_;
    std::vector<std::int32_t> order_;
};

/// The open hole on one side of a face with metal on the other, −1 where it is not so.
int open_hole_at(const Bodies& bodies, const mesh::CellMesh& mesh, const mesh::Face& f)
{
    const Body& a = bodies.list[mesh.body[static_cast<std::size_t>(f.a)]];
    const Body& b = bodies.list[mesh.body[static_cast<std::size_t>(f.b)]];
    return a.poured ? b.open_hole : b.poured ? a.open_hole : -1;
}

void add_links(const mesh::CellMesh& mesh, const Bodies& bodies, Network& n)
{
    const std::vector<double> shares = shares_beside_larger_cells(mesh);
    std::size_t k = 0;
    for (const mesh::Face& f : mesh.faces) {
        const auto a = static_cast<std::size_t>(f.a);
        const auto b = static_cast<std::size_t>(f.b);
        Link link;
        link.a = n.place[a];
        link.b = n.place[b];
        link.area = static_cast<float>(f.area * shares[k++]);
        link.distance_a = static_cast<float>(f.distance_a);
        link.distance_b = static_cast<float>(f.distance_b);
        const solver::HeatTransfer& contact = bodies.contact(mesh.body[a], mesh.body[b]);
        link.contact_resistance = static_cast<float>(f.area / (f.contact_area * contact.h));
        link.gap_resistance = static_cast<float>(f.area / (f.contact_area * contact.h_gap));
        if (open_hole_at(bodies, mesh, f) >= 0)  // its heat leaves by an outlet
            link.contact_resistance = link.gap_resistance = std::numeric_limits<float>::infinity();
        n.links.push_back(link);
    }
}

/// Puts links in the order of their first cells: what is worked out anew together lies together.
void sort_links(Network& n)
{
    std::vector<std::size_t> next(static_cast<std::size_t>(n.cells) + 1, 0);
    for (Link& l : n.links) {
        if (l.a > l.b) {
            std::swap(l.a, l.b);
            std::swap(l.distance_a, l.distance_b);
        }
        ++next[static_cast<std::size_t>(l.a) + 1];
    }
    for (std::size_t c = 0; c + 1 < next.size(); ++c)
        next[c + 1] += next[c];
    std::vector<Link> sorted(n.links.size());
    for (const Link& l : n.links)
        sorted[next[static_cast<std::size_t>(l.a)]++] = l;
    n.links = std::move(sorted);
}

/// Metal's faces to open holes.
void add_open_faces(const solver::Case& c, const mesh::CellMesh& mesh, const Bodies& bodies, Network& n)
{
    for (const mesh::Face& f : mesh.faces) {
        const int hole = open_hole_at(bodies, mesh, f);
        if (hole < 0) continue;
        const bool metal_is_a = bodies.list[mesh.body[static_cast<std::size_t>(f.a)]].poured;
        const auto cell = static_cast<std::size_t>(metal_is_a ? f.a : f.b);
        Outlet o = outlet_into_hole(c, static_cast<std::size_t>(hole), bodies.list[mesh.body[cell]].material);
        o.cell = n.place[cell];
        o.area = f.contact_area;
        o.distance = metal_is_a ? f.distance_a : f.distance_b;
        n.outlets.push_back(o);
    }
}

void add_outlets(const solver::Case& c, const mesh::CellMesh& mesh, const Bodies& bodies, Network& n)
{
    const mesh::BoxSide upper =
        c.section.view == solver::View::plan ? mesh::BoxSide::above : mesh::BoxSide::top;
    for (const mesh::EdgeFace& face : mesh.edges) {
        const solver::Edge& edge = edge_of(c.edges, face.side);
        const bool film = edge.kind == solver::Edge::Kind::air;
        if (edge.kind == solver::Edge::Kind::insulated) continue;
        const auto cell = static_cast<std::size_t>(face.cell);
        Outlet o;
        o.cell = n.place[cell];
        o.area = face.area;
        o.distance = face.distance;
        o.film_resistance = film ? 1 / edge.h : 0.0;
        o.temperature = edge.temperature;
        const Body& body = bodies.list[mesh.body[cell]];
        if (face.side == upper && body.poured) open_at_top(c, body.material, mesh.centroid[cell], edge, o);
        if (!film || edge.h > 0 || o.open_top >= 0) n.outlets.push_back(o);
    }
}

std::uint8_t side_of(const mesh::Centroid& from, const mesh::Centroid& to)
{
    const double dx = to.x - from.x;
    const double dy = to.y - from.y;
    const double dz = to.z - from.z;
    if (std::abs(dz) > std::max(std::abs(dx), std::abs(dy))) return dz > 0 ? 5 : 4;
    if (std::abs(dx) >= std::abs(dy)) return dx > 0 ? 1 : 0;
    return dy > 0 ? 3 : 2;
}

NeighbourLists neighbours_of(const mesh::CellMesh& mesh, const Network& n)
{
    NeighbourLists out;
    out.start.assign(static_cast<std::size_t>(n.cells) + 1, 0);
    for (const Link& l : n.links) {
        ++out.start[static_cast<std::size_t>(l.a) + 1];
        ++out.start[static_cast<std::size_t>(l.b) + 1];
    }
    for (std::size_t c = 0; c + 1 < out.start.size(); ++c)
        out.start[c + 1] += out.start[c];
    out.list.resize(out.start.back());
    std::vector<std::size_t> next(out.start.begin(), out.start.end() - 1);
    const auto centroid = [&](std::int32_t placed) {
        return mesh.centroid[static_cast<std::size_t>(n.mesh_cell[static_cast<std::size_t>(placed)])];
    };
    for (std::size_t k = 0; k < n.links.size(); ++k) {
        const Link& l = n.links[k];
        const auto link = static_cast<std::int32_t>(k);
        out.list[next[static_cast<std::size_t>(l.a)]++] = {l.b, link, side_of(centroid(l.a), centroid(l.b))};
        out.list[next[static_cast<std::size_t>(l.b)]++] = {l.a, link, side_of(centroid(l.b), centroid(l.a))};
    }
    return out;
}

std::vector<std::int32_t> rows_between(const Network& n, std::int32_t first, std::int32_t last)
{
    std::vector<std::int32_t> rows;
    for (std::int32_t k = first; k < last; ++k)
        rows.push_back(n.mesh_cell[static_cast<std::size_t>(k)] >= 0 ? k : -1);
    return rows;
}

std::vector<std::int32_t> rows_at_interface(const Network& n, const NeighbourLists& neighbours)
{
    std::vector<std::int32_t> rows;
    for (std::int32_t k = n.slow_cells; k < n.cells; ++k) {
        const auto list = neighbours.of(k);
        if (std::any_of(list.begin(), list.end(), [&](const Neighbour& m) { return m.cell < n.slow_cells; }))
            rows.push_back(k);
    }
    while (rows.size() % lanes != 0)
        rows.push_back(-1);
    return rows;
}

/// The finest voxel size, from the smallest cell: rows of blocks are told apart by it.
double finest_size(const mesh::CellMesh& mesh)
{
    double finest = 1;
    for (const mesh::Face& f : mesh.faces)
        finest = std::min({finest, 2 * f.distance_a, 2 * f.distance_b});
    return finest;
}

}  // namespace

const solver::Edge& edge_of(const solver::Edges& edges, mesh::BoxSide side)
{
    switch (side) {
    case mesh::BoxSide::left:
        return edges.left;
    case mesh::BoxSide::right:
        return edges.right;
    case mesh::BoxSide::bottom:
        return edges.bottom;
    case mesh::BoxSide::top:
        return edges.top;
    case mesh::BoxSide::below:
        return edges.below;
    default:
        return edges.above;
    }
}

Network build_network(const solver::Case& c, const mesh::CellMesh& mesh, const Bodies& bodies)
{
    Network n;
    Placing(mesh, bodies, finest_size(mesh)).place_into(n);
    add_links(mesh, bodies, n);
    sort_links(n);
    add_outlets(c, mesh, bodies, n);
    add_open_faces(c, mesh, bodies, n);
    const NeighbourLists neighbours = neighbours_of(mesh, n);
    n.slow = lay_out(rows_between(n, 0, n.slow_cells), neighbours, 0, n.cells, n.cells, 0, n.links);
    n.quick_store = n.slow.neighbour.size();
    n.quick = lay_out(rows_between(n, n.slow_cells, n.cells), neighbours, n.slow_cells, n.cells, n.cells,
                      n.quick_store, n.links);
    n.interface_store = n.quick_store + n.quick.neighbour.size();
    n.interface = lay_out(rows_at_interface(n, neighbours), neighbours, 0, n.slow_cells, n.cells,
                          n.interface_store, n.links);
    n.store_size = n.interface_store + n.interface.neighbour.size();
    return n;
}

double conductance(const Link& l, double ka, double kb, double solid)
{
    auto contact = static_cast<double>(l.contact_resistance);
    if (l.gap_resistance != l.contact_resistance)
        contact = 1 / ((1 - solid) / contact + solid / static_cast<double>(l.gap_resistance));
    return static_cast<double>(l.area) /
           (static_cast<double>(l.distance_a) / ka + contact + static_cast<double>(l.distance_b) / kb);
}

double conductance(const Outlet& o, double k)
{
    return o.area / (o.distance / k + o.film_resistance);
}

LinearFlow flow_of(const Outlet& o, double k, double temperature)
{
    if (o.open_top < 0) return {conductance(o, k), o.temperature};
    const SurfaceFlow flow = flow_from(o.surface, temperature, o.distance / k);
    return {o.area * flow.slope, temperature - flow.all() / flow.slope};
}

std::vector<double> strongest_pull(const Network& n, const std::vector<PropertyTable>& tables)
{
    std::vector<double> sum(static_cast<std::size_t>(n.cells), 0.0);
    const auto conductivity = [&](std::int32_t cell) {
        return tables[n.material[static_cast<std::size_t>(cell)]].largest_conductivity();
    };
    for (const Link& l : n.links) {
        const double g = 2 * conductance(l, conductivity(l.a), conductivity(l.b),
                                         l.gap_resistance < l.contact_resistance ? 1 : 0);
        // A quick cell's slow neighbours act on it as a given heat, not through its temperature.
        if (l.a < n.slow_cells || l.b >= n.slow_cells) sum[static_cast<std::size_t>(l.a)] += g;
        if (l.b < n.slow_cells || l.a >= n.slow_cells) sum[static_cast<std::size_t>(l.b)] += g;
    }
    for (const Outlet& o : n.outlets)
        sum[static_cast<std::size_t>(o.cell)] += 2 * conductance(o, conductivity(o.cell));
    for (std::size_t c = 0; c < sum.size(); ++c)
        sum[c] = n.volume[c] > 0 ? sum[c] / n.volume[c] : 0.0;
    return sum;
}

}  // namespace sandfreeze::conduction
