#pragma once
// SHA-256 (FIPS 180-4), so that an answer names the exact case it belongs to.

#include <string>
#include <string_view>

namespace sandfreeze::io
{

/// Digest of the bytes as 64 lower-case hexadecimal digits.
std::string sha256(std::string_view bytes);

}  // namespace sandfreeze::io
