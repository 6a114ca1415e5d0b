// A checkpoint that was changed in any way is refused with a FileError; what is whole reads back.
//
// The first byte says what happens to a whole file: bytes from a place on are changed, taken away or added,
// or the input takes its place. The next four are the place.

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
#include <vector>

#include "io/errors.hpp"
#include "io/state_file.hpp"

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size);

namespace
{

using namespace sandfreeze;
namespace fs = std::filesystem;

const fs::path& scratch()
{
    static const fs::path path =
        fs::temp_directory_path() / ("sandfreeze-fuzz-" + std::to_string(getpid()) + ".h5");
    return path;
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

}  // namespace

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size)
{
    static const std::string whole = whole_file();
    const std::string file = damaged(whole, {reinterpret_cast<const char*>(data), size});
    std::ofstream(scratch(), std::ios::binary) << file;
    bool read = true;
    try {
        if (io::read_state(scratch()).size() != 3) std::abort();
    } catch (const io::FileError&) {
        read = false;
    }
    if (read != (file == whole)) std::abort();
    return 0;
}
