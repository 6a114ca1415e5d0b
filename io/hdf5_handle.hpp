#pragma once
// HDF5 with every handle closed and every call checked. Inside io only.

#include <span>
#include <stdexcept>
#include <string>
#include <string_view>
#include <vector>

#include <hdf5.h>

namespace sandfreeze::io::hdf5
{

/// A call failed; the text is what was tried.
class Failure : public std::runtime_error
{
public:
    using std::runtime_error::runtime_error;
};

/// Throws Failure where HDF5 reports one.
void check(herr_t status, const char* tried);

/// Owns one HDF5 object.
class Handle
{
public:
    using Close = herr_t (*)(hid_t);

    /// Throws Failure where the call that made `id` failed.
    Handle(hid_t id, Close closer, const char* tried);
    ~Handle();
    Handle(Handle&& other) noexcept;
    Handle(const Handle&) = delete;
    Handle& operator=(const Handle&) = delete;
    Handle& operator=(Handle&&) = delete;

    hid_t id() const { return id_; }

private:
    hid_t id_;
    Close close_;
};

/// While it lives, HDF5 prints nothing of its own.
class Quiet
{
public:
    Quiet();
    ~Quiet();
    Quiet(const Quiet&) = delete;
    Quiet& operator=(const Quiet&) = delete;

private:
    H5E_auto2_t function_ = nullptr;
    void* data_ = nullptr;
};

Handle create_group(hid_t parent, const std::string& name);

void write_attribute(hid_t object, const char* name, std::string_view text);
void write_attribute(hid_t object, const char* name, double value);
void write_attribute(hid_t object, const char* name, int value);
void write_attribute(hid_t object, const char* name, std::span<const double> values);

/// For creating a dataset without a note of when: the same answer gives the same bytes.
Handle dataset_properties();

/// Whole datasets in one dimension, without compression, with the attribute `units`.
void write_text(hid_t parent, const char* name, std::string_view text);
void write_names(hid_t parent, const char* name, const std::vector<std::string>& names);
void write_numbers(hid_t parent, const char* name, std::span<const double> values, std::string_view units);

}  // namespace sandfreeze::io::hdf5
