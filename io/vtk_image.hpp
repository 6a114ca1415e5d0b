#pragma once
// A VTK image of the section: one cell a voxel, in mm. Inside io only.

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

/// Adds an array over the cells and gives its memory, grid order. The image owns it.
std::span<float> add_float_cells(vtkImageData& image, const std::string& name);
std::span<unsigned short> add_index_cells(vtkImageData& image, const std::string& name);

/// Adds a list of names that belongs to the whole image.
void add_names(vtkImageData& image, const std::string& name, const std::vector<std::string>& values);

/// Sets the moment which the image shows [s].
void set_time(vtkImageData& image, double time);

/// Writes one .vti, inline and compressed. `reported` is the file that an error names. Throws FileError.
void write_image(vtkImageData& image, const std::filesystem::path& file,
                 const std::filesystem::path& reported);

}  // namespace sandfreeze::io
