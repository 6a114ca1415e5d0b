#include "materials/enthalpy.hpp"

#include <algorithm>
#include <cmath>
#include <limits>

#include "materials/heat_content.hpp"
#include "materials/number_text.hpp"

namespace sandfreeze::materials
{

namespace
{

using Node = EnthalpyCurve::Node;
using Zone = HeatContent::Zone;

/// Lays nodes from cold to hot, as far apart as the tolerance allows.
class NodeLayer
{
public:
    explicit NodeLayer(const Material& material);

    std::vector<Node> lay(double lowest, double highest);

private:
    double solid_enthalpy(double temperature) const;
    void lay_zone(Zone zone, double from, double to);
    void lay_smooth(Zone zone, double from, double to);
    double good_step(Zone zone, double from, double longest) const;
    double deviation(Zone zone, double from, double step) const;
    void add(double rise, double temperature, double fraction);

    const Material& material_;
    HeatContent heat_;
    double tolerance_ = 0;  ///< between lines and curve [J/m3]
    std::vector<Node> nodes_;
};

NodeLayer::NodeLayer(const Material& material)
    : material_(material)
    , heat_(material)
{
    const auto& freezing = heat_.freezing();
    // Next to no latent heat, as that of metal which must not count as freezing, would ask for endless nodes.
    const double whole =
        freezing ? std::max(material.density * material.latent_heat,
                            heat_.rise(Zone::solid, freezing->solidus() - 100, freezing->solidus()))
                 : solid_enthalpy(1000);
    tolerance_ = 1e-6 * whole;
}

std::vector<Node> NodeLayer::lay(double lowest, double highest)
{
    const auto& freezing = heat_.freezing();
    const double solid_until = freezing ? freezing->solidus() : highest;
    const double first = freezing ? std::min(lowest, solid_until - 1) : lowest;
    nodes_ = {{solid_enthalpy(first), first, 1.0}};
    lay_zone(Zone::solid, first, solid_until);
    if (freezing) {
        const double rest = freezing->isothermal_rest();
        if (rest > 0) add(material_.density * material_.latent_heat * rest, solid_until, 1 - rest);
        lay_zone(Zone::freezing, solid_until, freezing->liquidus());
        lay_zone(Zone::liquid, freezing->liquidus(), std::max(highest, freezing->liquidus() + 1));
    }
    return std::move(nodes_);
}

/// Enthalpy of the solid, 0 at 0 °C [J/m3].
double NodeLayer::solid_enthalpy(double temperature) const
{
    const double sign = temperature < 0 ? -1 : 1;
    const auto kinks = heat_.kinks(Zone::solid, std::min(0.0, temperature), std::max(0.0, temperature));
    double sum = 0;
    for (std::size_t i = 1; i < kinks.size(); ++i)
        sum += heat_.rise(Zone::solid, kinks[i - 1], kinks[i]);
    return sign * sum;
}

void NodeLayer::lay_zone(Zone zone, double from, double to)
{
    const auto kinks = heat_.kinks(zone, from, to);
    for (std::size_t i = 1; i < kinks.size(); ++i)
        lay_smooth(zone, kinks[i - 1], kinks[i]);
}

void NodeLayer::lay_smooth(Zone zone, double from, double to)
{
    double temperature = from;
    while (temperature < to) {
        const double left = to - temperature;
        const double pieces = std::ceil(left / good_step(zone, temperature, left));
        const double next = pieces <= 1 ? to : temperature + left / pieces;
        add(heat_.rise(zone, temperature, next), next, heat_.solid_fraction(zone, next));
        temperature = next;
    }
}

/// A step over which the line stays within the tolerance; the deviation goes with its square [K].
double NodeLayer::good_step(Zone zone, double from, double longest) const
{
    double step = longest;
    double off = deviation(zone, from, step);
    while (off > tolerance_) {
        step *= std::clamp(0.99 * std::sqrt(tolerance_ / off), 0.02, 0.99);
        off = deviation(zone, from, step);
    }
    return step;
}

/// Largest distance in H between the line over the step and the curve [J/m3].
double NodeLayer::deviation(Zone zone, double from, double step) const
{
    const double whole = heat_.rise(zone, from, from + step);
    double largest = 0;
    for (const double share : {0.25, 0.5, 0.75}) {
        const double part = heat_.rise(zone, from, from + share * step);
        largest = std::max(largest, std::abs(part - share * whole));
    }
    return largest;
}

void NodeLayer::add(double rise, double temperature, double fraction)
{
    const Node node = {nodes_.back().enthalpy + rise, temperature, fraction};
    if (!(node.enthalpy > nodes_.back().enthalpy))
        throw DataError(material_.name + ": the heat content does not rise with temperature at " +
                        number_text(temperature) + " °C: are two temperatures too close to tell apart?");
    nodes_.push_back(node);
}

/// The line that `value` falls on: index of its lower node; the end lines go on for ever.
template <class Member>
std::size_t line_of(const std::vector<Node>& nodes, double value, Member member)
{
    const auto above = std::upper_bound(nodes.begin() + 1, nodes.end() - 1, value,
                                        [member](double v, const Node& node) { return v < node.*member; });
    return static_cast<std::size_t>(above - nodes.begin()) - 1;
}

}  // namespace

EnthalpyCurve::EnthalpyCurve(const Material& material, double lowest, double highest)
{
    check(material);
    if (!(lowest < highest))
        throw DataError(material.name + ": no temperatures between " + number_text(lowest) + " and " +
                        number_text(highest) + " °C to lay its heat content over");
    nodes_ = NodeLayer(material).lay(lowest, highest);
}

double EnthalpyCurve::temperature(double enthalpy) const
{
    const std::size_t i = line_of(nodes_, enthalpy, &Node::enthalpy);
    const Node& low = nodes_[i];
    const Node& high = nodes_[i + 1];
    const double share = (enthalpy - low.enthalpy) / (high.enthalpy - low.enthalpy);
    return low.temperature + share * (high.temperature - low.temperature);
}

double EnthalpyCurve::enthalpy(double temperature) const
{
    const std::size_t i = line_of(nodes_, temperature, &Node::temperature);
    const Node& low = nodes_[i];
    const Node& high = nodes_[i + 1];
    const double share = (temperature - low.temperature) / (high.temperature - low.temperature);
    return low.enthalpy + share * (high.enthalpy - low.enthalpy);
}

double EnthalpyCurve::solid_fraction(double enthalpy) const
{
    if (enthalpy <= nodes_.front().enthalpy) return nodes_.front().solid_fraction;
    if (enthalpy >= nodes_.back().enthalpy) return nodes_.back().solid_fraction;
    const std::size_t i = line_of(nodes_, enthalpy, &Node::enthalpy);
    const Node& low = nodes_[i];
    const Node& high = nodes_[i + 1];
    const double share = (enthalpy - low.enthalpy) / (high.enthalpy - low.enthalpy);
    return low.solid_fraction + share * (high.solid_fraction - low.solid_fraction);
}

double EnthalpyCurve::enthalpy_at_solid_fraction(double fraction) const
{
    if (nodes_.back().solid_fraction > 0) return std::numeric_limits<double>::quiet_NaN();
    const auto first_where = [&](auto&& holds) {
        return std::find_if(nodes_.begin(), nodes_.end(),
                            [&](const Node& n) { return holds(n.solid_fraction); });
    };
    if (fraction <= 0) return first_where([](double fs) { return fs <= 0; })->enthalpy;
    const auto high = first_where([=](double fs) { return fs < std::min(fraction, 1.0); });
    const auto low = high - 1;
    const double share =
        (low->solid_fraction - std::min(fraction, 1.0)) / (low->solid_fraction - high->solid_fraction);
    return low->enthalpy + share * (high->enthalpy - low->enthalpy);
}

double EnthalpyCurve::steepest() const
{
    double steepest = 0;
    for (std::size_t i = 1; i < nodes_.size(); ++i)
        steepest = std::max(steepest, (nodes_[i].temperature - nodes_[i - 1].temperature) /
                                          (nodes_[i].enthalpy - nodes_[i - 1].enthalpy));
    return steepest;
}

double conductivity(const Material& material, const EnthalpyCurve& curve, double enthalpy)
{
    const double temperature = curve.temperature(enthalpy);
    const double fs = curve.solid_fraction(enthalpy);
    if (fs >= 1) return material.conductivity.solid(temperature);
    return fs * material.conductivity.solid(temperature) +
           (1 - fs) * material.conductivity.liquid(temperature);
}

}  // namespace sandfreeze::materials
