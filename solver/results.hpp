#pragma once
// The answer: plain data, SI units, times in seconds. NaN in a field and an empty optional mean "did not
// happen".

#include <cstddef>
#include <cstdint>
#include <memory>
#include <optional>
#include <span>
#include <string>
#include <vector>

#include "mesh/painter.hpp"
#include "solver/case.hpp"
#include "solver/results_advice.hpp"
#include "solver/results_feeding.hpp"
#include "solver/results_soundness.hpp"
#include "solver/verdict_change.hpp"

namespace sandfreeze::solver
{

/// Maps over the voxels, grid order; NaN outside the metal and where it did not happen.
struct VoxelFields {
    std::vector<float> below_liquidus;  ///< first cooling below the liquidus for the last time [s]
    std::vector<float> closes;          ///< solid fraction passes the feeding limit [s], E5
    std::vector<float> freezes;         ///< wholly solid [s], E4
    std::vector<float> cut_off;         ///< no liquid way to a feeder any more [s], E6
    std::vector<float> unfed;           ///< closes − cut_off, 0 where fed to the end [s]
    /// Both when the metal passes materials::MushRange::criterion() for the last time, E7; where there is no
    /// mush they are not defined.
    std::vector<float> cooling_rate;   ///< [K/s]
    std::vector<float> gradient;       ///< [K/m]
    std::vector<float> criterion;      ///< gradient over the root of the cooling rate [(K s)^½/m]
    std::vector<float> pressure_loss;  ///< of metal drawn through the mush [Pa]
    std::vector<float> arm_spacing;    ///< of secondary dendrite arms [m], E8
    std::vector<float> hollow;         ///< share of the voxel that is empty in the end, E9
    /// By how much the open surface of its pool stands above a voxel when that closes; NaN where no air
    /// pressed on one [m].
    std::vector<float> head;
    std::vector<float> pores;  ///< share of the voxel in pores too small to draw, E9
    /// Where the mould fills over time, else empty: temperature of the metal when it got there [°C].
    std::vector<float> arrival;
};

/// Temperature and solid fraction over time, made on demand so that they need not all be held at once.
class FrameSource
{
public:
    virtual ~FrameSource() = default;
    virtual std::size_t count() const = 0;
    virtual double time(std::size_t frame) const = 0;  ///< [s]
    /// Fills both, grid order: temperature [°C] everywhere, solid fraction in metal (NaN elsewhere).
    virtual void fill(std::size_t frame, std::span<float> temperature,
                      std::span<float> solid_fraction) const = 0;
};

/// Cooling curve of a probe, one sample a time step (thinned).
struct CoolingCurve {
    std::vector<double> time;            ///< [s]
    std::vector<double> temperature;     ///< [°C]
    std::vector<double> solid_fraction;  ///< NaN outside metal
};

/// Finer voxels than the case's, taken because some part is too narrow for those.
struct FinerVoxels {
    int split = 2;         ///< each voxel into split × split
    double voxel = 0;      ///< size of the fine ones [m]
    std::string part;      ///< the thinnest that asked for them
    mesh::Place at;        ///< its thinnest place
    double thickness = 0;  ///< there [m]
    std::string because;   ///< all of this in a caster's words
};

struct RunReport {
    std::size_t voxels = 0;
    std::optional<FinerVoxels> finer;  ///< what cells were merged from, where not from `voxels`
    std::size_t cells = 0;             ///< merged from the voxels
    std::size_t steps = 0;
    double solve_seconds = 0;  ///< filled by whoever has a clock
    double wall_seconds = 0;
    int threads = 1;
    std::uint64_t peak_memory_bytes = 0;
    double end = 0;  ///< [s] of the casting's time
    bool all_solid = false;
};

/// E1 summed over the section: planar for its depth, turned for the full ring [J].
struct EnergyBalance {
    double initial = 0;
    double final = 0;
    double through_edges = 0;  ///< inward positive
    double sources = 0;
    double given_off_by_metal = 0;
    double relative_imbalance = 0;
};

/// Members common to parts and regions of metal.
struct MetalReport {
    std::string name;
    Role role = Role::casting;  ///< parts only
    std::string material;       ///< parts only
    double volume = 0;          ///< [m3], depth and `multiply` included
    double mass = 0;            ///< [kg]
    double cooling_area = 0;    ///< [m2], depth and `multiply` included
    double modulus = 0;         ///< volume over cooling area [m]
    std::optional<double> first_freeze;
    std::optional<double> last_freeze;
    std::optional<mesh::Place> last_freeze_at;
    std::optional<double> closes;
    double largest_unfed = 0;
    double cut_off_percent = 0;
};

struct ProbeReport {
    std::string name;
    mesh::Place at;
    std::string part;  ///< whose voxel it lies in
    std::optional<double> below_liquidus;
    std::optional<double> freezes;
    std::optional<double> local_freezing;
    double temperature_end = 0;  ///< [°C]
    CoolingCurve curve;
};

/// A judgement, the limit it was made by and the reason in a caster's words.
enum class Verdict {
    ok,
    marginal,
    too_early,
    not_needed,
    fed,
    cut_off,
    working,
    weak,
    no_effect,
    runs_dry,
    fails,
    not_known
};
std::string_view to_string(Verdict verdict);

struct HotSpot {
    mesh::Place at;
    std::string part;
    std::optional<double> freezes;
    double closes = 0;
    std::optional<double> cut_off;
    std::optional<mesh::Place> cut_off_at;
    double unfed = 0;
    std::optional<std::string> feeds_from;
    Verdict verdict = Verdict::fed;
    double limit = 0;
    std::string because;
};

struct GateReport {
    std::string name;
    mesh::Place at;  ///< where it closes last, or its middle
    std::optional<double> closes;
    std::optional<double> section_closes;
    std::optional<double> needed_until;
    std::optional<double> margin;
    std::optional<Verdict> verdict;  ///< empty when the gate does not join two sides
    double limit = 0;
    std::string because;
};

/// A part that a feeder serves, by its share of what the feeder serves in all.
struct Served {
    std::string name;
    double share_percent = 0;
};

struct FeederReport {
    std::string name;
    mesh::Place at;  ///< its source voxel
    std::optional<double> freezes;
    std::optional<double> feeds_until;
    std::optional<double> needed_until;
    std::optional<double> margin;
    std::vector<Served> serves;
    Verdict verdict = Verdict::not_needed;
    double limit = 0;
    std::string because;
};

struct ChillReport {
    std::string name;
    mesh::Place at;                        ///< its middle
    double heat_taken = 0;                 ///< [J], depth included
    double peak_temperature = 0;           ///< [°C]
    std::optional<double> melts;           ///< where its material does, if that is known [°C]
    bool melted = false;                   ///< its hottest spot got there
    std::optional<double> change_percent;  ///< empty when the chill test was skipped
    std::optional<Verdict> verdict;
    double limit = 0;  ///< percent
    std::string because;
};

/// Metal at one place and moment while the mould fills.
struct FillingSpot {
    mesh::Place at;
    mesh::PartId part = 0;
    double temperature = 0;  ///< [°C]
    double time = 0;         ///< [s]
    double solid_fraction = 0;
};

/// What became of the metal's heat while the mould filled: all stayed liquid; some began to freeze where it
/// lay; some was below its liquidus when it got to its place; some had to pass what was solid.
enum class FillingVerdict { hot, early_skin, cold_run, frozen_way };
std::string_view to_string(FillingVerdict verdict);

/// How the mould filled.
struct FillingReport {
    double fill_time = 0;          ///< [s]
    std::string enters;            ///< the part
    std::optional<double> filled;  ///< empty when the run ended before [s]
    FillingVerdict verdict = FillingVerdict::hot;
    std::optional<FillingSpot> coldest_arrival;  ///< metal when it reached its place
    std::optional<FillingSpot> at;               ///< what the verdict is about, else the coldest arrival
    std::string part;                            ///< there
    bool below_liquidus_before_full = false;     ///< anywhere
    std::string because;                         ///< all of this in a caster's words
};

struct CheckReport {
    std::string first;
    std::string then;
    double margin = 0;
    std::optional<double> measured_margin;
    bool passed = false;
};

/// A sleeve that can burn.
struct BurningReport {
    std::string name;
    std::optional<double> ignited;  ///< its first spot [s]
    double heat_released = 0;       ///< [J], depth included
    double burnt_percent = 0;
    std::string because;
};

/// Metal that lies open to the air.
struct OpenTopReport {
    std::string name;                  ///< of the metal part; of the hole where that was drawn
    double radiated = 0;               ///< [J], depth included
    double convected = 0;              ///< [J], depth included
    std::optional<double> emissivity;  ///< in use; empty where no metal lies open
    double cover = 0;                  ///< covering powder [m]
    std::string because;
};

/// What the water in the sand did, in the section as drawn.
struct MoistureReport {
    bool condenses = false;    ///< steam moves out and condenses; else water boils in its place
    double water = 0;          ///< in all of the wet sand at the start [kg]
    double boiled = 0;         ///< [kg]; what has left its place
    double escaped = 0;        ///< [kg]; as steam that found no cooler sand
    double heat = 0;           ///< that boiling took [J]
    double dried_percent = 0;  ///< of the wet sand's volume
    std::string because;
};

/// What models besides conduction did.
struct ModelReports {
    std::vector<BurningReport> burning;
    std::vector<OpenTopReport> open_tops;
    std::optional<MoistureReport> moisture;  ///< where there is wet sand whose water may boil
};

struct MetalTotal {
    std::optional<double> last_freeze;
    std::optional<mesh::Place> last_freeze_at;
    double volume = 0;  ///< [m3]
    double mass = 0;    ///< [kg]
};

/// A margin by which something holds, in the answer and solved once more with finer cells and steps.
struct MarginShift {
    std::string name;              ///< of the gate, neck or feeder
    std::optional<double> margin;  ///< [s]
    std::optional<double> finer;   ///< [s]
    bool verdict_changes = false;
};

/// How far an answer is from one with finer cells and steps. Times are compared voxel by voxel, relative to
/// the finer one's or to a hundredth of its last freeze time, whichever is later.
struct SelfCheck {
    double rms_percent = 0;      ///< of all freeze times
    double most_percent = 0;     ///< that 99 of 100 voxels stay within
    double largest_percent = 0;  ///< of any voxel
    double last_percent = 0;     ///< of the last freeze time, signed: positive when the answer is later
    std::vector<MarginShift> gates;
    std::vector<MarginShift> feeders;
};

/// What an end of an input's range does, all else as it is.
struct RangeEnd {
    std::string value;    ///< of the input there, with its unit: "525 W/m2/K", "-25 %"
    std::string words;    ///< the same within a sentence: "at 525 W/m2/K", "25 % lower"
    bool solved = false;  ///< whether it was; the rest is empty otherwise
    std::optional<double> last_freeze_change_percent{};
    std::optional<double> margin_change{};  ///< of UncertainInput::margin_of [s]
    std::vector<VerdictChange> changes{};
};

/// An input that is not known exactly, and what that does.
struct UncertainInput {
    std::string input;       ///< "conductivity of green sand"
    std::string range;       ///< "± 25 %"
    std::string range_from;  ///< who says so
    RangeEnd low;
    RangeEnd high;
    std::string margin_of;         ///< what is moved most: "margin of gate 'ingate'"; empty: no margin is
    std::optional<double> margin;  ///< of that, in the answer [s]
    double limit = 0;              ///< by which it was judged [s]
    /// The largest change of that margin, relative to the margin or the limit, whichever is larger: what
    /// inputs are ranked by.
    double margin_change_percent = 0;
};

/// Every uncertain input on its own from one end of its range to the other; what moves most stands first.
struct WhatMatters {
    std::vector<UncertainInput> inputs;
    std::size_t solves = 0;  ///< besides the answer's own
    bool whole = true;       ///< false: it was stopped, or an end could not be solved
    std::string because;     ///< what the verdicts hang on, in a caster's words
};

/// Everything a solve finds.
struct Answer {
    std::vector<std::string> warnings;
    RunReport run;
    EnergyBalance energy;
    MetalTotal metal;
    std::vector<MetalReport> parts;  ///< metal parts, case order
    std::vector<MetalReport> regions;
    std::vector<std::string> freeze_order;  ///< parts and regions, first to freeze first
    std::vector<ProbeReport> probes;
    std::vector<HotSpot> hot_spots;
    std::vector<GateReport> gates;
    std::vector<FeederReport> feeders;
    Shrinkage shrinkage;
    std::vector<FeedingRule> feeding_rules;
    std::vector<ChillReport> chills;
    std::vector<CheckReport> checks;
    ModelReports models;
    std::optional<FillingReport> filling;  ///< where the mould fills over time
    SoundnessReport soundness;
    std::optional<OpeningReport> opening;  ///< where it was looked for and there are castings
    std::optional<SelfCheck> self_check;   ///< when it was asked for and both solves came to an end

    std::optional<WhatMatters> what_matters;  ///< when it was asked for
    std::optional<Advice> advice;             ///< where something is wrong, unless it was skipped

    mesh::Painting painting;
    VoxelFields fields;
    std::shared_ptr<const FrameSource> frames;
};

}  // namespace sandfreeze::solver
