#include "io/hdf5_packer.hpp"

#include <bit>
#include <new>
#include <stdexcept>
#include <type_traits>

#include <zlib.h>

namespace sandfreeze::io::hdf5
{
namespace
{

/// The lowest bytes of all values, then the next: bytes of one kind resemble each other.
template <class Value>
void shuffle(std::span<const Value> values, std::vector<unsigned char>& bytes)
{
    using Bits = std::conditional_t<sizeof(Value) == 4, std::uint32_t, std::uint16_t>;
    bytes.resize(values.size_bytes());
    for (std::size_t b = 0; b < sizeof(Value); ++b) {
        unsigned char* plane = bytes.data() + b * values.size();
        for (std::size_t k = 0; k < values.size(); ++k)
            plane[k] = static_cast<unsigned char>(std::bit_cast<Bits>(values[k]) >> (8 * b));
    }
}

}  // namespace

ChunkPacker::ChunkPacker()
    : stream_(std::make_unique<z_stream>())
{
    constexpr int window_bits = 15;
    constexpr int memory_level = 8;
    if (deflateInit2(stream_.get(), 1, Z_DEFLATED, window_bits, memory_level, Z_RLE) != Z_OK)
        throw std::bad_alloc();
}

ChunkPacker::~ChunkPacker()
{
    deflateEnd(stream_.get());
}

std::span<const unsigned char> ChunkPacker::pack(std::span<const float> values)
{
    shuffle(values, shuffled_);
    return deflate_shuffled();
}

std::span<const unsigned char> ChunkPacker::pack(std::span<const std::uint16_t> values)
{
    shuffle(values, shuffled_);
    return deflate_shuffled();
}

std::span<const unsigned char> ChunkPacker::deflate_shuffled()
{
    deflateReset(stream_.get());
    packed_.resize(deflateBound(stream_.get(), shuffled_.size()));
    stream_->next_in = shuffled_.data();
    stream_->avail_in = static_cast<uInt>(shuffled_.size());
    stream_->next_out = packed_.data();
    stream_->avail_out = static_cast<uInt>(packed_.size());
    if (deflate(stream_.get(), Z_FINISH) != Z_STREAM_END)
        throw std::logic_error("zlib did not finish in the room it asked for");
    return {packed_.data(), packed_.size() - stream_->avail_out};
}

}  // namespace sandfreeze::io::hdf5
