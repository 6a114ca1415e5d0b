#include "tools/materials_command.hpp"

#include <algorithm>
#include <array>
#include <cctype>
#include <filesystem>
#include <iostream>
#include <vector>

#include "io/material_picture.hpp"
#include "io/nearest_name.hpp"
#include "io/text.hpp"
#include "materials/freezing_curve.hpp"
#include "materials/library.hpp"
#include "tools/target_file.hpp"
#include "tools/words.hpp"

namespace sandfreeze::tools
{

namespace
{

using materials::LibraryEntry;

void print_lines(const std::vector<std::string>& lines)
{
    for (const std::string& line : lines)
        std::cout << line << '\n';
}

/// Enough for a list; the rest stands where one material is shown.
std::string_view first_sentence(std::string_view note)
{
    const std::size_t end = note.find(". ");
    return end == std::string_view::npos ? note : note.substr(0, end + 1);
}

struct Group {
    materials::Kind kind;
    std::string_view heading;
};
constexpr std::array groups{
    Group{materials::Kind::metal, "Metals to be poured, with the temperatures between which they freeze"},
    Group{materials::Kind::mould, "Sands and other moulds, also for cores"},
    Group{materials::Kind::core, "Cores"},
    Group{materials::Kind::chill, "Chills and inserts"},
    Group{materials::Kind::sleeve, "Sleeves and covers"},
    Group{materials::Kind::air, "Air"},
};

/// "614 to 577 °C", "660.3 °C".
std::string freezing_words(const materials::Freezing& description)
{
    const materials::FreezingCurve freezing(description);
    const std::string liquidus = decimal(freezing.liquidus(), 1);
    const std::string solidus = decimal(freezing.solidus(), 1);
    return (liquidus == solidus ? liquidus : liquidus + " to " + solidus) + " °C";
}

void print_group(const Group& group, std::size_t name_width)
{
    constexpr std::size_t designation_width = 16;
    bool first = true;
    for (const LibraryEntry& entry : materials::library()) {
        const materials::Material& material = entry.material;
        if (material.kind != group.kind) continue;
        if (first) std::cout << '\n' << group.heading << '\n';
        first = false;
        const std::string name = "  " + padded(material.name, name_width) + "  ";
        if (material.freezing)
            std::cout << name << padded(material.designation, designation_width)
                      << freezing_words(*material.freezing) << '\n';
        else
            print_lines(labelled_lines(name, first_sentence(entry.note)));
    }
}

void print_list()
{
    std::size_t name_width = 0;
    for (const LibraryEntry& entry : materials::library())
        name_width = std::max(name_width, width_of(entry.material.name));
    std::cout << "Materials of the library, for material = \"...\" in a case:\n";
    for (const Group& group : groups)
        print_group(group, name_width);
    std::cout << "\nEvery number of one, with its source: sandfreeze materials show NAME\n"
                 "Drawn against temperature:            sandfreeze materials show NAME --plot\n"
                 "Your own goes into the case as a [[material]]: sandfreeze help case\n";
}

/// "12 %"; empty for words, which have none.
std::string uncertainty_words(double percent)
{
    return percent > 0 ? "+- " + io::rounded_text(percent, 3) + " %" : "";
}

void print_entry(const LibraryEntry& entry)
{
    const materials::Material& material = entry.material;
    std::cout << material.name << '\n';
    print_lines(labelled_lines("  ", entry.note));
    std::cout << '\n';
    print_lines(labelled_lines("  kind           ", materials::to_string(material.kind)));
    if (!material.designation.empty()) print_lines(labelled_lines("  designation    ", material.designation));
    std::string others;
    for (const std::string& other : entry.also_known_as)
        others += (others.empty() ? "" : ", ") + io::quoted(other);
    if (!others.empty()) print_lines(labelled_lines("  also known as  ", others));
    print_lines(labelled_lines("  source         ", material.source));
    std::cout << "\nNames end in the unit; [[T, value], ...] is a table against °C.\n";
    for (const materials::SourcedValue& value : entry.values) {
        std::cout << '\n';
        print_lines(labelled_lines("  " + value.property + " = ", value.value));
        const std::string uncertainty = uncertainty_words(value.uncertainty_percent);
        print_lines(
            labelled_lines("      ", uncertainty.empty() ? value.source : uncertainty + "; " + value.source));
    }
}

/// In the current folder, as that of `look`; "green_sand_properties.png".
std::filesystem::path picture_for(const MaterialsRequest& request, const std::string& material)
{
    if (!request.picture.empty()) return request.picture;
    std::string name;
    for (const char letter : material) {
        const bool plain =
            std::isalnum(static_cast<unsigned char>(letter)) != 0 || letter == '.' || letter == '-';
        if (plain)
            name += letter;
        else if (!name.ends_with('_'))
            name += '_';
    }
    if (name.ends_with('_')) name.pop_back();
    return name + "_properties.png";
}

[[noreturn]] void refuse(const std::string& name)
{
    std::vector<std::string> names;
    std::vector<std::string> all;
    for (const LibraryEntry& entry : materials::library()) {
        names.push_back(entry.material.name);
        all.push_back(entry.material.name);
        all.insert(all.end(), entry.also_known_as.begin(), entry.also_known_as.end());
    }
    throw UsageError("the library has no material " + io::quoted(name) + "; " +
                     io::suggestion(name, io::nearest_name(name, all) ? all : names, "its materials"));
}

}  // namespace

ExitCode show_materials(const MaterialsRequest& request)
{
    if (!request.show) {
        print_list();
        return ExitCode::done;
    }
    const LibraryEntry* entry = materials::find(*request.show);
    if (entry == nullptr) refuse(*request.show);
    std::filesystem::path picture;
    if (request.plotting == Plotting::draw) {
        picture = picture_for(request, entry->material.name);
        refuse_other_than(TargetKind::picture, picture);
        io::write_material_picture(picture, *entry);
    }
    print_entry(*entry);
    if (!picture.empty()) std::cout << "\nPicture: " << io::printable(picture.string()) << '\n';
    return ExitCode::done;
}

}  // namespace sandfreeze::tools
