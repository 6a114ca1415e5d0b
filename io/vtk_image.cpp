#include "io/vtk_image.hpp"

#include <cerrno>
#include <cmath>
#include <stdexcept>
#include <string>

#include <vtkCellData.h>
#include <vtkCommand.h>
#include <vtkDataSet.h>
#include <vtkDataSetAttributes.h>
#include <vtkDoubleArray.h>
#include <vtkErrorCode.h>
#include <vtkExecutive.h>
#include <vtkFieldData.h>
#include <vtkFloatArray.h>
#include <vtkImageData.h>
#include <vtkInformation.h>
#include <vtkInformationStringKey.h>
#include <vtkNew.h>
#include <vtkRectilinearGrid.h>
#include <vtkStringArray.h>
#include <vtkUnsignedCharArray.h>
#include <vtkUnsignedShortArray.h>
#include <vtkXMLImageDataWriter.h>
#include <vtkXMLRectilinearGridWriter.h>

#include "io/errors.hpp"

namespace sandfreeze::io
{
namespace
{

constexpr double mm = 1e3;  // per m

/// Hears VTK's errors, which it would otherwise print; the return value tells us.
class Silence : public vtkCommand
{
public:
    static Silence* New() { return new Silence; }
    void Execute(vtkObject* /*caller*/, unsigned long /*event*/, void* /*text*/) override {}
};

template <class Array, class Value>
vtkDataArray& add_array(vtkDataSet& image, const std::string& name, std::span<const Value> values)
{
    constexpr int keep = 1;  // not VTK's to free
    vtkNew<Array> array;
    array->SetName(name.c_str());
    array->SetArray(const_cast<Value*>(values.data()), static_cast<vtkIdType>(values.size()), keep);
    image.GetCellData()->AddArray(array);
    return *array;  // the image holds it
}

/// Where the cells' faces lie along one axis [mm]. Without a name VTK writes the address.
template <class Face>
vtkSmartPointer<vtkDoubleArray> faces(const char* name, int cells, const Face& face)
{
    auto array = vtkSmartPointer<vtkDoubleArray>::New();
    array->SetName(name);
    for (int n = 0; n <= cells; ++n) {
        array->InsertNextValue(face(n) * mm);
    }
    return array;
}

vtkSmartPointer<vtkDataSet> rectilinear(const mesh::Grid& grid)
{
    auto data = vtkSmartPointer<vtkRectilinearGrid>::New();
    data->SetDimensions(grid.nx + 1, grid.ny + 1, grid.nz() + 1);
    data->SetXCoordinates(faces("x_mm", grid.nx, [&](int i) { return grid.x_face(i); }));
    data->SetYCoordinates(faces("y_mm", grid.ny, [&](int j) { return grid.y_face(j); }));
    data->SetZCoordinates(faces("z_mm", grid.nz(), [&](int k) { return grid.z_face(k); }));
    return data;
}

vtkSmartPointer<vtkXMLWriter> writer_for(vtkDataSet& image)
{
    if (vtkRectilinearGrid::SafeDownCast(&image) != nullptr) {
        return vtkSmartPointer<vtkXMLRectilinearGridWriter>::New();
    }
    return vtkSmartPointer<vtkXMLImageDataWriter>::New();
}

}  // namespace

ImageShape image_shape(const mesh::Grid& grid)
{
    return grid.has_levels() ? ImageShape::levels : ImageShape::flat;
}

vtkSmartPointer<vtkDataSet> image_of(const mesh::Grid& grid)
{
    return image_of(grid, image_shape(grid));
}

vtkSmartPointer<vtkDataSet> image_of(const mesh::Grid& grid, ImageShape shape)
{
    if (shape == ImageShape::levels) {
        return rectilinear(grid);
    }
    auto image = vtkSmartPointer<vtkImageData>::New();
    image->SetDimensions(grid.nx + 1, grid.ny + 1, shape == ImageShape::layer ? 2 : 1);
    image->SetOrigin(grid.x0 * mm, grid.y0 * mm, 0);
    image->SetSpacing(grid.cell * mm, grid.cell * mm, grid.cell * mm);
    return image;
}

std::string_view image_ending(const mesh::Grid& grid)
{
    return grid.has_levels() ? "vtr" : "vti";
}

void add_cells(vtkDataSet& image, const std::string& name, std::span<const float> values,
               std::string_view unit)
{
    vtkDataArray& array = add_array<vtkFloatArray>(image, name, values);
    array.GetInformation()->Set(vtkDataArray::UNITS_LABEL(), std::string(unit).c_str());
}

void add_cells(vtkDataSet& image, const std::string& name, std::span<const std::uint16_t> values)
{
    add_array<vtkUnsignedShortArray>(image, name, values);
}

void blank_where_none(vtkDataSet& image, std::span<const float> values)
{
    vtkNew<vtkUnsignedCharArray> hidden;
    hidden->SetName(vtkDataSetAttributes::GhostArrayName());
    hidden->SetNumberOfValues(static_cast<vtkIdType>(values.size()));
    for (std::size_t v = 0; v < values.size(); ++v) {
        const bool none = std::isnan(values[v]);
        hidden->SetValue(static_cast<vtkIdType>(v), none ? vtkDataSetAttributes::HIDDENCELL : 0);
    }
    image.GetCellData()->AddArray(hidden);
}

void add_names(vtkDataSet& image, const std::string& name, const std::vector<std::string>& values)
{
    vtkNew<vtkStringArray> array;
    array->SetName(name.c_str());
    for (const std::string& value : values) {
        array->InsertNextValue(value);
    }
    image.GetFieldData()->AddArray(array);
}

void add_numbers(vtkDataSet& image, const std::string& name, std::span<const double> values)
{
    vtkNew<vtkDoubleArray> array;
    array->SetName(name.c_str());
    for (const double value : values) {
        array->InsertNextValue(value);
    }
    image.GetFieldData()->AddArray(array);
}

void set_time(vtkDataSet& image, double time)
{
    add_numbers(image, "TimeValue", {{time}});  // the name by which VTK's readers know it
}

namespace
{

/// VTK starts threads of its own to find ranges, and throws where none are to be had.
bool written(vtkXMLWriter& writer, const std::filesystem::path& reported)
{
    try {
        return writer.Write() != 0;
    } catch (const std::runtime_error& error) {
        throw FileError(reported.string(), "write", 0,
                        std::string("the VTK library says: ") + error.what() + "; is there enough memory?");
    }
}

}  // namespace

void write_image(vtkDataSet& image, const std::filesystem::path& file, const std::filesystem::path& reported)
{
    vtkNew<Silence> silence;
    const vtkSmartPointer<vtkXMLWriter> writer = writer_for(image);
    writer->AddObserver(vtkCommand::ErrorEvent, silence);
    writer->GetExecutive()->AddObserver(vtkCommand::ErrorEvent, silence);
    writer->SetFileName(file.c_str());
    writer->SetDataModeToBinary();  // inline: viewers with a patched XML library cannot read appended data
    writer->SetCompressorTypeToLZ4();
    writer->SetBlockSize(std::size_t{1} << 18U);  // LZ4 finds more in longer blocks
    writer->SetInputData(&image);
    errno = 0;
    if (!written(*writer, reported) || writer->GetErrorCode() != vtkErrorCode::NoError) {
        throw FileError(reported.string(), "write", errno,
                        "the disk may be full, or the folder not yours to write to");
    }
}

}  // namespace sandfreeze::io
