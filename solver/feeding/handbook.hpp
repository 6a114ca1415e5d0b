#pragma once
// Rules of thumb for feeders, to stand beside what is computed.

#include <optional>
#include <string>

#include "solver/feeding/fed_metal.hpp"

namespace sandfreeze::feeding
{

/// Share of its volume that a feeder can give by the usual rule of thumb (Campbell, Castings; Wlodawer; from
/// memory).
enum class FeederKind { open_in_sand, domed, sleeved };
double handbook_efficiency(FeederKind kind);

/// Volume of a feeder that has to give `efficiency` of itself for the shrinkage of itself and of what it
/// feeds: shrinkage × fed / (efficiency − shrinkage); empty where no feeder would do. Any unit.
std::optional<double> handbook_volume(double fed, double shrinkage, double efficiency);

/// The modulus that a feeder should have, times that of what it feeds (Wlodawer; from memory).
constexpr double handbook_modulus_ratio = 1.2;

/// What the moduli say, and which to believe where that differs from `holds`, what the times say; empty where
/// there is no modulus.
std::string handbook_modulus_words(const Feeding& f, const solver::Answer& answer, bool holds);

/// The same of how much the feeder has to hold.
std::string handbook_volume_words(const Evidence& evidence, const Feeding& f, const solver::Answer& answer,
                                  bool holds);

}  // namespace sandfreeze::feeding
