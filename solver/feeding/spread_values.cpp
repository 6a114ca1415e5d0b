#include "solver/feeding/spread_values.hpp"

namespace sandfreeze::feeding
{

std::optional<double> Spread::value_at(double share)
{
    if (entries_.empty()) return {};
    std::sort(entries_.begin(), entries_.end(), [](const Entry& a, const Entry& b) {
        return a.value != b.value ? a.value < b.value : a.at < b.at;
    });
    double below = 0;
    for (const Entry& entry : entries_) {
        below += entry.volume;
        if (below >= share * volume_) return entry.value;
    }
    return entries_.back().value;
}

double Spread::percent_below(double value) const
{
    double below = 0;
    for (const Entry& entry : entries_)
        if (entry.value < value) below += entry.volume;
    return volume_ > 0 ? 100 * below / volume_ : 0;
}

std::optional<Spread::Entry> Spread::least() const
{
    std::optional<Entry> found;
    for (const Entry& entry : entries_)
        if (entry.has_gradient && (!found || entry.value < found->value)) found = entry;
    return found;
}

std::optional<Spread::Entry> Spread::most() const
{
    std::optional<Entry> found;
    for (const Entry& entry : entries_)
        if (entry.has_gradient && (!found || entry.value > found->value)) found = entry;
    return found;
}

}  // namespace sandfreeze::feeding
