#pragma once
// The files of materials/data, compiled in.

#include <span>
#include <string_view>

namespace sandfreeze::materials
{

struct DataFile {
    std::string_view name;  ///< such as "copper.toml"
    std::string_view text;
};

std::span<const DataFile> material_files();  ///< in the order of listing
DataFile contacts_file();

}  // namespace sandfreeze::materials
