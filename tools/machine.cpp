#include "tools/machine.hpp"

#include <sys/resource.h>
#include <unistd.h>

#include <algorithm>
#include <fstream>
#include <limits>
#include <string>

namespace sandfreeze::tools
{

namespace
{

constexpr std::uint64_t no_limit = std::numeric_limits<std::uint64_t>::max();

/// What could be had without swapping.
std::uint64_t available()
{
    std::ifstream facts("/proc/meminfo");
    std::string name;
    std::uint64_t kib = 0;
    for (std::string rest; facts >> name >> kib; std::getline(facts, rest))
        if (name == "MemAvailable:") return kib * 1024;
    const long pages = sysconf(_SC_PHYS_PAGES);
    const long page = sysconf(_SC_PAGE_SIZE);
    if (pages <= 0 || page <= 0) return no_limit;
    return static_cast<std::uint64_t>(pages) * static_cast<std::uint64_t>(page);
}

std::uint64_t process_limit()
{
    struct rlimit limit = {};
    if (getrlimit(RLIMIT_AS, &limit) != 0 || limit.rlim_cur == RLIM_INFINITY) return no_limit;
    return limit.rlim_cur;
}

std::uint64_t number_in(const std::string& file)
{
    std::uint64_t number = 0;
    std::ifstream in(file);
    return in >> number ? number : no_limit;
}

/// What the container has left, where there is one.
std::uint64_t container_limit()
{
    const std::uint64_t most = number_in("/sys/fs/cgroup/memory.max");
    const std::uint64_t used = number_in("/sys/fs/cgroup/memory.current");
    if (most == no_limit || used == no_limit) return most;
    return most > used ? most - used : 1;
}

}  // namespace

std::uint64_t memory_to_use()
{
    const std::uint64_t bytes = std::min({available(), process_limit(), container_limit()});
    return bytes == no_limit ? 0 : bytes;
}

std::uint64_t peak_memory()
{
    struct rusage usage = {};
    if (getrusage(RUSAGE_SELF, &usage) != 0) return 0;
    return static_cast<std::uint64_t>(usage.ru_maxrss) * 1024;  // Linux counts in KiB
}

}  // namespace sandfreeze::tools
