#include "solver/results_sheet.hpp"

namespace sandfreeze::solver
{

std::string_view to_string(SheetOrigin origin)
{
    switch (origin) {
    case SheetOrigin::given:
        return "given";
    case SheetOrigin::drawn:
        return "drawn";
    case SheetOrigin::assumed:
        return "assumed";
    case SheetOrigin::computed:
        return "computed";
    case SheetOrigin::solved:
        return "solved";
    case SheetOrigin::data:
        return "data";
    }
    return "";
}

const SheetLine* line_of(const Sheet& sheet, std::string_view id)
{
    for (const SheetSection& section : sheet.sections)
        for (const SheetLine& line : section.lines)
            if (line.id == id) return &line;
    return nullptr;
}

}  // namespace sandfreeze::solver
