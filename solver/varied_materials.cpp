#include <algorithm>
#include <cmath>

#include "materials/library.hpp"
#include "materials/moisture.hpp"
#include "solver/conduction/open_tops.hpp"
#include "solver/variation_list.hpp"

namespace sandfreeze::solver
{
namespace
{

using materials::Curve;
using materials::LibraryEntry;
using materials::Material;
using materials::PhaseProperty;

/// Ranges of numbers that are the case's own.
struct Assumption {
    std::string_view property;
    double percent = 0;
};
constexpr Assumption assumptions[] = {{"moisture_percent", 20}, {"emissivity", 50}, {"heat_J_kg", 50}};
constexpr double assumed_otherwise = 10;

bool same(const Curve& a, const Curve& b)
{
    return std::equal(a.knots().begin(), a.knots().end(), b.knots().begin(), b.knots().end(),
                      [](const Curve::Knot& x, const Curve::Knot& y) {
                          return x.temperature == y.temperature && x.value == y.value;
                      });
}

bool same(const PhaseProperty& a, const PhaseProperty& b)
{
    return same(a.solid, b.solid) && same(a.liquid, b.liquid);
}

bool is_wet(const Case& c, const Material& m)
{
    return c.water != Water::ignored && m.kind != materials::Kind::metal && m.freezing &&
           m.moisture_percent > 0;
}

void scale(Curve& curve, double factor)
{
    std::vector<Curve::Knot> knots = curve.knots();
    for (Curve::Knot& knot : knots)
        knot.value *= factor;
    curve = Curve(std::move(knots));
}

void scale(PhaseProperty& property, double factor)
{
    scale(property.solid, factor);
    scale(property.liquid, factor);
}

/// One material of a case, and the entry of the library that its numbers are.
class VariedMaterial
{
public:
    VariedMaterial(const Case& c, std::size_t index, VariationList& list)
        : case_(c)
        , index_(index)
        , own_(c.materials[index])
        , list_(list)
    {
        const LibraryEntry* found = materials::find(own_.name);
        if (found == nullptr || found->material.name != own_.name) return;
        const Material there =
            is_wet(c, own_) ? materials::wet_sand(found->material, own_.moisture_percent) : found->material;
        if (own_.density == there.density && own_.latent_heat == there.latent_heat &&
            same(own_.specific_heat, there.specific_heat) && same(own_.conductivity, there.conductivity))
            entry_ = found;
    }

    void vary_conduction() const
    {
        const Curve& k = own_.conductivity.solid;
        const bool one_figure = k.is_constant() && same(k, own_.conductivity.liquid);
        list_.add_scaled(of("conductivity"), range("conductivity_W_mK"),
                         change([](Material& m, double f) { scale(m.conductivity, f); }),
                         one_figure ? told(k.knots().front().value, "W/m/K")
                                    : std::function<std::string(double)>{});
    }

    /// Density stays, and with it the latent heat in a volume and the water in the sand.
    void vary_heat() const
    {
        Range both = range("specific_heat_J_kgK");
        both.percent = std::hypot(both.percent, range("density_kg_m3").percent);
        both.from += entry_ != nullptr ? ", density and specific heat together" : "";
        list_.add_scaled(of("heat held by", ""), both,
                         change([](Material& m, double f) { scale(m.specific_heat, f); }));
    }

    void vary_freezing() const
    {
        if (own_.kind != materials::Kind::metal || !own_.freezing) return;
        list_.add_scaled(of("latent heat"), range("latent_heat_J_kg"),
                         change([](Material& m, double f) { m.latent_heat *= f; }),
                         told(own_.latent_heat / 1000, "kJ/kg"));
        const auto limit = [](double now, double f) { return std::min(now * f, 0.99); };
        list_.add_scaled(of("feeding limit"), range("feeding_limit"), change([limit](Material& m, double f) {
                             m.feeding_limit = limit(m.feeding_limit, f);
                         }),
                         [limit, now = own_.feeding_limit](double f) { return figures(limit(now, f)); });
    }

    void vary_moisture() const
    {
        if (!is_wet(case_, own_)) return;
        list_.add_scaled(of("moisture"), range("moisture_percent"), change([](Material& m, double f) {
                             m = materials::wet_sand(m, f * m.moisture_percent);
                         }),
                         told(own_.moisture_percent, "%"));
    }

    void vary_burning() const
    {
        if (!own_.exothermic || !case_.models.burning) return;
        list_.add_scaled(of("heat of burning"), range("heat_J_kg"),
                         change([](Material& m, double f) { m.exothermic->heat *= f; }),
                         told(own_.exothermic->heat / 1e6, "MJ/kg"));
    }

    void vary_radiation() const
    {
        if (!own_.emissivity) return;
        const auto most_one = [](double value) { return std::min(value, 1.0); };
        list_.add_scaled(of("emissivity"), range("emissivity"), change([most_one](Material& m, double f) {
                             m.emissivity = most_one(f * *m.emissivity);
                         }),
                         [most_one, now = *own_.emissivity](double f) { return figures(most_one(f * now)); });
    }

private:
    std::string of(const std::string& property, std::string_view link = " of") const
    {
        return property + std::string(link) + ' ' + own_.name;
    }

    Range range(std::string_view property) const
    {
        if (entry_ != nullptr)
            for (const materials::SourcedValue& value : entry_->values)
                if (value.property == property)
                    return {value.uncertainty_percent, "the library's " + own_.name};
        const auto known = std::find_if(std::begin(assumptions), std::end(assumptions),
                                        [&](const Assumption& a) { return a.property == property; });
        return {known != std::end(assumptions) ? known->percent : assumed_otherwise,
                std::string(assumed) + ": no range is stated"};
    }

    template <class Change>
    std::function<void(Case&, double)> change(Change on) const
    {
        return [index = index_, on](Case& c, double factor) { on(c.materials[index], factor); };
    }

    static std::function<std::string(double)> told(double now, const std::string& unit)
    {
        return [=](double factor) { return figures(factor * now) + ' ' + unit; };
    }

    const Case& case_;
    std::size_t index_;
    const Material& own_;
    const LibraryEntry* entry_ = nullptr;
    VariationList& list_;
};

/// Parts whose material conducts: not those that are a hole to the open.
bool conducts(const Case& c, std::size_t part)
{
    return !conduction::is_open_hole(c, part);
}

bool lies_open(const Case& c, std::size_t part)
{
    return c.models.open_tops && c.parts[part].open_top && c.parts[part].cover <= 0;
}

}  // namespace

void vary_materials(const Case& c, const std::vector<bool>& seen, VariationList& list)
{
    for (std::size_t m = 0; m < c.materials.size(); ++m) {
        bool used = false;
        bool open = false;
        for (std::size_t p = 0; p < c.parts.size(); ++p) {
            if (!seen[p] || c.parts[p].material != static_cast<int>(m)) continue;
            used = used || conducts(c, p);
            open = open || lies_open(c, p);
        }
        if (!used) continue;
        const VariedMaterial varied(c, m, list);
        varied.vary_conduction();
        if (c.materials[m].kind != materials::Kind::air) varied.vary_heat();
        varied.vary_freezing();
        varied.vary_moisture();
        varied.vary_burning();
        if (open) varied.vary_radiation();
    }
}

}  // namespace sandfreeze::solver
