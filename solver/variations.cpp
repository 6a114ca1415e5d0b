#include "solver/variations.hpp"

#include <algorithm>
#include <cmath>
#include <limits>
#include <set>
#include <sstream>
#include <tuple>
#include <utility>

#include "materials/library.hpp"
#include "solver/variation_list.hpp"

namespace sandfreeze::solver
{
namespace
{

constexpr double pour_degrees = 10;   // common practice: what a pyrometer and the way to the mould leave open
constexpr double mould_degrees = 5;   // likewise: the weather, and sand that is still warm
constexpr double own_contact = 30;    // %
constexpr double pour_percent = 20;   // of the time that filling takes; common practice, by hand
constexpr double least_factor = 0.1;  // nothing is varied down to nothing

std::vector<bool> parts_seen(const Case& c, const mesh::Painting& painting)
{
    std::vector<bool> seen(c.parts.size(), false);
    for (const mesh::PartId part : painting.part_of_voxel)
        seen[part] = true;
    return seen;
}

/// Pairs of parts that have a face in common, the lower one first.
std::set<std::pair<std::size_t, std::size_t>> touching(const mesh::Painting& painting)
{
    const mesh::Grid& grid = painting.grid;
    const auto nx = static_cast<std::size_t>(grid.nx);
    const std::size_t level = nx * static_cast<std::size_t>(grid.ny);
    const std::vector<mesh::PartId>& part = painting.part_of_voxel;
    std::set<std::pair<std::size_t, std::size_t>> pairs;
    const auto meet = [&](std::size_t p, std::size_t q) {
        if (part[p] != part[q]) pairs.insert(std::minmax<std::size_t>(part[p], part[q]));
    };
    for (std::size_t q = 0; q < part.size(); ++q) {
        if ((q + 1) % nx != 0) meet(q, q + 1);
        if (q % level + nx < level) meet(q, q + nx);
        if (q + level < part.size()) meet(q, q + level);
    }
    return pairs;
}

double highest_liquidus(const Case& c)
{
    double highest = -std::numeric_limits<double>::infinity();
    for (const Part& part : c.parts) {
        const auto& freezing = c.materials[static_cast<std::size_t>(part.material)].freezing;
        if (is_poured(part.role) && freezing) highest = std::max(highest, freezing->liquidus);
    }
    return highest;
}

void vary_temperatures(const Case& c, VariationList& list)
{
    const double superheat = c.pour_temperature - highest_liquidus(c);
    const double lower = superheat > 0 ? std::min(pour_degrees, superheat / 2) : pour_degrees;
    list.add_degrees("pouring temperature", c.pour_temperature, lower, pour_degrees,
                     [](Case& other, double rise) {
                         other.pour_temperature += rise;
                         for (Part& part : other.parts)
                             if (is_poured(part.role)) part.temperature += rise;
                     });
    if (c.fill_time > 0) {
        list.back().low_end_matters = true;  // a colder pour is what runs cold
        list.add_scaled(
            "time to fill the mould", {pour_percent, std::string(assumed)},
            [](Case& other, double factor) { other.fill_time *= factor; },
            [now = c.fill_time](double factor) { return figures(factor * now) + " s"; });
    }
    const double mould = c.parts[0].temperature;
    list.add_degrees("temperature of the mould", mould, mould_degrees, mould_degrees,
                     [mould](Case& other, double rise) {
                         for (Part& part : other.parts)
                             if (!is_poured(part.role) && part.temperature == mould) part.temperature += rise;
                     });
}

std::string contact_text(double h, std::optional<double> h_gap)
{
    if (!h_gap || *h_gap == h) return figures(h) + " W/m2/K";
    return figures(h) + " (gap " + figures(*h_gap) + ") W/m2/K";
}

void vary_rule(const Case& c, std::size_t r, VariationList& list)
{
    const Contact& rule = c.contacts[r];
    if (!std::isfinite(rule.h)) return;
    const auto scaled = [](const Contact& contact, double factor) {
        return std::pair(factor * contact.h,
                         contact.h_gap ? std::optional(factor * *contact.h_gap) : std::nullopt);
    };
    list.add_scaled(
        "heat transfer from " + rule.between[0] + " to " + rule.between[1],
        {own_contact, std::string(assumed) + ": the case states no range"},
        [=](Case& other, double factor) {
            std::tie(other.contacts[r].h, other.contacts[r].h_gap) = scaled(other.contacts[r], factor);
        },
        [=](double factor) { return std::apply(contact_text, scaled(rule, factor)); });
}

void vary_library_contact(std::size_t k, VariationList& list)
{
    const auto contacts = materials::default_contacts();
    const materials::DefaultContact& known = contacts[k];
    const std::string other_side(known.only.empty() ? materials::to_string(known.second) : known.only);
    list.add_scaled(
        "heat transfer from " + std::string(materials::to_string(known.first)) + " to " + other_side,
        {known.uncertainty_percent, "the library's contacts"},
        [k, count = contacts.size()](Case& other, double factor) {
            other.contact_factors.resize(count, 1);
            other.contact_factors[k] *= factor;
        },
        [&known](double factor) {
            return contact_text(factor * known.h,
                                known.h_gap ? std::optional(factor * *known.h_gap) : std::nullopt);
        });
}

void vary_contacts(const Case& c, const mesh::Painting& painting, VariationList& list)
{
    std::set<std::size_t> rules;
    std::set<std::size_t> known;
    for (const auto& [a, b] : touching(painting)) {
        const ContactOrigin origin = contact_origin(c, a, b);
        if (origin.rule) rules.insert(*origin.rule);
        if (origin.library) known.insert(*origin.library);
    }
    for (const std::size_t k : known)
        vary_library_contact(k, list);
    for (const std::size_t r : rules)
        vary_rule(c, r, list);
}

/// A cover counts by its thickness over its conductivity.
void vary_cover(const Case& c, const std::vector<bool>& seen, VariationList& list)
{
    bool covered = false;
    for (std::size_t p = 0; p < c.parts.size(); ++p)
        covered = covered || (seen[p] && c.parts[p].open_top && c.parts[p].cover > 0);
    const materials::LibraryEntry* powder = materials::find("covering powder");
    if (!covered || !c.models.open_tops || powder == nullptr) return;
    for (const materials::SourcedValue& value : powder->values)
        if (value.property == "conductivity_W_mK")
            list.add_scaled("conductivity of covering powder",
                            {value.uncertainty_percent, "the library's covering powder"},
                            [](Case& other, double factor) {
                                for (Part& part : other.parts)
                                    part.cover /= factor;
                            });
}

/// Two figures: ranges are not known better.
std::string percents(double value)
{
    std::ostringstream text;
    text.precision(2);
    text << value << " %";
    return text.str();
}

}  // namespace

std::string figures(double value)
{
    std::ostringstream text;
    text.precision(3);
    if (std::abs(value) >= 100) {
        text << std::lround(value);
        return text.str();
    }
    text << value;
    return text.str();
}

void VariationList::add_scaled(const std::string& input, const Range& range,
                               const std::function<void(Case&, double)>& apply,
                               const std::function<std::string(double)>& value)
{
    if (!(range.percent > 0)) return;
    Variation v{{}, case_, case_};
    v.input.input = input;
    v.input.range = "± " + percents(range.percent);
    v.input.range_from = range.from;
    const double low = std::max(1 - range.percent / 100, least_factor);
    const double high = 1 + range.percent / 100;
    apply(v.less, low);
    apply(v.more, high);
    if (value) {
        v.input.low = {value(low), "at " + value(low)};
        v.input.high = {value(high), "at " + value(high)};
    } else {
        const std::string down = percents(100 * (1 - low));
        const std::string up = percents(range.percent);
        v.input.low = {"-" + down, down + " lower"};
        v.input.high = {"+" + up, up + " higher"};
    }
    list_.push_back(std::move(v));
}

void VariationList::add_degrees(const std::string& input, double now, double lower, double higher,
                                const std::function<void(Case&, double)>& apply)
{
    Variation v{{}, case_, case_};
    v.input.input = input;
    v.input.range = lower == higher ? "± " + figures(higher) + " °C"
                                    : "-" + figures(lower) + ", +" + figures(higher) + " °C";
    v.input.range_from = assumed;
    apply(v.less, -lower);
    apply(v.more, higher);
    const std::string low = figures(now - lower) + " °C";
    const std::string high = figures(now + higher) + " °C";
    v.input.low = {low, "at " + low};
    v.input.high = {high, "at " + high};
    list_.push_back(std::move(v));
}

std::vector<Variation> variations_of(const Case& c, const mesh::Painting& painting)
{
    VariationList list(c);
    const std::vector<bool> seen = parts_seen(c, painting);
    vary_temperatures(c, list);
    vary_materials(c, seen, list);
    vary_contacts(c, painting, list);
    vary_cover(c, seen, list);
    return list.take();
}

}  // namespace sandfreeze::solver
