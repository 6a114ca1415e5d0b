#include <algorithm>

#include "io/case_file.hpp"
#include "io/schema.hpp"

namespace sandfreeze::io
{

namespace
{

std::string heading(const Setting& setting)
{
    const bool many = table_spec(setting.table).form == TableSpec::Form::many;
    return many ? "\n[[" + setting.table + "]]\n" : "\n[" + setting.table + "]\n";
}

/// Widest key of the table that begins here, so that the values stand in a column.
std::size_t widest_key(std::vector<Setting>::const_iterator from, std::vector<Setting>::const_iterator end)
{
    std::size_t widest = 0;
    for (auto s = from; s != end && s->table == from->table && s->item == from->item; ++s)
        if (!s->value.empty()) widest = std::max(widest, s->key.size());
    return widest;
}

std::string line(const Setting& setting, std::size_t width)
{
    if (setting.value.empty()) return "# " + setting.key + ": " + setting.words + " (default)\n";
    const std::string padding(width - setting.key.size(), ' ');
    return setting.key + padding + " = " + setting.value + (setting.given ? "\n" : "  # default\n");
}

}  // namespace

std::string case_echo(const CaseFile& file)
{
    std::string out;
    const auto& settings = file.settings;
    std::size_t width = 0;
    for (auto s = settings.begin(); s != settings.end(); ++s) {
        const bool begins = s == settings.begin() || (s - 1)->table != s->table || (s - 1)->item != s->item;
        if (begins) {
            width = widest_key(s, settings.end());
            out += s->table.empty() ? "" : heading(*s);
        }
        out += line(*s, width);
    }
    return out;
}

}  // namespace sandfreeze::io
