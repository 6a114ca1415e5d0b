#include "solver/pouring/sheet.hpp"

#include <algorithm>
#include <cmath>

#include "solver/feeding/parts.hpp"
#include "solver/feeding/sentences.hpp"
#include "solver/pouring/desk.hpp"
#include "solver/pouring/flow.hpp"
#include "solver/pouring/metal.hpp"

namespace sandfreeze::pouring
{

namespace
{

using solver::Stated;
using solver::View;

constexpr double sand_at_ends = 0.05;  ///< of a cut, where the case says nothing [m]

bool is_plane(const solver::Edge& edge)
{
    return edge.kind == solver::Edge::Kind::insulated;
}

Stated given_or(const std::optional<double>& given, double otherwise)
{
    return given ? Stated{*given, true} : Stated{otherwise, false};
}

/// Length and width of the whole mould's sand box [m].
std::pair<double, double> box_sides(const solver::Case& c)
{
    const mesh::Box& box = c.section.box;
    const double x = box.x1 - box.x0;
    const double y = box.y1 - box.y0;
    const double times = c.section.multiply;
    if (c.section.view == View::axisymmetric) return {2 * box.x1 * times, 2 * box.x1};
    if (c.section.view == View::planar) return {x * times, c.section.depth + 2 * sand_at_ends};
    const bool mirrored_in_y = is_plane(c.edges.bottom) || is_plane(c.edges.top);
    const bool mirrored_in_x = is_plane(c.edges.left) || is_plane(c.edges.right);
    return mirrored_in_y && !mirrored_in_x ? std::pair(x, y * times) : std::pair(x * times, y);
}

Flask flask_of(const solver::Case& c, const MouldScan& scan)
{
    const auto [length, width] = box_sides(c);
    const solver::FlaskInputs& said = c.pouring.flask;
    return {given_or(said.length, length), given_or(said.width, width),
            given_or(said.cope, std::max(0.0, scan.box_top - scan.parting)),
            given_or(said.drag, std::max(0.0, scan.parting - scan.box_bottom))};
}

std::string basis_words(const Desk& desk)
{
    const solver::Section& section = desk.c.section;
    std::string text =
        section.view == View::planar
            ? feeding::words("Volumes: of the cut, ", feeding::number_words(section.depth * to_mm),
                             " mm deep (depth_mm)")
        : section.view == View::axisymmetric ? "Volumes: of full rings"
                                             : "Volumes: of the parts as solids";
    if (section.multiply != 1)
        text += feeding::words(", times ", feeding::number_words(section.multiply), " (multiply)");
    text += desk.solved != nullptr ? ". Times: computed by the run of this case."
                                   : ". Times: by the modulus rule; run the case and give its folder for "
                                     "better ones.";
    return text;
}

}  // namespace

bool Desk::light() const
{
    const auto& freezing = alloy().freezing;
    return alloy().density < 3500 && freezing && freezing->liquidus > 450;
}

Desk desk_of(const solver::Case& c, const mesh::Painting& painting, const solver::SolvedTimes* solved)
{
    Desk desk{c, painting, solved, scan_mould(c, painting), {}, {}, 0, 0, 0, 0};
    std::vector<double> mass_of(c.materials.size());
    for (std::size_t p = 0; p < c.parts.size(); ++p) {
        const solver::Part& part = c.parts[p];
        if (!solver::is_poured(part.role)) continue;
        const mesh::PartMeasure& measure = painting.measures[p];
        const auto material = static_cast<std::size_t>(part.material);
        MetalPart metal{p, part.role, measure.volume * desk.scan.factor, 0,
                        feeding::modulus(measure.volume, measure.cooling_area)};
        metal.mass = metal.volume * c.materials[material].density;
        mass_of[material] += metal.mass;
        desk.volume += metal.volume;
        desk.mass += metal.mass;
        if (part.role == solver::Role::casting) desk.casting_mass += metal.mass;
        desk.metal.push_back(metal);
    }
    desk.alloy_ = static_cast<std::size_t>(
        std::distance(mass_of.begin(), std::max_element(mass_of.begin(), mass_of.end())));
    desk.flask = flask_of(c, desk.scan);
    return desk;
}

double gate_height(const Desk& desk)
{
    double area = 0;
    double sum = 0;
    for (const GateFace& gate : desk.scan.gates) {
        area += gate.area;
        sum += gate.area * gate.height;
    }
    return area > 0 ? sum / area : desk.scan.parting;
}

double effective_head(const Desk& desk)
{
    const double gate = gate_height(desk);
    const bool gated = !desk.scan.gates.empty();
    const Head head{desk.scan.level - gate, gated ? std::max(0.0, desk.scan.casting_top - gate) : 0.0,
                    desk.scan.casting_top - desk.scan.casting_bottom};
    return head.effective();
}

PouringTime pouring_time(const Desk& desk)
{
    if (desk.c.fill_time > 0) return {desk.c.fill_time, solver::SheetOrigin::given};
    const solver::SprueInputs& sprue = desk.c.pouring.sprue;
    const double head = effective_head(desk);
    if (sprue.choke && head > 0)
        return {choke_time(desk.mass, liquid_density(desk.alloy(), desk.c.pour_temperature),
                           sprue.loss_factor.value, *sprue.choke, head),
                solver::SheetOrigin::computed};
    return {usual_pouring_time(desk.mass, usual_pouring_constant), solver::SheetOrigin::assumed};
}

bool has_sprue(const Desk& desk)
{
    const solver::SprueInputs& sprue = desk.c.pouring.sprue;
    return sprue.height || sprue.choke ||
           std::any_of(desk.metal.begin(), desk.metal.end(), [](const MetalPart& part) {
               return part.role == solver::Role::sprue || part.role == solver::Role::basin;
           });
}

double choke_wanted(const Desk& desk)
{
    const double head = effective_head(desk);
    if (head <= 0) return 0;
    return choke_area(desk.mass, liquid_density(desk.alloy(), desk.c.pour_temperature),
                      desk.c.pouring.sprue.loss_factor.value, pouring_time(desk).seconds, head);
}

solver::Sheet sheet_of(const solver::Case& c, const mesh::Painting& painting,
                       const solver::SolvedTimes* solved)
{
    const Desk desk = desk_of(c, painting, solved);
    solver::Sheet sheet;
    sheet.title = c.title;
    sheet.basis = basis_words(desk);
    sheet.sections = {metal_section(desk), filling_section(desk), flask_section(desk),
                      sand_section(desk),  pattern_section(desk), times_section(desk)};
    return sheet;
}

}  // namespace sandfreeze::pouring
