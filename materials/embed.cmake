# Writes OUTPUT, a .cpp that holds the text of the files in MATERIALS (paths, separated by |) and of CONTACTS.

function(raw_string path out)
  get_filename_component(name ${path} NAME)
  file(READ ${path} text)
  set(${out} "{\"${name}\", R\"toml(${text})toml\"}" PARENT_SCOPE)
endfunction()

string(REPLACE "|" ";" materials "${MATERIALS}")
set(entries "")
foreach(path IN LISTS materials)
  raw_string(${path} entry)
  string(APPEND entries "    ${entry},\n")
endforeach()
raw_string(${CONTACTS} contacts)

file(WRITE ${OUTPUT} "// Made from materials/data by embed.cmake.
#include \"materials/data_files.hpp\"

namespace sandfreeze::materials
{

namespace
{
constexpr DataFile all_materials[] = {
${entries}};
constexpr DataFile all_contacts = ${contacts};
}  // namespace

std::span<const DataFile> material_files()
{
    return all_materials;
}

DataFile contacts_file()
{
    return all_contacts;
}

}  // namespace sandfreeze::materials
")
