#include "io/sheet_json.hpp"

#include "io/json_values.hpp"

namespace sandfreeze::io
{

namespace
{

Json input_of(const solver::SheetInput& input)
{
    return {{"symbol", input.symbol},
            {"what", input.what},
            {"value", converted(input.value, 1)},
            {"unit", input.unit},
            {"origin", solver::to_string(input.origin)},
            {"from", input.from}};
}

Json line_json(const solver::SheetLine& line)
{
    return {{"id", line.id},
            {"label", line.label},
            {"value", converted(line.value, 1)},
            {"unit", line.unit},
            {"low", converted(line.low, 1)},
            {"high", converted(line.high, 1)},
            {"words", line.words},
            {"calls", line.calls},
            {"caution", line.caution},
            {"formula", line.formula},
            {"equation", line.equation},
            {"inputs", list(line.inputs, input_of)},
            {"uncertainty", line.uncertainty},
            {"source", line.source}};
}

Json section_of(const solver::SheetSection& section)
{
    return {{"title", section.title}, {"lines", list(section.lines, line_json)}};
}

Json assumption_of(const Assumption& assumption)
{
    return {{"what", assumption.what}, {"value", assumption.value}, {"key", assumption.key}};
}

}  // namespace

std::string sheet_json(const solver::Sheet& sheet, const SheetContext& context)
{
    const Json root = {{"format", 1},
                       {"title", sheet.title},
                       {"program_version", context.program_version},
                       {"case", context.case_name},
                       {"case_sha256", context.case_sha256},
                       {"basis", sheet.basis},
                       {"safety", sheet_safety()},
                       {"sections", list(sheet.sections, section_of)},
                       {"assumed", list(assumptions(sheet), assumption_of)},
                       {"disclaimer", sheet_disclaimer()}};
    return root.dump(2, ' ', false, Json::error_handler_t::replace) + '\n';
}

}  // namespace sandfreeze::io
