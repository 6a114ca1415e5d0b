#include "tools/bench/machine_facts.hpp"

#include <fmt/format.h>

#include <fstream>
#include <thread>

#include "solver/conduction/kernels.hpp"

namespace sandfreeze::bench
{
namespace
{

std::string processor()
{
    std::ifstream facts("/proc/cpuinfo");
    for (std::string line; std::getline(facts, line);) {
        const auto colon = line.find(": ");
        if (line.rfind("model name", 0) == 0 && colon != std::string::npos) return line.substr(colon + 2);
    }
    return "an unknown processor";
}

std::string first_word_of(const char* file)
{
    std::ifstream in(file);
    std::string word;
    return in >> word ? word : "unknown";
}

std::string compiler()
{
#if defined(__clang__)
    return fmt::format("clang {}.{}", __clang_major__, __clang_minor__);
#else
    return fmt::format("gcc {}.{}", __GNUC__, __GNUC_MINOR__);
#endif
}

}  // namespace

std::string machine_facts()
{
    return fmt::format("{}, {} cores, L2 {} each, {} loops, {}; load average of the last minute {}",
                       processor(), std::thread::hardware_concurrency(),
                       first_word_of("/sys/devices/system/cpu/cpu0/cache/index2/size"),
                       conduction::best_kernels<float>().name, compiler(), first_word_of("/proc/loadavg"));
}

}  // namespace sandfreeze::bench
