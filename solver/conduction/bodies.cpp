#include "solver/conduction/bodies.hpp"

#include <cmath>

#include "solver/conduction/open_tops.hpp"

namespace sandfreeze::conduction
{
namespace
{

class ContactTable
{
public:
    explicit ContactTable(const solver::Case& c)
        : n_(c.parts.size())
        , h_(n_ * n_)
    {
        for (std::size_t a = 0; a < n_; ++a)
            for (std::size_t b = 0; b < n_; ++b)
                h_[a * n_ + b] = solver::contact_between(c, a, b);
    }
    const solver::HeatTransfer& operator()(std::size_t a, std::size_t b) const { return h_[a * n_ + b]; }

    /// Whether two parts meet every third part alike.
    bool alike(std::size_t a, std::size_t b) const
    {
        for (std::size_t other = 0; other < n_; ++other)
            if (other != a && other != b && (*this)(a, other) != (*this)(b, other)) return false;
        return true;
    }

private:
    std::size_t n_;
    std::vector<solver::HeatTransfer> h_;
};

const materials::Material& material_of(const solver::Case& c, std::size_t part)
{
    return c.materials[static_cast<std::size_t>(c.parts[part].material)];
}

/// Whether more is told of a part than how it conducts.
bool is_told_apart(const solver::Case& c, std::size_t part)
{
    return c.parts[part].role == solver::Role::chill || is_open_hole(c, part) ||
           (c.models.burning && material_of(c, part).exothermic);
}

bool conduct_as_one(const solver::Case& c, const ContactTable& contact, std::size_t a, std::size_t b)
{
    const solver::Part& p = c.parts[a];
    const solver::Part& q = c.parts[b];
    return p.material == q.material && p.temperature == q.temperature && !is_told_apart(c, a) &&
           !is_told_apart(c, b) && solver::is_poured(p.role) == solver::is_poured(q.role) &&
           std::isinf(contact(a, b).h) && contact.alike(a, b);
}

/// Well-conducting bodies are stepped with the metal. Still air is not one of them: it holds next to no heat,
/// so that whatever it touches leads it.
/// What burns gives its heat off among the slow ones.
bool is_quick(const solver::Case& c, std::size_t p)
{
    const solver::Part& part = c.parts[p];
    if (solver::is_poured(part.role)) return true;
    const materials::Material& m = material_of(c, p);
    if (m.kind == materials::Kind::air || m.exothermic) return false;
    constexpr double well_conducting =
        8.0;  // W/m/K: between sands and sleeves (under 3) and metals, graphite (over 20)
    return m.conductivity.solid(part.temperature) > well_conducting;
}

}  // namespace

Bodies find_bodies(const solver::Case& c)
{
    const ContactTable contact(c);
    Bodies bodies;
    std::vector<std::size_t> first_part;
    for (std::size_t p = 0; p < c.parts.size(); ++p) {
        std::size_t body = 0;
        while (body < first_part.size() && !conduct_as_one(c, contact, first_part[body], p))
            ++body;
        if (body == first_part.size()) {
            const solver::Part& part = c.parts[p];
            first_part.push_back(p);
            bodies.list.push_back({part.material, part.temperature, solver::is_poured(part.role),
                                   is_quick(c, p), is_open_hole(c, p) ? static_cast<int>(p) : -1});
        }
        bodies.of_part.push_back(static_cast<mesh::BodyId>(body));
    }
    for (const std::size_t a : first_part)
        for (const std::size_t b : first_part)
            bodies.contacts.push_back(a == b ? solver::HeatTransfer{INFINITY, INFINITY} : contact(a, b));
    return bodies;
}

std::vector<mesh::BodyId> bodies_of_voxels(const Bodies& bodies,
                                           const std::vector<mesh::PartId>& part_of_voxel)
{
    std::vector<mesh::BodyId> out(part_of_voxel.size());
    for (std::size_t q = 0; q < out.size(); ++q)
        out[q] = bodies.of_part[part_of_voxel[q]];
    return out;
}

}  // namespace sandfreeze::conduction
