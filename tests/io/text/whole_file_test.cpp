#include <doctest/doctest.h>

#include <sys/resource.h>
#include <unistd.h>

#include <csignal>
#include <filesystem>
#include <fstream>
#include <sstream>

#include "io/errors.hpp"
#include "io/whole_file.hpp"

namespace sandfreeze::io::testing
{

namespace
{

namespace fs = std::filesystem;

/// A folder of its own for a test, removed afterwards.
class Folder
{
public:
    Folder()
        : path_(fs::temp_directory_path() / ("sandfreeze-whole-file-" + std::to_string(::getpid())))
    {
        fs::create_directories(path_);
    }
    ~Folder()
    {
        std::error_code ignored;
        fs::remove_all(path_, ignored);
    }
    Folder(const Folder&) = delete;
    Folder& operator=(const Folder&) = delete;

    fs::path operator/(const char* name) const { return path_ / name; }
    std::size_t files() const
    {
        std::size_t n = 0;
        for (const auto& entry : fs::directory_iterator(path_))
            n += entry.exists() ? 1 : 0;
        return n;
    }

private:
    fs::path path_;
};

/// Files may not grow beyond so many bytes while this lives: a stand-in for a full disk.
class FileSizeLimit
{
public:
    explicit FileSizeLimit(rlim_t bytes)
        : handler_(std::signal(SIGXFSZ, SIG_IGN))
    {
        ::getrlimit(RLIMIT_FSIZE, &before_);
        const rlimit limit{bytes, before_.rlim_max};
        ::setrlimit(RLIMIT_FSIZE, &limit);
    }
    ~FileSizeLimit()
    {
        ::setrlimit(RLIMIT_FSIZE, &before_);
        std::signal(SIGXFSZ, handler_);
    }
    FileSizeLimit(const FileSizeLimit&) = delete;
    FileSizeLimit& operator=(const FileSizeLimit&) = delete;

private:
    rlimit before_{};
    void (*handler_)(int);
};

std::string content(const fs::path& path)
{
    std::ifstream file(path, std::ios::binary);
    std::ostringstream text;
    text << file.rdbuf();
    return text.str();
}

}  // namespace

TEST_CASE("whole file: the bytes are there, nothing else is")
{
    const Folder folder;
    const std::string bytes("a\0b\r\n", 5);
    write_whole(folder / "x.json", bytes);
    CHECK(content(folder / "x.json") == bytes);
    write_whole(folder / "x.json", "second");
    CHECK(content(folder / "x.json") == "second");
    write_whole(folder / "empty", "");
    CHECK(content(folder / "empty").empty());
    CHECK(folder.files() == 2);
}

TEST_CASE("whole file: until it is committed the old file stands, and an abandoned one leaves nothing")
{
    const Folder folder;
    write_whole(folder / "x.h5", "old");
    {
        const WholeFile file(folder / "x.h5");
        std::ofstream(file.path()) << "half of the n";
        CHECK(content(folder / "x.h5") == "old");
        CHECK(file.path().extension() == ".h5");
        CHECK(file.path().parent_path() == (folder / "x.h5").parent_path());
    }
    CHECK(content(folder / "x.h5") == "old");
    CHECK(folder.files() == 1);
    WholeFile file(folder / "x.h5");
    std::ofstream(file.path()) << "new";
    file.commit();
    CHECK(content(folder / "x.h5") == "new");
    CHECK(folder.files() == 1);
}

TEST_CASE("whole file: two writers of one file do not meet")
{
    const Folder folder;
    WholeFile first(folder / "x");
    WholeFile second(folder / "x");
    CHECK(first.path() != second.path());
    std::ofstream(first.path()) << "first";
    std::ofstream(second.path()) << "second";
    second.commit();
    first.commit();
    CHECK(content(folder / "x") == "first");
}

TEST_CASE("whole file: permissions are those of any new file")
{
    const Folder folder;
    write_whole(folder / "x", "1");
    std::ofstream(folder / "y") << "1";
    CHECK(fs::status(folder / "x").permissions() == fs::status(folder / "y").permissions());
}

TEST_CASE("whole file: a missing folder and a folder in the way are file errors that say what to do")
{
    const Folder folder;
    const std::string missing = (folder / "no/such/x").string();
    CHECK_THROWS_WITH_AS(write_whole(missing, "1"),
                         ("cannot write \"" + missing +
                          "\": No such file or directory; make the folder first, or choose another")
                             .c_str(),
                         FileError);
    fs::create_directory(folder / "d");
    const std::string blocked = (folder / "d").string();
    CHECK_THROWS_WITH_AS(
        write_whole(blocked, "1"),
        ("cannot write \"" + blocked +
         "\": Is a directory; a folder of that name is in the way: rename it, or choose another name")
            .c_str(),
        FileError);
    CHECK(folder.files() == 1);
}

TEST_CASE("whole file: where the disk takes no more the old file stands and nothing is left behind")
{
    const Folder folder;
    write_whole(folder / "x", "old");
    const FileSizeLimit limit(4096);
    CHECK_THROWS_WITH_AS(write_whole(folder / "x", std::string(100000, 'n')),
                         ("cannot write \"" + (folder / "x").string() +
                          "\": File too large; nothing was written under that name")
                             .c_str(),
                         FileError);
    CHECK(content(folder / "x") == "old");
    CHECK(folder.files() == 1);
}

TEST_CASE("whole file: where the temporary file has gone there is a file error and the old file stands")
{
    const Folder folder;
    write_whole(folder / "x", "old");
    WholeFile file(folder / "x");
    fs::remove(file.path());
    CHECK_THROWS_AS(file.commit(), FileError);
    CHECK(content(folder / "x") == "old");
}

}  // namespace sandfreeze::io::testing
