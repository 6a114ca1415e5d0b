#include "solver/conduction/rate_bound.hpp"

#include <algorithm>
#include <bit>
#include <cassert>

#include "solver/conduction/kernels.hpp"

namespace sandfreeze::conduction
{

SteepestBetween::SteepestBetween(const PropertyTable& table)
    : table_(table)
{
    if (table.bins == 0) return;
    largest_.push_back(table.slope);
    for (std::size_t width = 1; 2 * width <= table.slope.size(); width *= 2) {
        const std::vector<double>& half = largest_.back();
        std::vector<double> whole;
        for (std::size_t b = 0; b + width < half.size(); ++b)
            whole.push_back(std::max(half[b], half[b + width]));
        largest_.push_back(std::move(whole));
    }
}

double SteepestBetween::operator()(double low, double high) const
{
    if (table_.bins == 0) return table_.slope_below;
    const double from = (low - table_.first) / table_.width;
    const double to = (high - table_.first) / table_.width;
    double steepest = 0;
    if (from < 0) steepest = table_.slope_below;
    if (to >= table_.bins) steepest = std::max(steepest, table_.slope_above);
    if (to < 0 || from >= table_.bins) return steepest;
    const double last = table_.bins - 1.0;
    const auto a = static_cast<std::size_t>(std::clamp(from, 0.0, last));
    const auto b = static_cast<std::size_t>(std::clamp(to, 0.0, last));
    const auto k = static_cast<std::size_t>(std::bit_width(b - a + 1) - 1);
    assert(k < largest_.size());  // low is not above high
    return std::max({steepest, largest_[k][a], largest_[k][b + 1 - (std::size_t{1} << k)]});
}

RateBound::RateBound(const Network& network, const std::vector<PropertyTable>& tables, std::int32_t first,
                     std::int32_t last)
    : pull_(strongest_pull(network, tables))
{
    for (const PropertyTable& table : tables)
        steepest_.emplace_back(table);
    for (std::int32_t from = first; from < last; from += lanes) {
        const std::uint8_t material = network.material[static_cast<std::size_t>(from)];
        double most = 0;
        for (std::int32_t c = from; c < from + lanes; ++c)
            most = std::max(most, pull_[static_cast<std::size_t>(c)] * tables[material].steepest());
        slices_.push_back({most, from, from + lanes, material});
        always_ = std::max(always_, most);
    }
    std::stable_sort(slices_.begin(), slices_.end(),
                     [](const Slice& a, const Slice& b) { return a.most > b.most; });
}

}  // namespace sandfreeze::conduction
