#pragma once
// An animated GIF, frame by frame. Inside io only.

#include <cstdint>
#include <filesystem>
#include <memory>
#include <span>
#include <vector>

namespace sandfreeze::io
{

/// Colours are those of the pictures: greys, and the colour map viridis; others become the nearest of these.
class GifFile
{
public:
    /// Plays for ever. Throws FileError.
    GifFile(const std::filesystem::path& gif, int width, int height);
    ~GifFile();
    GifFile(const GifFile&) = delete;
    GifFile& operator=(const GifFile&) = delete;

    /// Adds a frame: 0xRRGGBB, top row first, shown for so long [s]. What is as in the frame before is left
    /// out. Throws FileError.
    void add(std::span<const std::uint32_t> pixels, double seconds);

    /// Puts the file in its place, whole. Throws FileError.
    void commit();

private:
    class Writing;
    std::unique_ptr<Writing> writing_;
};

}  // namespace sandfreeze::io
