#pragma once
// What machine figures were measured on.

#include <string>

namespace sandfreeze::bench
{

/// Processor, cores, second-level cache, vector width, compiler and how busy the machine is, in one line.
std::string machine_facts();

}  // namespace sandfreeze::bench
