#include "io/solved_times.hpp"

#include <algorithm>
#include <string>

#include "io/errors.hpp"
#include "io/json_values.hpp"
#include "io/text.hpp"

namespace sandfreeze::io
{

namespace
{

/// An answer of which every member that is asked for must be there.
class Summary
{
public:
    Summary(std::string_view text, std::string_view path)
        : path_(path)
        , root_(Json::parse(text, nullptr, false))
    {
        if (root_.is_discarded() || !root_.is_object()) refuse("it is not JSON as a run writes it");
    }

    const Json& root() const { return root_; }

    [[noreturn]] void refuse(const std::string& what) const
    {
        throw FileError(path_, "use", 0, what + ". Run the case again, or give the case file itself");
    }

    const Json& member(const Json& table, const std::string& key) const
    {
        const auto found = table.is_object() ? table.find(key) : table.end();
        if (!table.is_object() || found == table.end())
            refuse("it is no whole answer: " + io::quoted(key) + " is missing");
        return *found;
    }

    std::string text(const Json& table, const std::string& key) const
    {
        const Json& value = member(table, key);
        if (!value.is_string()) refuse(io::quoted(key) + " is no text");
        return value.get<std::string>();
    }

    std::optional<double> time(const Json& table, const std::string& key) const
    {
        const Json& value = member(table, key);
        if (value.is_null()) return std::nullopt;
        if (!value.is_number() || value.get<double>() < 0) refuse(io::quoted(key) + " is no time");
        return value.get<double>();
    }

private:
    std::string path_;
    Json root_;
};

/// The last casting's; empty where one was not solid by the end.
std::optional<double> castings_solid(const Summary& summary)
{
    const Json& parts = summary.member(summary.root(), "parts");
    if (!parts.is_array()) summary.refuse("\"parts\" is no list");
    std::optional<double> last;
    for (const Json& part : parts) {
        if (summary.text(part, "role") != "casting") continue;
        const auto time = summary.time(part, "last_freeze_s");
        if (!time) return std::nullopt;
        last = std::max(last.value_or(0), *time);
    }
    return last;
}

}  // namespace

solver::SolvedTimes read_solved_times(std::string_view text, std::string_view path,
                                      std::string_view case_sha256)
{
    const Summary summary(text, path);
    summary.text(summary.root(), "program_version");
    if (summary.text(summary.root(), "case_sha256") != case_sha256)
        summary.refuse(
            "it is the answer to another case than the case.toml beside it, which was changed since");
    solver::SolvedTimes times;
    times.castings_solid = castings_solid(summary);
    times.all_solid = summary.time(summary.member(summary.root(), "metal"), "last_freeze_s");
    if (!summary.root().contains("opening")) return times;  // not looked for
    const Json& opening = summary.member(summary.root(), "opening");
    times.opening = summary.time(opening, "at_s");
    const Json& below = summary.member(opening, "below_C");
    if (!below.is_number()) summary.refuse("\"below_C\" is no temperature");
    times.open_below = below.get<double>();
    const Json& given = summary.member(opening, "below_given");
    times.open_below_given = given.is_boolean() && given.get<bool>();
    return times;
}

}  // namespace sandfreeze::io
