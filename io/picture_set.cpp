#include "io/picture_set.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <optional>
#include <span>
#include <system_error>

#include <fmt/format.h>

#include "io/criterion_picture.hpp"
#include "io/errors.hpp"
#include "io/file_names.hpp"
#include "io/freeze_animation.hpp"
#include "io/hollow_picture.hpp"
#include "io/map_drawing.hpp"
#include "io/map_picture.hpp"
#include "io/result_maps.hpp"

namespace sandfreeze::io
{
namespace
{

namespace fs = std::filesystem;
using solver::VoxelFields;

constexpr const char* temperature_name = "temperature.png";
constexpr const char* criterion_name = "criterion.png";
constexpr const char* hollow_name = "hollow.png";
constexpr const char* animation_name = "freeze.gif";

/// Whether a map of nothing but zeros says something.
enum class Zeros { tell, say_nothing };

/// A map of the metal as a picture.
struct MapPicture {
    const char* file = nullptr;
    std::vector<float> VoxelFields::*field = nullptr;
    const char* title = nullptr;
    const char* unit = nullptr;  ///< as people write it
    Extreme extreme = Extreme::largest;
    Zeros zeros = Zeros::tell;
    /// So much of the metal has its own colour; the rest, which is larger, has the last. Below 1: a rough
    /// map.
    double shown = 1;
};

constexpr std::array<MapPicture, 9> map_pictures{{
    {"freeze_time.png", &VoxelFields::freezes, "Time until solid", "s"},
    {"closing_time.png", &VoxelFields::closes, "Time until closed: no metal flows through from then on", "s"},
    {"cut_off_time.png", &VoxelFields::cut_off, "Time until cut off: no liquid way to a feeder from then on",
     "s", Extreme::smallest},
    {"unfed_time.png", &VoxelFields::unfed, "Time unfed: look there for shrinkage", "s", Extreme::largest,
     Zeros::say_nothing},
    {"pores.png", &VoxelFields::pores, "Pores too small to draw", "%", Extreme::largest, Zeros::say_nothing},
    {"pressure_loss.png", &VoxelFields::pressure_loss,
     "Pressure that metal loses on its way through the mush", "Pa", Extreme::largest, Zeros::say_nothing,
     0.98},
    {"arm_spacing.png", &VoxelFields::arm_spacing, "Spacing of dendrite arms: the finer, the stronger", "µm"},
    {"gradient.png", &VoxelFields::gradient, "Temperature gradient near the end of freezing", "K/mm",
     Extreme::smallest, Zeros::say_nothing, 0.98},
    {"cooling_rate.png", &VoxelFields::cooling_rate, "Cooling rate near the end of freezing", "K/s",
     Extreme::smallest, Zeros::say_nothing, 0.98},
}};

void make_folder(const fs::path& folder)
{
    std::error_code code;
    fs::create_directories(folder, code);
    if (code) {
        throw FileError(folder.string(), "make the folder", code.value(), "choose a folder you may write to");
    }
}

/// The values of a picture's map; empty where they say nothing.
std::span<const float> values_to_show(const MapPicture& picture, const solver::Case& c,
                                      const solver::Answer& answer, std::vector<float>& room)
{
    const auto maps = metal_maps();
    const auto map =
        std::find_if(maps.begin(), maps.end(), [&](const MetalMap& m) { return m.field == picture.field; });
    if ((answer.fields.*picture.field).empty()) {
        return {};
    }
    const std::span<const float> values = values_of(*map, c, answer, room);
    const Range range = range_of(values);
    const bool nothing = range.empty || (picture.zeros == Zeros::say_nothing && !(range.high > 0));
    return nothing ? std::span<const float>() : values;
}

bool write_map(const fs::path& folder, const MapPicture& picture, const solver::Case& c,
               const solver::Answer& answer, const std::vector<VerdictMark>& marks)
{
    std::vector<float> room;
    const std::span<const float> values = values_to_show(picture, c, answer, room);
    if (values.empty()) {
        return false;
    }
    MapLook look{picture.title, picture.unit, picture.extreme};
    look.marks = marks;
    if (picture.shown < 1) {
        look.lines = Shown::left_out;
        const double top = value_at(picture.shown, values);
        if (top > 0 && top < range_of(values).high) {
            look.top = top;
            look.ring = picture.extreme == Extreme::largest ? Shown::left_out : Shown::drawn;
            look.note =
                fmt::format("The largest {:.0f} % have the colour of the end.", 100 * (1 - picture.shown));
        }
    }
    write_map_picture(folder / picture.file, look, c, answer.painting, values);
    return true;
}

/// The frame nearest to half of the time at which the last metal is solid.
std::optional<std::size_t> middle_frame(const solver::Answer& answer)
{
    if (!answer.frames || answer.frames->count() == 0) {
        return std::nullopt;
    }
    const solver::FrameSource& frames = *answer.frames;
    const Range range = range_of(answer.fields.freezes);
    const double middle = 0.5 * (range.empty ? frames.time(frames.count() - 1) : range.high);
    std::size_t best = 0;
    for (std::size_t frame = 1; frame < frames.count(); ++frame) {
        if (std::abs(frames.time(frame) - middle) < std::abs(frames.time(best) - middle)) {
            best = frame;
        }
    }
    return best;
}

bool write_temperature(const fs::path& folder, const solver::Case& c, const solver::Answer& answer,
                       const std::vector<VerdictMark>& marks)
{
    const std::optional<std::size_t> frame = middle_frame(answer);
    if (!frame) {
        return false;
    }
    std::vector<float> temperature(answer.painting.grid.size());
    std::vector<float> solid_fraction(answer.painting.grid.size());
    answer.frames->fill(*frame, temperature, solid_fraction);
    MapLook look{fmt::format("Temperature at the middle of freezing, {} after the pour",
                             value_text(answer.frames->time(*frame), "s")),
                 "°C"};
    look.marks = marks;
    look.ring = Shown::left_out;
    write_map_picture(folder / temperature_name, look, c, answer.painting, temperature);
    return true;
}

void remove_if_there(const fs::path& file)
{
    std::error_code code;
    fs::remove(file, code);
    if (code) {
        throw FileError(file.string(), "replace", code.value(), "choose another folder after -o");
    }
}

}  // namespace

std::vector<std::string> write_picture_set(const fs::path& folder, const solver::Case& c,
                                           const solver::Answer& answer)
{
    make_folder(folder);
    const std::vector<VerdictMark> marks = marks_of(answer);
    std::vector<std::string> written;
    const auto keep = [&](const char* name, bool done) {
        if (done) {
            written.emplace_back(name);
        } else {
            remove_if_there(folder / name);
        }
    };
    for (const MapPicture& picture : map_pictures) {
        keep(picture.file, write_map(folder, picture, c, answer, marks));
    }
    keep(temperature_name, write_temperature(folder, c, answer, marks));
    const bool criterion = has_criterion(answer);
    if (criterion) {
        write_criterion_picture(folder / criterion_name, c, answer);
    }
    keep(criterion_name, criterion);
    const bool hollow = !answer.fields.hollow.empty();
    if (hollow) {
        write_hollow_picture(folder / hollow_name, c, answer);
    }
    keep(hollow_name, hollow);
    keep(animation_name, write_freeze_animation(folder, c, answer) > 0);
    return written;
}

bool is_of_picture_set(const fs::path& file)
{
    if (file.parent_path() == "frames") {
        return is_numbered(file.filename().string(), "freeze_", ".png");
    }
    const auto is_it = [&](const char* name) { return file == name; };
    return std::any_of(map_pictures.begin(), map_pictures.end(),
                       [&](const MapPicture& picture) { return is_it(picture.file); }) ||
           is_it(temperature_name) || is_it(criterion_name) || is_it(hollow_name) || is_it(animation_name);
}

}  // namespace sandfreeze::io
