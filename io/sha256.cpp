#include "io/sha256.hpp"

#include <array>
#include <bit>
#include <cstdint>

// FIPS 180-4, Secure Hash Standard, August 2015: functions of section 4.1.2, constants of 4.2.2, padding of
// 5.1.1, initial value of 5.3.3, computation of 6.2.2.
namespace sandfreeze::io
{

namespace
{

using Word = std::uint32_t;
using State = std::array<Word, 8>;
constexpr std::size_t block_size = 64;  // bytes

constexpr std::array<Word, 64> constants{
    0x428a2f98U, 0x71374491U, 0xb5c0fbcfU, 0xe9b5dba5U, 0x3956c25bU, 0x59f111f1U, 0x923f82a4U, 0xab1c5ed5U,
    0xd807aa98U, 0x12835b01U, 0x243185beU, 0x550c7dc3U, 0x72be5d74U, 0x80deb1feU, 0x9bdc06a7U, 0xc19bf174U,
    0xe49b69c1U, 0xefbe4786U, 0x0fc19dc6U, 0x240ca1ccU, 0x2de92c6fU, 0x4a7484aaU, 0x5cb0a9dcU, 0x76f988daU,
    0x983e5152U, 0xa831c66dU, 0xb00327c8U, 0xbf597fc7U, 0xc6e00bf3U, 0xd5a79147U, 0x06ca6351U, 0x14292967U,
    0x27b70a85U, 0x2e1b2138U, 0x4d2c6dfcU, 0x53380d13U, 0x650a7354U, 0x766a0abbU, 0x81c2c92eU, 0x92722c85U,
    0xa2bfe8a1U, 0xa81a664bU, 0xc24b8b70U, 0xc76c51a3U, 0xd192e819U, 0xd6990624U, 0xf40e3585U, 0x106aa070U,
    0x19a4c116U, 0x1e376c08U, 0x2748774cU, 0x34b0bcb5U, 0x391c0cb3U, 0x4ed8aa4aU, 0x5b9cca4fU, 0x682e6ff3U,
    0x748f82eeU, 0x78a5636fU, 0x84c87814U, 0x8cc70208U, 0x90befffaU, 0xa4506cebU, 0xbef9a3f7U, 0xc67178f2U};

Word big_endian_word(std::string_view block, std::size_t at)
{
    Word word = 0;
    for (std::size_t b = 0; b < 4; ++b)
        word = (word << 8U) | static_cast<unsigned char>(block[at + b]);
    return word;
}

std::array<Word, 64> schedule(std::string_view block)
{
    std::array<Word, 64> w{};
    for (std::size_t t = 0; t < 16; ++t)
        w[t] = big_endian_word(block, 4 * t);
    for (std::size_t t = 16; t < 64; ++t) {
        const Word s0 = std::rotr(w[t - 15], 7) ^ std::rotr(w[t - 15], 18) ^ (w[t - 15] >> 3U);
        const Word s1 = std::rotr(w[t - 2], 17) ^ std::rotr(w[t - 2], 19) ^ (w[t - 2] >> 10U);
        w[t] = s1 + w[t - 7] + s0 + w[t - 16];
    }
    return w;
}

void absorb(State& state, std::string_view block)
{
    const auto w = schedule(block);
    auto [a, b, c, d, e, f, g, h] = state;
    for (std::size_t t = 0; t < 64; ++t) {
        const Word sum1 = std::rotr(e, 6) ^ std::rotr(e, 11) ^ std::rotr(e, 25);
        const Word t1 = h + sum1 + ((e & f) ^ (~e & g)) + constants[t] + w[t];
        const Word sum0 = std::rotr(a, 2) ^ std::rotr(a, 13) ^ std::rotr(a, 22);
        const Word t2 = sum0 + ((a & b) ^ (a & c) ^ (b & c));
        h = g;
        g = f;
        f = e;
        e = d + t1;
        d = c;
        c = b;
        b = a;
        a = t1 + t2;
    }
    const State mixed{a, b, c, d, e, f, g, h};
    for (std::size_t i = 0; i < state.size(); ++i)
        state[i] += mixed[i];
}

/// What is left after the whole blocks, padded to one or two blocks.
std::string last_blocks(std::string_view rest, std::uint64_t length_in_bits)
{
    std::string out(rest);
    out += '\x80';
    out.append((120 - out.size() % 64) % 64, '\0');
    for (int shift = 56; shift >= 0; shift -= 8)
        out += static_cast<char>((length_in_bits >> static_cast<unsigned>(shift)) & 0xFFU);
    return out;
}

}  // namespace

Sha256::Sha256()
    : state_{0x6a09e667U, 0xbb67ae85U, 0x3c6ef372U, 0xa54ff53aU,
             0x510e527fU, 0x9b05688cU, 0x1f83d9abU, 0x5be0cd19U}
{
}

void Sha256::add(std::string_view bytes)
{
    length_ += bytes.size();
    if (!rest_.empty()) {
        const std::string_view missing = bytes.substr(0, block_size - rest_.size());
        rest_ += missing;
        bytes.remove_prefix(missing.size());
        if (rest_.size() < block_size) return;
        absorb(state_, rest_);
        rest_.clear();
    }
    for (; bytes.size() >= block_size; bytes.remove_prefix(block_size))
        absorb(state_, bytes.substr(0, block_size));
    rest_ = bytes;
}

std::string Sha256::digest()
{
    const std::string tail = last_blocks(rest_, 8 * length_);
    for (std::size_t at = 0; at < tail.size(); at += block_size)
        absorb(state_, std::string_view(tail).substr(at, block_size));
    constexpr std::string_view hex = "0123456789abcdef";
    std::string out;
    for (const Word word : state_)
        for (int shift = 28; shift >= 0; shift -= 4)
            out += hex[(word >> static_cast<unsigned>(shift)) & 15U];
    return out;
}

std::string sha256(std::string_view bytes)
{
    Sha256 all;
    all.add(bytes);
    return all.digest();
}

}  // namespace sandfreeze::io
