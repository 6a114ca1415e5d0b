#include "materials/data_reader.hpp"

#include <algorithm>
#include <stdexcept>
#include <utility>

#include "materials/freezing_curve.hpp"
#include "materials/number_text.hpp"
#include "materials/toml_scan.hpp"

// The library's own checks are switched on, and throw instead of ending the program. All of it is inline, and
// the reader of case files compiles it too, with settings of its own: another name for it here keeps the two
// apart.
#undef NDEBUG
namespace
{
[[noreturn]] void toml_gave_up()
{
    throw std::logic_error("the TOML reader met something it does not expect");
}
}  // namespace
#define TOML_ASSERT(condition) ((condition) ? static_cast<void>(0) : toml_gave_up())
#define TOML_MAX_NESTED_VALUES 32
#define TOML_HEADER_ONLY 1
#define TOML_ENABLE_FORMATTERS 0
#define toml toml_of_material_data
#include <toml++/toml.h>

namespace sandfreeze::materials
{

namespace
{

/// A node of a data file, with what a message about it needs.
class Value
{
public:
    Value(std::string_view file, std::string key, const toml::node& node)
        : file_(file)
        , key_(std::move(key))
        , node_(&node)
    {
    }

    const std::string& key() const { return key_; }
    toml::source_index line() const { return node_->source().begin.line; }
    [[noreturn]] void refuse(const std::string& what) const
    {
        throw DataError(std::string(file_) + ":" + std::to_string(line()) + ": " + key_ + " " + what);
    }

    std::string text() const;      ///< of a string
    double number() const;         ///< of an integer or a decimal number
    Curve curve() const;           ///< of a number or a table [[T_C, value], …]
    PhaseProperty phases() const;  ///< of such, or { solid = …, liquid = … } of such
    std::vector<Curve::Knot> knots() const;
    std::vector<Value> items() const;    ///< of an array
    std::vector<Value> members() const;  ///< of a table, in the order of the file
    std::string as_written() const;

    bool is_table() const { return node_->is_table(); }
    bool is_array() const { return node_->is_array(); }
    bool is_text() const { return node_->is_string(); }

private:
    std::string_view file_;
    std::string key_;
    const toml::node* node_;
};

std::string Value::text() const
{
    const auto found = node_->value_exact<std::string>();
    if (!found || found->empty()) refuse("must be a text");
    return *found;
}

double Value::number() const
{
    if (const auto* integer = node_->as_integer()) return static_cast<double>(integer->get());
    if (const auto* number = node_->as_floating_point()) return number->get();
    refuse("must be a number");
}

std::vector<Value> Value::items() const
{
    if (!is_array()) refuse("must be a list");
    std::vector<Value> out;
    for (const auto& item : *node_->as_array())
        out.emplace_back(file_, key_, item);
    return out;
}

std::vector<Value> Value::members() const
{
    if (!is_table()) refuse("must be a table");
    std::vector<std::pair<toml::source_position, Value>> found;
    for (const auto& [key, node] : *node_->as_table())
        found.emplace_back(key.source().begin, Value(file_, std::string(key.str()), node));
    std::sort(found.begin(), found.end(), [](const auto& a, const auto& b) { return a.first < b.first; });
    std::vector<Value> out;
    out.reserve(found.size());
    for (auto& [position, value] : found)
        out.push_back(std::move(value));
    return out;
}

std::vector<Curve::Knot> Value::knots() const
{
    std::vector<Curve::Knot> out;
    for (const auto& row : items()) {
        const auto pair = row.items();
        if (pair.size() != 2) refuse("must have rows of a temperature and a value");
        out.push_back({pair[0].number(), pair[1].number()});
    }
    return out;
}

Curve Value::curve() const
{
    if (!is_array()) return Curve(number());
    try {
        return Curve(knots());
    } catch (const DataError& error) {
        refuse(std::string("is not a table: ") + error.what());
    }
}

PhaseProperty Value::phases() const
{
    if (!is_table()) {
        const Curve both = curve();
        return {both, both};
    }
    const auto parts = members();
    if (parts.size() != 2 || parts[0].key() != "solid" || parts[1].key() != "liquid")
        refuse("must hold solid and liquid, in this order");
    return {parts[0].curve(), parts[1].curve()};
}

std::string Value::as_written() const
{
    if (is_text()) return text();
    if (!is_array() && !is_table()) return number_text(number());
    std::string out;
    for (const auto& part : is_array() ? items() : members())
        out += (out.empty() ? "" : ", ") + (is_table() ? part.key() + " = " : "") + part.as_written();
    return is_array() ? "[" + out + "]" : "{ " + out + " }";
}

/// The three members of a number: value, uncertainty_percent (not of words), source.
struct Sourced {
    Value value;
    double uncertainty_percent = 0;
    std::string source;
};

Sourced sourced(const Value& property)
{
    std::optional<Value> value;
    std::optional<double> uncertainty;
    std::optional<std::string> source;
    for (const auto& member : property.members()) {
        if (member.key() == "value")
            value = member;
        else if (member.key() == "uncertainty_percent")
            uncertainty = member.number();
        else if (member.key() == "source")
            source = member.text();
        else
            member.refuse("is not known here; a number has value, uncertainty_percent and source");
    }
    if (!value) property.refuse("has no value");
    if (!source) property.refuse("has no source");
    if (!uncertainty && !value->is_text()) property.refuse("has no uncertainty_percent");
    if (uncertainty && !(*uncertainty >= 0)) property.refuse("has an uncertainty_percent below 0");
    return {*value, uncertainty.value_or(0), *source};
}

/// Gathers an entry key by key.
class EntryReader
{
public:
    LibraryEntry read(const Value& file);

private:
    bool take_words(const Value& key);
    bool take_number(const std::string& key, const Value& value);
    bool take_extra(const std::string& key, const Value& value);
    bool take_freezing(const std::string& key, const Value& value);
    void take_law(const Value& value);

    LibraryEntry entry_;
    std::optional<Freezing> freezing_;
};

LibraryEntry EntryReader::read(const Value& file)
{
    for (const auto& member : file.members()) {
        if (take_words(member)) continue;
        if (!member.is_table())
            member.refuse("is not known, or not a table of value, uncertainty_percent and source");
        const Sourced found = sourced(member);
        const std::string& key = member.key();
        if (!take_number(key, found.value) && !take_freezing(key, found.value) &&
            !take_extra(key, found.value))
            member.refuse("is not a known property");
        entry_.values.push_back(
            {member.key(), found.value.as_written(), found.source, found.uncertainty_percent});
    }
    entry_.material.freezing = freezing_;
    return std::move(entry_);
}

bool EntryReader::take_words(const Value& key)
{
    Material& material = entry_.material;
    if (key.key() == "name") {
        material.name = key.text();
    } else if (key.key() == "designation") {
        material.designation = key.text();
    } else if (key.key() == "source") {
        material.source = key.text();
    } else if (key.key() == "note") {
        entry_.note = key.text();
    } else if (key.key() == "also_known_as") {
        for (const auto& name : key.items())
            entry_.also_known_as.push_back(name.text());
    } else if (key.key() == "kind") {
        const auto kind = kind_from(key.text());
        if (!kind) key.refuse("= \"" + key.text() + "\" is none of metal, mould, chill, sleeve, core, air");
        material.kind = *kind;
    } else {
        return false;
    }
    return true;
}

struct PlainNumber {
    std::string_view key;
    double Material::*place;
};
constexpr PlainNumber plain_numbers[] = {{"density_kg_m3", &Material::density},
                                         {"latent_heat_J_kg", &Material::latent_heat},
                                         {"feeding_limit", &Material::feeding_limit},
                                         {"shrinkage_percent", &Material::shrinkage_percent},
                                         {"moisture_percent", &Material::moisture_percent},
                                         {"clay_percent", &Material::clay_percent}};

bool EntryReader::take_number(const std::string& key, const Value& value)
{
    Material& material = entry_.material;
    for (const PlainNumber& number : plain_numbers) {
        if (number.key != key) continue;
        material.*number.place = value.number();
        return true;
    }
    if (key == "specific_heat_J_kgK")
        material.specific_heat = value.phases();
    else if (key == "conductivity_W_mK")
        material.conductivity = value.phases();
    else
        return false;
    return true;
}

/// `part`, made if it is not there yet.
template <class Part>
Part& made(std::optional<Part>& part)
{
    if (!part) part.emplace();
    return *part;
}

bool EntryReader::take_extra(const std::string& key, const Value& value)
{
    Material& material = entry_.material;
    if (key == "liquid_contraction_percent_per_100K")
        material.liquid_contraction_percent_per_100K = value.number();
    else if (key == "dendrite_um")
        made(material.dendrite_arm).constant_um = value.number();
    else if (key == "dendrite_exponent")
        made(material.dendrite_arm).exponent = value.number();
    else if (key == "emissivity")
        material.emissivity = value.number();
    else if (key == "liquid_viscosity_mPa_s")
        material.liquid_viscosity = 1e-3 * value.number();
    else if (key == "surface_tension_N_m")
        material.surface_tension = value.number();
    else if (key == "hydrogen_solubility_ml_100g")
        made(material.hydrogen).solubility_ml_100g = value.number();
    else if (key == "hydrogen_partition")
        made(material.hydrogen).partition = value.number();
    else if (key == "pattern_allowance_percent")
        material.pattern_allowance_percent = value.number();
    else if (key == "melts_C")
        material.melts = value.number();
    else if (key == "ignition_C")
        made(material.exothermic).ignition = value.number();
    else if (key == "burn_s")
        made(material.exothermic).burn = value.number();
    else if (key == "heat_J_kg")
        made(material.exothermic).heat = value.number();
    else if (key == "dry_density_kg_m3")
        made(material.dry).density = value.number();
    else if (key == "dry_specific_heat_J_kgK")
        made(material.dry).specific_heat = value.curve();
    else if (key == "dry_conductivity_W_mK")
        made(material.dry).conductivity = value.curve();
    else
        return false;
    return true;
}

bool EntryReader::take_freezing(const std::string& key, const Value& value)
{
    Freezing freezing = freezing_.value_or(Freezing{});
    if (key == "liquidus_C")
        freezing.liquidus = value.number();
    else if (key == "solidus_C")
        freezing.solidus = value.number();
    else if (key == "melting_point_C")
        freezing.melting_point = value.number();
    else if (key == "partition_coefficient")
        freezing.partition_coefficient = value.number();
    else if (key == "eutectic_C")
        freezing.eutectic = value.number();
    else if (key != "solid_fraction")
        return false;
    freezing_ = freezing;
    if (key == "solid_fraction") take_law(value);
    return true;
}

void EntryReader::take_law(const Value& value)
{
    if (value.is_array()) {
        freezing_->law = Freezing::Law::table;
        freezing_->table = value.knots();
        return;
    }
    const std::string law = value.text();
    if (law == "linear")
        freezing_->law = Freezing::Law::linear;
    else if (law == "scheil")
        freezing_->law = Freezing::Law::scheil;
    else if (law == "lever")
        freezing_->law = Freezing::Law::lever;
    else
        value.refuse("= \"" + law + "\" is none of linear, scheil, lever or a table");
}

toml::table parsed(const DataFile& file)
{
    const auto refuse = [&](auto line, const std::string& why) -> toml::table {
        throw DataError(std::string(file.name) + ":" + std::to_string(line) + ": not valid TOML: " + why);
    };
    if (const TextFault fault = scan_toml(file.text); !fault.message.empty())
        return refuse(fault.line, fault.message);
    try {
        return toml::parse(file.text, file.name);
    } catch (const toml::parse_error& error) {
        return refuse(error.source().begin.line, std::string(error.description()));
    } catch (const std::logic_error& error) {
        return refuse(1, error.what());
    }
}

void refuse_incomplete(const LibraryEntry& entry, std::string_view file)
{
    const std::string begin = std::string(file) + ": ";
    if (entry.note.empty() || entry.material.source.empty())
        throw DataError(begin + "needs a note and a source");
    try {
        check(entry.material);
    } catch (const DataError& error) {
        throw DataError(begin + error.what());
    }
}

Kind kind_of(const Value& word)
{
    const auto kind = kind_from(word.text());
    if (!kind) word.refuse("names \"" + word.text() + "\", which is no kind of material");
    return *kind;
}

DefaultContact read_contact(const Value& contact)
{
    DefaultContact out;
    for (const auto& member : contact.members()) {
        if (member.key() == "between") {
            const auto pair = member.items();
            if (pair.size() != 2) member.refuse("must name two kinds");
            out.first = kind_of(pair[0]);
            out.second = kind_of(pair[1]);
        } else if (member.key() == "only") {
            out.only = member.text();
        } else if (member.key() == "h_W_m2K" || member.key() == "h_liquid_W_m2K") {
            out.h = member.number();
        } else if (member.key() == "h_gap_W_m2K") {
            out.h_gap = member.number();
        } else if (member.key() == "uncertainty_percent") {
            out.uncertainty_percent = member.number();
        } else if (member.key() == "source") {
            out.source = member.text();
        } else {
            member.refuse(
                "is not known here; a contact has between, only, h_W_m2K or h_liquid_W_m2K and h_gap_W_m2K, "
                "uncertainty_percent and source");
        }
    }
    if (out.source.empty() || !(out.uncertainty_percent > 0))
        contact.refuse("needs between, h_W_m2K, uncertainty_percent and source");
    if (!(out.h > 0) || !(out.h_gap.value_or(1) > 0))
        contact.refuse("needs an h_W_m2K above 0, or both h_liquid_W_m2K and h_gap_W_m2K");
    return out;
}

}  // namespace

LibraryEntry read_entry(const DataFile& file)
{
    const toml::table root = parsed(file);
    LibraryEntry entry = EntryReader().read(Value(file.name, "the file", root));
    refuse_incomplete(entry, file.name);
    if (auto& freezing = entry.material.freezing) freezing->solidus = FreezingCurve(*freezing).solidus();
    return entry;
}

std::vector<DefaultContact> read_contacts(const DataFile& file)
{
    const toml::table root = parsed(file);
    std::vector<DefaultContact> out;
    for (const auto& list : Value(file.name, "the file", root).members()) {
        if (list.key() != "contact") list.refuse("is not known here; the file holds [[contact]] tables");
        for (const auto& contact : list.items())
            out.push_back(read_contact(contact));
    }
    return out;
}

}  // namespace sandfreeze::materials
