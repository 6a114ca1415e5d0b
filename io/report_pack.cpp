#include "io/report_pack.hpp"

#include <zlib.h>

#include <algorithm>
#include <cmath>
#include <limits>
#include <stdexcept>

namespace sandfreeze::io
{
namespace
{

constexpr float wide_steps = 65534;
constexpr std::uint16_t wide_nothing = 65535;
constexpr float narrow_steps = 254;
constexpr std::uint8_t narrow_nothing = 255;

std::string base64(std::span<const std::uint8_t> bytes)
{
    constexpr std::string_view letters = "ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz0123456789+/";
    std::string text;
    text.reserve((bytes.size() + 2) / 3 * 4);
    for (std::size_t n = 0; n < bytes.size(); n += 3) {
        const std::size_t here = std::min<std::size_t>(3, bytes.size() - n);
        std::uint32_t three = 0;
        for (std::size_t b = 0; b < 3; ++b) {
            three = three << 8U | (b < here ? bytes[n + b] : 0U);
        }
        for (std::size_t l = 0; l < 4; ++l) {
            text += l <= here ? letters[three >> (18 - 6 * l) & 63U] : '=';
        }
    }
    return text;
}

/// Steps of the range that a value lies above its low end.
float in_steps(float value, float low, float high, float steps)
{
    return high > low ? std::round(std::clamp((value - low) / (high - low), 0.0F, 1.0F) * steps) : 0.0F;
}

}  // namespace

std::string packed_text(std::span<const std::uint8_t> bytes)
{
    uLongf size = compressBound(bytes.size());
    std::vector<std::uint8_t> packed(size);
    if (compress2(packed.data(), &size, bytes.data(), bytes.size(), Z_DEFAULT_COMPRESSION) != Z_OK) {
        throw std::logic_error("zlib did not finish in the room it asked for");
    }
    return base64(std::span(packed).first(size));
}

std::string packed_numbers(std::span<const std::uint16_t> numbers)
{
    std::vector<std::uint8_t> bytes(2 * numbers.size());
    std::uint16_t before = 0;
    for (std::size_t n = 0; n < numbers.size(); ++n) {
        const auto step = static_cast<std::uint16_t>(numbers[n] - before);
        bytes[n] = static_cast<std::uint8_t>(step & 0xFFU);
        bytes[numbers.size() + n] = static_cast<std::uint8_t>(step >> 8U);
        before = numbers[n];
    }
    return packed_text(bytes);
}

Json packed_map(std::span<const float> values)
{
    float low = std::numeric_limits<float>::infinity();
    float high = -low;
    for (const float value : values) {
        if (std::isfinite(value)) {
            low = std::min(low, value);
            high = std::max(high, value);
        }
    }
    if (low > high) {
        return nullptr;
    }
    std::vector<std::uint16_t> numbers(values.size(), wide_nothing);
    for (std::size_t n = 0; n < values.size(); ++n) {
        if (std::isfinite(values[n])) {
            numbers[n] = static_cast<std::uint16_t>(in_steps(values[n], low, high, wide_steps));
        }
    }
    return {{"low", low}, {"high", high}, {"packed", packed_numbers(numbers)}};
}

PackedFrames::PackedFrames(float low, float high)
    : low_(low)
    , high_(high)
{
}

void PackedFrames::add(std::span<const float> values)
{
    before_.resize(values.size());
    for (std::size_t n = 0; n < values.size(); ++n) {
        const std::uint8_t now =
            std::isfinite(values[n])
                ? static_cast<std::uint8_t>(in_steps(values[n], low_, high_, narrow_steps))
                : narrow_nothing;
        bytes_.push_back(static_cast<std::uint8_t>(now - before_[n]));
        before_[n] = now;
    }
}

Json PackedFrames::json() const
{
    return {{"low", low_}, {"high", high_}, {"packed", packed_text(bytes_)}};
}

}  // namespace sandfreeze::io
