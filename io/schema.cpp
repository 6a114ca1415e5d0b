#include "io/schema.hpp"

#include <algorithm>
#include <array>
#include <stdexcept>
#include <string>
#include <vector>

#include "io/schema_tables.hpp"

namespace sandfreeze::io
{

namespace
{

constexpr std::array<std::string_view, 4> shapes{"rectangle", "circle", "polygon", "strip"};

std::vector<TableSpec> all_tables()
{
    std::vector<TableSpec> out;
    for (const auto tables :
         {frame_tables(), part_tables(), material_tables(), report_tables(), pouring_tables()})
        out.insert(out.end(), tables.begin(), tables.end());
    return out;
}

}  // namespace

std::span<const TableSpec> case_schema()
{
    static const std::vector<TableSpec> tables = all_tables();
    return tables;
}

const TableSpec& table_spec(std::string_view name)
{
    const auto tables = case_schema();
    const auto found = std::find_if(tables.begin(), tables.end(),
                                    [&](const TableSpec& table) { return table.name == name; });
    if (found == tables.end())
        throw std::logic_error("no table \"" + std::string(name) + "\" in the case format");
    return *found;
}

const KeySpec& key_spec(const TableSpec& table, std::string_view name)
{
    const auto found = std::find_if(table.keys.begin(), table.keys.end(),
                                    [&](const KeySpec& key) { return key.name == name; });
    if (found == table.keys.end())
        throw std::logic_error("no key \"" + std::string(name) + "\" in [" + std::string(table.name) + "]");
    return *found;
}

std::span<const std::string_view> shape_names()
{
    return shapes;
}

std::string_view to_string(CaseView view)
{
    switch (view) {
    case CaseView::planar:
        return "planar";
    case CaseView::axisymmetric:
        return "axisymmetric";
    case CaseView::plan:
        return "plan";
    }
    return "";
}

}  // namespace sandfreeze::io
