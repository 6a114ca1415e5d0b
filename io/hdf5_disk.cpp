#include "io/hdf5_disk.hpp"

#include <fcntl.h>
#include <unistd.h>

#include <algorithm>
#include <cerrno>
#include <cstdlib>
#include <cstring>

namespace sandfreeze::io::hdf5
{
namespace
{

/// What the driver is told about a file.
struct Settings {
    int* error = nullptr;
};

/// HDF5 knows the file by its first member.
struct OpenFile {
    H5FD_t known;
    int descriptor;
    haddr_t end_of_addresses;
    haddr_t end_of_file;
    int* error;
};

OpenFile* own(H5FD_t* file)
{
    return reinterpret_cast<OpenFile*>(file);
}

const OpenFile* own(const H5FD_t* file)
{
    return reinterpret_cast<const OpenFile*>(file);
}

void note_error(const OpenFile& file)
{
    if (*file.error == 0) *file.error = errno != 0 ? errno : EIO;
}

H5FD_t* open_file(const char* name, unsigned /*flags*/, hid_t access, haddr_t /*most*/)
{
    const auto* settings = static_cast<const Settings*>(H5Pget_driver_info(access));
    auto* file = static_cast<OpenFile*>(std::calloc(1, sizeof(OpenFile)));  // HDF5 fills in the rest
    if (settings == nullptr || file == nullptr) {
        std::free(file);
        return nullptr;
    }
    file->error = settings->error;
    file->descriptor = ::open(name, O_RDWR | O_CREAT | O_TRUNC | O_CLOEXEC, 0666);
    if (file->descriptor < 0) {
        note_error(*file);
        std::free(file);
        return nullptr;
    }
    return &file->known;
}

herr_t close_file(H5FD_t* file)
{
    if (::close(own(file)->descriptor) != 0) note_error(*own(file));
    std::free(file);
    return 0;
}

herr_t tell_features(const H5FD_t* /*file*/, unsigned long* flags)
{
    *flags = H5FD_FEAT_AGGREGATE_METADATA | H5FD_FEAT_ACCUMULATE_METADATA | H5FD_FEAT_AGGREGATE_SMALLDATA;
    return 0;
}

haddr_t end_of_addresses(const H5FD_t* file, H5FD_mem_t /*type*/)
{
    return own(file)->end_of_addresses;
}

herr_t set_end_of_addresses(H5FD_t* file, H5FD_mem_t /*type*/, haddr_t end)
{
    own(file)->end_of_addresses = end;
    return 0;
}

haddr_t end_of_file(const H5FD_t* file, H5FD_mem_t /*type*/)
{
    return own(file)->end_of_file;
}

/// What was never written reads as zeros.
herr_t read_bytes(H5FD_t* file, H5FD_mem_t /*type*/, hid_t /*transfer*/, haddr_t at, std::size_t size,
                  void* bytes)
{
    auto* to = static_cast<char*>(bytes);
    while (size > 0) {
        const ssize_t read = ::pread(own(file)->descriptor, to, size, static_cast<off_t>(at));
        if (read < 0 && errno == EINTR) continue;
        if (read < 0) note_error(*own(file));
        if (read <= 0) break;
        to += read;
        at += static_cast<haddr_t>(read);
        size -= static_cast<std::size_t>(read);
    }
    std::memset(to, 0, size);
    return 0;
}

herr_t write_bytes(H5FD_t* file, H5FD_mem_t /*type*/, hid_t /*transfer*/, haddr_t at, std::size_t size,
                   const void* bytes)
{
    OpenFile& here = *own(file);
    here.end_of_file = std::max(here.end_of_file, at + size);
    const auto* from = static_cast<const char*>(bytes);
    while (size > 0 && *here.error == 0) {
        const ssize_t written = ::pwrite(here.descriptor, from, size, static_cast<off_t>(at));
        if (written < 0 && errno == EINTR) continue;
        if (written < 0) {
            note_error(here);
            break;
        }
        from += written;
        at += static_cast<haddr_t>(written);
        size -= static_cast<std::size_t>(written);
    }
    return 0;
}

herr_t cut_to_size(H5FD_t* file, hid_t /*transfer*/, hbool_t /*closing*/)
{
    OpenFile& here = *own(file);
    if (here.end_of_file == here.end_of_addresses || *here.error != 0) return 0;
    if (::ftruncate(here.descriptor, static_cast<off_t>(here.end_of_addresses)) != 0) note_error(here);
    here.end_of_file = here.end_of_addresses;
    return 0;
}

H5FD_class_t driver_class()
{
    H5FD_class_t all{};
    all.name = "sandfreeze";
    all.maxaddr = static_cast<haddr_t>(1) << 62U;
    all.fc_degree = H5F_CLOSE_WEAK;
    all.fapl_size = sizeof(Settings);
    all.open = open_file;
    all.close = close_file;
    all.query = tell_features;
    all.get_eoa = end_of_addresses;
    all.set_eoa = set_end_of_addresses;
    all.get_eof = end_of_file;
    all.read = read_bytes;
    all.write = write_bytes;
    all.truncate = cut_to_size;
    constexpr H5FD_mem_t pools[] = H5FD_FLMAP_DICHOTOMY;
    std::copy(std::begin(pools), std::end(pools), std::begin(all.fl_map));
    return all;
}

Handle register_driver()
{
    static const H5FD_class_t all = driver_class();  // HDF5 keeps its address
    return {H5FDregister(&all), H5FDunregister, "take our way to the disk"};
}

Handle create_file(const std::filesystem::path& path, const Handle& driver, int& error, hsize_t user_block)
{
    const Handle access(H5Pcreate(H5P_FILE_ACCESS), H5Pclose, "describe the file");
    const Settings settings{&error};
    check(H5Pset_driver(access.id(), driver.id(), &settings), "describe the file");
    const Handle creation(H5Pcreate(H5P_FILE_CREATE), H5Pclose, "describe the file");
    check(H5Pset_userblock(creation.id(), user_block), "describe the file");
    return {H5Fcreate(path.c_str(), H5F_ACC_TRUNC, creation.id(), access.id()), H5Fclose, "create the file"};
}

}  // namespace

DiskFile::DiskFile(const std::filesystem::path& path, int& error, hsize_t user_block)
    : error_(error)
    , driver_(register_driver())
    , file_(create_file(path, driver_, error, user_block))
{
}

}  // namespace sandfreeze::io::hdf5
