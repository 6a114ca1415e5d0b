#pragma once
// Arrays that start on a cache line.

#include <cstddef>
#include <new>
#include <vector>

namespace sandfreeze::conduction
{

template <class T>
struct CacheLineAllocator {
    using value_type = T;
    static constexpr std::align_val_t line{64};

    CacheLineAllocator() = default;
    template <class U>
    CacheLineAllocator(const CacheLineAllocator<U>&)
    {
    }
    T* allocate(std::size_t n) { return static_cast<T*>(::operator new(n * sizeof(T), line)); }
    void deallocate(T* p, std::size_t) { ::operator delete(p, line); }
    template <class U>
    bool operator==(const CacheLineAllocator<U>&) const
    {
        return true;
    }
};

template <class T>
using AlignedVector = std::vector<T, CacheLineAllocator<T>>;

}  // namespace sandfreeze::conduction
