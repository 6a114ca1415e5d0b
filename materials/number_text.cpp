#include "materials/number_text.hpp"

#include <array>
#include <charconv>

namespace sandfreeze::materials
{

std::string number_text(double number)
{
    std::array<char, 32> text{};
    const auto end = std::to_chars(text.data(), text.data() + text.size(), number).ptr;
    std::string shortest(text.data(), end);
    // 1e+05 is shorter than 100000, but nobody writes a density like that.
    if (shortest.find('e') == std::string::npos) return shortest;
    std::array<char, 400> plain{};
    const auto fixed =
        std::to_chars(plain.data(), plain.data() + plain.size(), number, std::chars_format::fixed);
    const auto length = fixed.ptr - plain.data();
    return length <= 15 ? std::string(plain.data(), fixed.ptr) : shortest;
}

}  // namespace sandfreeze::materials
