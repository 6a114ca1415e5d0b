#include "tools/target_file.hpp"

#include <cerrno>
#include <fstream>
#include <string>
#include <string_view>
#include <system_error>

#include "io/errors.hpp"

namespace sandfreeze::tools
{

namespace
{

namespace fs = std::filesystem;

/// As far as needed to know it by.
std::string head_of(const fs::path& file)
{
    std::string head(4096, '\0');
    std::ifstream in(file, std::ios::binary);
    in.read(head.data(), static_cast<std::streamsize>(head.size()));
    head.resize(static_cast<std::size_t>(in.gcount()));
    return head;
}

bool is_of(TargetKind kind, std::string_view head)
{
    const auto has = [&](std::string_view words) { return head.find(words) != head.npos; };
    switch (kind) {
    case TargetKind::picture:
        return head.starts_with("\x89PNG\r\n\x1a\n");
    case TargetKind::sheet_page:
        return head.starts_with("<!doctype html>") && has("<title>Pour sheet: ");
    case TargetKind::sheet_json:
        return head.starts_with("{") && has("\"program_version\"") && has("\"basis\"");
    }
    return false;
}

const char* name_of(TargetKind kind)
{
    return kind == TargetKind::picture      ? "picture (PNG)"
           : kind == TargetKind::sheet_page ? "page of a sheet"
                                            : "sheet for scripts";
}

}  // namespace

void refuse_other_than(TargetKind kind, const fs::path& target)
{
    std::error_code code;
    const fs::file_type type = fs::symlink_status(target, code).type();
    // A folder in the way is named when the file is written.
    if (type == fs::file_type::not_found || type == fs::file_type::none || type == fs::file_type::directory)
        return;
    if (type == fs::file_type::regular && is_of(kind, head_of(target))) return;
    throw io::FileError(target.string(), "replace", EEXIST,
                        std::string("it is no ") + name_of(kind) + ". Name another file after the option");
}

}  // namespace sandfreeze::tools
