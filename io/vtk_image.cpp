#include "io/vtk_image.hpp"

#include <cerrno>
#include <stdexcept>

#include <fmt/format.h>
#include <vtkCellData.h>
#include <vtkCommand.h>
#include <vtkDoubleArray.h>
#include <vtkErrorCode.h>
#include <vtkExecutive.h>
#include <vtkFieldData.h>
#include <vtkFloatArray.h>
#include <vtkImageData.h>
#include <vtkNew.h>
#include <vtkStringArray.h>
#include <vtkUnsignedShortArray.h>
#include <vtkXMLImageDataWriter.h>

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
void add_array(vtkImageData& image, const std::string& name, std::span<const Value> values)
{
    constexpr int keep = 1;  // not VTK's to free
    vtkNew<Array> array;
    array->SetName(name.c_str());
    array->SetArray(const_cast<Value*>(values.data()), static_cast<vtkIdType>(values.size()), keep);
    image.GetCellData()->AddArray(array);
}

}  // namespace

vtkSmartPointer<vtkImageData> image_of(const mesh::Grid& grid)
{
    if (grid.nz() != 1) {
        throw std::invalid_argument(
            fmt::format("field files hold sections of one level; this grid has {}", grid.nz()));
    }
    auto image = vtkSmartPointer<vtkImageData>::New();
    image->SetDimensions(grid.nx + 1, grid.ny + 1, 1);
    image->SetOrigin(grid.x0 * mm, grid.y0 * mm, 0);
    image->SetSpacing(grid.cell * mm, grid.cell * mm, grid.cell * mm);
    return image;
}

void add_cells(vtkImageData& image, const std::string& name, std::span<const float> values)
{
    add_array<vtkFloatArray>(image, name, values);
}

void add_cells(vtkImageData& image, const std::string& name, std::span<const std::uint16_t> values)
{
    add_array<vtkUnsignedShortArray>(image, name, values);
}

void add_names(vtkImageData& image, const std::string& name, const std::vector<std::string>& values)
{
    vtkNew<vtkStringArray> array;
    array->SetName(name.c_str());
    for (const std::string& value : values) {
        array->InsertNextValue(value);
    }
    image.GetFieldData()->AddArray(array);
}

void set_time(vtkImageData& image, double time)
{
    vtkNew<vtkDoubleArray> array;
    array->SetName("TimeValue");  // the name by which VTK's readers know it
    array->InsertNextValue(time);
    image.GetFieldData()->AddArray(array);
}

void write_image(vtkImageData& image, const std::filesystem::path& file,
                 const std::filesystem::path& reported)
{
    vtkNew<Silence> silence;
    vtkNew<vtkXMLImageDataWriter> writer;
    writer->AddObserver(vtkCommand::ErrorEvent, silence);
    writer->GetExecutive()->AddObserver(vtkCommand::ErrorEvent, silence);
    writer->SetFileName(file.c_str());
    writer->SetDataModeToBinary();  // inline: viewers with a patched XML library cannot read appended data
    writer->SetCompressorTypeToLZ4();
    writer->SetBlockSize(std::size_t{1} << 18U);  // LZ4 finds more in longer blocks
    writer->SetInputData(&image);
    errno = 0;
    if (writer->Write() == 0 || writer->GetErrorCode() != vtkErrorCode::NoError) {
        throw FileError(reported.string(), "write", errno,
                        "the disk may be full, or the folder not yours to write to");
    }
}

}  // namespace sandfreeze::io
