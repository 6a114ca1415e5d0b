#include "io/file_names.hpp"

#include <algorithm>

namespace sandfreeze::io
{

bool is_unfinished(std::string_view name)
{
    return name.starts_with('.') && name.find(".unfinished-") != std::string_view::npos;
}

bool is_numbered(std::string_view name, std::string_view stem, std::string_view ending)
{
    if (!name.starts_with(stem) || !name.ends_with(ending) || name.size() <= stem.size() + ending.size())
        return false;
    const auto digits = name.substr(stem.size(), name.size() - stem.size() - ending.size());
    return std::all_of(digits.begin(), digits.end(), [](char c) { return c >= '0' && c <= '9'; });
}

}  // namespace sandfreeze::io
