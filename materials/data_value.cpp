#include "materials/data_value.hpp"

#include <algorithm>
#include <stdexcept>
#include <utility>

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

/// `node` and all in it.
DataValue value_of(std::string_view file, std::string key, const toml::node& node);

DataValue::List list_of(std::string_view file, const std::string& key, const toml::array& array)
{
    DataValue::List out;
    for (const auto& item : array)
        out.items.push_back(value_of(file, key, item));
    return out;
}

/// The library sorts a table's keys by their letters.
DataValue::Table table_of(std::string_view file, const toml::table& table)
{
    std::vector<std::pair<toml::source_position, DataValue>> found;
    for (const auto& [key, node] : table)
        found.emplace_back(key.source().begin, value_of(file, std::string(key.str()), node));
    std::sort(found.begin(), found.end(), [](const auto& a, const auto& b) { return a.first < b.first; });
    DataValue::Table out;
    out.members.reserve(found.size());
    for (auto& [position, value] : found)
        out.members.push_back(std::move(value));
    return out;
}

DataValue value_of(std::string_view file, std::string key, const toml::node& node)
{
    DataValue::Content content;
    if (const auto* text = node.as_string())
        content = text->get();
    else if (const auto* integer = node.as_integer())
        content = static_cast<double>(integer->get());
    else if (const auto* number = node.as_floating_point())
        content = number->get();
    else if (const auto* array = node.as_array())
        content = list_of(file, key, *array);
    else if (const auto* table = node.as_table())
        content = table_of(file, *table);
    return {file, std::move(key), node.source().begin.line, std::move(content)};
}

}  // namespace

DataValue::DataValue(std::string_view file, std::string key, unsigned line, Content content)
    : file_(file)
    , key_(std::move(key))
    , line_(line)
    , content_(std::move(content))
{
}

void DataValue::refuse(const std::string& what) const
{
    throw DataError(std::string(file_) + ":" + std::to_string(line_) + ": " + key_ + " " + what);
}

const std::string& DataValue::text() const
{
    if (!is_text() || std::get<std::string>(content_).empty()) refuse("must be a text");
    return std::get<std::string>(content_);
}

double DataValue::number() const
{
    if (!std::holds_alternative<double>(content_)) refuse("must be a number");
    return std::get<double>(content_);
}

const std::vector<DataValue>& DataValue::items() const
{
    if (!is_list()) refuse("must be a list");
    return std::get<List>(content_).items;
}

const std::vector<DataValue>& DataValue::members() const
{
    if (!is_table()) refuse("must be a table");
    return std::get<Table>(content_).members;
}

std::vector<Curve::Knot> DataValue::knots() const
{
    std::vector<Curve::Knot> out;
    for (const auto& row : items()) {
        const auto& pair = row.items();
        if (pair.size() != 2) refuse("must have rows of a temperature and a value");
        out.push_back({pair[0].number(), pair[1].number()});
    }
    return out;
}

Curve DataValue::curve() const
{
    if (!is_list()) return Curve(number());
    try {
        return Curve(knots());
    } catch (const DataError& error) {
        refuse(std::string("is not a table: ") + error.what());
    }
}

PhaseProperty DataValue::phases() const
{
    if (!is_table()) {
        const Curve both = curve();
        return {both, both};
    }
    const auto& parts = members();
    if (parts.size() != 2 || parts[0].key() != "solid" || parts[1].key() != "liquid")
        refuse("must hold solid and liquid, in this order");
    return {parts[0].curve(), parts[1].curve()};
}

std::string DataValue::as_written() const
{
    if (is_text()) return text();
    if (!is_list() && !is_table()) return number_text(number());
    std::string out;
    for (const auto& part : is_list() ? items() : members())
        out += (out.empty() ? "" : ", ") + (is_table() ? part.key() + " = " : "") + part.as_written();
    return is_list() ? "[" + out + "]" : "{ " + out + " }";
}

DataValue parse(const DataFile& file)
{
    const auto refuse = [&](auto line, const std::string& why) -> DataValue {
        throw DataError(std::string(file.name) + ":" + std::to_string(line) + ": not valid TOML: " + why);
    };
    if (const TextFault fault = scan_toml(file.text); !fault.message.empty())
        return refuse(fault.line, fault.message);
    try {
        return value_of(file.name, "the file", toml::parse(file.text, file.name));
    } catch (const toml::parse_error& error) {
        return refuse(error.source().begin.line, std::string(error.description()));
    } catch (const std::logic_error& error) {
        return refuse(1, error.what());
    }
}

}  // namespace sandfreeze::materials
