// A case file of any bytes ends in a case or in an InputError. What is read is also painted (the reader
// itself does, on few voxels here), and its echo reads back to the same values.

#include <algorithm>
#include <cstddef>
#include <cstdint>
#include <cstdlib>
#include <string>
#include <string_view>

#include "io/case_file.hpp"

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size);

namespace
{

using namespace sandfreeze::io;

constexpr ReadOptions small_machine{200'000};  // some eight hundred voxels

bool has(const CaseFile& file, const Setting& wanted)
{
    return std::any_of(file.settings.begin(), file.settings.end(), [&](const Setting& s) {
        return s.table == wanted.table && s.item == wanted.item && s.key == wanted.key &&
               s.value == wanted.value;
    });
}

}  // namespace

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size)
{
    const std::string_view text(reinterpret_cast<const char*>(data), size);
    CaseFile read;
    try {
        read = read_case(text, "case.toml", small_machine);
    } catch (const InputError&) {
        return 0;
    }
    if (size % 4 != 0) return 0;  // reading it again takes as long
    const CaseFile again = read_case(case_echo(read), "echo.toml", small_machine);
    for (const Setting& setting : read.settings)
        if (!setting.value.empty() && !has(again, setting)) std::abort();
    return 0;
}
