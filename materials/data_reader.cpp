#include "materials/data_reader.hpp"

#include <optional>
#include <utility>

#include "materials/data_value.hpp"
#include "materials/freezing_curve.hpp"

namespace sandfreeze::materials
{

namespace
{

/// The three members of a number: value, uncertainty_percent (not of words), source.
struct Sourced {
    DataValue value;
    double uncertainty_percent = 0;
    std::string source;
};

Sourced sourced(const DataValue& property)
{
    std::optional<DataValue> value;
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
    LibraryEntry read(const DataValue& file);

private:
    bool take_words(const DataValue& key);
    bool take_number(const std::string& key, const DataValue& value);
    bool take_extra(const std::string& key, const DataValue& value);
    bool take_freezing(const std::string& key, const DataValue& value);
    void take_law(const DataValue& value);

    LibraryEntry entry_;
    std::optional<Freezing> freezing_;
};

LibraryEntry EntryReader::read(const DataValue& file)
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

bool EntryReader::take_words(const DataValue& key)
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

bool EntryReader::take_number(const std::string& key, const DataValue& value)
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

bool EntryReader::take_extra(const std::string& key, const DataValue& value)
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

bool EntryReader::take_freezing(const std::string& key, const DataValue& value)
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

void EntryReader::take_law(const DataValue& value)
{
    if (value.is_list()) {
        freezing_->law = Freezing::Law::table;
        freezing_->table = value.knots();
        return;
    }
    const std::string& law = value.text();
    if (law == "linear")
        freezing_->law = Freezing::Law::linear;
    else if (law == "scheil")
        freezing_->law = Freezing::Law::scheil;
    else if (law == "lever")
        freezing_->law = Freezing::Law::lever;
    else
        value.refuse("= \"" + law + "\" is none of linear, scheil, lever or a table");
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

Kind kind_of(const DataValue& word)
{
    const auto kind = kind_from(word.text());
    if (!kind) word.refuse("names \"" + word.text() + "\", which is no kind of material");
    return *kind;
}

DefaultContact read_contact(const DataValue& contact)
{
    DefaultContact out;
    for (const auto& member : contact.members()) {
        if (member.key() == "between") {
            const auto& pair = member.items();
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
    LibraryEntry entry = EntryReader().read(parse(file));
    refuse_incomplete(entry, file.name);
    if (auto& freezing = entry.material.freezing) freezing->solidus = FreezingCurve(*freezing).solidus();
    return entry;
}

std::vector<DefaultContact> read_contacts(const DataFile& file)
{
    const DataValue root = parse(file);
    std::vector<DefaultContact> out;
    for (const auto& list : root.members()) {
        if (list.key() != "contact") list.refuse("is not known here; the file holds [[contact]] tables");
        for (const auto& contact : list.items())
            out.push_back(read_contact(contact));
    }
    return out;
}

}  // namespace sandfreeze::materials
