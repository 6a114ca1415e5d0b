#include "solver/feeding/sentences.hpp"

#include <array>
#include <charconv>
#include <cmath>

namespace sandfreeze::feeding
{

std::string number_words(double value)
{
    if (!std::isfinite(value)) return "unknown";
    const double rounded = std::round(value * 10) / 10;
    const int decimals = rounded == std::round(rounded) ? 0 : 1;
    std::array<char, 400> text{};  // the longest double, written out, has 309 digits
    const auto end = std::to_chars(text.data(), text.data() + text.size(), rounded + 0.0,
                                   std::chars_format::fixed, decimals);
    return {text.data(), end.ptr};
}

std::string seconds_words(double seconds)
{
    return words(number_words(seconds), " s");
}

std::string volume_words(double cubic_metres)
{
    const double cm3 = cubic_metres * 1e6;
    if (!std::isfinite(cm3)) return "unknown";
    const double size = std::abs(cm3);
    const int decimals = size >= 100 || size == 0 ? 0 : size >= 0.995 ? 1 : size >= 0.0995 ? 2 : 3;
    std::array<char, 400> text{};
    const auto end =
        std::to_chars(text.data(), text.data() + text.size(), cm3, std::chars_format::fixed, decimals);
    return words(std::string_view(text.data(), static_cast<std::size_t>(end.ptr - text.data())), " cm3");
}

std::string place_words(mesh::Place place)
{
    std::string text = words("x ", number_words(place.x * 1000), ", y ", number_words(place.y * 1000));
    if (place.has_height()) text += words(", z ", number_words(place.z * 1000));
    return text;
}

std::string quoted(std::string_view name)
{
    return words("'", name, "'");
}

void add_name(std::string& list, std::string_view name)
{
    if (!list.empty()) list += " and ";
    list += quoted(name);
}

std::string where_words(mesh::Place place, std::string_view part)
{
    return words("at ", place_words(place), " mm in ", quoted(part));
}

}  // namespace sandfreeze::feeding
