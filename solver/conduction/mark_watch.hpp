#pragma once
// When each cell of metal passes the marks of freezing.

#include <array>
#include <limits>
#include <memory>
#include <span>
#include <vector>

#include "solver/conduction/frames.hpp"
#include "solver/conduction/generation.hpp"
#include "solver/conduction/stepper.hpp"
#include "solver/state.hpp"

namespace sandfreeze::conduction
{

/// Marks that metal passes while it freezes, in the order in which it passes them.
enum class Mark { liquidus, closes, freezes };
constexpr std::size_t marks = 3;

constexpr float never = std::numeric_limits<float>::infinity();

/// Times of the marks, for each cell of the mesh; `never` where it did not happen, and outside the metal.
/// Where metal melts again, the last time counts, E4 and E5.
struct MarkTimes {
    std::array<std::vector<float>, marks> time;  ///< [s]
    /// Both when it passes materials::MushRange::criterion() for the last time, E7.
    std::vector<float> gradient;      ///< [K/m]
    std::vector<float> cooling_rate;  ///< [K/s]

    std::vector<float>& of(Mark m) { return time[static_cast<std::size_t>(m)]; }
    const std::vector<float>& of(Mark m) const { return time[static_cast<std::size_t>(m)]; }
};

/// Follows the metal of a solve step by step.
template <class Real>
class MarkWatch
{
public:
    /// What is solid there ends the wait; all metal where no voxels are given.
    MarkWatch(const solver::Case& c, const Generation& generation, std::shared_ptr<const CellPicture> picture,
              std::span<const std::size_t> awaited_voxels);

    void after_step(const StepView<Real>& step, Team& team);
    /// Goes on with other cells; the next step is one on them.
    void regroup(const Generation& generation);
    void carry(solver::Archive& archive);

    double share_frozen() const { return metal_volume_ > 0 ? frozen_volume_ / metal_volume_ : 1; }
    bool all_frozen() const { return left_ == 0; }

    MarkTimes times;

private:
    /// Between what enthalpies nothing happens to a watched cell [J/m3].
    struct Calm {
        std::int32_t placed = 0;
        Real low = 0;
        Real high = 0;  ///< not among them
    };
    struct Watched {
        std::int32_t cell = 0;             ///< of the first mesh
        std::uint8_t passed = 0;           ///< marks that lie behind it
        std::uint8_t mush_passed = 0;      ///< levels of its material's mush that lie behind it
        double mush_begins = 0;            ///< when it passed the first [s]
        std::array<float, 3> gradients{};  ///< when it passed each [K/m]
        bool awaited = true;               ///< the solve goes on until it is solid
    };
    /// A watched cell to which something may have happened in a step.
    struct Restless {
        std::size_t watched = 0;
        bool has_turned = false;  ///< solid, or no longer so
    };
    /// Of a material [J/m3].
    struct Levels {
        std::array<Real, marks> enthalpy{};  ///< of the marks
        Real melts_from = 0;                 ///< see melting_level()
        /// From where on the last of the marks that were passed lies ahead again.
        Real back_before(std::uint8_t passed) const
        {
            return passed < marks ? enthalpy[passed - 1u] : melts_from;
        }
    };
    /// Where gradients and cooling rates are read, E7: above, at and below the criterion's temperature.
    struct MushLevels {
        std::array<Real, 3> enthalpy{};  ///< falling; below all others where there is no mush [J/m3]
        double drop = 0;                 ///< of temperature from the first to the last [K]

        std::uint8_t behind(Real now) const
        {
            return static_cast<std::uint8_t>((now < enthalpy[0]) + (now < enthalpy[1]) + (now < enthalpy[2]));
        }
    };
    static MushLevels mush_levels(const materials::Material& metal, const materials::EnthalpyCurve& curve);
    std::size_t material_of(const Watched& w) const
    {
        return static_cast<std::size_t>(picture_->material[static_cast<std::size_t>(w.cell)]);
    }
    Calm calm_of(const Watched& w) const;
    void find_calm();
    void pass(const StepView<Real>& step, Restless& r);
    void note_time(const StepView<Real>& step, Watched& w);
    void note_frozen(const Watched& w);
    void read_mush(const StepView<Real>& step, Watched& w);
    float gradient_at(const StepView<Real>& step, const Watched& w, double u) const;

    const Generation* generation_;
    std::shared_ptr<const CellPicture> picture_;
    std::vector<Watched> watched_;
    std::vector<Calm> calm_;  ///< of each watched cell: all that most of them are looked at for
    std::vector<Restless> restless_;
    std::vector<Levels> levels_;    ///< one a material
    std::vector<MushLevels> mush_;  ///< likewise
    double metal_volume_ = 0;
    double frozen_volume_ = 0;
    std::size_t left_ = 0;
};

}  // namespace sandfreeze::conduction
