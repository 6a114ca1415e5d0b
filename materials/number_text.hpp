#pragma once
// Numbers in messages and listings.

#include <string>

namespace sandfreeze::materials
{

/// The shortest decimal text that reads back as the same number, such as "660.3".
std::string number_text(double number);

}  // namespace sandfreeze::materials
