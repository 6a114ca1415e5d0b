#include "io/state_file.hpp"

#include <fcntl.h>
#include <unistd.h>

#include <cerrno>
#include <cstddef>
#include <optional>
#include <string>
#include <utility>
#include <vector>

#include "io/errors.hpp"
#include "io/hdf5_disk.hpp"
#include "io/hdf5_handle.hpp"
#include "io/sha256.hpp"
#include "io/whole_file.hpp"

namespace sandfreeze::io
{
namespace
{

using hdf5::Handle;
using solver::NumberType;

constexpr std::size_t seal_size = 512;  // bytes, the least that HDF5 leaves free

std::string seal_up_to_digest(std::uint64_t length)
{
    return "sandfreeze state, format 1\nbytes after this block: " + std::to_string(length) +
           "\nSHA-256 of them: ";
}

/// The block in front. It has no byte that could be any other.
std::string seal(std::uint64_t length, const std::string& digest)
{
    std::string text = seal_up_to_digest(length) + digest + "\n";
    text.resize(seal_size, '\0');
    return text;
}

/// Whether the bytes begin with the block that fits what follows; what is of another length is not summed up.
bool has_its_seal(std::string_view bytes)
{
    const std::string_view rest = bytes.substr(seal_size);
    return bytes.starts_with(seal_up_to_digest(rest.size())) &&
           bytes.starts_with(seal(rest.size(), sha256(rest)));
}

hid_t in_memory(NumberType type)
{
    switch (type) {
    case NumberType::float64:
        return H5T_NATIVE_DOUBLE;
    case NumberType::float32:
        return H5T_NATIVE_FLOAT;
    case NumberType::int32:
        return H5T_NATIVE_INT32;
    case NumberType::uint64:
        return H5T_NATIVE_UINT64;
    case NumberType::uint32:
        return H5T_NATIVE_UINT32;
    case NumberType::uint16:
        return H5T_NATIVE_UINT16;
    default:
        return H5T_NATIVE_UINT8;
    }
}

void write_array(hid_t file, const solver::StateArray& array)
{
    const hsize_t count = array.count();
    const Handle space(H5Screate_simple(1, &count, nullptr), H5Sclose, "describe an array");
    const hid_t type = in_memory(array.type);
    const Handle set(H5Dcreate2(file, array.name.c_str(), type, space.id(), H5P_DEFAULT,
                                hdf5::dataset_properties().id(), H5P_DEFAULT),
                     H5Dclose, "create an array");
    if (count > 0)
        hdf5::check(H5Dwrite(set.id(), type, H5S_ALL, H5S_ALL, H5P_DEFAULT, array.values.data()),
                    "write an array");
}

/// A file that is closed on every way out.
class Descriptor
{
public:
    Descriptor(const std::filesystem::path& path, int flags)
        : number_(::open(path.c_str(), flags | O_CLOEXEC))
    {
    }
    ~Descriptor()
    {
        if (number_ >= 0) ::close(number_);
    }
    Descriptor(const Descriptor&) = delete;
    Descriptor& operator=(const Descriptor&) = delete;

    /// Gives each piece of what follows `from` to `take`; whether all could be read.
    template <class Take>
    bool each_piece(off_t from, const Take& take) const
    {
        std::string piece(1U << 20U, '\0');
        for (;;) {
            const ssize_t read = ::pread(number_, piece.data(), piece.size(), from);
            if (read < 0 && errno == EINTR) continue;
            if (read < 0) return false;
            if (read == 0) return true;
            take(std::string_view(piece).substr(0, static_cast<std::size_t>(read)));
            from += read;
        }
    }
    bool write_at_start(std::string_view bytes) const
    {
        off_t at = 0;
        while (!bytes.empty()) {
            const ssize_t written = ::pwrite(number_, bytes.data(), bytes.size(), at);
            if (written < 0 && errno == EINTR) continue;
            if (written < 0) return false;
            bytes.remove_prefix(static_cast<std::size_t>(written));
            at += written;
        }
        return true;
    }
    bool is_open() const { return number_ >= 0; }

private:
    int number_;
};

/// Fills in the block in front. Errno where it fails, else 0.
int put_seal(const std::filesystem::path& path)
{
    const Descriptor file(path, O_RDWR);
    if (!file.is_open()) return errno;
    Sha256 sum;
    std::uint64_t length = 0;
    const bool read = file.each_piece(seal_size, [&](std::string_view piece) {
        sum.add(piece);
        length += piece.size();
    });
    return read && file.write_at_start(seal(length, sum.digest())) ? 0 : errno;
}

FileError cannot_read(const std::filesystem::path& file, int error_number, const char* way_out)
{
    return {file.string(), "go on from", error_number, way_out};
}

std::string bytes_of(const std::filesystem::path& path)
{
    const Descriptor file(path, O_RDONLY);
    std::string all;
    if (!file.is_open() || !file.each_piece(0, [&](std::string_view piece) { all += piece; }))
        throw cannot_read(path, errno, "check that you may read it, and the disk that it is on");
    return all;
}

void check_seal(const std::filesystem::path& path, std::string_view bytes)
{
    const char* problem = nullptr;
    if (bytes.size() < seal_size)
        problem = "it is damaged: it ends too early";
    else if (!has_its_seal(bytes))
        problem = "it is damaged: its checksum does not fit what it holds";
    if (problem != nullptr) throw cannot_read(path, 0, problem);
}

/// Opens the bytes as a file.
Handle open_image(std::string& bytes)
{
    const Handle access(H5Pcreate(H5P_FILE_ACCESS), H5Pclose, "describe the file");
    hdf5::check(H5Pset_fapl_core(access.id(), std::size_t{1} << 20U, 0), "describe the file");
    hdf5::check(H5Pset_file_image(access.id(), bytes.data(), bytes.size()), "take the file's bytes");
    return {H5Fopen("state", H5F_ACC_RDONLY, access.id()), H5Fclose, "open the file"};
}

NumberType type_of(const Handle& set)
{
    const Handle type(H5Dget_type(set.id()), H5Tclose, "read an array's type");
    for (const NumberType candidate :
         {NumberType::float64, NumberType::float32, NumberType::int32, NumberType::uint64, NumberType::uint32,
          NumberType::uint16, NumberType::uint8})
        if (H5Tequal(type.id(), in_memory(candidate)) > 0) return candidate;
    throw hdf5::Failure("tell an array's type");
}

solver::StateArray read_array(hid_t file, const char* name)
{
    const Handle set(H5Dopen2(file, name, H5P_DEFAULT), H5Dclose, "open an array");
    const NumberType type = type_of(set);
    // What is stored bounds what is made room for.
    std::vector<std::byte> values(H5Dget_storage_size(set.id()));
    const Handle space(H5Dget_space(set.id()), H5Sclose, "read an array's shape");
    const hssize_t count = H5Sget_simple_extent_npoints(space.id());
    if (count < 0 || static_cast<std::size_t>(count) * solver::size_of(type) != values.size())
        throw hdf5::Failure("read an array's shape");
    if (!values.empty())
        hdf5::check(H5Dread(set.id(), in_memory(type), H5S_ALL, H5S_ALL, H5P_DEFAULT, values.data()),
                    "read an array");
    return solver::StateArray::of_own(name, type, std::move(values));
}

herr_t note_name(hid_t /*group*/, const char* name, const H5L_info_t* /*link*/, void* names)
{
    static_cast<std::vector<std::string>*>(names)->emplace_back(name);
    return 0;
}

}  // namespace

void write_state(const std::filesystem::path& file, const solver::State& state)
{
    const hdf5::Quiet quiet;
    WholeFile whole(file);
    int disk_error = 0;
    try {
        const hdf5::DiskFile contents(whole.path(), disk_error, seal_size);
        for (const solver::StateArray& array : state)
            write_array(contents.id(), array);
    } catch (const hdf5::Failure& failure) {
        if (disk_error == 0)
            throw FileError(file.string(), "write", 0,
                            "the HDF5 library could not " + std::string(failure.what()) +
                                "; is there enough memory?");
    }
    if (disk_error == 0) disk_error = put_seal(whole.path());
    if (disk_error != 0) throw write_error(file, disk_error);
    whole.commit();
}

solver::State read_state(const std::filesystem::path& file)
{
    return read_state(bytes_of(file), file);
}

solver::State read_state(std::string bytes, const std::filesystem::path& file)
{
    check_seal(file, bytes);
    const hdf5::Quiet quiet;
    try {
        const Handle image = open_image(bytes);
        bytes = {};
        std::vector<std::string> names;
        hdf5::check(H5Literate(image.id(), H5_INDEX_NAME, H5_ITER_NATIVE, nullptr, note_name, &names),
                    "list the arrays");
        solver::State state;
        for (const std::string& name : names)
            state.push_back(read_array(image.id(), name.c_str()));
        return state;
    } catch (const hdf5::Failure& failure) {
        throw cannot_read(file, 0, ("the HDF5 library could not " + std::string(failure.what())).c_str());
    }
}

}  // namespace sandfreeze::io
