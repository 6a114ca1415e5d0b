#pragma once
// What the machine has, and what a run took of it.

#include <cstdint>

namespace sandfreeze::tools
{

/// Memory that a run may take [bytes]: what is free now, or less where the process is held to less;
/// 0 when the machine does not say.
std::uint64_t memory_to_use();

/// The most memory that this process has held so far [bytes].
std::uint64_t peak_memory();

}  // namespace sandfreeze::tools
