#include "tools/bench/freeze_times.hpp"

#include <algorithm>
#include <cmath>
#include <filesystem>
#include <fstream>
#include <stdexcept>

#include "io/sha256.hpp"
#include "io/whole_file.hpp"
#include "tools/bench/section.hpp"

namespace sandfreeze::bench
{
namespace
{

double last_of(const std::vector<float>& times)
{
    float last = 0;
    for (const float t : times)
        if (std::isfinite(t)) last = std::max(last, t);
    return static_cast<double>(last);
}

}  // namespace

Distance distance(const std::vector<float>& times, const std::vector<float>& better)
{
    if (times.size() != better.size())
        throw std::runtime_error("freeze times for " + std::to_string(times.size()) +
                                 " voxels cannot be held against those for " + std::to_string(better.size()));
    const double last = last_of(better);
    std::vector<double> errors;
    double squares = 0;
    for (std::size_t q = 0; q < times.size(); ++q) {
        if (!std::isfinite(better[q])) continue;
        const auto t = static_cast<double>(better[q]);
        const double e = std::abs(static_cast<double>(times[q]) - t) / std::max(t, 0.01 * last);
        errors.push_back(e);
        squares += e * e;
    }
    if (errors.empty()) throw std::runtime_error("the reference has no metal that freezes");
    std::sort(errors.begin(), errors.end());
    return {std::sqrt(squares / static_cast<double>(errors.size())), errors[errors.size() * 99 / 100],
            errors.back(), std::abs(last_of(times) - last) / last};
}

void write_times(const std::string& file, const std::vector<float>& times)
{
    io::write_whole(file, {reinterpret_cast<const char*>(times.data()), times.size() * sizeof(float)});
}

std::vector<float> read_times(const std::string& file)
{
    std::ifstream in(file, std::ios::binary | std::ios::ate);
    if (!in) throw std::runtime_error("cannot read " + file);
    std::vector<float> times(static_cast<std::size_t>(in.tellg()) / sizeof(float));
    in.seekg(0);
    in.read(reinterpret_cast<char*>(times.data()),
            static_cast<std::streamsize>(times.size() * sizeof(float)));
    if (!in) throw std::runtime_error("cannot read " + file);
    return times;
}

std::string reference_file(const std::string& voxel_mm)
{
    const std::filesystem::path folder = SANDFREEZE_BENCH_CACHE;
    std::filesystem::create_directories(folder);
    return folder / (voxel_mm + "_mm_" + io::sha256(yardstick_text(voxel_mm)).substr(0, 16) + ".f32");
}

}  // namespace sandfreeze::bench
