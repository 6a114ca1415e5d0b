#include "solver/feeding/reserve.hpp"

#include <algorithm>
#include <array>
#include <map>

namespace sandfreeze::feeding
{

namespace
{

constexpr std::array multiples{0.2, 0.3, 0.4, 0.5, 0.6, 0.7, 0.8, 0.9, 1.0, 1.2, 1.5, 2.0, 3.0};
constexpr std::size_t as_it_is_at = 8;

/// Whether each body holds with a multiple of the shrinkage; struck once a multiple.
class Trials
{
public:
    Trials(const Evidence& evidence, const solver::VoxelFields& fields, const Settlement& as_it_is)
        : evidence_(evidence)
        , fields_(fields)
        , pools_(as_it_is.pools)
        , least_(least_cavity(evidence))
    {
        held_[as_it_is_at] = held(as_it_is.balance);
    }

    bool holds(std::size_t multiple, std::size_t body)
    {
        auto found = held_.find(multiple);
        if (found == held_.end()) {
            const Contraction contraction(evidence_, fields_.below_liquidus, fields_.arrival,
                                          multiples[multiple]);
            const Balance balance = follow_metal(evidence_, pools_, contraction, Slicing::coarse);
            found = held_.emplace(multiple, held(balance)).first;
        }
        return found->second[body];
    }

private:
    std::vector<bool> held(const Balance& balance) const
    {
        std::vector<bool> holds;
        for (const double missing : missing_though_fed(evidence_, balance))
            holds.push_back(missing < least_);
        return holds;
    }

    const Evidence& evidence_;
    const solver::VoxelFields& fields_;
    const PoolTree& pools_;
    double least_;
    std::map<std::size_t, std::vector<bool>> held_;
};

/// The highest multiple with which a body holds, by halving.
double reserve_of(std::size_t body, Trials& trials)
{
    const bool enough = trials.holds(as_it_is_at, body);
    std::size_t low = enough ? as_it_is_at + 1 : 0;  // the first that may not hold
    std::size_t high = enough ? multiples.size() : as_it_is_at;
    while (low < high) {
        const std::size_t middle = (low + high) / 2;
        if (trials.holds(middle, body))
            low = middle + 1;
        else
            high = middle;
    }
    return low > 0 ? multiples[low - 1] : 0;
}

}  // namespace

std::vector<double> reserves(const Evidence& evidence, const solver::VoxelFields& fields,
                             const Settlement& as_it_is)
{
    Trials trials(evidence, fields, as_it_is);
    std::vector<double> reserve(evidence.bodies.list.size());
    for (std::size_t body = 0; body < reserve.size(); ++body)
        reserve[body] = reserve_of(body, trials);
    return reserve;
}

}  // namespace sandfreeze::feeding
