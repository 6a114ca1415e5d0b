#include "io/hdf5_images.hpp"

#include <algorithm>
#include <cmath>
#include <cstddef>
#include <limits>
#include <type_traits>

namespace sandfreeze::io::hdf5
{
namespace
{

/// Chunks small enough that one place's history, or one frame, is read without touching most of the file, and
/// that most of them hold no metal.
constexpr hsize_t largest_chunk_side = 128;

/// Chunks of nearly one size, so that little hangs over the edge.
hsize_t chunk_side(hsize_t side)
{
    const hsize_t chunks = (side + largest_chunk_side - 1) / largest_chunk_side;
    return (side + chunks - 1) / chunks;
}

struct Types {
    hid_t in_file;
    hid_t in_memory;
};

template <class Value>
Types types()
{
    if constexpr (std::is_floating_point_v<Value>)
        return {H5T_IEEE_F32LE, H5T_NATIVE_FLOAT};
    else
        return {H5T_STD_U16LE, H5T_NATIVE_UINT16};
}

template <class Value>
bool is_something(Value value)
{
    if constexpr (std::is_floating_point_v<Value>)
        return !std::isnan(value);
    else
        return value != 0;
}

template <class Value>
constexpr Value nothing()
{
    return std::numeric_limits<Value>::quiet_NaN();  // 0 for indices
}

Handle space_of(std::span<const hsize_t> shape)
{
    return {H5Screate_simple(static_cast<int>(shape.size()), shape.data(), nullptr), H5Sclose,
            "describe an array"};
}

std::vector<hsize_t> joined(std::span<const hsize_t> counts, ImageShape image)
{
    std::vector<hsize_t> shape(counts.begin(), counts.end());
    shape.insert(shape.end(), {image.ny, image.nx});
    return shape;
}

template <class Value>
Handle create(hid_t parent, const char* name, std::span<const hsize_t> shape, std::span<const hsize_t> chunk)
{
    const Handle properties = dataset_properties();
    const Value blank = nothing<Value>();
    check(H5Pset_chunk(properties.id(), static_cast<int>(chunk.size()), chunk.data()), "set the chunks");
    check(H5Pset_shuffle(properties.id()), "set the compression");
    check(H5Pset_deflate(properties.id(), 1), "set the compression");
    check(H5Pset_fill_value(properties.id(), types<Value>().in_memory, &blank), "set the filling");
    return {H5Dcreate2(parent, name, types<Value>().in_file, space_of(shape).id(), H5P_DEFAULT,
                       properties.id(), H5P_DEFAULT),
            H5Dclose, "create an array"};
}

}  // namespace

template <class Value>
Images<Value>::Images(hid_t parent, const char* name, std::span<const hsize_t> counts, ImageShape shape,
                      std::string_view units)
    : shape_(shape)
    , chunk_{chunk_side(shape.nx), chunk_side(shape.ny)}
    , counts_(counts.begin(), counts.end())
    , dataset_(create<Value>(parent, name, joined(counts, shape),
                             joined(std::vector<hsize_t>(counts.size(), 1), chunk_)))
{
    write_attribute(dataset_.id(), "units", units);
}

/// Takes the values of the chunk there; false where it holds nothing.
template <class Value>
bool Images<Value>::gather(std::span<const Value> values, hsize_t left, hsize_t bottom)
{
    const hsize_t width = std::min(chunk_.nx, shape_.nx - left);
    const hsize_t height = std::min(chunk_.ny, shape_.ny - bottom);
    gathered_.assign(chunk_.nx * chunk_.ny, nothing<Value>());
    bool something = false;
    for (hsize_t j = 0; j < height; ++j) {
        const Value* row = values.data() + (bottom + j) * shape_.nx + left;
        std::copy(row, row + width, gathered_.begin() + static_cast<std::ptrdiff_t>(j * chunk_.nx));
        something = something || std::any_of(row, row + width, is_something<Value>);
    }
    return something;
}

template <class Value>
void Images<Value>::write(std::span<const Value> values, hsize_t image)
{
    std::vector<hsize_t> place(counts_.size() + 2);
    for (std::size_t d = counts_.size(); d-- > 0; image /= counts_[d])
        place[d] = image % counts_[d];
    for (hsize_t bottom = 0; bottom < shape_.ny; bottom += chunk_.ny)
        for (hsize_t left = 0; left < shape_.nx; left += chunk_.nx) {
            if (!gather(values, left, bottom)) continue;
            const std::span<const unsigned char> bytes = packer_.pack(gathered_);
            place[counts_.size()] = bottom;
            place[counts_.size() + 1] = left;
            constexpr std::uint32_t all_filters = 0;
            check(H5Dwrite_chunk(dataset_.id(), H5P_DEFAULT, all_filters, place.data(), bytes.size(),
                                 bytes.data()),
                  "write an array");
        }
}

template class Images<float>;
template class Images<std::uint16_t>;

}  // namespace sandfreeze::io::hdf5
