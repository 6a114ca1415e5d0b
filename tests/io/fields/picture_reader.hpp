#pragma once
// Reads a PNG back.

#include <cstdint>
#include <cstring>
#include <filesystem>
#include <set>
#include <vector>

#include <cairo.h>
#include <doctest/doctest.h>

namespace sandfreeze::io_test
{

struct Picture {
    int width = 0;
    int height = 0;
    std::vector<std::uint32_t> pixels;  ///< 0xRRGGBB, top row first

    std::uint32_t at(double x, double y) const
    {
        return pixels.at(static_cast<std::size_t>(y) * static_cast<std::size_t>(width) +
                         static_cast<std::size_t>(x));
    }
    std::set<std::uint32_t> colours() const { return {pixels.begin(), pixels.end()}; }
};

inline Picture read_picture(const std::filesystem::path& png)
{
    cairo_surface_t* surface = cairo_image_surface_create_from_png(png.c_str());
    REQUIRE(cairo_surface_status(surface) == CAIRO_STATUS_SUCCESS);
    Picture picture{cairo_image_surface_get_width(surface), cairo_image_surface_get_height(surface), {}};
    for (int y = 0; y < picture.height; ++y) {
        const unsigned char* row = cairo_image_surface_get_data(surface) +
                                   static_cast<std::ptrdiff_t>(y) * cairo_image_surface_get_stride(surface);
        for (int x = 0; x < picture.width; ++x) {
            std::uint32_t pixel = 0;
            std::memcpy(&pixel, row + static_cast<std::ptrdiff_t>(x) * 4, 4);
            picture.pixels.push_back(pixel & 0xFFFFFFU);
        }
    }
    cairo_surface_destroy(surface);
    return picture;
}

}  // namespace sandfreeze::io_test
