// A checkpoint that was changed in any way is refused with a FileError; what is whole reads back.
//
// The first byte says what happens to a whole file: bytes from a place on are changed, taken away or added,
// or the input takes its place. The next four are the place. One in sixteen goes over the disk, the others
// are read from memory by the same code.

#include <unistd.h>

#include <algorithm>
#include <cstddef>
#include <cstdint>
#include <cstdlib>
#include <cstring>
#include <filesystem>
#include <fstream>
#include <iterator>
#include <string>
#include <string_view>
#include <system_error>
#include <vector>

#include "io/errors.hpp"
#include "io/state_file.hpp"

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size);

namespace
{

using namespace sandfreeze;
namespace fs = std::filesystem;

/// A file of this process, in memory where there is such a folder; gone at its end.
class Scratch
{
public:
    Scratch()
        : path((fs::is_directory("/dev/shm") ? fs::path("/dev/shm") : fs::temp_directory_path()) /
               ("sandfreeze-fuzz-" + std::to_string(getpid()) + ".h5"))
    {
    }
    ~Scratch()
    {
        std::error_code ignored;
        fs::remove(path, ignored);
    }
    Scratch(const Scratch&) = delete;
    Scratch& operator=(const Scratch&) = delete;

    const fs::path path;
};

const fs::path& scratch()
{
    static const Scratch file;
    return file.path;
}

std::string whole_file()
{
    std::vector<double> heat{1, 2.5, -3};
    std::vector<std::uint8_t> passed{0, 1, 2, 3};
    double time = 12.5;
    solver::Archive archive;
    archive("time", time);
    archive("heat", heat);
    archive("passed", passed);
    io::write_state(scratch(), archive.take());
    std::ifstream in(scratch(), std::ios::binary);
    return {std::istreambuf_iterator<char>(in), {}};
}

std::string damaged(std::string file, std::string_view input)
{
    constexpr std::size_t head = 5;
    if (input.size() < head) return std::string(input);
    std::uint32_t place = 0;
    std::memcpy(&place, input.data() + 1, sizeof place);
    const std::size_t at = place % file.size();
    const std::string_view rest = input.substr(head);
    switch (static_cast<unsigned char>(input[0]) % 4) {
    case 0:
        for (std::size_t k = 0; k < std::min(rest.size(), file.size() - at); ++k)
            file[at + k] = static_cast<char>(file[at + k] ^ rest[k]);
        return file;
    case 1:
        return file.erase(at, rest.size());
    case 2:
        return file.insert(at, rest);
    default:
        return std::string(rest);
    }
}

solver::State read(const std::string& file)
{
    const unsigned char last = file.empty() ? '\0' : static_cast<unsigned char>(file.back());
    if ((file.size() + last) % 16 != 0) return io::read_state(file, scratch());
    std::ofstream(scratch(), std::ios::binary) << file;
    return io::read_state(scratch());
}

}  // namespace

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size)
{
    static const std::string whole = whole_file();
    const std::string file = damaged(whole, {reinterpret_cast<const char*>(data), size});
    bool taken = true;
    try {
        if (read(file).size() != 3) std::abort();
    } catch (const io::FileError&) {
        taken = false;
    }
    if (taken != (file == whole)) std::abort();
    return 0;
}
