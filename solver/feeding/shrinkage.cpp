#include "solver/feeding/shrinkage.hpp"

#include <algorithm>
#include <limits>
#include <map>

#include "solver/feeding/parts.hpp"
#include "solver/feeding/sentences.hpp"
#include "solver/feeding/surfaces.hpp"

namespace sandfreeze::feeding
{

namespace
{

using solver::Cavity;
using solver::DrawDown;

/// Metal of a part that stands over one place of the ground.
struct Column {
    mesh::Place foot;   ///< lowest voxel
    double bottom = 0;  ///< of it [m]
    double poured = 0;  ///< height of metal at the pour [m]
    double metal = 0;   ///< of it left [m]
    double surface() const { return bottom + metal; }
    double sunk() const { return poured - metal; }
};

double voxel_height(const Metal& metal, MetalId id)
{
    return metal.grid->has_levels() ? metal.level_height(id) : metal.grid->cell;
}

/// The columns of a part, by their place in the plan (of which sections have one row).
std::map<std::pair<int, int>, Column> columns_of(const Evidence& evidence, const Balance& balance,
                                                 std::size_t part)
{
    const Metal& metal = evidence.metal;
    const mesh::Grid& grid = *metal.grid;
    std::map<std::pair<int, int>, Column> columns;
    for (const MetalId id : metal.falling_of(part)) {
        const int i = metal.voxel[id] % grid.nx;
        const int j = grid.has_levels() ? metal.voxel[id] / grid.nx % grid.ny : 0;
        const mesh::Place at = metal.place(id);
        const double height = voxel_height(metal, id);
        const auto [found, is_new] = columns.try_emplace({j, i});
        Column& column = found->second;
        if (is_new || height_of(at) - height / 2 < column.bottom) {
            column.foot = at;
            column.bottom = height_of(at) - height / 2;
        }
        column.poured += height;
        column.metal += height * (1 - balance.drawn[id] - balance.hollow[id]);
    }
    return columns;
}

mesh::Place at_height(mesh::Place place, double height)
{
    (place.has_height() ? place.z : place.y) = height;
    return place;
}

/// Of columns that reach the part's top or have sunk: all others lie under the flanks of tapers and domes.
void describe_surface(const Evidence& evidence, const Balance& balance, std::size_t part, DrawDown& draw_down)
{
    auto columns = columns_of(evidence, balance, part);
    std::erase_if(columns, [&](const auto& entry) {
        const Column& column = entry.second;
        const double dust = 1e-6 * column.poured;
        return column.sunk() < dust && column.bottom + column.poured < draw_down.top - dust;
    });
    const auto deepest = std::min_element(columns.begin(), columns.end(), [](const auto& a, const auto& b) {
        return a.second.surface() < b.second.surface();
    });
    if (deepest == columns.end()) return;
    draw_down.lowest = deepest->second.surface();
    for (const auto& [place, column] : columns)
        if (place.first == deepest->first.first)
            draw_down.surface.push_back(at_height(column.foot, column.surface()));
}

/// Whether the metal stands higher at its rims than in between. A turned section has its rim on the right.
bool is_concave(const Evidence& evidence, const DrawDown& d)
{
    if (d.surface.size() < 3) return false;
    double rim = height_of(d.surface.back());
    if (evidence.metal.grid->symmetry != mesh::Symmetry::axisymmetric)
        rim = std::min(rim, height_of(d.surface.front()));
    return rim - d.lowest > 0.1 * (d.top - d.lowest);
}

std::string draw_down_words(const Evidence& evidence, const DrawDown& d)
{
    if (!d.ends) return "nothing is drawn from it.";
    return words(
        d.open ? "sinks by " : "hollows out under its skin, by ", number_words((d.top - d.lowest) * 1000),
        " mm at its deepest, until ", seconds_words(*d.ends),
        d.mostly_by ? words(" (nine tenths of it by ", seconds_words(*d.mostly_by), ")") : "", ": it gives ",
        volume_words(d.given), " of ", volume_words(d.volume), " (", number_words(d.efficiency_percent),
        " %)", d.open && is_concave(evidence, d) ? ", and ends concave." : ".");
}

/// When how much was taken.
void describe_course(const Balance& balance, std::size_t part, double factor, DrawDown& d)
{
    for (std::size_t s = 0; s < balance.slice_end.size(); ++s) {
        const double given = factor * balance.given[s][part];
        d.course.emplace_back(balance.slice_end[s], given);
        if (d.ends && !d.mostly_by && given >= 0.9 * d.given) d.mostly_by = balance.slice_end[s];
    }
}

DrawDown draw_down_of(const Evidence& evidence, const Balance& balance, std::size_t part)
{
    const Metal& metal = evidence.metal;
    DrawDown d;
    d.name = evidence.c.parts[part].name;
    d.open = has_air(evidence.c.parts[part]);
    d.top = -std::numeric_limits<double>::infinity();
    float last = -1;
    for (const MetalId id : metal.falling_of(part)) {
        d.volume += metal.volume[id];
        d.given += metal.volume[id] * (balance.drawn[id] + balance.hollow[id]);
        d.top = std::max(d.top, height_of(metal.place(id)) + voxel_height(metal, id) / 2);
        last = std::max(last, balance.taken_at[id]);
    }
    const double factor = real_mould_factor(evidence.c);
    d.efficiency_percent = 100 * d.given / d.volume;
    d.volume *= factor;
    d.given *= factor;
    if (last >= 0) d.ends = last;
    describe_course(balance, part, factor, d);
    describe_surface(evidence, balance, part, d);
    d.because = draw_down_words(evidence, d);
    return d;
}

/// Holes in casting metal that hang together.
class CavitySearch
{
public:
    CavitySearch(const Evidence& evidence, const Balance& balance)
        : evidence_(evidence)
        , balance_(balance)
        , seen_(evidence.metal.size(), 0)
        , least_(least_cavity(evidence))
    {
    }

    std::vector<Cavity> find()
    {
        std::vector<Cavity> cavities;
        for (MetalId id = 0; id < static_cast<MetalId>(seen_.size()); ++id) {
            if (!is_hole(id)) continue;
            const std::vector<MetalId> hole = gather(id);
            double volume = 0;
            for (const MetalId in : hole)
                volume += empty(in) * evidence_.metal.volume[in];
            if (volume >= least_) cavities.push_back(describe(hole, volume));
        }
        std::stable_sort(cavities.begin(), cavities.end(),
                         [](const Cavity& a, const Cavity& b) { return a.volume > b.volume; });
        return cavities;
    }

private:
    double empty(MetalId id) const { return balance_.drawn[id] + balance_.hollow[id]; }
    bool is_hole(MetalId id) const { return seen_[id] == 0 && evidence_.is_casting(id) && empty(id) > 1e-3; }

    std::vector<MetalId> gather(MetalId first)
    {
        std::vector<MetalId> hole{first};
        seen_[first] = 1;
        for (std::size_t n = 0; n < hole.size(); ++n)
            for (const MetalId next : evidence_.metal.neighbours(hole[n])) {
                if (next == nobody || !is_hole(next)) continue;
                seen_[next] = 1;
                hole.push_back(next);
            }
        return hole;
    }

    Cavity describe(const std::vector<MetalId>& hole, double volume) const
    {
        const MetalId emptiest = *std::min_element(hole.begin(), hole.end(), [&](MetalId a, MetalId b) {
            return empty(a) != empty(b) ? empty(a) > empty(b) : evidence_.metal.closes_after(a, b);
        });
        double open = 0;
        double cut_off = 0;
        for (const MetalId id : hole) {
            open += balance_.drawn[id] * evidence_.metal.volume[id];
            if (evidence_.is_cut_off(id)) cut_off += empty(id) * evidence_.metal.volume[id];
        }
        Cavity cavity;
        cavity.at = evidence_.metal.place(emptiest);
        cavity.part = evidence_.part_name(emptiest);
        cavity.volume = volume * real_mould_factor(evidence_.c);
        cavity.open = open > volume / 2;
        cavity.because = cavity.open            ? open_words(cavity, emptiest)
                         : cut_off > volume / 2 ? cut_off_words(cavity, emptiest)
                                                : airless_words(cavity, emptiest);
        return cavity;
    }

    std::string open_words(Cavity& cavity, MetalId at) const
    {
        const std::int32_t source = evidence_.ways.source[at];
        if (source != no_source) cavity.below = evidence_.source_name(source);
        return words("the draw-down of ", cavity.below ? quoted(*cavity.below) : "what is open to the air",
                     " reaches into the casting here: ", volume_words(cavity.volume), " are missing.");
    }

    std::string cut_off_words(const Cavity& cavity, MetalId at) const
    {
        const std::string size = words(volume_words(cavity.volume), " hollow out here: ");
        const std::int32_t source = evidence_.ways.source[at];
        if (source == no_source) return words(size, "nothing feeds this metal.");
        return words(size, "its way to ", quoted(evidence_.source_name(source)), " closed at ",
                     seconds_words(evidence_.by_end(evidence_.ways.cut_off[at])), ", ",
                     evidence_.where(evidence_.ways.cut_off_at[at]), ".");
    }

    std::string airless_words(const Cavity& cavity, MetalId at) const
    {
        const std::int32_t source = evidence_.ways.source[at];
        const std::string name = source == no_source ? "a feeder" : quoted(evidence_.source_name(source));
        return words(volume_words(cavity.volume), " hollow out here: a way to ", name,
                     " is open, but no air presses on the metal there.");
    }

    const Evidence& evidence_;
    const Balance& balance_;
    std::vector<char> seen_;
    double least_;
};

void sum_up(const Evidence& evidence, const Balance& balance, solver::Shrinkage& s)
{
    const Metal& metal = evidence.metal;
    double casting = 0;
    double casting_pores = 0;
    double most = 0;
    for (MetalId id = 0; id < static_cast<MetalId>(metal.size()); ++id) {
        const double volume = metal.volume[id];
        const double pores = balance.pores(id);
        s.drawn += volume * balance.drawn[id];
        s.hollow += volume * balance.hollow[id];
        s.pores += volume * pores;
        if (!evidence.is_casting(id)) continue;
        casting += volume;
        casting_pores += volume * pores;
        if (pores <= most) continue;
        most = pores;
        s.most_pores_at = metal.place(id);
    }
    s.shrinks = s.drawn + s.hollow + s.pores;
    s.casting_pores_percent = casting > 0 ? 100 * casting_pores / casting : 0;
    s.most_pores_percent = 100 * most;
    const double factor = real_mould_factor(evidence.c);
    s.poured = balance.metal;
    s.surplus = balance.surplus;
    for (double* volume : {&s.poured, &s.shrinks, &s.drawn, &s.hollow, &s.pores, &s.surplus})
        *volume *= factor;
    s.relative_error = balance.error;
}

}  // namespace

Settlement settle(const Evidence& evidence, const solver::VoxelFields& fields)
{
    PoolTree pools = find_pools(evidence);
    const Contraction contraction(evidence, fields.below_liquidus, fields.arrival);
    Balance balance = follow_metal(evidence, pools, contraction);
    return {std::move(pools), contraction, std::move(balance)};
}

double least_cavity(const Evidence& evidence)
{
    double casting = 0;
    double largest = 0;
    for (MetalId id = 0; id < static_cast<MetalId>(evidence.metal.size()); ++id) {
        if (!evidence.is_casting(id)) continue;
        casting += evidence.metal.volume[id];
        largest = std::max(largest, evidence.metal.volume[id]);
    }
    return std::max(1e-4 * casting, 0.1 * largest);
}

std::vector<double> missing_though_fed(const Evidence& evidence, const Balance& balance)
{
    std::vector<double> missing(evidence.bodies.list.size(), 0);
    for (MetalId id = 0; id < static_cast<MetalId>(evidence.metal.size()); ++id)
        if (evidence.is_casting(id) && evidence.ways.source[id] != no_source && !evidence.is_cut_off(id))
            missing[evidence.ways.source[id]] +=
                (balance.drawn[id] + balance.hollow[id]) * evidence.metal.volume[id];
    return missing;
}

solver::Shrinkage report_shrinkage(const Evidence& evidence, const Settlement& settled)
{
    solver::Shrinkage s;
    sum_up(evidence, settled.balance, s);
    for (std::size_t p = 0; p < evidence.c.parts.size(); ++p)
        if (can_feed(evidence.c.parts[p]) && !evidence.metal.falling_of(p).empty())
            s.draw_downs.push_back(draw_down_of(evidence, settled.balance, p));
    s.cavities = CavitySearch(evidence, settled.balance).find();
    return s;
}

}  // namespace sandfreeze::feeding
