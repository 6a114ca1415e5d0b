#pragma once
// Numbers as the page carries them: few bits, zlib, base64. Inside io only, in .cpp files.

#include <cstdint>
#include <span>
#include <string>
#include <vector>

#include "io/json_values.hpp"

namespace sandfreeze::io
{

/// Bytes as zlib packs them, in base64.
std::string packed_text(std::span<const std::uint8_t> bytes);

/// Values in 65535 steps from the least to the largest, NaN as 0xFFFF; each less the one before it, all low
/// bytes before all high bytes. {"low", "high", "packed"}; null where no value is finite.
Json packed_map(std::span<const float> values);

/// Whole numbers likewise, as they are.
std::string packed_numbers(std::span<const std::uint16_t> numbers);

/// Pictures over time in 255 steps of a range, NaN as 255; each less the one before it.
class PackedFrames
{
public:
    PackedFrames(float low, float high);
    void add(std::span<const float> values);
    /// {"low", "high", "packed"}.
    Json json() const;

private:
    float low_;
    float high_;
    std::vector<std::uint8_t> before_;
    std::vector<std::uint8_t> bytes_;
};

}  // namespace sandfreeze::io
