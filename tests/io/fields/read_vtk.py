"""Reads the sample series with VTK's own Python and holds it against what was written."""
import math
import pathlib
import subprocess
import sys
import xml.etree.ElementTree as xml

from vtkmodules.util.numpy_support import vtk_to_numpy
from vtkmodules.vtkFiltersGeometry import vtkDataSetSurfaceFilter
from vtkmodules.vtkIOXML import vtkXMLImageDataReader

NX, NY = 12, 7


def read(path):
    reader = vtkXMLImageDataReader()
    assert reader.CanReadFile(str(path)), path
    reader.SetFileName(str(path))
    reader.Update()
    assert reader.GetErrorCode() == 0, path
    return reader.GetOutput()


def cells(image, name):
    array = image.GetCellData().GetArray(name)
    assert array is not None, f"no array {name}"
    return vtk_to_numpy(array).reshape(NY, NX)


def part_at(i, j):
    if 2 <= i <= 9 and 2 <= j <= 4:
        return 1
    if 4 <= i <= 6 and j == 1:
        return 2
    return 3 if 8 <= i <= 9 and j >= 5 else 0


def check_place(image):
    assert image.GetDimensions() == (NX + 1, NY + 1, 1)
    for found, expected in zip(image.GetOrigin(), (-10, 30, 0)):
        assert abs(found - expected) < 1e-9
    assert abs(image.GetSpacing()[0] - 2) < 1e-12 and abs(image.GetSpacing()[1] - 2) < 1e-12
    # The cell around (-10 + 2.5 * 2, 30 + 1.5 * 2) mm is column 2 of row 1.
    corner = image.GetCell(1 * NX + 2).GetBounds()
    assert abs(corner[0] + 6) < 1e-9 and abs(corner[2] - 32) < 1e-9, corner


def names(image, array):
    found = image.GetFieldData().GetAbstractArray(array)
    return [found.GetValue(n) for n in range(found.GetNumberOfValues())]


def check_maps(folder):
    image = read(folder / "maps.vti")
    check_place(image)
    formulas = {
        "freeze_time_s": lambda i, j: math.nan if (i, j) == (3, 2) else 10 * i + j,
        "closing_time_s": lambda i, j: (10 * i + j) / 2,
        "cut_off_time_s": lambda i, j: (10 * i + j) / 4,
        "unfed_time_s": lambda i, j: (10 * i + j) / 8,
        "below_liquidus_s": lambda i, j: (10 * i + j) / 16,
        "cooling_rate_K_s": lambda i, j: 1 + i,
        "gradient_K_mm": lambda i, j: 1 + j,
        "criterion_sqrtKs_mm": lambda i, j: (1 + i) / 2,
        "pressure_loss_Pa": lambda i, j: 100 * (1 + j),
        "arm_spacing_um": lambda i, j: 10 * (1 + i),
        "hollow_percent": lambda i, j: 100 * i / 1024,
        "pores_percent": lambda i, j: 100 * j / 1024,
    }
    for name, formula in formulas.items():
        values = cells(image, name)
        for j in range(NY):
            for i in range(NX):
                expected = formula(i, j) if part_at(i, j) in (1, 3) else math.nan
                same = math.isnan(values[j, i]) if math.isnan(expected) else abs(values[j, i] - expected) < 1e-5
                assert same, (name, i, j, values[j, i], expected)
    part, material = cells(image, "part"), cells(image, "material")
    for j in range(NY):
        for i in range(NX):
            assert part[j, i] == part_at(i, j), (i, j)
            assert material[j, i] == (0, 1, 2, 1)[part_at(i, j)], (i, j)
    assert names(image, "part_names") == ["mould", "plate", "chill & co", "feeder"]
    assert names(image, "part_roles") == ["sand", "casting", "chill", "feeder"]
    assert names(image, "material_names") == ["green sand", "AlSi10Mg", "grey iron"]
    assert image.GetCellData().GetNumberOfArrays() == len(formulas) + 2


def series(folder):
    entries = xml.parse(folder / "freeze.pvd").getroot().findall("Collection/DataSet")
    assert [float(e.get("timestep")) for e in entries] == [0.0, 1.25, 7.1]
    assert [e.get("file") for e in entries] == [f"frames/freeze_{n:04}.vti" for n in range(3)]
    for frame, entry in enumerate(entries):
        text = (folder / entry.get("file")).read_bytes()
        assert b"appended" not in text, "some viewers cannot read appended data"
        assert b"vtkLZ4DataCompressor" in text
        image = read(folder / entry.get("file"))
        assert image.GetFieldData().GetArray("TimeValue").GetValue(0) == float(entry.get("timestep"))
        yield frame, image


def unit(image, name):
    array = image.GetCellData().GetArray(name)
    return array.GetInformation().Get(array.UNITS_LABEL())


def numbers(image, name):
    array = image.GetFieldData().GetArray(name)
    return [array.GetValue(n) for n in range(array.GetNumberOfTuples())]


def check_frames_of_metal(folder):
    """The smallest box around the metal: columns 2 to 9, rows 2 to 6; the rest of it is hidden."""
    for frame, image in series(folder):
        assert image.GetDimensions() == (9, 6, 2)
        assert all(abs(a - b) < 1e-9 for a, b in zip(image.GetOrigin(), (-6, 34, 0))), image.GetOrigin()
        data = image.GetCellData()
        assert [data.GetArrayName(n) for n in range(data.GetNumberOfArrays())] == [
            "solid_fraction", "temperature_C", "vtkGhostType"]
        assert unit(image, "temperature_C") == "°C" and unit(image, "solid_fraction") == "1"
        assert numbers(image, "solid_fraction_range") == [0, 1]
        assert numbers(image, "temperature_C_range") == [20, 600 + 10 * 9 + 6 + 0.25 * 2], "from what is poured"
        solid, temperature, hidden = (vtk_to_numpy(data.GetArray(n)).reshape(5, 8) for n in range(3))
        for j in range(2, NY):
            for i in range(2, 10):
                metal = part_at(i, j) in (1, 3)
                at = j - 2, i - 2
                assert hidden[at] == (0 if metal else 32), "32 hides a cell in VTK"
                if metal:
                    assert temperature[at] == 600 + 10 * i + j + 0.25 * frame, (frame, i, j)
                    assert solid[at] == (frame + i / 16) / 4, (frame, i, j)
                else:
                    assert math.isnan(temperature[at]) and math.isnan(solid[at]), (frame, i, j)


def check_frames_of_everything(folder):
    for frame, image in series(folder):
        check_place(image)
        assert image.GetCellData().GetNumberOfArrays() == 2
        temperature, solid = cells(image, "temperature_C"), cells(image, "solid_fraction")
        for j in range(NY):
            for i in range(NX):
                assert temperature[j, i] == 600 + 10 * i + j + 0.25 * frame, (frame, i, j)
                if part_at(i, j) in (1, 3):
                    assert solid[j, i] == (frame + i / 16) / 4, (frame, i, j)
                else:
                    assert math.isnan(solid[j, i]), (frame, i, j)


def check_drawing(folder):
    """What a viewer makes of a frame: the faces of the metal, and of nothing else."""
    surface = vtkDataSetSurfaceFilter()
    surface.SetInputData(read(folder / "frames" / "freeze_0001.vti"))
    surface.Update()
    around = 2 * (8 + 3) + 2 * 2  # plate, and what the feeder on it adds
    assert surface.GetOutput().GetNumberOfCells() == 2 * (24 + 4) + around


program, folder = sys.argv[1], pathlib.Path(sys.argv[2])
subprocess.run([program, folder], check=True)
check_maps(folder)
check_frames_of_metal(folder)
check_drawing(folder)
check_frames_of_everything(folder / "full")
print("as written")
