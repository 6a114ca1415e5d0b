#pragma once
// A VTK image of the section: one cell a voxel, in mm. Inside io only.

#include <cstdint>
#include <filesystem>
#include <span>
#include <string>
#include <vector>

#include <vtkSmartPointer.h>

#include "mesh/grid.hpp"

class vtkImageData;

namespace sandfreeze::io
{

/// An image of the grid's size and place, nx by ny cells, without arrays.
/// Throws std::invalid_argument where the grid has more than one level.
vtkSmartPointer<vtkImageData> image_of(const mesh::Grid& grid);

/// Adds an array over the cells, grid order, or replaces that of the same name. It stays where it is and must
/// outlive the image.
void add_cells(vtkImageData& image, const std::string& name, std::span<const float> values);
void add_cells(vtkImageData& image, const std::string& name, std::span<const std::uint16_t> values);

/// Adds a list of names that belongs to the whole image.
void add_names(vtkImageData& image, const std::string& name, const std::vector<std::string>& values);

/// Sets the moment which the image shows [s].
void set_time(vtkImageData& image, double time);

/// Writes one .vti as it is now, inline and compressed. `reported` is the file that an error names. Throws
/// FileError.
void write_image(vtkImageData& image, const std::filesystem::path& file,
                 const std::filesystem::path& reported);

}  // namespace sandfreeze::io
