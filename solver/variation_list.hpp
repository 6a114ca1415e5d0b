#pragma once
// Internal to the variations of a case: puts the two ends of an input into words.

#include <functional>
#include <string>
#include <string_view>
#include <vector>

#include "solver/variations.hpp"

namespace sandfreeze::solver
{

/// How far an input may be off, and who says so.
struct Range {
    double percent = 0;
    std::string from;
};

/// For ranges that nobody states.
constexpr std::string_view assumed = "assumed";

/// Three figures: "0.056", "350".
std::string figures(double value);

class VariationList
{
public:
    explicit VariationList(const Case& c)
        : case_(c)
    {
    }

    /// An input that is multiplied: `apply` does so to a case, `value` tells what comes of it with its unit;
    /// empty where no single figure does.
    void add_scaled(const std::string& input, const Range& range,
                    const std::function<void(Case&, double factor)>& apply,
                    const std::function<std::string(double factor)>& value = {});
    /// A temperature that may be so many degrees lower or higher.
    void add_degrees(const std::string& input, double now, double lower, double higher,
                     const std::function<void(Case&, double rise)>& apply);

    Variation& back() { return list_.back(); }
    std::vector<Variation> take() { return std::move(list_); }

private:
    const Case& case_;
    std::vector<Variation> list_;
};

/// Adds those of the case's materials, as far as they are of a part that is `seen`.
void vary_materials(const Case& c, const std::vector<bool>& seen, VariationList& list);

}  // namespace sandfreeze::solver
