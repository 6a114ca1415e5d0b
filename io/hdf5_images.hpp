#pragma once
// Datasets of images in compressed chunks. Inside io only.

#include <cstdint>
#include <span>
#include <string_view>
#include <vector>

#include "io/hdf5_handle.hpp"
#include "io/hdf5_packer.hpp"

namespace sandfreeze::io::hdf5
{

struct ImageShape {
    hsize_t nx = 0;
    hsize_t ny = 0;
};

/// A dataset of images of floats (NaN where nothing is written) or of indices (0 there).
template <class Value>
class Images
{
public:
    /// A dataset of shape (counts …, y, x), with the attribute `units`; one image where there are no counts.
    Images(hid_t parent, const char* name, std::span<const hsize_t> counts, ImageShape shape,
           std::string_view units);

    hid_t id() const { return dataset_.id(); }
    /// Writes an image, order of one level; images count with the last of the counts running fastest. Chunks
    /// that hold nothing take neither time nor room in the file.
    void write(std::span<const Value> values, hsize_t image = 0);

private:
    bool gather(std::span<const Value> values, hsize_t left, hsize_t bottom);

    ImageShape shape_;
    ImageShape chunk_;
    std::vector<hsize_t> counts_;
    Handle dataset_;
    ChunkPacker packer_;
    std::vector<Value> gathered_;  ///< a chunk's values
};

}  // namespace sandfreeze::io::hdf5
