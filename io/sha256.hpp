#pragma once
// SHA-256 (FIPS 180-4), so that an answer names the exact case it belongs to.

#include <array>
#include <cstdint>
#include <string>
#include <string_view>

namespace sandfreeze::io
{

/// Digest of the bytes as 64 lower-case hexadecimal digits.
std::string sha256(std::string_view bytes);

/// The same of bytes that come piece by piece.
class Sha256
{
public:
    Sha256();
    void add(std::string_view bytes);
    /// Of all that was added; nothing may follow.
    std::string digest();

private:
    std::array<std::uint32_t, 8> state_;
    std::string rest_;  ///< what has yet to make a block
    std::uint64_t length_ = 0;
};

}  // namespace sandfreeze::io
