#include "io/gif_file.hpp"

#include <algorithm>
#include <array>
#include <cerrno>
#include <cmath>
#include <limits>
#include <string>
#include <unordered_map>

#include <fmt/format.h>
#include <gif_lib.h>

#include "io/errors.hpp"
#include "io/viridis.hpp"
#include "io/whole_file.hpp"

namespace sandfreeze::io
{
namespace
{

constexpr int colours = 256;
constexpr int greys = 48;
constexpr int full = 112;  ///< of the colour map as it is
constexpr int edges = 48;  ///< of the colour map half white, and half black: beside lines

/// 0xRRGGBB of two colours, half of each.
std::uint32_t half_way(std::uint32_t a, std::uint32_t b)
{
    return ((a & 0xFEFEFEU) >> 1U) + ((b & 0xFEFEFEU) >> 1U);
}

std::uint32_t palette_colour(int n)
{
    if (n < greys) {
        const auto level = static_cast<std::uint32_t>(std::lround(255.0 * n / (greys - 1)));
        return level << 16U | level << 8U | level;
    }
    n -= greys;
    if (n < full) {
        return viridis(n / (full - 1.0));
    }
    n -= full;
    return n < edges ? half_way(viridis(n / (edges - 1.0)), 0xFFFFFF)
                     : half_way(viridis((n - edges) / (edges - 1.0)), 0);
}
static_assert(greys + full + 2 * edges == colours);

std::array<int, 3> parts_of(std::uint32_t rgb)
{
    return {static_cast<int>(rgb >> 16U & 0xFFU), static_cast<int>(rgb >> 8U & 0xFFU),
            static_cast<int>(rgb & 0xFFU)};
}

/// The nearest colour of the palette, each looked for once.
class Palette
{
public:
    std::uint8_t index_of(std::uint32_t rgb)
    {
        const auto known = known_.find(rgb);
        return known != known_.end() ? known->second : known_.emplace(rgb, nearest(rgb)).first->second;
    }

private:
    static std::uint8_t nearest(std::uint32_t rgb)
    {
        const auto a = parts_of(rgb);
        int best = 0;
        int least = std::numeric_limits<int>::max();
        for (int n = 0; n < colours; ++n) {
            const auto b = parts_of(palette_colour(n));
            const int distance =
                (a[0] - b[0]) * (a[0] - b[0]) + (a[1] - b[1]) * (a[1] - b[1]) + (a[2] - b[2]) * (a[2] - b[2]);
            if (distance < least) {
                least = distance;
                best = n;
            }
        }
        return static_cast<std::uint8_t>(best);
    }

    std::unordered_map<std::uint32_t, std::uint8_t> known_;
};

struct Rows {
    int left = 0;
    int top = 0;
    int width = 0;
    int height = 0;
};

/// The smallest rectangle around all that differs; a single pixel where nothing does.
Rows changed(const std::vector<std::uint8_t>& before, const std::vector<std::uint8_t>& now, int width)
{
    int left = width;
    int right = -1;
    int top = -1;
    int bottom = -1;
    for (std::size_t p = 0; p < now.size(); ++p) {
        if (before[p] != now[p]) {
            const auto x = static_cast<int>(p % static_cast<std::size_t>(width));
            const auto y = static_cast<int>(p / static_cast<std::size_t>(width));
            left = std::min(left, x);
            right = std::max(right, x);
            top = top < 0 ? y : top;
            bottom = y;
        }
    }
    return right < 0 ? Rows{0, 0, 1, 1} : Rows{left, top, right - left + 1, bottom - top + 1};
}

}  // namespace

class GifFile::Writing
{
public:
    Writing(const std::filesystem::path& gif, int width, int height)
        : target_(gif)
        , whole_(gif)
        , width_(width)
        , height_(height)
    {
        constexpr bool replace = false;  // giflib: whether an existing file is an error
        int error = 0;
        errno = 0;
        file_ = EGifOpenFileName(whole_.path().c_str(), replace, &error);
        if (file_ == nullptr) {
            fail(error);
        }
        EGifSetGifVersion(file_, true);
        ColorMapObject* map = GifMakeMapObject(colours, nullptr);
        for (int n = 0; map != nullptr && n < colours; ++n) {
            const auto [red, green, blue] = parts_of(palette_colour(n));
            map->Colors[n] = {static_cast<GifByteType>(red), static_cast<GifByteType>(green),
                              static_cast<GifByteType>(blue)};
        }
        const int done = EGifPutScreenDesc(file_, width, height, 8, 0, map);
        GifFreeMapObject(map);
        check(done);
        play_for_ever();
    }
    ~Writing() { close(); }
    Writing(const Writing&) = delete;
    Writing& operator=(const Writing&) = delete;

    void add(std::span<const std::uint32_t> pixels, double seconds)
    {
        std::vector<std::uint8_t> now(pixels.size());
        std::transform(pixels.begin(), pixels.end(), now.begin(),
                       [&](std::uint32_t rgb) { return palette_.index_of(rgb); });
        const Rows rows = shown_.empty() ? Rows{0, 0, width_, height_} : changed(shown_, now, width_);
        GraphicsControlBlock control{DISPOSE_DO_NOT, false, static_cast<int>(std::lround(seconds * 100)),
                                     NO_TRANSPARENT_COLOR};
        std::array<GifByteType, 4> bytes{};
        EGifGCBToExtension(&control, bytes.data());
        check(EGifPutExtension(file_, GRAPHICS_EXT_FUNC_CODE, static_cast<int>(bytes.size()), bytes.data()));
        check(EGifPutImageDesc(file_, rows.left, rows.top, rows.width, rows.height, false, nullptr));
        for (int y = rows.top; y < rows.top + rows.height; ++y) {
            check(EGifPutLine(file_, now.data() + static_cast<std::ptrdiff_t>(y) * width_ + rows.left,
                              rows.width));
        }
        shown_ = std::move(now);
    }

    void commit()
    {
        check(close());
        whole_.commit();
    }

private:
    void play_for_ever()
    {
        constexpr std::array<GifByteType, 3> without_end{1, 0, 0};
        check(EGifPutExtensionLeader(file_, APPLICATION_EXT_FUNC_CODE));
        check(EGifPutExtensionBlock(file_, 11, "NETSCAPE2.0"));
        check(EGifPutExtensionBlock(file_, static_cast<int>(without_end.size()), without_end.data()));
        check(EGifPutExtensionTrailer(file_));
    }

    int close()
    {
        if (file_ == nullptr) {
            return GIF_OK;
        }
        int error = 0;
        errno = 0;
        GifFileType* file = file_;
        file_ = nullptr;
        return EGifCloseFile(file, &error);
    }

    void check(int done) const
    {
        if (done != GIF_OK) {
            fail(file_ != nullptr ? file_->Error : E_GIF_ERR_CLOSE_FAILED);
        }
    }
    [[noreturn]] void fail(int error) const
    {
        const char* words = GifErrorString(error);
        throw FileError(target_.string(), "write", errno,
                        fmt::format("the GIF library says: {}", words != nullptr ? words : "nothing"));
    }

    std::filesystem::path target_;
    WholeFile whole_;
    GifFileType* file_ = nullptr;
    int width_;
    int height_;
    Palette palette_;
    std::vector<std::uint8_t> shown_;
};

GifFile::GifFile(const std::filesystem::path& gif, int width, int height)
    : writing_(std::make_unique<Writing>(gif, width, height))
{
}

GifFile::~GifFile() = default;

void GifFile::add(std::span<const std::uint32_t> pixels, double seconds)
{
    writing_->add(pixels, seconds);
}

void GifFile::commit()
{
    writing_->commit();
}

}  // namespace sandfreeze::io
