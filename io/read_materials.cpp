#include "io/read_materials.hpp"

#include <algorithm>
#include <iterator>
#include <optional>
#include <utility>

#include "io/block.hpp"
#include "io/material_reader.hpp"
#include "io/nearest_name.hpp"
#include "io/text.hpp"
#include "materials/library.hpp"

namespace sandfreeze::io
{

namespace
{

using materials::Kind;
using materials::Material;

bool does_fit(const Material& material, Fits fits)
{
    if (fits == Fits::everything) return true;
    if (fits == Fits::metal_parts) return material.kind == Kind::metal;
    return material.kind != Kind::metal && material.kind != Kind::air;
}

std::vector<std::string> library_names(Fits fits)
{
    std::vector<std::string> out;
    for (const auto& entry : materials::library())
        if (does_fit(entry.material, fits)) out.push_back(entry.material.name);
    return out;
}

/// LM4 is no slip for LM6, AlSi21 is one for AlSi12.
bool has_same_digits(std::string_view a, std::string_view b)
{
    const auto digits = [](std::string_view text) {
        std::string found;
        std::copy_if(text.begin(), text.end(), std::back_inserter(found),
                     [](char c) { return c >= '0' && c <= '9'; });
        std::sort(found.begin(), found.end());
        return found;
    };
    return digits(a) == digits(b);
}

/// The nearest name, those of standards and of the trade included; else all that there are, by their own.
std::string material_suggestion(std::string_view name, const std::vector<std::string>& names, Fits fits)
{
    std::vector<std::string> near;
    const auto add = [&](const std::string& other) {
        if (has_same_digits(name, other)) near.push_back(other);
    };
    std::for_each(names.begin(), names.end(), add);
    for (const auto& entry : materials::library())
        if (does_fit(entry.material, fits))
            std::for_each(entry.also_known_as.begin(), entry.also_known_as.end(), add);
    if (const auto best = nearest_name(name, near)) return "did you mean \"" + *best + "\"?";
    return suggestion("", names, fits == Fits::metal_parts ? "the alloys there" : "the materials there");
}

const Material* like_of(const Block& block, Draft& draft, bool& found)
{
    found = !block.is_faulty("like");
    if (!block.has("like")) return nullptr;
    const std::string name = block.text("like");
    const materials::LibraryEntry* entry = materials::find(name);
    if (entry != nullptr) return &entry->material;
    found = false;
    draft.problem(block.place_of("like"),
                  "there is no " + quoted(name) + " in the library to start from; " +
                      material_suggestion(name, library_names(Fits::everything), Fits::everything));
    return nullptr;
}

}  // namespace

MaterialShelf::MaterialShelf(const TomlValue* list, Draft& draft)
{
    if (list == nullptr) return;
    for (std::size_t m = 0; m < list->items.size(); ++m)
        read(list->items[m], m, draft);
}

void MaterialShelf::read(const TomlValue& table, std::size_t item, Draft& draft)
{
    Block block(table, table_spec("material"), table_label("material", table, item), draft);
    block.require();
    bool base_is_right = true;
    const Material* like = like_of(block, draft, base_is_right);
    const std::string name = block.has("name") ? block.text("name") : "";
    if (!name.empty() && is_own(name))
        draft.problem(block.place_of("name"),
                      "there are two materials named " + quoted(name) + "; give one another name");
    if (!name.empty()) own_names_.push_back(name);
    if (!base_is_right) return;
    std::optional<Material> material;
    try {
        material = read_material(block, like, draft);
        if (!material || name.empty()) return;
        materials::check(*material);
    } catch (const materials::DataError& error) {
        draft.problem(block.place(), error.what());
        return;
    }
    own_.push_back(*std::move(material));
    block.echo(item);
    if (const auto* entry = materials::find(name); entry != nullptr && entry->material.name == name)
        draft.warn(block.place_of("name"), "your own " + quoted(name) + " is used instead of the library's");
}

bool MaterialShelf::is_own(std::string_view name) const
{
    return std::find(own_names_.begin(), own_names_.end(), name) != own_names_.end();
}

int MaterialShelf::take(std::string_view name, Place place, const std::string& label, Fits fits, Draft& draft)
{
    const auto own =
        std::find_if(own_.begin(), own_.end(), [&](const Material& m) { return m.name == name; });
    const materials::LibraryEntry* entry = is_own(name) ? nullptr : materials::find(name);
    if (own == own_.end() && entry == nullptr) {
        if (!is_own(name))
            draft.problem(place, label + " is of unknown material " + quoted(name) + "; " +
                                     material_suggestion(name, names(fits), fits));
        return -1;
    }
    const Material& wanted = entry != nullptr ? entry->material : *own;
    auto& used = draft.case_.materials;
    const auto known =
        std::find_if(used.begin(), used.end(), [&](const Material& m) { return m.name == wanted.name; });
    if (known != used.end()) return static_cast<int>(known - used.begin());
    used.push_back(wanted);
    return static_cast<int>(used.size()) - 1;
}

std::vector<std::string> MaterialShelf::names(Fits fits) const
{
    std::vector<std::string> out;
    for (const std::string& name : own_names_) {
        const auto own =
            std::find_if(own_.begin(), own_.end(), [&](const Material& m) { return m.name == name; });
        if (own == own_.end() || does_fit(*own, fits)) out.push_back(name);
    }
    for (std::string& name : library_names(fits))
        if (!is_own(name)) out.push_back(std::move(name));
    return out;
}

}  // namespace sandfreeze::io
