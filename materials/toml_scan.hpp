#pragma once
// What the TOML library cannot be trusted with is found before it sees the text.

#include <string>
#include <string_view>

namespace sandfreeze::materials
{

/// Something wrong at a place in a text; lines and columns count from 1.
struct TextFault {
    int line = 0;
    int column = 0;
    std::string message;
};

/// The first character that TOML does not allow or that the library cannot be trusted with: control
/// characters, malformed UTF-8, anything beyond ASCII outside quotes and comments; also keys of more than
/// sixteen parts and texts beyond 4 MB. Message empty when there is none.
TextFault scan_toml(std::string_view text);

}  // namespace sandfreeze::materials
