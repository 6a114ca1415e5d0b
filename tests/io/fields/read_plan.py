"""Reads a sample plan with VTK's own Python and h5py and holds it against what was written."""
import pathlib
import subprocess
import sys
import warnings
import xml.etree.ElementTree as xml

import h5py
import numpy as np
from vtkmodules.util.numpy_support import vtk_to_numpy
from vtkmodules.vtkIOXML import vtkXMLImageDataReader, vtkXMLRectilinearGridReader

NX, NY, NZ = 12, 7, 3
X_FACES = -10 + 2 * np.arange(NX + 1)
Y_FACES = 30 + 2 * np.arange(NY + 1)
Z_FACES = np.array([-4, 0, 2, 8])
K, J, I = np.meshgrid(np.arange(NZ), np.arange(NY), np.arange(NX), indexing="ij")

FLAT = np.zeros((NY, NX), int)
FLAT[2:5, 2:10] = 1
FLAT[1, 4:7] = 2
FLAT[5:7, 8:10] = 3
PART = np.stack([np.where(FLAT == 2, 2, 0), np.where(FLAT == 1, 1, 0), np.where(FLAT == 2, 0, FLAT)])
METAL = (PART == 1) | (PART == 3)
FREEZE = np.where(METAL, 100.0 * K + 10 * I + J, np.nan)
FREEZE_WRITTEN = np.where((I == 3) & (J == 2) & (K == 0), np.nan, FREEZE)


def through(values, which):
    with warnings.catch_warnings():
        warnings.simplefilter("ignore")  # of columns without metal
        return which(values, axis=0)


FLAT_MAPS = {
    "last_freeze_time_s": through(FREEZE_WRITTEN, np.nanmax),
    "first_cut_off_time_s": through(FREEZE / 4, np.nanmin),
    "most_unfed_time_s": through(FREEZE / 8, np.nanmax),
    "part_at_middle_level": PART[2],
    "part_from_above": np.where(PART[2] > 0, PART[2], np.where(PART[1] > 0, PART[1], PART[0])),
}


def same(found, expected, what):
    assert found.shape == np.shape(expected), (what, found.shape)
    assert np.allclose(found, expected, rtol=1e-6, atol=0, equal_nan=True), (what, found)


def read(path):
    text = path.read_bytes()
    assert b"appended" not in text, "some viewers cannot read appended data"
    assert b"vtkLZ4DataCompressor" in text
    reader = vtkXMLRectilinearGridReader() if path.suffix == ".vtr" else vtkXMLImageDataReader()
    assert reader.CanReadFile(str(path)), path
    reader.SetFileName(str(path))
    reader.Update()
    assert reader.GetErrorCode() == 0, path
    return reader.GetOutput()


def cells(data, name, shape):
    array = data.GetCellData().GetArray(name)
    assert array is not None, f"no array {name}"
    return vtk_to_numpy(array).reshape(shape)


def check_places(grid):
    assert grid.GetDimensions() == (NX + 1, NY + 1, NZ + 1)
    same(vtk_to_numpy(grid.GetXCoordinates()), X_FACES, "x")
    same(vtk_to_numpy(grid.GetYCoordinates()), Y_FACES, "y")
    assert np.allclose(vtk_to_numpy(grid.GetZCoordinates()), Z_FACES), "z"


def frames_of(folder, name, pattern):
    entries = xml.parse(folder / name).getroot().findall("Collection/DataSet")
    assert [float(e.get("timestep")) for e in entries] == [0.0, 1.25, 7.1]
    assert [e.get("file") for e in entries] == [pattern.format(n) for n in range(3)]
    for frame, entry in enumerate(entries):
        data = read(folder / entry.get("file"))
        assert data.GetFieldData().GetArray("TimeValue").GetValue(0) == float(entry.get("timestep"))
        yield frame, data


def temperature_at(frame):
    return 600 + 100.0 * K + 10 * I + J + 0.25 * frame


def solid_at(frame):
    return np.where(METAL, (frame + I / 16) / 4, np.nan)


def check_vtk(folder):
    maps = read(folder / "maps.vtr")
    check_places(maps)
    same(cells(maps, "freeze_time_s", PART.shape), FREEZE_WRITTEN, "freeze_time_s")
    same(cells(maps, "unfed_time_s", PART.shape), FREEZE / 8, "unfed_time_s")
    same(cells(maps, "part", PART.shape), PART, "part")
    flat = read(folder / "plan_maps.vti")
    assert flat.GetDimensions() == (NX + 1, NY + 1, 1)
    for name, expected in FLAT_MAPS.items():
        same(cells(flat, name, FLAT.shape), expected, name)
    middle = flat.GetFieldData().GetArray("middle_level_z_mm")
    assert np.allclose([middle.GetValue(0), middle.GetValue(1)], [2, 8])
    check_frames_of_metal(folder)
    folder = folder / "full"
    for frame, grid in frames_of(folder, "freeze.pvd", "frames/freeze_{:04}.vtr"):
        check_places(grid)
        same(cells(grid, "temperature_C", PART.shape), temperature_at(frame), frame)
        same(cells(grid, "solid_fraction", PART.shape), solid_at(frame), frame)
    for frame, image in frames_of(folder, "plan.pvd", "plan_frames/plan_{:04}.vti"):
        same(cells(image, "temperature_C", FLAT.shape), temperature_at(frame)[2], frame)
        same(cells(image, "solid_fraction", FLAT.shape), solid_at(frame)[2], frame)
        same(cells(image, "least_solid_fraction", FLAT.shape), through(solid_at(frame), np.nanmin), frame)


def check_frames_of_metal(folder):
    """Columns 2 to 9, rows 2 to 6, levels 1 and 2; the rest is hidden."""
    box = (slice(1, 3), slice(2, 7), slice(2, 10))
    metal = METAL[box]
    for frame, grid in frames_of(folder, "freeze.pvd", "frames/freeze_{:04}.vtr"):
        assert grid.GetDimensions() == (9, 6, 3)
        assert np.allclose(vtk_to_numpy(grid.GetZCoordinates()), [0, 2, 8])
        same(cells(grid, "temperature_C", metal.shape), np.where(metal, temperature_at(frame)[box], np.nan), frame)
        same(cells(grid, "solid_fraction", metal.shape), solid_at(frame)[box], frame)
        assert (cells(grid, "vtkGhostType", metal.shape) == np.where(metal, 0, 32)).all()
    for frame, image in frames_of(folder, "plan.pvd", "plan_frames/plan_{:04}.vti"):
        shape = metal.shape[1:]
        least = through(solid_at(frame)[box], np.nanmin)
        same(cells(image, "least_solid_fraction", shape), least, frame)
        same(cells(image, "solid_fraction", shape), solid_at(frame)[box][1], frame)
        assert (cells(image, "vtkGhostType", shape) == np.where(np.isnan(least), 32, 0)).all()


def check_hdf5(path):
    with h5py.File(path, "r") as file:
        assert file.attrs["view"] == "plan"
        for name, places in (("x", X_FACES), ("y", Y_FACES), ("z", Z_FACES)):
            faces = file[f"{name}_faces_mm"]
            assert faces.attrs["units"] == "mm" and np.allclose(faces, places)
            assert np.allclose(file[f"{name}_mm"], (places[1:] + places[:-1]) / 2)
        same(file["maps/freeze_time_s"], FREEZE_WRITTEN, "freeze_time_s")
        same(file["maps/part"], PART, "part")
        assert set(file["plan"]) == set(FLAT_MAPS)
        for name, expected in FLAT_MAPS.items():
            same(file["plan"][name], expected, name)
            assert file["plan"][name].attrs["units"] == ("s" if name.endswith("_s") else "1")
            assert len(file["plan"][name].attrs["meaning"]) > 10
        assert np.allclose(file["plan"].attrs["middle_level_z_mm"], [2, 8])
        for frame in range(3):
            same(file["frames/temperature_C"][frame], temperature_at(frame), frame)
            same(file["frames/solid_fraction"][frame], solid_at(frame), frame)
        assert np.allclose(file["probes/0"].attrs["at_mm"], [1, 37, 1])


program, folder = sys.argv[1], pathlib.Path(sys.argv[2])
subprocess.run([program, folder, "plan"], check=True)
check_vtk(folder)
check_hdf5(folder / "answer.h5")
print("as written")
