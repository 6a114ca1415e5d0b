// A summary.json of any bytes ends in times of this case, or in a FileError.

#include <cstddef>
#include <cstdint>
#include <cstdlib>
#include <string_view>

#include "io/errors.hpp"
#include "io/solved_times.hpp"

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size);

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size)
{
    using namespace sandfreeze;
    const std::string_view text(reinterpret_cast<const char*>(data), size);
    try {
        const solver::SolvedTimes times = io::read_solved_times(text, "summary.json", "c0ffee");
        for (const auto& time : {times.castings_solid, times.all_solid, times.opening})
            if (time && !(*time >= 0)) std::abort();
    } catch (const io::FileError&) {
    }
    return 0;
}
