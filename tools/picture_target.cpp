#include "tools/picture_target.hpp"

#include <array>
#include <cerrno>
#include <fstream>
#include <string_view>
#include <system_error>

#include "io/errors.hpp"

namespace sandfreeze::tools
{

namespace
{

namespace fs = std::filesystem;

bool is_png(const fs::path& file)
{
    constexpr std::string_view signature = "\x89PNG\r\n\x1a\n";
    std::array<char, signature.size()> head{};
    std::ifstream in(file, std::ios::binary);
    in.read(head.data(), head.size());
    return in.good() && std::string_view(head.data(), head.size()) == signature;
}

}  // namespace

void refuse_other_than_picture(const fs::path& target)
{
    std::error_code code;
    const fs::file_type type = fs::symlink_status(target, code).type();
    // A folder in the way is named when the picture is written.
    if (type == fs::file_type::not_found || type == fs::file_type::none || type == fs::file_type::directory)
        return;
    if (type == fs::file_type::regular && is_png(target)) return;
    throw io::FileError(target.string(), "replace", EEXIST,
                        "it is no picture (PNG). Name another file after the option");
}

}  // namespace sandfreeze::tools
