#include "solver/feeding/handbook.hpp"

#include <algorithm>
#include <cmath>

#include "solver/feeding/parts.hpp"
#include "solver/feeding/sentences.hpp"

namespace sandfreeze::feeding
{

namespace
{

/// The casting part that a feeder serves most.
const solver::MetalReport* mostly_served(const Feeding& f, const solver::Answer& answer)
{
    return f.report->serves.empty() ? nullptr : named(answer.parts, f.report->serves.front().name);
}

bool touches_sleeve(const Evidence& evidence, const mesh::Painting& painting, std::size_t part)
{
    const mesh::Grid& grid = painting.grid;
    for (const MetalId id : evidence.metal.falling_of(part)) {
        const int i = evidence.metal.voxel[id] % grid.nx;
        for (const int step : {-1, 1}) {
            if (i + step < 0 || i + step >= grid.nx) continue;
            const mesh::PartId beside = painting.part_of_voxel[evidence.metal.voxel[id] + step];
            if (evidence.c.parts[beside].role == solver::Role::sleeve) return true;
        }
    }
    return false;
}

}  // namespace

double handbook_efficiency(FeederKind kind)
{
    switch (kind) {
    case FeederKind::domed:
        return 0.20;
    case FeederKind::sleeved:
        return 0.30;
    default:
        return 0.14;
    }
}

std::optional<double> handbook_volume(double fed, double shrinkage, double efficiency)
{
    if (shrinkage >= efficiency) return std::nullopt;
    return std::max(0.0, shrinkage) * fed / (efficiency - shrinkage);
}

std::string handbook_modulus_words(const Feeding& f, const solver::Answer& answer, bool holds)
{
    const solver::MetalReport* feeder = named(answer.parts, f.report->name);
    const solver::MetalReport* fed = mostly_served(f, answer);
    if (feeder == nullptr || fed == nullptr || !(fed->modulus > 0) || !std::isfinite(feeder->modulus))
        return "";
    const double ratio = feeder->modulus / fed->modulus;
    const std::string text =
        words("by moduli it has ", number_words(ratio), " times that of ", quoted(fed->name),
              ", where the rule of thumb asks for ", number_words(handbook_modulus_ratio));
    if ((ratio >= handbook_modulus_ratio) == holds) return text + ".";
    return words(
        text,
        ": believe the computed times, which know chills, gates, sand between the parts and the heat of "
        "the pour.");
}

std::string handbook_volume_words(const Evidence& evidence, const Feeding& f, const solver::Answer& answer,
                                  bool holds)
{
    const solver::Part& part = evidence.c.parts[f.part];
    const FeederKind kind = touches_sleeve(evidence, answer.painting, f.part) ? FeederKind::sleeved
                            : part.reach.dome > 0                             ? FeederKind::domed
                                                                              : FeederKind::open_in_sand;
    const double shrinkage = answer.shrinkage.shrinks / answer.shrinkage.poured;
    const auto asked =
        handbook_volume(f.served * real_mould_factor(evidence.c), shrinkage, handbook_efficiency(kind));
    const std::string share = words(number_words(100 * handbook_efficiency(kind)), " %");
    if (!asked)
        return words("by the rule of thumb it gives ", share,
                     " of itself, which does not even make up for its own "
                     "shrinkage.");
    const std::string text = words("by the rule of thumb that it gives ", share, " of itself it has to hold ",
                                   volume_words(*asked), ", and holds ", volume_words(f.draw_down->volume));
    if ((f.draw_down->volume >= *asked) == holds) return text + ".";
    return words(
        text,
        ": believe the computed balance for this shape, with some room for what the rule knows of feeders "
        "in general.");
}

}  // namespace sandfreeze::feeding
