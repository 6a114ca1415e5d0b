#pragma once
// What is kept of a solve while it runs: when each cell of metal passes its marks, frames, probes, chills.

#include <array>
#include <limits>
#include <memory>
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

/// Heat in one chill and how hot it got.
struct ChillRecord {
    std::size_t part = 0;
    double heat_taken = 0;        ///< the most it held over what it brought [J]
    double peak_temperature = 0;  ///< of its hottest cell [°C]
};

/// What a solve is for.
struct Purpose {
    /// Times alone: no frames. Freeze times alone: no maps of the other marks either.
    enum class Extent { whole_answer, times, freeze_times };
    Extent extent = Extent::whole_answer;
    std::vector<std::size_t> voxels;  ///< solved until metal there is solid; all metal where there are none
};

/// Follows a solve step by step.
template <class Real>
class Recorder
{
public:
    Recorder(const solver::Case& c, const Bodies& bodies, const Generation& generation,
             std::shared_ptr<const CellPicture> picture, const Purpose& purpose, double guessed_end);

    /// To be called at the start and after every accepted step.
    void start(const Stepper<Real>& stepper);
    void after_step(const Stepper<Real>& stepper, Team& team);
    void finish(const Stepper<Real>& stepper, Team& team);

    /// Goes on with other cells; the next stepper is one on them.
    void regroup(const Generation& generation);

    /// Between start() and finish().
    void carry(solver::Archive& archive);

    double share_frozen() const { return metal_volume_ > 0 ? frozen_volume_ / metal_volume_ : 1; }
    bool all_frozen() const { return left_ == 0; }

    MarkTimes times;
    std::shared_ptr<FrameStore> frames;  ///< null when they are not wanted
    std::vector<solver::CoolingCurve> probe_curves;
    std::vector<ChillRecord> chills;

private:
    /// Between what enthalpies nothing happens to a watched cell [J/m3].
    struct Calm {
        std::int32_t placed = 0;
        Real low = 0;
        Real high = 0;  ///< not among them
    };
    struct Watched {
        std::int32_t cell = 0;               ///< of the first mesh
        std::array<Real, marks> enthalpy{};  ///< of its marks [J/m3]
        std::uint8_t passed = 0;             ///< marks that lie behind it
        std::uint8_t mush_passed = 0;        ///< levels of its material's mush that lie behind it
        double mush_begins = 0;              ///< when it passed the first [s]
        std::array<float, 3> gradients{};    ///< when it passed each [K/m]
        bool awaited = true;                 ///< the solve goes on until it is solid
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
    struct ProbePlace {
        std::int32_t first = 0;  ///< cell of the first mesh
        mesh::Centroid at;       ///< middle of its voxel [m]
    };

    void watch_metal(const solver::Case& c, const Purpose& purpose);
    void place_probes(const solver::Case& c);
    void watch_chills(const solver::Case& c, const Bodies& bodies);
    Calm calm_of(const Watched& w) const;
    Real back_behind(const Watched& w) const;
    void find_calm();
    void pass_marks(const StepView<Real>& step);
    void pass_marks(const StepView<Real>& step, Watched& w);
    void note_time(const StepView<Real>& step, Watched& w);
    void note_frozen(const Watched& w);
    void read_mush(const StepView<Real>& step, Watched& w);
    float gradient_at(const StepView<Real>& step, const Watched& w, double u) const;
    void take_frames(const StepView<Real>& step, Team& team);
    void read_probes(const Stepper<Real>& stepper);
    void read_chills(const Stepper<Real>& stepper);
    template <class Value>
    std::vector<float> on_first_cells(Team& team, const Value& of_placed) const;
    std::vector<float> snapshot(const StepView<Real>& step, double time, Team& team) const;

    void watch_chill_cells();
    void carry_watched(solver::Archive& archive);

    const Generation* generation_;
    std::shared_ptr<const CellPicture> picture_;
    std::vector<Watched> watched_;
    std::vector<Calm> calm_;        ///< of each watched cell: all that most of them are looked at for
    std::vector<MushLevels> mush_;  ///< one a material
    std::vector<Real> melts_from_;  ///< likewise [J/m3]
    std::vector<ProbePlace> probes_;
    std::vector<mesh::BodyId> chill_body_;
    std::vector<std::vector<std::int32_t>> chill_cells_;  ///< placed
    std::vector<double> chill_start_heat_;
    double metal_volume_ = 0;
    double frozen_volume_ = 0;
    std::size_t left_ = 0;
};

}  // namespace sandfreeze::conduction
