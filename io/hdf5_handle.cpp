#include "io/hdf5_handle.hpp"

#include <algorithm>
#include <array>
#include <utility>

namespace sandfreeze::io::hdf5
{
namespace
{

/// Chunks small enough that one place's history, or one frame, is read without touching most of the file.
constexpr hsize_t largest_chunk_side = 256;

Handle utf8_text_type(std::size_t size)
{
    Handle type(H5Tcopy(H5T_C_S1), H5Tclose, "describe a text");
    check(H5Tset_size(type.id(), size), "describe a text");
    check(H5Tset_cset(type.id(), H5T_CSET_UTF8), "describe a text");
    return type;
}

Handle scalar_space()
{
    return {H5Screate(H5S_SCALAR), H5Sclose, "describe a single value"};
}

Handle space_of(std::span<const hsize_t> shape)
{
    return {H5Screate_simple(static_cast<int>(shape.size()), shape.data(), nullptr), H5Sclose,
            "describe an array"};
}

Handle create_dataset(hid_t parent, const char* name, hid_t type, const Handle& space,
                      hid_t properties = H5P_DEFAULT)
{
    return {H5Dcreate2(parent, name, type, space.id(), H5P_DEFAULT, properties, H5P_DEFAULT), H5Dclose,
            "create an array"};
}

void write_attribute(hid_t object, const char* name, hid_t type, const Handle& space, const void* value)
{
    const Handle attribute(H5Acreate2(object, name, type, space.id(), H5P_DEFAULT, H5P_DEFAULT), H5Aclose,
                           "create an attribute");
    check(H5Awrite(attribute.id(), type, value), "write an attribute");
}

void write_dataset(const Handle& dataset, hid_t type, const void* values)
{
    check(H5Dwrite(dataset.id(), type, H5S_ALL, H5S_ALL, H5P_DEFAULT, values), "write an array");
}

}  // namespace

void check(herr_t status, const char* tried)
{
    if (status < 0) {
        throw Failure(tried);
    }
}

Handle::Handle(hid_t id, Close closer, const char* tried)
    : id_(id)
    , close_(closer)
{
    if (id < 0) {
        throw Failure(tried);
    }
}

Handle::Handle(Handle&& other) noexcept
    : id_(std::exchange(other.id_, -1))
    , close_(other.close_)
{
}

Handle::~Handle()
{
    if (id_ >= 0) {
        close_(id_);
    }
}

Quiet::Quiet()
{
    H5Eget_auto2(H5E_DEFAULT, &function_, &data_);
    H5Eset_auto2(H5E_DEFAULT, nullptr, nullptr);
}

Quiet::~Quiet()
{
    H5Eset_auto2(H5E_DEFAULT, function_, data_);
}

Handle create_file_in_memory()
{
    constexpr std::size_t growth = std::size_t{8} << 20U;
    const Handle access(H5Pcreate(H5P_FILE_ACCESS), H5Pclose, "describe the file");
    check(H5Pset_fapl_core(access.id(), growth, 0), "keep the file in memory");
    return {H5Fcreate("unnamed", H5F_ACC_TRUNC, H5P_DEFAULT, access.id()), H5Fclose, "create the file"};
}

std::string_view bytes_of(const Handle& file)
{
    check(H5Fflush(file.id(), H5F_SCOPE_GLOBAL), "finish the file");
    // Not H5Fget_filesize: that counts the room kept for growth.
    const ssize_t size = H5Fget_file_image(file.id(), nullptr, 0);
    check(size < 0 ? -1 : 0, "find the file's size");
    void* bytes = nullptr;
    check(H5Fget_vfd_handle(file.id(), H5P_DEFAULT, &bytes), "find the file's bytes");
    return {*static_cast<const char**>(bytes), static_cast<std::size_t>(size)};
}

Handle create_group(hid_t parent, const std::string& name)
{
    return {H5Gcreate2(parent, name.c_str(), H5P_DEFAULT, H5P_DEFAULT, H5P_DEFAULT), H5Gclose,
            "create a group"};
}

void write_attribute(hid_t object, const char* name, std::string_view text)
{
    const std::string terminated(text);
    const char* const start = terminated.c_str();
    write_attribute(object, name, utf8_text_type(H5T_VARIABLE).id(), scalar_space(), &start);
}

void write_attribute(hid_t object, const char* name, double value)
{
    write_attribute(object, name, H5T_NATIVE_DOUBLE, scalar_space(), &value);
}

void write_attribute(hid_t object, const char* name, int value)
{
    write_attribute(object, name, H5T_NATIVE_INT, scalar_space(), &value);
}

void write_attribute(hid_t object, const char* name, std::span<const double> values)
{
    const std::array<hsize_t, 1> shape{values.size()};
    write_attribute(object, name, H5T_NATIVE_DOUBLE, space_of(shape), values.data());
}

void write_text(hid_t parent, const char* name, std::string_view text)
{
    const std::string terminated(text);
    const char* const start = terminated.c_str();
    const Handle type = utf8_text_type(H5T_VARIABLE);
    write_dataset(create_dataset(parent, name, type.id(), scalar_space()), type.id(), &start);
}

void write_names(hid_t parent, const char* name, const std::vector<std::string>& names)
{
    std::vector<const char*> pointers(names.size());
    std::transform(names.begin(), names.end(), pointers.begin(),
                   [](const std::string& n) { return n.c_str(); });
    const std::array<hsize_t, 1> shape{names.size()};
    const Handle type = utf8_text_type(H5T_VARIABLE);
    write_dataset(create_dataset(parent, name, type.id(), space_of(shape)), type.id(), pointers.data());
}

void write_numbers(hid_t parent, const char* name, std::span<const double> values, std::string_view units)
{
    const std::array<hsize_t, 1> shape{values.size()};
    const Handle dataset = create_dataset(parent, name, H5T_IEEE_F64LE, space_of(shape));
    write_dataset(dataset, H5T_NATIVE_DOUBLE, values.data());
    write_attribute(dataset.id(), "units", units);
}

Handle create_chunked(hid_t parent, const char* name, hid_t type, std::span<const hsize_t> shape,
                      std::string_view units)
{
    std::vector<hsize_t> chunk(shape.size(), 1);
    for (std::size_t d = shape.size() - 2; d < shape.size(); ++d) {
        chunk[d] = std::min(shape[d], largest_chunk_side);
    }
    const Handle properties(H5Pcreate(H5P_DATASET_CREATE), H5Pclose, "describe an array's storage");
    check(H5Pset_chunk(properties.id(), static_cast<int>(chunk.size()), chunk.data()), "set the chunks");
    check(H5Pset_shuffle(properties.id()), "set the compression");
    check(H5Pset_deflate(properties.id(), 1), "set the compression");
    check(H5Pset_fill_time(properties.id(), H5D_FILL_TIME_NEVER), "set the filling");
    Handle dataset = create_dataset(parent, name, type, space_of(shape), properties.id());
    write_attribute(dataset.id(), "units", units);
    return dataset;
}

void write_all(const Handle& dataset, std::span<const float> values)
{
    write_dataset(dataset, H5T_NATIVE_FLOAT, values.data());
}

void write_all(const Handle& dataset, std::span<const std::uint16_t> values)
{
    write_dataset(dataset, H5T_NATIVE_UINT16, values.data());
}

void write_frame(const Handle& dataset, hsize_t frame, std::span<const float> values)
{
    const Handle space(H5Dget_space(dataset.id()), H5Sclose, "find an array's shape");
    std::array<hsize_t, 3> count{};
    check(H5Sget_simple_extent_dims(space.id(), count.data(), nullptr), "find an array's shape");
    count[0] = 1;
    const std::array<hsize_t, 3> start{frame, 0, 0};
    check(H5Sselect_hyperslab(space.id(), H5S_SELECT_SET, start.data(), nullptr, count.data(), nullptr),
          "choose a frame");
    const Handle memory = space_of(count);
    check(H5Dwrite(dataset.id(), H5T_NATIVE_FLOAT, memory.id(), space.id(), H5P_DEFAULT, values.data()),
          "write a frame");
}

}  // namespace sandfreeze::io::hdf5
