// fuzz_words FOLDER: writes words.dict (keys, tables, choices and names, from the schema and the library) and
// materials/*.toml (the data files) into the folder.

#include <filesystem>
#include <fstream>
#include <iostream>
#include <set>
#include <string>

#include "io/schema.hpp"
#include "materials/data_files.hpp"
#include "materials/library.hpp"

namespace
{

std::set<std::string> words()
{
    std::set<std::string> out{"inf", "nan", "-1",  "1e9", "1e-9", "true", "[[",
                              "]]",  "\n[", " = ", "{ ",  " }",   "'''"};
    for (const auto& table : sandfreeze::io::case_schema()) {
        out.insert('[' + std::string(table.name) + ']');
        for (const auto& key : table.keys) {
            out.insert(std::string(key.name) + " = ");
            for (const auto choice : key.choices)
                out.emplace(choice);
        }
    }
    for (const auto& entry : sandfreeze::materials::library()) {
        out.insert(entry.material.name);
        for (const auto& value : entry.values)
            out.insert('[' + value.property + ']');
    }
    for (const char* key : {"value = ", "uncertainty_percent = ", "source = ", "note = ", "between = "})
        out.emplace(key);
    return out;
}

std::string escaped(const std::string& word)
{
    constexpr const char* hex = "0123456789abcdef";
    std::string out;
    for (const char c : word) {
        const auto byte = static_cast<unsigned char>(c);
        if (byte < 0x20U || byte > 0x7EU)
            out += {'\\', 'x', hex[byte >> 4U], hex[byte & 15U]};
        else
            out += c == '"' || c == '\\' ? std::string{'\\', c} : std::string{c};
    }
    return out;
}

}  // namespace

int main(int count, char** arguments)
{
    namespace fs = std::filesystem;
    if (count != 2) {
        std::cerr << "fuzz_words: name the folder to write into\n";
        return 2;
    }
    const fs::path folder = arguments[1];
    fs::create_directories(folder / "materials");
    std::ofstream dictionary(folder / "words.dict");
    for (const std::string& word : words())
        dictionary << '"' << escaped(word) << "\"\n";
    for (const auto& file : sandfreeze::materials::material_files())
        std::ofstream(folder / "materials" / file.name, std::ios::binary) << file.text;
    const auto contacts = sandfreeze::materials::contacts_file();
    std::ofstream(folder / "materials" / contacts.name, std::ios::binary) << contacts.text;
    return dictionary.good() ? 0 : 1;
}
