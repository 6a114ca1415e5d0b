#include "tools/case_source.hpp"

#include <cerrno>
#include <fstream>
#include <system_error>
#include <utility>
#include <vector>

#include "io/errors.hpp"
#include "io/nearest_name.hpp"
#include "io/text.hpp"
#include "tools/machine.hpp"

namespace sandfreeze::tools
{

namespace
{

namespace fs = std::filesystem;

/// More than any case has, so that what is no case does not fill the memory: the reader refuses it.
constexpr std::size_t most_bytes = std::size_t{5} << 20U;

/// What to do about a file that is not there: often its name is misspelt.
std::string way_out(const fs::path& path)
{
    const fs::path folder = path.has_parent_path() ? path.parent_path() : fs::path(".");
    std::vector<std::string> names;
    std::error_code code;
    for (fs::directory_iterator entry(folder, code), end; !code && entry != end; entry.increment(code))
        if (entry->path().extension() == ".toml") names.push_back(entry->path().filename().string());
    const auto nearest = io::nearest_name(path.filename().string(), names);
    if (!nearest) return "name a case file, such as one of cases/";
    return "did you mean " + io::quoted((path.parent_path() / *nearest).string()) + "?";
}

std::string text_of(const fs::path& path)
{
    std::error_code code;
    if (fs::is_directory(path, code)) throw io::FileError(path.string(), "read", EISDIR, way_out(path));
    errno = 0;
    std::ifstream in(path, std::ios::binary);
    if (!in)
        throw io::FileError(path.string(), "read", errno,
                            errno == ENOENT ? way_out(path) : "check that you may read it");
    std::string text(most_bytes, '\0');
    in.read(text.data(), static_cast<std::streamsize>(text.size()));
    text.resize(static_cast<std::size_t>(in.gcount()));
    if (in.bad()) throw io::FileError(path.string(), "read", errno, "check the disk that it is on");
    return text;
}

}  // namespace

CaseSource read_case_source(const fs::path& path)
{
    return case_source_of(text_of(path), path);
}

CaseSource case_source_of(std::string text, const fs::path& path)
{
    CaseSource source;
    source.text = std::move(text);
    source.file = io::read_case(source.text, path.string(), {memory_to_use()});
    return source;
}

bool text_changed(const fs::path& path, std::string_view text)
{
    std::ifstream in(path, std::ios::binary);
    return in && std::string{std::istreambuf_iterator<char>(in), {}} != text;
}

}  // namespace sandfreeze::tools
