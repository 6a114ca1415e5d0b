#include "io/block.hpp"

#include <charconv>

#include "io/nearest_name.hpp"
#include "io/text.hpp"
#include "io/value_checks.hpp"

namespace sandfreeze::io
{

namespace
{

constexpr std::size_t longest_value_shown = 48;

std::string_view views_words(std::uint8_t views)
{
    return views == plan_only ? "the plan view" : "the planar view";
}

std::string_view view_words(CaseView view)
{
    switch (view) {
    case CaseView::planar:
        return "planar";
    case CaseView::axisymmetric:
        return "axisymmetric (full rings)";
    case CaseView::plan:
        return "seen from above (plan)";
    }
    return "";
}

std::vector<std::string> names_for(const TableSpec& spec, CaseView view)
{
    std::vector<std::string> out;
    for (const KeySpec& key : spec.keys)
        if ((key.views & static_cast<std::uint8_t>(view)) != 0) out.emplace_back(key.name);
    if (spec.form == TableSpec::Form::top)
        for (const TableSpec& table : case_schema())
            if (table.form == TableSpec::Form::one || table.form == TableSpec::Form::many)
                out.emplace_back(table.name);
    return out;
}

/// The schema's default of a key, quotes taken off.
std::string_view fallback_of(const TableSpec& spec, std::string_view key)
{
    std::string_view text = key_spec(spec, key).fallback;
    if (text.starts_with('"')) {
        text.remove_prefix(1);
        text.remove_suffix(1);
    }
    return text;
}

}  // namespace

std::string table_label(std::string_view name, const TomlValue& table, std::size_t item)
{
    const std::string brackets = "[[" + std::string(name) + "]] ";
    for (const TomlEntry& entry : table.entries)
        if (entry.key == "name" && entry.value.type == TomlValue::Type::text && !entry.value.text.empty())
            return brackets + toml_text(entry.value, longest_value_shown);
    return brackets + std::to_string(item + 1);
}

Block::Block(const TomlValue& table, const TableSpec& spec, std::string label, Draft& draft)
    : table_(&table)
    , spec_(&spec)
    , label_(std::move(label))
    , draft_(&draft)
{
    for (const TomlEntry& entry : table.entries)
        check_entry(entry);
}

void Block::check_entry(const TomlEntry& entry)
{
    for (const KeySpec& key : spec_->keys) {
        if (key.name != entry.key) continue;
        if (belongs_here(entry, key) && is_built(entry, key) && check_value(entry.value, key, *draft_))
            right_[entry.key] = &entry;
        else
            faulty_.insert(entry.key);
        return;
    }
    if (spec_->form == TableSpec::Form::top)
        for (const TableSpec& table : case_schema())
            if (table.name == entry.key && table.form != TableSpec::Form::inlined) return;
    report_unknown(entry);
}

void Block::report_unknown(const TomlEntry& entry)
{
    const std::vector<std::string> names = names_for(*spec_, draft_->view);
    const bool is_table =
        entry.value.type == TomlValue::Type::table || entry.value.type == TomlValue::Type::array;
    const bool table_expected = spec_->form == TableSpec::Form::top && is_table;
    const std::string what = table_expected ? "unknown table [" + entry.key + "]"
                                            : "unknown key \"" + entry.key + "\" in " + label_;
    draft_->problem(entry.place,
                    what + "; " +
                        suggestion(entry.key, names, table_expected ? "the names here" : "the keys here"));
    // What was meant counts as given, so that it is not called missing as well.
    if (const auto meant = nearest_name(entry.key, names)) faulty_.insert(*meant);
}

bool Block::belongs_here(const TomlEntry& entry, const KeySpec& key)
{
    if ((key.views & static_cast<std::uint8_t>(draft_->view)) != 0) return true;
    draft_->problem(entry.place, entry.key + " belongs to " + std::string(views_words(key.views)) +
                                     ", and this section is " + std::string(view_words(draft_->view)) +
                                     "; take it out");
    return false;
}

bool Block::is_built(const TomlEntry& entry, const KeySpec& key)
{
    const NotBuilt& missing = key.not_built;
    if (missing.sentence.empty()) return true;
    const std::string value = toml_text(entry.value, longest_value_shown);
    if (!missing.only_value.empty() && entry.value.text != missing.only_value) return true;
    if (!missing.except_value.empty() && value == missing.except_value) return true;
    draft_->problem(entry.value.place, entry.key + " = " + value + ": " + std::string(missing.sentence));
    return false;
}

void Block::require()
{
    for (const KeySpec& key : spec_->keys)
        if (key.required && !has(key.name) && !is_faulty(key.name) &&
            (key.views & static_cast<std::uint8_t>(draft_->view)) != 0)
            draft_->problem(table_->place, label_ + " has no " + std::string(key.name) + "; expected " +
                                               expectation(key) + " (" + std::string(key.meaning) + ")");
}

Place Block::place_of(std::string_view key) const
{
    const auto found = right_.find(key);
    return found == right_.end() ? table_->place : found->second->value.place;
}

const TomlValue* Block::find(std::string_view key) const
{
    const auto found = right_.find(key);
    return found == right_.end() ? nullptr : &found->second->value;
}

double Block::number(std::string_view key) const
{
    if (const TomlValue* value = find(key)) return value->number;
    const std::string_view text = fallback_of(*spec_, key);
    double number = 0;
    std::from_chars(text.data(), text.data() + text.size(), number);
    return number;
}

std::string Block::text(std::string_view key) const
{
    const TomlValue* value = find(key);
    return value != nullptr ? value->text : std::string(fallback_of(*spec_, key));
}

double Block::number(std::string_view key, double otherwise)
{
    const TomlValue* value = find(key);
    if (value == nullptr) note(key, number_text(otherwise));
    return value != nullptr ? value->number : otherwise;
}

std::string Block::text(std::string_view key, std::string_view otherwise)
{
    const TomlValue* value = find(key);
    if (value == nullptr) note(key, quoted(otherwise));
    return value != nullptr ? value->text : std::string(otherwise);
}

bool Block::truth(std::string_view key, bool otherwise)
{
    const TomlValue* value = find(key);
    if (value == nullptr) note(key, otherwise ? "true" : "false");
    return value != nullptr ? value->truth : otherwise;
}

void Block::echo(std::size_t item) const
{
    for (const KeySpec& key : spec_->keys) {
        const TomlValue* value = find(key.name);
        const auto noted = noted_.find(key.name);
        Setting setting{.table = std::string(spec_->name),
                        .item = item,
                        .key = std::string(key.name),
                        .value = value != nullptr ? toml_text(*value) : std::string(key.fallback),
                        .words = {},
                        .unit = std::string(key.unit),
                        .given = value != nullptr};
        if (noted != noted_.end()) setting.value = noted->second;
        // A default in words that depends on the rest is worth a line once, not in every [[table]].
        const bool built = key.not_built.sentence.empty();
        if (setting.value.empty() && built && spec_->form == TableSpec::Form::one)
            setting.words = std::string(key.fallback_words);
        const bool in_view = (key.views & static_cast<std::uint8_t>(draft_->view)) != 0;
        if (in_view && !(setting.value.empty() && setting.words.empty()))
            draft_->settings.push_back(std::move(setting));
    }
}

}  // namespace sandfreeze::io
