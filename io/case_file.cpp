#include "io/case_file.hpp"

#include <algorithm>
#include <map>
#include <optional>

#include "io/block.hpp"
#include "io/case_checks.hpp"
#include "io/read_edges.hpp"
#include "io/read_filling.hpp"
#include "io/read_heights.hpp"
#include "io/read_lists.hpp"
#include "io/read_materials.hpp"
#include "io/read_parts.hpp"
#include "io/read_pouring.hpp"
#include "io/read_soundness.hpp"
#include "io/text.hpp"
#include "io/toml_reader.hpp"
#include "materials/moisture.hpp"

namespace sandfreeze::io
{

namespace
{

using Type = TomlValue::Type;
constexpr double mm = 1e-3;
constexpr std::size_t most_of_a_list =
    1000;  // materials, contacts, regions, probes, checks; parts have their own

const TomlEntry* find_entry(const TomlValue& table, std::string_view key)
{
    for (const TomlEntry& entry : table.entries)
        if (entry.key == key) return &entry;
    return nullptr;
}

/// The view by its bare text, since what is allowed elsewhere depends on it.
CaseView view_of(const TomlValue& root)
{
    const TomlEntry* section = find_entry(root, "section");
    const TomlEntry* view = section != nullptr ? find_entry(section->value, "view") : nullptr;
    if (view != nullptr)
        for (const CaseView known : {CaseView::axisymmetric, CaseView::plan})
            if (view->value.text == to_string(known)) return known;
    return CaseView::planar;
}

/// Reads a whole file into a draft, table by table in the order in which they need each other.
class CaseReader
{
public:
    CaseReader(const TomlValue& root, const ReadOptions& options)
        : root_(&root)
        , options_(options)
    {
        draft_.view = view_of(root);
    }

    Draft run()
    {
        const Block top(*root_, table_spec(""), "the file", draft_);
        top_ = &top;
        draft_.case_.title = top.text("title");
        top.echo();
        Block section = one("section");
        Block mould = one("mould");
        Block pour = one("pour");
        read_section(section);
        MaterialShelf shelf(many("material"), draft_);
        const double mould_temperature = read_mould(mould, shelf);
        draft_.case_.pour_temperature = pour.number("temperature_C");
        pour.echo();
        std::vector<DrawnPart> parts;
        if (!top.is_faulty("part"))
            parts =
                read_parts(many("part"), shelf, {mould_temperature, draft_.case_.pour_temperature}, draft_);
        Block edges = one("edges");
        const bool boxed = read_placement(section, edges, parts, mould_temperature, shelf);
        section.echo();
        if (pour.has("temperature_C")) check_pour(pour, draft_);
        read_filling(pour, draft_);
        read_hydrogen(pour, draft_);
        read_opening(mould, draft_);
        read_regions(many("region"), boxed, draft_);
        read_probes(many("probe"), boxed, draft_);
        read_contacts(many("contact"), shelf, draft_);
        read_checks(many("check"), draft_);
        read_run();
        read_sheet_inputs();
        if (draft_.problems.empty()) wet_the_sands();
        if (draft_.problems.empty()) check_voxels(draft_);
        sort_settings();
        return std::move(draft_);
    }

private:
    /// A [table] that stands once. Where it is missing or not a table, an empty one; needed ones are
    /// reported.
    Block one(std::string_view name)
    {
        const TableSpec& spec = table_spec(name);
        const std::string label = "[" + std::string(name) + "]";
        const TomlEntry* entry = find_entry(*root_, name);
        if (entry != nullptr && entry->value.type == Type::table)
            return required(Block(entry->value, spec, label, draft_));
        if (entry != nullptr)
            draft_.problem(entry->place, entry->value.type == Type::array
                                             ? "[" + label + "] may stand only once; write " + label
                                             : std::string(name) + " must be a table; write " + label +
                                                   " on a line of its own and its keys beneath");
        else if (spec.required && !top_->is_faulty(name))
            draft_.problem({1, 1}, label + " is missing; it needs " + required_keys(spec));
        return {nothing_, spec, label, draft_};
    }

    static Block required(Block block)
    {
        block.require();
        return block;
    }

    std::string required_keys(const TableSpec& spec) const
    {
        std::string out;
        for (const KeySpec& key : spec.keys)
            if (key.required && (key.views & static_cast<std::uint8_t>(draft_.view)) != 0)
                out += (out.empty() ? "" : " and ") + std::string(key.name);
        return out;
    }

    /// The list of [[table]]s; nullptr when there are none.
    const TomlValue* many(std::string_view name)
    {
        const TomlEntry* entry = find_entry(*root_, name);
        if (entry == nullptr) return nullptr;
        const std::string label = "[" + std::string(name) + "]";
        const TomlValue& value = entry->value;
        bool right = value.type == Type::array;
        for (const TomlValue& item : value.items)
            right = right && item.type == Type::table;
        if (right && name != "part" && value.items.size() > most_of_a_list) {
            draft_.problem(entry->place, "there are " + std::to_string(value.items.size()) + " [" + label +
                                             "]; at most " + std::to_string(most_of_a_list) + " are allowed");
            return &nothing_;
        }
        if (right) return &value;
        draft_.problem(entry->place, std::string(name) + " must be a list of tables; write [" + label + "]" +
                                         " on a line of its own for each, with two brackets on each side");
        return &nothing_;
    }

    void read_section(Block& section)
    {
        solver::Section& out = draft_.case_.section;
        out.view = draft_.view == CaseView::axisymmetric ? solver::View::axisymmetric
                   : draft_.view == CaseView::plan       ? solver::View::plan
                                                         : solver::View::planar;
        out.cell = section.number("cell_mm") * mm;
        out.depth = draft_.view == CaseView::planar ? section.number("depth_mm") * mm : 1.0;
        out.multiply = section.number("multiply");
        if (draft_.view == CaseView::plan) read_thickness(section, draft_);
    }

    double read_mould(Block& mould, MaterialShelf& shelf)
    {
        solver::Part part;
        part.name = "mould";
        part.role = solver::Role::sand;
        part.material = -1;
        part.temperature = mould.number("temperature_C");
        if (mould.has("material")) {
            part.material = shelf.take(mould.text("material"), mould.place_of("material"), "[mould]",
                                       Fits::solid_parts, draft_);
            if (part.material >= 0)
                check_sand(mould, draft_.case_.materials[static_cast<std::size_t>(part.material)]);
        }
        draft_.part_places.push_back(mould.place());
        draft_.case_.parts.push_back(std::move(part));
        mould.echo();
        return draft_.case_.parts.front().temperature;
    }

    void check_sand(Block& mould, const materials::Material& sand)
    {
        if (sand.kind == materials::Kind::metal || sand.kind == materials::Kind::air)
            draft_.problem(mould.place_of("material"),
                           "the mould is of " + quoted(sand.name) + ", which is of kind " +
                               std::string(to_string(sand.kind)) + "; expected a sand");
        const std::string water = mould.text("water");
        draft_.case_.water = water == "condenses" ? solver::Water::condenses
                             : water == "ignored" ? solver::Water::ignored
                                                  : solver::Water::boils;
        const bool ignored = draft_.case_.water == solver::Water::ignored;
        const double temperature = mould.number("temperature_C");
        const bool hot = temperature >= materials::boiling_point && !ignored;
        mould_moisture_ = mould.number("moisture_percent", hot ? 0 : sand.moisture_percent);
        if (hot && mould_moisture_ > 0)
            draft_.problem(
                mould.place_of("moisture_percent"),
                "moisture_percent = " + number_text(mould_moisture_) + " in a mould of " +
                    number_text(temperature) +
                    " °C, where no water is left; leave it out, or make the mould colder than 100 °C");
        if (ignored && mould_moisture_ != sand.moisture_percent)
            draft_.problem(mould.place_of("moisture_percent"),
                           "moisture_percent = " + number_text(mould_moisture_) +
                               " while water is \"ignored\"; leave it out to use the numbers that " +
                               quoted(sand.name) + " has at " + number_text(sand.moisture_percent) +
                               " %, or let the water boil");
    }

    /// Sands become what they are with their water in them: the mould's by the case, patches of others by the
    /// library.
    void wet_the_sands()
    {
        solver::Case& c = draft_.case_;
        if (c.water == solver::Water::ignored) return;
        for (std::size_t m = 0; m < c.materials.size(); ++m) {
            const materials::Material& sand = c.materials[m];
            const bool of_mould = c.parts.front().material == static_cast<int>(m);
            const bool holds_water =
                sand.kind == materials::Kind::mould || sand.kind == materials::Kind::core;
            if (!holds_water || (sand.moisture_percent == 0 && (!of_mould || mould_moisture_ == 0))) continue;
            const bool hot = is_hot(static_cast<int>(m));
            c.materials[m] = materials::wet_sand(sand, of_mould ? mould_moisture_
                                                       : hot    ? 0
                                                                : sand.moisture_percent);
        }
    }

    /// Whether what is made of a sand is so hot that no water is left in it; some of it hot and some not is
    /// reported.
    bool is_hot(int material)
    {
        std::optional<std::size_t> hot;
        bool cold = false;
        const std::vector<solver::Part>& parts = draft_.case_.parts;
        for (std::size_t p = 0; p < parts.size(); ++p) {
            if (parts[p].material != material) continue;
            if (parts[p].temperature < materials::boiling_point)
                cold = true;
            else
                hot = p;
        }
        if (hot && cold)
            draft_.problem(
                draft_.part_places[*hot],
                quoted(parts[*hot].name) + " of " + number_text(parts[*hot].temperature) +
                    " °C holds no water, but other parts of " +
                    quoted(draft_.case_.materials[static_cast<std::size_t>(material)].name) +
                    " are below 100 °C and do; make it of another sand, or of a [[material]] of its own");
        return hot.has_value();
    }

    /// Box, edges and parts in it; whether there is a box.
    bool read_placement(Block& section, Block& edges, std::vector<DrawnPart>& parts, double mould_temperature,
                        MaterialShelf& shelf)
    {
        double drawn_top = 0;
        const auto box = read_box(section, box_of(parts), options_, drawn_top, draft_);
        draft_.case_.section.box = box.value_or(mesh::Box{});
        read_edges(edges, mould_temperature, draft_);
        if (box) {
            place_parts(parts, drawn_top, shelf, draft_);
            if (draft_.view == CaseView::plan && draft_.problems.empty())
                check_levels(section, options_, draft_);
            return true;
        }
        for (const DrawnPart& drawn : parts) {
            draft_.case_.parts.push_back(drawn.part);
            draft_.part_places.push_back(drawn.block.place());
        }
        return false;
    }

    void read_run()
    {
        Block block = one("run");
        solver::RunSettings& out = draft_.case_.run;
        const auto read = [&](std::string_view key, std::optional<double>& target) {
            if (block.has(key)) target = block.number(key);
        };
        read("end_s", out.end);
        read("margin_limit_s", out.margin_limit);
        read("frame_every_s", out.frame_every);
        draft_.case_.models.burning = block.truth("burning", true);
        draft_.case_.models.open_tops = block.truth("open_tops", true);
        block.echo();
    }

    /// Tables of which a case without a sheet needs none; those left out are not echoed.
    void read_sheet_inputs()
    {
        const Block melt = one("melt");
        const Block sprue = one("sprue");
        const Block flask = one("flask");
        const Block green_sand = one("green_sand");
        const Block lifting = one("lifting");
        read_pouring({melt, sprue, flask, green_sand, lifting}, draft_);
        const auto echo_if_there = [&](std::string_view name, const Block& block) {
            if (find_entry(*root_, name) != nullptr) block.echo();
        };
        echo_if_there("melt", melt);
        echo_if_there("sprue", sprue);
        echo_if_there("flask", flask);
        echo_if_there("green_sand", green_sand);
        echo_if_there("lifting", lifting);
    }

    /// In the order of the format, which is not that of reading.
    void sort_settings()
    {
        std::map<std::string, std::size_t> rank;
        for (const TableSpec& table : case_schema())
            rank.emplace(table.name, rank.size());
        std::stable_sort(draft_.settings.begin(), draft_.settings.end(),
                         [&](const Setting& a, const Setting& b) {
                             return rank.at(a.table) != rank.at(b.table) ? rank.at(a.table) < rank.at(b.table)
                                                                         : a.item < b.item;
                         });
    }

    const TomlValue* root_;
    const Block* top_ = nullptr;  ///< to tell a misspelt table from a missing one
    ReadOptions options_;
    TomlValue nothing_;
    double mould_moisture_ = 0;  ///< by weight of the wet sand [%]
    Draft draft_;
};

}  // namespace

CaseFile read_case(std::string_view text, std::string_view file_name, const ReadOptions& options)
{
    const auto tree = read_toml(text);
    if (const auto* problem = std::get_if<Problem>(&tree)) throw InputError(file_name, text, {*problem});
    Draft draft = CaseReader(std::get<TomlValue>(tree), options).run();
    if (!draft.problems.empty()) throw InputError(file_name, text, std::move(draft.problems));
    return {std::move(draft.case_), std::move(draft.settings), std::move(draft.warnings)};
}

}  // namespace sandfreeze::io
