#include "solver/feeding/soundness.hpp"

#include <algorithm>
#include <cmath>
#include <limits>
#include <optional>

#include "materials/mush_range.hpp"
#include "solver/feeding/dendrite_arms.hpp"
#include "solver/feeding/gradient_criterion.hpp"
#include "solver/feeding/mush_pressure.hpp"
#include "solver/feeding/soundness_words.hpp"
#include "solver/feeding/spread_values.hpp"

namespace sandfreeze::feeding
{
namespace
{

using materials::Material;
using solver::AlloySoundness;
using solver::WorstPlace;

constexpr double nan = std::numeric_limits<double>::quiet_NaN();
constexpr double few = 0.05;         // share of the volume that lies beyond a "low" or "high" value
constexpr double least_step = 0.01;  // [K] over a cell: less counts as no gradient

/// What is needed of one alloy.
struct Alloy {
    const Material* metal = nullptr;
    std::optional<MushResistance> mush;
    double least_gradient = 0;  ///< with which the mush would be as long as all metal [K/m]

    bool has_pressure_loss() const
    {
        return mush && metal->liquid_viscosity && metal->dendrite_arm &&
               freezing_manner(*metal) != solver::FreezingManner::hardly_shrinks;
    }
    double beta() const { return metal->shrinkage_percent / 100; }
    double gas_pressure_of(std::optional<double> hydrogen) const
    {
        if (!hydrogen || !mush || !metal->hydrogen) return 0;
        return gas_pressure(*hydrogen, metal->hydrogen->solubility_ml_100g, metal->hydrogen->partition,
                            mush->last_liquid);
    }
    /// What keeps a pore of half an arm spacing shut [Pa]; Kubo & Pehlke, Metall. Trans. B 16 (1985) 359
    /// (from memory).
    double margin(double loss, double head, double arms, double gas) const
    {
        if (!metal->surface_tension) return nan;
        const double liquid_density = metal->density * (1 - beta());
        return atmosphere + liquid_density * gravity * head + 2 * *metal->surface_tension / (arms / 2) -
               loss - gas;
    }
};

/// Diagonal of the box around all metal [m].
double extent_of(const Metal& metal)
{
    if (metal.size() == 0) return 0;
    mesh::Place low = metal.place(0);
    mesh::Place high = low;
    for (MetalId id = 0; id < static_cast<MetalId>(metal.size()); ++id) {
        const mesh::Place at = metal.place(id);
        low = {std::min(low.x, at.x), std::min(low.y, at.y), std::min(low.z, at.z)};
        high = {std::max(high.x, at.x), std::max(high.y, at.y), std::max(high.z, at.z)};
    }
    return std::hypot(high.x - low.x, high.y - low.y, low.has_height() ? high.z - low.z : 0);
}

std::vector<Alloy> alloys_of(const solver::Case& c, double extent)
{
    std::vector<Alloy> alloys;
    for (const Material& m : c.materials) {
        Alloy alloy{&m, {}};
        const auto range = materials::mush_range(m);
        if (range && range->is_mushy()) {
            alloy.mush = mush_resistance(m);
            if (extent > 0) alloy.least_gradient = range->width() / extent;
        }
        alloys.push_back(alloy);
    }
    return alloys;
}

/// Maps of the castings of one alloy.
struct Spreads {
    Spread criterion;
    Spread loss;
    Spread margin;
    Spread arms;
};

std::optional<WorstPlace> worst_place(const std::optional<Spread::Entry>& entry, const Metal& metal,
                                      const solver::Case& c)
{
    if (!entry) return {};
    return WorstPlace{entry->value, metal.place(entry->at), c.parts[metal.part[entry->at]].name};
}

/// Works the maps out voxel by voxel and gathers those of the castings.
class SoundnessMaps
{
public:
    SoundnessMaps(const solver::Case& c, const Metal& metal, solver::Answer& answer)
        : case_(c)
        , metal_(metal)
        , fields_(answer.fields)
        , alloys_(alloys_of(c, extent_of(metal)))
        , spreads_(alloys_.size())
        , used_(alloys_.size(), false)
    {
        for (auto* field : {&fields_.criterion, &fields_.pressure_loss, &fields_.arm_spacing})
            field->assign(answer.painting.grid.size(), std::numeric_limits<float>::quiet_NaN());
    }

    void fill()
    {
        for (std::size_t id = 0; id < metal_.size(); ++id)
            fill(static_cast<MetalId>(id));
    }

    std::vector<AlloySoundness> report()
    {
        std::vector<AlloySoundness> reports;
        for (std::size_t m = 0; m < alloys_.size(); ++m)
            if (used_[m]) reports.push_back(report(alloys_[m], spreads_[m]));
        return reports;
    }

private:
    void fill(MetalId id)
    {
        const auto q = static_cast<std::size_t>(metal_.voxel[id]);
        const solver::Part& part = case_.parts[metal_.part[id]];
        const auto m = static_cast<std::size_t>(part.material);
        const Alloy& alloy = alloys_[m];
        const double freezing = static_cast<double>(fields_.freezes[q] - fields_.below_liquidus[q]);
        const MushState state{fields_.gradient[q], fields_.cooling_rate[q],
                              arm_spacing(*alloy.metal, freezing)};
        const double criterion = gradient_criterion(state.gradient, state.cooling_rate);
        // No mush is longer than the metal.
        const MushState bounded{std::max(state.gradient, alloy.least_gradient), state.cooling_rate,
                                state.arm_spacing};
        const double loss =
            alloy.has_pressure_loss()
                ? pressure_loss(*alloy.mush, *alloy.metal->liquid_viscosity, alloy.beta(), bounded)
                : nan;
        fields_.criterion[q] = static_cast<float>(criterion);
        fields_.pressure_loss[q] = static_cast<float>(loss);
        fields_.arm_spacing[q] = static_cast<float>(state.arm_spacing);
        if (part.role != solver::Role::casting) return;
        used_[m] = true;
        const bool has_gradient = state.gradient * metal_.grid->cell >= least_step;
        const auto add = [&](Spread& spread, double value) {
            if (!std::isnan(value)) spread.add({value, metal_.volume[id], id, has_gradient});
        };
        add(spreads_[m].criterion, criterion);
        add(spreads_[m].loss, loss);
        add(spreads_[m].margin, alloy.margin(loss, static_cast<double>(fields_.head[q]), state.arm_spacing,
                                             alloy.gas_pressure_of(case_.hydrogen)));
        add(spreads_[m].arms, state.arm_spacing);
    }

    AlloySoundness report(const Alloy& alloy, Spreads& found) const
    {
        AlloySoundness r;
        r.material = alloy.metal->name;
        r.manner = freezing_manner(*alloy.metal);
        r.because = manner_words(*alloy.metal);
        if (const auto range = materials::mush_range(*alloy.metal)) {
            r.range = range->width();
            r.isothermal_percent = 100 * range->isothermal_share;
            if (range->is_mushy()) r.read_at = range->criterion();
        }
        r.threshold_holds = r.manner == solver::FreezingManner::steel;
        r.low_criterion = found.criterion.value_at(few);
        r.least_criterion = worst_place(found.criterion.least(), metal_, case_);
        if (r.threshold_holds && !found.criterion.empty())
            r.under_threshold_percent = found.criterion.percent_below(solver::steel_threshold);
        report_pressure(alloy, found, r);
        r.finest_arms = found.arms.value_at(0);
        r.coarsest_arms = found.arms.value_at(1);
        r.structure_because = structure_words(*alloy.metal);
        return r;
    }

    void report_pressure(const Alloy& alloy, Spreads& found, AlloySoundness& r) const
    {
        if (alloy.mush) r.last_liquid_percent = 100 * alloy.mush->last_liquid;
        r.high_pressure_loss = found.loss.value_at(1 - few);
        r.most_pressure_loss = worst_place(found.loss.most(), metal_, case_);
        if (case_.hydrogen && alloy.mush && alloy.metal->hydrogen)
            r.gas_pressure = alloy.gas_pressure_of(case_.hydrogen);
        r.low_margin = found.margin.value_at(few);
        r.least_margin = worst_place(found.margin.least(), metal_, case_);
        if (!found.margin.empty()) r.without_margin_percent = found.margin.percent_below(0);
        r.pressure_because = pressure_words(*alloy.metal, r, case_.hydrogen);
    }

    const solver::Case& case_;
    const Metal& metal_;
    solver::VoxelFields& fields_;
    std::vector<Alloy> alloys_;
    std::vector<Spreads> spreads_;
    std::vector<bool> used_;
};

}  // namespace

void judge_soundness(const solver::Case& c, const Metal& metal, solver::Answer& answer)
{
    SoundnessMaps maps(c, metal, answer);
    maps.fill();
    answer.soundness.hydrogen = c.hydrogen;
    answer.soundness.alloys = maps.report();
    answer.soundness.trust = std::string(trust_words());
}

}  // namespace sandfreeze::feeding
