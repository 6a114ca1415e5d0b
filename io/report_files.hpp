#pragma once
// The page's own files of io/report, compiled in. Inside io only.

#include <string>
#include <string_view>

namespace sandfreeze::io
{

std::string_view report_skeleton();  ///< with places for the three others
std::string_view report_style();
std::string report_script();  ///< all scripts, one after the other

}  // namespace sandfreeze::io
