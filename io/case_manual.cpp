#include "io/case_file.hpp"
#include "io/schema.hpp"
#include "io/text.hpp"
#include "io/value_checks.hpp"

namespace sandfreeze::io
{

namespace
{

constexpr std::size_t page_width = 80;
constexpr std::size_t key_indent = 2;
constexpr std::size_t text_indent = 6;

constexpr std::string_view introduction =
    "A case file says what is in the mould: the sand, the metal, and "
    "every part as it is drawn in a section. It is a "
    "plain text file (TOML). Lengths are in mm, temperatures in °C, "
    "times in s, and every key ends in its unit. x runs "
    "to the right, y up; in a plan, seen from above, z is up. Text stands between double quotes; what "
    "follows # is a remark. A key that is misspelt is an "
    "error, never ignored.";

constexpr std::string_view example = R"(title  = "Plate with one feeder"
format = 1

[section]
view     = "planar"       # a cut through the mould, y up
cell_mm  = 1.0
depth_mm = 100            # the plate is 100 mm long out of the page

[mould]
material = "green sand"

[pour]
temperature_C = 710

[[part]]
name      = "plate"
role      = "casting"
material  = "AlSi10Mg"
rectangle = { x_mm = [0, 120], y_mm = [0, 16] }

[[part]]
name      = "neck"
role      = "neck"
material  = "AlSi10Mg"
rectangle = { x_mm = [48, 72], y_mm = [16, 24] }

[[part]]
name      = "feeder"
role      = "feeder"
material  = "AlSi10Mg"
rectangle = { x_mm = [38, 82], y_mm = [24, 84] }
open_top  = true

[[part]]
name      = "end chill"
role      = "chill"
material  = "mild steel"
rectangle = { x_mm = [0, 20], y_mm = [-20, 0] }

[[probe]]
name  = "mid plate"
at_mm = [60, 8]

[[check]]
first    = "plate"
then     = "feeder"
margin_s = 5
)";

std::string paragraph(std::string_view words, std::size_t indent)
{
    return std::string(indent, ' ') + wrapped(words, page_width, indent, indent) + '\n';
}

std::string default_words(const KeySpec& key)
{
    if (key.required) return "must be given";
    if (!key.fallback.empty())
        return "default " + std::string(key.fallback) + (key.unit.empty() ? "" : ' ' + std::string(key.unit));
    return key.fallback_words.empty() ? "" : "default: " + std::string(key.fallback_words);
}

std::string not_built_words(const KeySpec& key)
{
    const NotBuilt& missing = key.not_built;
    if (missing.sentence.empty()) return {};
    if (!missing.only_value.empty()) return "NOT BUILT YET: " + std::string(missing.only_value);
    return missing.except_value.empty() ? "NOT BUILT YET"
                                        : "NOT BUILT YET: other than " + std::string(missing.except_value);
}

/// Whether the table's meaning says already what the key takes.
bool self_evident(const KeySpec& key)
{
    return key.type == ValueType::any || key.type == ValueType::edge;
}

/// `name: what it takes; default; what is not built yet`, and the meaning beneath.
std::string key_lines(const KeySpec& key)
{
    if (key.type == ValueType::table)
        return std::string(key_indent, ' ') + std::string(key.name) + " = " + std::string(key.meaning) + '\n';
    std::string facts = std::string(key.name) + ':';
    const char* separator = " ";
    for (const std::string& fact :
         {self_evident(key) ? "" : expectation(key), default_words(key), not_built_words(key)}) {
        if (fact.empty()) continue;
        facts += separator + fact;
        separator = "; ";
    }
    return std::string(key_indent, ' ') + wrapped(facts, page_width, key_indent, key_indent + 2) + '\n' +
           paragraph(key.meaning, text_indent);
}

std::string heading(const TableSpec& table)
{
    switch (table.form) {
    case TableSpec::Form::top:
        return "First lines";
    case TableSpec::Form::one:
        return "[" + std::string(table.name) + "]" + (table.required ? "" : "  (may be left out)");
    case TableSpec::Form::many:
        return "[[" + std::string(table.name) + "]]  (" +
               (table.name == "part" ? "one or more)" : "any number, also none)");
    case TableSpec::Form::inlined:
        return std::string(table.name) + " = { ... }";
    }
    return {};
}

std::string table_lines(const TableSpec& table)
{
    std::string out = '\n' + heading(table) + '\n';
    if (table.form != TableSpec::Form::top) out += paragraph(table.meaning, key_indent);
    for (const KeySpec& key : table.keys)
        out += key_lines(key);
    return out;
}

}  // namespace

std::string_view example_case()
{
    return example;
}

std::string case_manual()
{
    std::string out = "THE CASE FILE\n\n" + paragraph(introduction, 0);
    out += "\nA SMALL COMPLETE CASE\n\n";
    for (std::string_view rest = example; !rest.empty();) {
        const std::string_view line = rest.substr(0, rest.find('\n'));
        out += line.empty() ? "\n" : "    " + std::string(line) + '\n';
        rest.remove_prefix(line.size() + 1);
    }
    out += "\nALL TABLES AND KEYS\n";
    for (const TableSpec& table : case_schema())
        out += table_lines(table);
    return out;
}

}  // namespace sandfreeze::io
