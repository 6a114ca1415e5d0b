#pragma once
// How much room metal takes up while it cools and freezes, from the times of its marks.

#include <vector>

#include "solver/feeding/evidence.hpp"

namespace sandfreeze::feeding
{

/// Volume of the metal of each voxel relative to that when the mould is full, E9: liquid contraction in a
/// straight line over time down to the liquidus, then the shrinkage on freezing, in straight lines from the
/// liquidus to the feeding limit and on to the solidus. Graphite that expands is shrinkage below zero.
class Contraction
{
public:
    /// `factor` multiplies all shrinkage. `below_liquidus` and `arrival` (may be empty) in grid order.
    Contraction(const Evidence& evidence, std::span<const float> below_liquidus,
                std::span<const float> arrival, double factor = 1);

    /// Relative to 1 at the start; what did not happen by the end of the run is left out.
    double volume_at(MetalId id, double time) const
    {
        const Marks& m = marks_[id];
        if (time >= m.freezes) return m.when_solid;
        if (time >= m.closes) return m.at_closing + m.while_closed * (time - m.closes);
        if (time >= m.liquidus) return m.at_liquidus + m.while_freezing * (time - m.liquidus);
        return 1 + m.while_liquid * (time - start_);
    }
    /// When it is as small as it gets [s].
    double ends(MetalId id) const { return marks_[id].freezes; }
    double start() const { return start_; }  ///< the mould is full [s]

private:
    /// Partly in single precision, since all of them are read again for each slice of time.
    struct Marks {
        float liquidus;  ///< [s]
        float closes;
        float freezes;
        double at_liquidus;  ///< relative volume
        double at_closing;
        double when_solid;
        float while_liquid;  ///< change of the relative volume per time [1/s]
        float while_freezing;
        float while_closed;
    };

    double start_ = 0;
    std::vector<Marks> marks_;
};

}  // namespace sandfreeze::feeding
