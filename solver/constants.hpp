#pragma once
// Constants of nature that more than one folder reckons with.

namespace sandfreeze::solver
{

constexpr double atmosphere = 101325;  ///< [Pa]
constexpr double gravity = 9.81;       ///< [m/s2]

}  // namespace sandfreeze::solver
