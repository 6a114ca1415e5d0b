#include "solver/pouring/mould_scan.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <limits>
#include <map>

#include "solver/feeding/parts.hpp"
#include "solver/feeding/sentences.hpp"
#include "solver/pouring/metal.hpp"

namespace sandfreeze::pouring
{

namespace
{

using feeding::quoted;
using feeding::words;
using solver::Role;

constexpr double dust = 1e-6;  ///< faces of levels are sums of heights [m]
constexpr double nowhere = std::numeric_limits<double>::infinity();

enum class Axis { x, y, z };

/// A line of voxels along an axis, from its first one on.
struct Row {
    std::size_t first = 0;
    std::size_t stride = 1;
    int count = 0;
    int i = 0;  ///< of the first voxel
    int k = 0;
    std::size_t at(int n) const { return first + static_cast<std::size_t>(n) * stride; }
};

template <class Visit>
void for_each_row(const mesh::Grid& grid, Axis axis, Visit visit)
{
    const auto nx = static_cast<std::size_t>(grid.nx);
    const std::size_t layer = nx * static_cast<std::size_t>(grid.ny);
    const int across = axis == Axis::x ? 1 : grid.nx;
    const int along_y = axis == Axis::y ? 1 : grid.ny;
    const int levels = axis == Axis::z ? 1 : grid.nz();
    for (int k = 0; k < levels; ++k)
        for (int j = 0; j < along_y; ++j)
            for (int i = 0; i < across; ++i) {
                const std::size_t first = grid.index(i, j, k);
                if (axis == Axis::x) visit(Row{first, 1, grid.nx, i, k});
                if (axis == Axis::y) visit(Row{first, nx, grid.ny, i, k});
                if (axis == Axis::z) visit(Row{first, layer, grid.nz(), i, k});
            }
}

/// Where voxel n of a row begins [m].
double face_of(const mesh::Grid& grid, Axis axis, int n)
{
    return axis == Axis::x ? grid.x_face(n) : axis == Axis::y ? grid.y_face(n) : grid.z_face(n);
}

/// Area of the face between voxels n - 1 and n of a row [m2].
double area_of(const mesh::Grid& grid, Axis axis, const Row& row, int n)
{
    if (axis == Axis::x) return grid.right_face_area(n - 1, row.k);
    return axis == Axis::z ? grid.level_face_area() : grid.flat_face_area(row.i, row.k);
}

/// Bodies of voxels that touch through faces, counted from 1; 0: not chosen.
std::vector<std::uint32_t> bodies_of(const mesh::Grid& grid, const std::vector<bool>& chosen,
                                     std::uint32_t& count)
{
    std::vector<std::uint32_t> body(chosen.size());
    std::vector<std::size_t> left;
    const auto nx = static_cast<std::size_t>(grid.nx);
    const std::size_t layer = nx * static_cast<std::size_t>(grid.ny);
    count = 0;
    for (std::size_t seed = 0; seed < chosen.size(); ++seed) {
        if (!chosen[seed] || body[seed] != 0) continue;
        body[seed] = ++count;
        left.push_back(seed);
        while (!left.empty()) {
            const std::size_t v = left.back();
            left.pop_back();
            const auto go = [&](bool inside, std::size_t to) {
                if (!inside || !chosen[to] || body[to] != 0) return;
                body[to] = count;
                left.push_back(to);
            };
            const std::size_t in_layer = v % layer;
            go(v % nx > 0, v - 1);
            go(v % nx + 1 < nx, v + 1);
            go(in_layer >= nx, v - nx);
            go(in_layer + nx < layer, v + nx);
            go(v >= layer, v - layer);
            go(v + layer < chosen.size(), v + layer);
        }
    }
    return body;
}

class Scanner
{
public:
    Scanner(const solver::Case& c, const mesh::Painting& painting)
        : c_(c)
        , painting_(painting)
        , grid_(painting.grid)
        , plan_(c.section.view == solver::View::plan)
        , up_(plan_ ? Axis::z : Axis::y)
    {
        out_.factor = feeding::real_mould_factor(c);
        for (const solver::Part& part : c.parts)
            liquid_density_.push_back(
                solver::is_poured(part.role)
                    ? liquid_density(c.materials[static_cast<std::size_t>(part.material)], c.pour_temperature)
                    : 0);
    }

    MouldScan run()
    {
        find_heights();
        sum_forces();
        sum_volumes();
        for (std::size_t p = 0; p < c_.parts.size(); ++p)
            if (c_.parts[p].role == Role::core)
                out_.core_mass += painting_.measures[p].volume * out_.factor * density(p);
        find_gates();
        find_behind_gates();
        find_sand();
        return std::move(out_);
    }

private:
    Role role(std::size_t voxel) const { return c_.parts[painting_.part_of_voxel[voxel]].role; }
    bool poured(std::size_t voxel) const { return solver::is_poured(role(voxel)); }
    double density(std::size_t part) const
    {
        return c_.materials[static_cast<std::size_t>(c_.parts[part].material)].density;
    }
    double bottom() const { return face_of(grid_, up_, 0); }
    double top() const { return face_of(grid_, up_, plan_ ? grid_.nz() : grid_.ny); }

    /// Bottom and top of a part as drawn, within the box [m].
    std::array<double, 2> heights(const solver::Part& part) const
    {
        const mesh::Box box = mesh::bounding_box(part.shape);
        const double low = plan_ ? part.reach.z0 : box.y0;
        const double high = plan_ ? part.reach.z1 : box.y1;
        return {std::clamp(low, bottom(), top()), std::clamp(high, bottom(), top())};
    }

    void find_heights()
    {
        out_.box_bottom = bottom();
        out_.box_top = top();
        double low = nowhere;
        double high = -nowhere;
        double pours_at = -nowhere;
        for (std::size_t p = 1; p < c_.parts.size(); ++p) {
            const solver::Part& part = c_.parts[p];
            const auto [from, to] = heights(part);
            if (part.role == Role::casting) {
                low = std::min(low, from);
                high = std::max(high, to);
            }
            const bool entry = part.role == Role::sprue || part.role == Role::basin || part.open_top;
            if (solver::is_poured(part.role) && entry) pours_at = std::max(pours_at, to);
        }
        if (!std::isfinite(low)) low = high = bottom();
        out_.casting_bottom = low;
        out_.casting_top = high;
        out_.parting = plan_ ? 0 : c_.pouring.flask.parting.value_or(0.5 * (low + high));
        out_.level = std::isfinite(pours_at) ? pours_at : top();
        if (c_.enters) out_.level = heights(c_.parts[*c_.enters])[1];
        if (const auto& height = c_.pouring.sprue.height) out_.level = out_.parting + *height;
    }

    /// E18 and E19: weight of the metal that would stand over each face, up to the level.
    void sum_forces()
    {
        for_each_row(grid_, up_, [&](const Row& row) {
            for (int n = 1; n < row.count; ++n) {
                const std::size_t under = row.at(n - 1);
                const std::size_t over = row.at(n);
                if (poured(under) == poured(over)) continue;
                take_face(under, over, face_of(grid_, up_, n), area_of(grid_, up_, row, n) * out_.factor);
            }
        });
    }

    void take_face(std::size_t under, std::size_t over, double height, double area)
    {
        const bool upwards = poured(under);
        const std::size_t metal = upwards ? under : over;
        const Role other = role(upwards ? over : under);
        const double head = std::max(0.0, out_.level - height);
        const double weight = liquid_density_[painting_.part_of_voxel[metal]] * head * area;
        if (other == Role::core) {
            out_.core_lift += upwards ? weight : -weight;
        } else if (other != Role::air && upwards) {
            out_.lift += weight;
            out_.lift_area += area;
        } else if (other != Role::air && height > out_.parting + dust) {
            out_.lift -= weight;  // on the cope's sand under an overhang
        }
    }

    void sum_volumes()
    {
        for_each_row(grid_, up_, [&](const Row& row) {
            for (int n = 0; n < row.count; ++n) {
                const mesh::PartId part = painting_.part_of_voxel[row.at(n)];
                if (part == 0) continue;
                const double low = face_of(grid_, up_, n);
                const double high = face_of(grid_, up_, n + 1);
                const double above = std::clamp((high - out_.parting) / (high - low), 0.0, 1.0);
                const int level = plan_ ? n : row.k;
                const double volume = grid_.voxel_volume(row.i, level) * out_.factor;
                const bool heavy =
                    !solver::is_poured(c_.parts[part].role) && c_.parts[part].role != Role::air;
                const double mass = heavy ? volume * density(part) : 0;
                out_.above_parting += above * volume;
                out_.below_parting += (1 - above) * volume;
                out_.inlay_above += above * mass;
                out_.inlay_below += (1 - above) * mass;
            }
        });
    }

    /// Faces as vectors, summed for each casting part: stairs along slanted faces count as the slant.
    struct Facing {
        std::array<double, 3> area{};
        double height_times_area = 0;
        double all_area = 0;
    };

    void find_gates()
    {
        std::map<std::pair<std::size_t, std::size_t>, Facing> facing;
        for (const Axis axis : {Axis::x, Axis::y, Axis::z})
            for_each_row(grid_, axis, [&](const Row& row) {
                for (int n = 1; n < row.count; ++n)
                    for (const bool forwards : {true, false}) {
                        const std::size_t gate = row.at(forwards ? n - 1 : n);
                        const std::size_t casting = row.at(forwards ? n : n - 1);
                        if (!solver::is_gate(role(gate)) || role(casting) != Role::casting) continue;
                        const double area = area_of(grid_, axis, row, n) * out_.factor;
                        Facing& face =
                            facing[{painting_.part_of_voxel[gate], painting_.part_of_voxel[casting]}];
                        face.area.at(static_cast<std::size_t>(axis)) += forwards ? area : -area;
                        const mesh::Place at = grid_.place(gate);
                        face.height_times_area += area * (plan_ ? at.z : at.y);
                        face.all_area += area;
                    }
            });
        for (const auto& [parts, face] : facing) {
            const double area = std::hypot(face.area[0], face.area[1], face.area[2]);
            if (out_.gates.empty() || out_.gates.back().part != parts.first)
                out_.gates.push_back({parts.first, 0, 0});
            GateFace& gate = out_.gates.back();
            const double height = face.height_times_area / face.all_area;
            gate.height = (gate.height * gate.area + height * area) / std::max(gate.area + area, 1e-300);
            gate.area += area;
        }
    }

    /// Metal in one piece with castings once the gates are taken away.
    void find_behind_gates()
    {
        std::vector<bool> chosen(painting_.part_of_voxel.size());
        for (std::size_t v = 0; v < chosen.size(); ++v)
            chosen[v] = poured(v) && !solver::is_gate(role(v));
        std::uint32_t count = 0;
        const std::vector<std::uint32_t> body = bodies_of(grid_, chosen, count);
        std::vector<bool> has_casting(count + 1U);
        for (std::size_t v = 0; v < chosen.size(); ++v)
            if (chosen[v] && role(v) == Role::casting) has_casting[body[v]] = true;
        for_each_row(grid_, Axis::x, [&](const Row& row) {
            for (int n = 0; n < row.count; ++n)
                if (body[row.at(n)] != 0 && has_casting[body[row.at(n)]])
                    out_.behind_gates += grid_.voxel_volume(n, row.k) * out_.factor;
        });
    }

    bool is_plane(const solver::Edge& edge) const { return edge.kind == solver::Edge::Kind::insulated; }
    const std::string& name(std::size_t voxel) const { return c_.parts[painting_.part_of_voxel[voxel]].name; }

    static void take(std::optional<SandWall>& least, double thickness, const std::string& between)
    {
        if (!least || thickness < least->thickness) least = SandWall{thickness, between};
    }

    /// Sand from the box to the nearest metal, from the near end of rows and from the far one.
    void find_sides(Axis axis, const std::array<bool, 2>& counts, const std::array<const char*, 2>& sides)
    {
        for_each_row(grid_, axis, [&](const Row& row) {
            int first = 0;
            while (first < row.count && !poured(row.at(first)))
                ++first;
            if (first == row.count) return;
            int last = row.count - 1;
            while (!poured(row.at(last)))
                --last;
            const double from_near = face_of(grid_, axis, first) - face_of(grid_, axis, 0);
            const double from_far = face_of(grid_, axis, row.count) - face_of(grid_, axis, last + 1);
            if (counts[0])
                take(out_.beside, from_near, words(quoted(name(row.at(first))), " and ", sides[0]));
            if (counts[1]) take(out_.beside, from_far, words(quoted(name(row.at(last))), " and ", sides[1]));
        });
    }

    void find_sand()
    {
        const bool turned = c_.section.view == solver::View::axisymmetric;
        find_sides(Axis::x, {!turned && !is_plane(c_.edges.left), !is_plane(c_.edges.right)},
                   {"the left side", turned ? "the outside" : "the right side"});
        if (plan_)
            find_sides(Axis::y, {!is_plane(c_.edges.bottom), !is_plane(c_.edges.top)},
                       {"the front", "the back"});
        find_over_and_under();
        std::vector<bool> casting(painting_.part_of_voxel.size());
        for (std::size_t v = 0; v < casting.size(); ++v)
            casting[v] = role(v) == Role::casting;
        std::uint32_t count = 0;
        const std::vector<std::uint32_t> body = bodies_of(grid_, casting, count);
        out_.castings = count;
        if (count < 2) return;
        for (const Axis axis : {Axis::x, Axis::y, Axis::z})
            find_between(axis, body);
    }

    void find_over_and_under()
    {
        for_each_row(grid_, up_, [&](const Row& row) {
            int first = 0;
            while (first < row.count && !poured(row.at(first)))
                ++first;
            if (first == row.count) return;
            take(out_.under, face_of(grid_, up_, first) - bottom(),
                 words(quoted(name(row.at(first))), " and the bottom of the drag"));
            int last = row.count - 1;
            while (!poured(row.at(last)) && role(row.at(last)) != Role::air)
                --last;
            const Role highest = role(row.at(last));
            const double over = top() - face_of(grid_, up_, last + 1);
            if (highest == Role::casting || (highest == Role::feeder && over > 0))
                take(out_.over, over, words(quoted(name(row.at(last))), " and the top of the cope"));
        });
    }

    void find_between(Axis axis, const std::vector<std::uint32_t>& body)
    {
        for_each_row(grid_, axis, [&](const Row& row) {
            int last = -1;  // casting, with nothing but sand and the like since
            for (int n = 0; n < row.count; ++n) {
                const std::size_t v = row.at(n);
                if (body[v] == 0) {
                    if (poured(v)) last = -1;
                    continue;
                }
                if (last >= 0 && body[row.at(last)] != body[v])
                    take(out_.between, face_of(grid_, axis, n) - face_of(grid_, axis, last + 1),
                         words(quoted(name(row.at(last))), " and ", quoted(name(v))));
                last = n;
            }
        });
    }

    const solver::Case& c_;
    const mesh::Painting& painting_;
    const mesh::Grid& grid_;
    bool plan_;
    Axis up_;
    std::vector<double> liquid_density_;  ///< one a part; 0 where not poured
    MouldScan out_;
};

}  // namespace

MouldScan scan_mould(const solver::Case& c, const mesh::Painting& painting)
{
    return Scanner(c, painting).run();
}

}  // namespace sandfreeze::pouring
