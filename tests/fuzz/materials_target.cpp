// A data file of materials or of contacts of any bytes ends in an entry that is sound, or in a DataError.

#include <cstddef>
#include <cstdint>
#include <string_view>

#include "materials/data_reader.hpp"

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size);

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size)
{
    using namespace sandfreeze::materials;
    const std::string_view text(reinterpret_cast<const char*>(data), size);
    try {
        if (text.find("[contact") != std::string_view::npos)
            (void)read_contacts({"fuzz.toml", text});
        else
            (void)read_entry({"fuzz.toml", text});
    } catch (const DataError&) {
    }
    return 0;
}
