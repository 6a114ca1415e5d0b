#include "io/read_pouring.hpp"

#include <numbers>
#include <optional>

#include "io/text.hpp"

namespace sandfreeze::io
{

namespace
{

constexpr double mm = 1e-3;
constexpr double mm2 = 1e-6;
constexpr double litre = 1e-3;
constexpr double kPa = 1e3;

solver::Stated stated(const Block& block, std::string_view key, double unit = 1)
{
    return {block.number(key) * unit, block.has(key)};
}

std::optional<double> if_given(const Block& block, std::string_view key, double unit = 1)
{
    return block.has(key) ? std::optional(block.number(key) * unit) : std::nullopt;
}

solver::MeltInputs melt_of(const Block& block)
{
    solver::MeltInputs melt;
    melt.loss = stated(block, "melting_loss_percent");
    melt.spare = stated(block, "spare_percent");
    melt.heel = stated(block, "heel_kg");
    melt.fill_at_most = stated(block, "fill_at_most_percent");
    melt.brim = if_given(block, "crucible_brim_l", litre);
    melt.crucible_mass = if_given(block, "crucible_mass_kg");
    return melt;
}

solver::SprueInputs sprue_of(const Block& block, Draft& draft)
{
    solver::SprueInputs sprue;
    sprue.height = if_given(block, "height_mm", mm);
    sprue.choke = if_given(block, "choke_mm2", mm2);
    sprue.loss_factor = stated(block, "loss_factor");
    sprue.basin = stated(block, "basin_mm", mm);
    if (block.has("choke_diameter_mm")) {
        if (sprue.choke)
            draft.problem(
                block.place_of("choke_diameter_mm"),
                "[sprue] has both choke_mm2 and choke_diameter_mm; give one of them: the diameter of a "
                "single round choke, or the cross-section of all together");
        const double diameter = block.number("choke_diameter_mm") * mm;
        sprue.choke = std::numbers::pi / 4 * diameter * diameter;
    }
    if (sprue.height && sprue.basin.value >= *sprue.height)
        draft.problem(block.place_of(sprue.basin.given ? "basin_mm" : "height_mm"),
                      "basin_mm = " + number_text(block.number("basin_mm")) +
                          " leaves nothing of height_mm = " + number_text(block.number("height_mm")) +
                          " for the sprue; the height goes up to the metal in the basin");
    return sprue;
}

/// The parting plane has to lie in the sand box.
void check_parting(const Block& block, double parting, Draft& draft)
{
    const mesh::Box& box = draft.case_.section.box;
    if (box.y1 <= box.y0 || (parting > box.y0 && parting < box.y1)) return;
    draft.problem(block.place_of("parting_mm"),
                  "parting_mm = " + number_text(block.number("parting_mm")) +
                      " does not lie in the sand box, which goes from y = " + rounded_text(box.y0 / mm, 6) +
                      " to " + rounded_text(box.y1 / mm, 6) + " mm");
}

solver::FlaskInputs flask_of(const Block& block, Draft& draft)
{
    solver::FlaskInputs flask;
    flask.length = if_given(block, "length_mm", mm);
    flask.width = if_given(block, "width_mm", mm);
    flask.cope = if_given(block, "cope_mm", mm);
    flask.drag = if_given(block, "drag_mm", mm);
    flask.parting = if_given(block, "parting_mm", mm);
    flask.frame_mass = stated(block, "frame_kg");
    flask.lift_factor = stated(block, "lift_factor");
    if (flask.parting) check_parting(block, *flask.parting, draft);
    return flask;
}

}  // namespace

void read_pouring(const PouringBlocks& blocks, Draft& draft)
{
    solver::PouringInputs& out = draft.case_.pouring;
    out.melt = melt_of(blocks.melt);
    out.sprue = sprue_of(blocks.sprue, draft);
    out.flask = flask_of(blocks.flask, draft);
    out.green_sand.clay = if_given(blocks.green_sand, "clay_percent");
    out.green_sand.spare = stated(blocks.green_sand, "spare_percent");
    out.green_sand.strength = stated(blocks.green_sand, "green_tensile_kPa", kPa);
    out.lifting.one_person = stated(blocks.lifting, "one_person_kg");
    out.lifting.people = stated(blocks.lifting, "people");
}

}  // namespace sandfreeze::io
