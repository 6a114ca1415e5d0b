// Any bytes end in a tree or in one problem with a place in the text; a tree can be written and read back.

#include <algorithm>
#include <cstddef>
#include <cstdint>
#include <cstdlib>
#include <string>
#include <string_view>
#include <variant>

#include "io/toml_reader.hpp"

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size);

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size)
{
    using namespace sandfreeze::io;
    const std::string_view text(reinterpret_cast<const char*>(data), size);
    const auto tree = read_toml(text);
    if (const auto* problem = std::get_if<Problem>(&tree)) {
        const auto lines = 1 + std::count(text.begin(), text.end(), '\n');
        if (problem->message.empty() || problem->line < 1 || problem->line > lines + 1) std::abort();
        (void)InputError("fuzz.toml", text, {*problem});
        return 0;
    }
    (void)toml_text(std::get<TomlValue>(tree));
    (void)toml_text(std::get<TomlValue>(tree), 48);
    return 0;
}
