#pragma once
// The metal that hangs on each feeder, and what became of it.

#include <algorithm>
#include <string_view>
#include <vector>

#include "solver/feeding/balance.hpp"

namespace sandfreeze::feeding
{

/// A feeder that serves something, and the metal that hangs on it.
struct Feeding {
    const solver::FeederReport* report = nullptr;
    const solver::DrawDown* draw_down = nullptr;
    std::size_t part = 0;
    std::int32_t body = -1;
    bool has_air = false;
    double served = 0;              ///< casting metal [m3], in the section as solved
    std::vector<MetalId> junction;  ///< casting metal at which other metal joins it
    MetalId most_unfed = nobody;    ///< though the feeder itself still held liquid
    MetalId least_head = nobody;    ///< casting metal on which it presses least
    MetalId hollow = nobody;        ///< emptiest casting metal that had a way to it
    double hollowed = 0;            ///< [m3], likewise
};

/// Feeders that serve something and whose body's source lies in them; report order. Refers to `answer`, of
/// which it reads feeders and shrinkage.
std::vector<Feeding> gather_feedings(const Evidence& evidence, const Balance& balance,
                                     const solver::Answer& answer);

/// The report of that name; null where there is none.
template <class Report>
const Report* named(const std::vector<Report>& reports, std::string_view name)
{
    const auto found =
        std::find_if(reports.begin(), reports.end(), [&](const Report& r) { return r.name == name; });
    return found == reports.end() ? nullptr : &*found;
}

}  // namespace sandfreeze::feeding
