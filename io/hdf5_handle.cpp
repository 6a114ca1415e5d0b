#include "io/hdf5_handle.hpp"

#include <algorithm>
#include <array>
#include <utility>

namespace sandfreeze::io::hdf5
{
namespace
{

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

Handle create_dataset(hid_t parent, const char* name, hid_t type, const Handle& space)
{
    return {H5Dcreate2(parent, name, type, space.id(), H5P_DEFAULT, dataset_properties().id(), H5P_DEFAULT),
            H5Dclose, "create an array"};
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

Handle dataset_properties()
{
    Handle properties(H5Pcreate(H5P_DATASET_CREATE), H5Pclose, "describe an array's storage");
    check(H5Pset_obj_track_times(properties.id(), 0), "describe an array's storage");
    return properties;
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

}  // namespace sandfreeze::io::hdf5
