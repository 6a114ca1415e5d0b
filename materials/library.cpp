#include "materials/library.hpp"

#include <algorithm>
#include <set>

#include "materials/data_files.hpp"
#include "materials/data_reader.hpp"

namespace sandfreeze::materials
{

namespace
{

/// What designations of European standards begin with, and people leave out.
constexpr std::string_view en = "EN ";

std::vector<LibraryEntry> read_all()
{
    std::vector<LibraryEntry> entries;
    std::set<std::string> names;
    const auto claim = [&](const std::string& name) {
        if (!names.insert(name).second)
            throw DataError("the library has two materials named \"" + name + "\"");
    };
    for (const DataFile& file : material_files()) {
        entries.push_back(read_entry(file));
        claim(entries.back().material.name);
        for (const auto& other : entries.back().also_known_as)
            claim(other);
    }
    return entries;
}

bool is_called(const LibraryEntry& entry, std::string_view name)
{
    const auto& others = entry.also_known_as;
    const auto is_other = [&](std::string_view other) { return other == name; };
    const auto is_without_en = [&](std::string_view other) {
        return other.starts_with(en) && other.substr(en.size()) == name;
    };
    return entry.material.name == name || std::any_of(others.begin(), others.end(), is_other) ||
           std::any_of(others.begin(), others.end(), is_without_en);
}

}  // namespace

std::span<const LibraryEntry> library()
{
    static const std::vector<LibraryEntry> entries = read_all();
    return entries;
}

const LibraryEntry* find(std::string_view name)
{
    const auto entries = library();
    const auto found = std::find_if(entries.begin(), entries.end(),
                                    [&](const LibraryEntry& entry) { return is_called(entry, name); });
    return found == entries.end() ? nullptr : &*found;
}

std::span<const DefaultContact> default_contacts()
{
    static const std::vector<DefaultContact> contacts = read_contacts(contacts_file());
    return contacts;
}

const DefaultContact* default_contact(const Material& a, const Material& b)
{
    const auto contacts = default_contacts();
    const auto found = std::find_if(contacts.rbegin(), contacts.rend(), [&](const DefaultContact& c) {
        const bool of_kinds =
            (c.first == a.kind && c.second == b.kind) || (c.first == b.kind && c.second == a.kind);
        return of_kinds && (c.only.empty() || c.only == a.name || c.only == b.name);
    });
    return found == contacts.rend() ? nullptr : &*found;
}

}  // namespace sandfreeze::materials
