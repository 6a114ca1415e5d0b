#include "io/whole_file.hpp"

#include <fcntl.h>
#include <unistd.h>

#include <cerrno>
#include <string>
#include <system_error>

namespace sandfreeze::io
{

namespace
{

std::string_view way_out(int error_number)
{
    switch (error_number) {
    case ENOENT:
    case ENOTDIR:
        return "make the folder first, or choose another";
    case EACCES:
    case EPERM:
    case EROFS:
        return "choose a folder you may write to";
    case ENOSPC:
    case EDQUOT:
        return "free some space, or choose a folder on another disk";
    case EISDIR:
    case EEXIST:
    case ENOTEMPTY:
        return "a folder of that name is in the way: rename it, or choose another name";
    default:
        return "nothing was written under that name";
    }
}

std::filesystem::path folder_of(const std::filesystem::path& target)
{
    return target.has_parent_path() ? target.parent_path() : std::filesystem::path(".");
}

/// A file descriptor that is closed on every way out.
class Descriptor
{
public:
    Descriptor(const std::filesystem::path& path, int flags)
        : number_(::open(path.c_str(), flags | O_CLOEXEC, 0666))
    {
    }
    ~Descriptor()
    {
        if (number_ >= 0) ::close(number_);
    }
    Descriptor(const Descriptor&) = delete;
    Descriptor& operator=(const Descriptor&) = delete;

    int number() const { return number_; }
    bool is_open() const { return number_ >= 0; }

private:
    int number_;
};

std::filesystem::path create_temporary(const std::filesystem::path& target)
{
    constexpr int tries = 1000;
    for (int n = 0; n < tries; ++n) {
        const std::string name = "." + target.stem().string() + ".unfinished-" + std::to_string(::getpid()) +
                                 '-' + std::to_string(n) + target.extension().string();
        auto path = folder_of(target) / name;
        if (Descriptor(path, O_WRONLY | O_CREAT | O_EXCL).is_open()) return path;
        if (errno != EEXIST) throw write_error(target, errno);
    }
    throw write_error(target, EEXIST);
}

/// The error names the target.
void onto_disk(const std::filesystem::path& path, const std::filesystem::path& target)
{
    const Descriptor file(path, O_RDONLY);
    if (!file.is_open() || ::fsync(file.number()) != 0) throw write_error(target, errno);
}

void write_all(int descriptor, std::string_view bytes, const std::filesystem::path& target)
{
    while (!bytes.empty()) {
        const auto written = ::write(descriptor, bytes.data(), bytes.size());
        if (written < 0 && errno == EINTR) continue;
        if (written < 0) throw write_error(target, errno);
        bytes.remove_prefix(static_cast<std::size_t>(written));
    }
}

}  // namespace

FileError write_error(const std::filesystem::path& target, int error_number)
{
    return {target.string(), "write", error_number, way_out(error_number)};
}

WholeFile::WholeFile(std::filesystem::path target)
    : target_(std::move(target))
    , temporary_(create_temporary(target_))
{
}

WholeFile::~WholeFile()
{
    if (!committed_) {
        std::error_code ignored;
        std::filesystem::remove(temporary_, ignored);
    }
}

void WholeFile::commit()
{
    onto_disk(temporary_, target_);
    if (::rename(temporary_.c_str(), target_.c_str()) != 0) throw write_error(target_, errno);
    committed_ = true;
    folder_onto_disk(folder_of(target_));  // the new name itself is there only then
}

void write_whole(const std::filesystem::path& target, std::string_view bytes)
{
    WholeFile file(target);
    {
        const Descriptor out(file.path(), O_WRONLY | O_TRUNC);
        if (!out.is_open()) throw write_error(target, errno);
        write_all(out.number(), bytes, target);
    }
    file.commit();
}

void onto_disk(const std::filesystem::path& file)
{
    onto_disk(file, file);
}

void folder_onto_disk(const std::filesystem::path& folder)
{
    const Descriptor opened(folder, O_RDONLY | O_DIRECTORY);
    if (opened.is_open()) (void)::fsync(opened.number());
}

}  // namespace sandfreeze::io
