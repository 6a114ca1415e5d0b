#include "tools/bench/table.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <utility>

namespace sandfreeze::bench
{

Table::Table(std::vector<std::string> heading)
{
    rows_.push_back(std::move(heading));
}

void Table::add(std::vector<std::string> row)
{
    row.resize(rows_.front().size());
    rows_.push_back(std::move(row));
}

std::string Table::text() const
{
    std::vector<std::size_t> width(rows_.front().size(), 0);
    for (const auto& row : rows_)
        for (std::size_t k = 0; k < row.size(); ++k)
            width[k] = std::max(width[k], row[k].size());
    std::string text;
    for (const auto& row : rows_) {
        for (std::size_t k = 0; k < row.size(); ++k)
            text += fmt::format("| {:>{}} ", row[k], width[k]);
        text += "|\n";
        if (&row != &rows_.front()) continue;
        for (const std::size_t w : width)
            text += fmt::format("|{:->{}}:", "", w + 1);
        text += "|\n";
    }
    return text;
}

}  // namespace sandfreeze::bench
