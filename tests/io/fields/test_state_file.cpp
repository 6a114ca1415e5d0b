#include <doctest/doctest.h>

#include <cmath>
#include <cstdint>
#include <filesystem>
#include <fstream>
#include <iterator>
#include <limits>
#include <optional>
#include <string>
#include <string_view>
#include <system_error>
#include <vector>

#include "io/errors.hpp"
#include "io/sha256.hpp"
#include "io/state_file.hpp"

namespace sandfreeze::io::testing
{
namespace
{

namespace fs = std::filesystem;

/// A file of its own that is gone afterwards.
class Scratch
{
public:
    explicit Scratch(const char* name)
        : path(fs::temp_directory_path() / (std::string("sandfreeze-state-") + name + ".h5"))
    {
    }
    ~Scratch()
    {
        std::error_code ignored;
        fs::remove(path, ignored);
    }
    Scratch(const Scratch&) = delete;
    Scratch& operator=(const Scratch&) = delete;

    std::string bytes() const
    {
        std::ifstream in(path, std::ios::binary);
        return std::string{std::istreambuf_iterator<char>(in), {}};
    }
    void put(const std::string& all) const { std::ofstream(path, std::ios::binary) << all; }

    fs::path path;
};

/// One of each kind of number.
struct Sample {
    double time = 0.1;
    std::int32_t rung = -7;
    std::size_t next = std::numeric_limits<std::size_t>::max();
    bool there = true;
    std::vector<float> rates{1.5F, -0.0F, std::numeric_limits<float>::infinity()};
    std::vector<std::uint16_t> steps{0, 65535};
    std::vector<std::uint32_t> filled{4000000000U};
    std::vector<double> none;
    std::string text = "Gießerei\n";
    std::optional<double> at;

    void carry(solver::Archive& archive)
    {
        archive("time", time);
        archive("rung", rung);
        archive("next", next);
        archive("there", there);
        archive("rates", rates);
        archive.list("steps", steps);
        archive.list("filled", filled);
        archive.list("none", none);
        archive.text("text", text);
        archive("at", at);
    }
};

void write(const Scratch& file, Sample sample)
{
    solver::Archive archive;
    archive("sample", sample);
    write_state(file.path, archive.take());
}

std::string problem_of(const Scratch& file)
{
    try {
        (void)read_state(file.path);
    } catch (const FileError& error) {
        return error.what();
    }
    return "";
}

}  // namespace

TEST_CASE("io: a state reads back to the last bit, from a file that is whole or not there")
{
    const Scratch file("round");
    write(file, {});
    const solver::State state = read_state(file.path);
    Sample other;
    other.time = 0;
    other.rung = 0;
    other.next = 0;
    other.there = false;
    other.rates = {0, 0, 0};
    other.steps.clear();
    other.filled = {1, 2, 3};
    other.none = {1};
    other.text.clear();
    other.at = 5;
    solver::Archive archive(state);
    archive("sample", other);
    const Sample sample;
    CHECK(other.time == sample.time);
    CHECK(other.rung == sample.rung);
    CHECK(other.next == sample.next);
    CHECK(other.there);
    CHECK(other.rates == sample.rates);
    CHECK(std::signbit(other.rates[1]));
    CHECK(other.steps == sample.steps);
    CHECK(other.filled == sample.filled);
    CHECK(other.none.empty());
    CHECK(other.text == sample.text);
    CHECK_FALSE(other.at);
}

TEST_CASE("io: a state with any byte changed, or cut off anywhere, is told to be damaged")
{
    const Scratch file("damage");
    write(file, {});
    const std::string whole = file.bytes();
    const std::string message = "cannot go on from \"" + file.path.string() + "\"; it is damaged: ";
    for (std::size_t at = 0; at < whole.size(); at += at < 600 ? 1 : 37) {
        std::string damaged = whole;
        damaged[at] = static_cast<char>(damaged[at] ^ (1 << at % 8));
        file.put(damaged);
        REQUIRE_MESSAGE(problem_of(file) == message + "its checksum does not fit what it holds", at);
    }
    for (const std::size_t length : {std::size_t{0}, std::size_t{511}, std::size_t{512}, whole.size() - 1}) {
        file.put(whole.substr(0, length));
        CHECK(problem_of(file).starts_with(message));
    }
    file.put(whole + '\0');
    CHECK(problem_of(file).starts_with(message));
    file.put(whole);
    CHECK(problem_of(file).empty());
}

TEST_CASE("io: what is sealed but no state is refused by the library's own checks")
{
    const Scratch file("other");
    const std::string content = "not HDF5 at all";
    std::string seal =
        "sandfreeze state, format 1\nbytes after this block: " + std::to_string(content.size()) +
        "\nSHA-256 of them: " + sha256(content) + "\n";
    seal.resize(512, '\0');
    file.put(seal + content);
    CHECK(problem_of(file) ==
          "cannot go on from \"" + file.path.string() + "\"; the HDF5 library could not open the file");
}

TEST_CASE("io: a state that is not there says so")
{
    const Scratch file("missing");
    CHECK(problem_of(file) == "cannot go on from \"" + file.path.string() +
                                  "\": No such file or directory; check that you may read it, and the disk "
                                  "that it is on");
}

TEST_CASE("sha256: piece by piece it is the same")
{
    std::string text;
    for (int k = 0; k < 1000; ++k)
        text += static_cast<char>(k * 7);
    for (const std::size_t size : {1U, 63U, 64U, 65U, 300U}) {
        Sha256 sum;
        for (std::size_t at = 0; at < text.size(); at += size)
            sum.add(std::string_view(text).substr(at, size));
        CHECK(sum.digest() == sha256(text));
    }
}

}  // namespace sandfreeze::io::testing
