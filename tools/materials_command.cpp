#include "tools/materials_command.hpp"

#include <algorithm>
#include <iostream>
#include <vector>

#include "io/nearest_name.hpp"
#include "io/text.hpp"
#include "materials/library.hpp"
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

void print_list()
{
    std::size_t name_width = 0;
    for (const LibraryEntry& entry : materials::library())
        name_width = std::max(name_width, width_of(entry.material.name));
    std::cout << "Materials of the library, for material = \"...\" in a case:\n";
    std::string_view kind;
    for (const LibraryEntry& entry : materials::library()) {
        if (materials::to_string(entry.material.kind) != kind) {
            kind = materials::to_string(entry.material.kind);
            std::cout << '\n' << kind << '\n';
        }
        print_lines(labelled_lines("  " + padded(entry.material.name, name_width) + "  ",
                                   first_sentence(entry.note)));
    }
    std::cout << "\nEvery number of one, with its source: sandfreeze materials show NAME\n"
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

[[noreturn]] void refuse(const std::string& name)
{
    std::vector<std::string> names;
    for (const LibraryEntry& entry : materials::library()) {
        names.push_back(entry.material.name);
        names.insert(names.end(), entry.also_known_as.begin(), entry.also_known_as.end());
    }
    throw UsageError("the library has no material " + io::quoted(name) + "; " +
                     io::suggestion(name, names, "its materials"));
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
    print_entry(*entry);
    return ExitCode::done;
}

}  // namespace sandfreeze::tools
