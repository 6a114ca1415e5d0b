#include "solver/feeding/reserve.hpp"

#include <algorithm>
#include <array>

namespace sandfreeze::feeding
{

namespace
{

std::vector<bool> held(const Evidence& evidence, const Balance& balance, double least)
{
    std::vector<bool> holds;
    for (const double missing : missing_though_fed(evidence, balance))
        holds.push_back(missing < least);
    return holds;
}

}  // namespace

std::vector<double> reserves(const Evidence& evidence, const solver::VoxelFields& fields,
                             const Balance& as_it_is)
{
    constexpr std::array more{1.2, 1.5, 2.0, 3.0};
    constexpr std::array less{0.9, 0.8, 0.7, 0.6, 0.5, 0.4, 0.3, 0.2};
    const double least = least_cavity(evidence);
    const std::vector<bool> now = held(evidence, as_it_is, least);
    std::vector<double> reserve(now.size(), 0);
    std::vector<char> open(now.size(), 1);  // whether its answer is still looked for
    const auto any = [&](bool holding) {
        for (std::size_t b = 0; b < now.size(); ++b)
            if (open[b] != 0 && now[b] == holding) return true;
        return false;
    };
    for (std::size_t b = 0; b < now.size(); ++b)
        if (now[b]) reserve[b] = 1;
    for (const double factor : more) {
        if (!any(true)) break;
        const std::vector<bool> then = held(evidence, settle(evidence, fields, factor).balance, least);
        for (std::size_t b = 0; b < now.size(); ++b) {
            if (!now[b] || open[b] == 0) continue;
            if (then[b]) reserve[b] = factor;
            open[b] = then[b] ? 1 : 0;
        }
    }
    for (const double factor : less) {
        if (!any(false)) break;
        const std::vector<bool> then = held(evidence, settle(evidence, fields, factor).balance, least);
        for (std::size_t b = 0; b < now.size(); ++b) {
            if (now[b] || open[b] == 0 || !then[b]) continue;
            reserve[b] = factor;
            open[b] = 0;
        }
    }
    return reserve;
}

}  // namespace sandfreeze::feeding
