#pragma once
// The voxels for VTK, one cell each, in mm: an image of a section, a rectilinear grid of a plan. Inside io
// only.

#include <cstdint>
#include <filesystem>
#include <span>
#include <string>
#include <string_view>
#include <vector>

#include <vtkSmartPointer.h>

#include "mesh/grid.hpp"

class vtkDataSet;

namespace sandfreeze::io
{

/// A data set of the grid's size and place, without arrays: an image of nx by ny cells where there is one
/// level, else a rectilinear grid of nx by ny by nz.
vtkSmartPointer<vtkDataSet> image_of(const mesh::Grid& grid);

/// What kind of data set a grid becomes. A layer is an image one voxel thick: VTK's filters leave hidden
/// cells out of data of three dimensions alone. A box of one level cut out of a plan stays a rectilinear
/// grid.
enum class ImageShape { flat, layer, levels };
ImageShape image_shape(const mesh::Grid& grid);
vtkSmartPointer<vtkDataSet> image_of(const mesh::Grid& grid, ImageShape shape);

/// The ending of its files: "vti" or "vtr".
std::string_view image_ending(const mesh::Grid& grid);

/// Adds an array over the cells, grid order, or replaces that of the same name. It stays where it is and must
/// outlive the image.
void add_cells(vtkDataSet& image, const std::string& name, std::span<const float> values,
               std::string_view unit);
void add_cells(vtkDataSet& image, const std::string& name, std::span<const std::uint16_t> values);

/// Makes viewers leave out the cells that have no value (NaN), by VTK's array of hidden cells.
void blank_where_none(vtkDataSet& image, std::span<const float> values);

/// Adds a list of names that belongs to the whole image.
void add_names(vtkDataSet& image, const std::string& name, const std::vector<std::string>& values);

/// Sets the moment which the image shows [s].
void set_time(vtkDataSet& image, double time);

/// Adds a few numbers that belong to the whole image.
void add_numbers(vtkDataSet& image, const std::string& name, std::span<const double> values);

/// Writes one file as it is now, inline and compressed. `reported` is the file that an error names. Throws
/// FileError.
void write_image(vtkDataSet& image, const std::filesystem::path& file, const std::filesystem::path& reported);

}  // namespace sandfreeze::io
