#pragma once
// Words for people: times, places and names as they stand in the sentences beside the verdicts.

#include <string>
#include <string_view>

#include "mesh/shape.hpp"

namespace sandfreeze::feeding
{

/// Joins texts, literals and views alike.
template <class... Pieces>
std::string words(const Pieces&... pieces)
{
    std::string text;
    (text.append(std::string_view(pieces)), ...);
    return text;
}

/// One decimal at most: "226.4", "230".
std::string number_words(double value);

/// "226.4 s".
std::string seconds_words(double seconds);

/// A volume given in m3, to two or three figures: "0.042 cm3", "1.5 cm3", "143 cm3".
std::string volume_words(double cubic_metres);

/// A place in mm, without the unit: "x 40.5, y 65.5".
std::string place_words(mesh::Place place);

/// "'gate left'".
std::string quoted(std::string_view name);

/// Adds a name to a list: "'a'", "'a' and 'b'".
void add_name(std::string& list, std::string_view name);

/// "at x 40.5, y 65.5 mm in 'web'".
std::string where_words(mesh::Place place, std::string_view part);

}  // namespace sandfreeze::feeding
