#include "tools/sheet_text.hpp"

#include <algorithm>

#include "io/sheet_words.hpp"
#include "tools/words.hpp"

namespace sandfreeze::tools
{

namespace
{

using solver::SheetInput;
using solver::SheetLine;

constexpr std::size_t label_width = 34;
constexpr std::size_t value_width = 12;

void add_lines(std::string& out, std::string_view label, std::string_view text)
{
    for (const std::string& line : labelled_lines(label, text))
        out += line + '\n';
}

std::string beside_words(const SheetLine& line)
{
    const std::string range = io::range_words(line);
    if (range.empty()) return line.words;
    return line.words.empty() ? kept_together(range) : kept_together(range) + "; " + line.words;
}

std::string line_text(const solver::Sheet& sheet, const SheetLine& line)
{
    std::string out;
    const std::string mark = io::hangs_on_assumption(sheet, line) ? "*" : " ";
    const std::string label = "  " + padded(shortened(line.label, label_width), label_width) + ' ' +
                              right_aligned(io::value_words(line), value_width) + mark + ' ';
    if (line.value)
        add_lines(out, label, beside_words(line));
    else
        add_lines(out, "  " + padded(line.label, label_width) + "   ", line.words + (mark == "*" ? "*" : ""));
    if (!line.caution.empty()) add_lines(out, line.calls ? "    ! " : "    - ", line.caution);
    return out;
}

std::string assumed_text(const solver::Sheet& sheet)
{
    const std::vector<io::Assumption> assumed = io::assumptions(sheet);
    if (assumed.empty()) return {};
    std::size_t key = 0;
    std::size_t value = 0;
    for (const io::Assumption& a : assumed) {
        key = std::max(key, width_of(a.key));
        value = std::max(value, width_of(a.value));
    }
    std::string out = "* hangs on what is assumed; the case file sets it by the key\n";
    for (const io::Assumption& a : assumed)
        add_lines(out, "  " + padded(a.key, key) + "  " + padded(a.value, value) + "  ", a.what);
    return out + '\n';
}

void add_inputs(std::string& out, const SheetLine& line)
{
    std::size_t widest = 0;
    for (const SheetInput& input : line.inputs)
        widest = std::max(widest, width_of(input.symbol));
    for (const SheetInput& input : line.inputs) {
        const std::string origin = io::origin_words(input);
        add_lines(out,
                  "    " + padded(input.symbol, widest) + " = " + padded(io::value_words(input), 15) + ' ',
                  input.what + (origin.empty() ? "" : " (" + origin + ")"));
    }
}

}  // namespace

std::string sheet_text(const solver::Sheet& sheet)
{
    std::string out = sheet.title + "\n\n";
    add_lines(out, "", io::sheet_safety());
    add_lines(out, "", sheet.basis);
    for (const solver::SheetSection& section : sheet.sections) {
        out += '\n' + section.title + '\n';
        for (const SheetLine& line : section.lines)
            out += line_text(sheet, line);
    }
    out += '\n' + assumed_text(sheet);
    std::string ids;
    for (const std::string& id : line_ids(sheet))
        ids += (ids.empty() ? "" : ", ") + id;
    add_lines(out, "--explain ", ids + "; or all");
    add_lines(out, "", io::sheet_disclaimer());
    return out;
}

std::string explanation_text(const SheetLine& line)
{
    std::string out = line.label + " [" + line.id + "]\n";
    const std::string beside = beside_words(line);
    const std::string value = io::value_words(line);
    add_lines(out, "  ", value + (value.empty() || beside.empty() ? "" : "; ") + beside);
    if (!line.formula.empty())
        add_lines(out, "  ", line.formula + (line.equation.empty() ? "" : " (" + line.equation + ")"));
    add_inputs(out, line);
    if (!line.uncertainty.empty()) add_lines(out, "  uncertain  ", line.uncertainty);
    if (!line.source.empty()) add_lines(out, "  source     ", line.source);
    if (!line.caution.empty()) add_lines(out, line.calls ? "  ! " : "  - ", line.caution);
    return out;
}

std::vector<std::string> line_ids(const solver::Sheet& sheet)
{
    std::vector<std::string> ids;
    for (const solver::SheetSection& section : sheet.sections)
        for (const SheetLine& line : section.lines)
            ids.push_back(line.id);
    return ids;
}

}  // namespace sandfreeze::tools
