#pragma once
// Chunks as they belong into an HDF5 file. Inside io only.

#include <cstdint>
#include <memory>
#include <span>
#include <vector>

struct z_stream_s;

namespace sandfreeze::io::hdf5
{

/// Does what HDF5's filters shuffle and deflate do, so that their readers undo it. Deflate looks for repeated
/// bytes only: once shuffled, fields hold little else that repeats, and it takes half the time.
class ChunkPacker
{
public:
    ChunkPacker();
    ~ChunkPacker();
    ChunkPacker(const ChunkPacker&) = delete;
    ChunkPacker& operator=(const ChunkPacker&) = delete;

    /// The packed bytes, least significant first in each value; valid until the next call.
    std::span<const unsigned char> pack(std::span<const float> values);
    std::span<const unsigned char> pack(std::span<const std::uint16_t> values);

private:
    std::span<const unsigned char> deflate_shuffled();

    std::unique_ptr<z_stream_s> stream_;
    std::vector<unsigned char> shuffled_;
    std::vector<unsigned char> packed_;
};

}  // namespace sandfreeze::io::hdf5
