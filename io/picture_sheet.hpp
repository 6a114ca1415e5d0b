#pragma once
// What pictures of sections have in common: sizes of a sheet [px]. Inside io only.

namespace sandfreeze::io
{

namespace section_sheet
{
constexpr double margin = 24;
constexpr double heading_room = 62;
constexpr double sheet_width = 1200;
constexpr double most_plot_height = 1000;
}  // namespace section_sheet

}  // namespace sandfreeze::io
