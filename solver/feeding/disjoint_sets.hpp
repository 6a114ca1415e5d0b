#pragma once
// Sets that grow together: union–find in which the caller decides which root stays.

#include <cstdint>
#include <vector>

namespace sandfreeze::feeding
{

/// Members are numbered from 0 and belong to no set until added.
class DisjointSets
{
public:
    explicit DisjointSets(std::size_t members)
        : parent_(members, -1)
    {
    }

    bool has(std::int32_t member) const { return parent_[member] >= 0; }
    void add(std::int32_t member) { parent_[member] = member; }

    /// The member that stands for the set; shortens the path to it on the way.
    std::int32_t root(std::int32_t member)
    {
        while (parent_[member] != member) {
            parent_[member] = parent_[parent_[member]];
            member = parent_[member];
        }
        return member;
    }

    /// Puts one set under the root of another.
    void join_under(std::int32_t root_that_stays, std::int32_t root_that_goes)
    {
        parent_[root_that_goes] = root_that_stays;
    }

private:
    std::vector<std::int32_t> parent_;
};

}  // namespace sandfreeze::feeding
