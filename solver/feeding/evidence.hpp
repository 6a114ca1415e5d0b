#pragma once
// What every judgement starts from: the case, its metal, what can feed it, and the liquid ways.

#include <optional>

#include "solver/feeding/bodies.hpp"
#include "solver/feeding/ways.hpp"
#include "solver/results.hpp"

namespace sandfreeze::feeding
{

/// Times that did not happen by the end of the run are infinite here. Judgements take them as happening at
/// the end: the earliest they can be, so that unfed times and margins are "so far".
struct Evidence {
    const solver::Case& c;
    std::span<const float> freezes;  ///< grid order [s]
    Metal metal;
    FeedBodies bodies;
    Ways ways;
    double end = 0;  ///< of what is known [s]

    /// A time, no later than the end [s].
    double by_end(float time) const;
    /// Closing time less cut-off time; the whole closing time where no way ever led to a source [s].
    double unfed(MetalId id) const;
    /// Margins below this are marginal [s].
    double limit(double time) const { return solver::margin_limit(c.run, time); }
    /// Whether the voxel is unfed for longer than the limit at its own closing time.
    bool is_cut_off(MetalId id) const;

    float freezes_at(MetalId id) const { return freezes[metal.voxel[id]]; }
    bool is_casting(MetalId id) const { return role(id) == solver::Role::casting; }
    solver::Role role(MetalId id) const { return c.parts[metal.part[id]].role; }
    const std::string& part_name(MetalId id) const { return c.parts[metal.part[id]].name; }
    /// The part that a source lies in.
    const std::string& source_name(std::int32_t source) const
    {
        return part_name(bodies.list[source].source);
    }
    /// "at x 40.5, y 65.5 mm in 'web'".
    std::string where(MetalId id) const;
};

/// Builds on answer.painting and answer.fields, which must outlive it.
Evidence gather_evidence(const solver::Case& c, const solver::Answer& answer);

/// A time that happened; empty when it did not by the end of the run.
std::optional<double> happened(float time);

}  // namespace sandfreeze::feeding
