"""Holds the frames of a larger sample in VTK and in HDF5 files against each other, read by VTK and h5py."""
import pathlib
import subprocess
import sys

import h5py
import numpy as np
from vtkmodules.util.numpy_support import vtk_to_numpy
from vtkmodules.vtkIOXML import vtkXMLImageDataReader

NX, NY, FRAMES = 517, 390, 4  # several blocks in VTK; chunks that do not divide the section in HDF5


def frame_of(path):
    reader = vtkXMLImageDataReader()
    reader.SetFileName(str(path))
    reader.Update()
    assert reader.GetErrorCode() == 0, path
    data = reader.GetOutput().GetCellData()
    return [vtk_to_numpy(data.GetArray(n)).reshape(NY, NX) for n in ("temperature_C", "solid_fraction")]


def check_values(temperature, solid):
    metal = ~np.isnan(solid)
    j, i = np.nonzero(metal)
    assert abs(metal.mean() - np.pi * (0.3 * NY) ** 2 / (NX * NY)) < 0.01
    assert abs(i.mean() - NX / 2) < 1 and abs(j.mean() - NY / 2) < 1, "the disk is in the middle"
    assert np.isfinite(temperature).all() and 20 <= temperature.min() and temperature.max() < 610
    assert (temperature[metal] * 64 % 1 == 0).all() and (temperature[metal] * 8 % 1 != 0).any()
    assert (temperature[~metal] * 8 % 1 == 0).all() and (temperature[~metal] % 1 != 0).any()
    assert (solid[metal] * 1024 % 1 == 0).all()
    assert solid[metal].min() >= 0 and solid[metal].max() <= 1


program, folder = sys.argv[1], pathlib.Path(sys.argv[2])
subprocess.run([program, folder, str(NX), str(NY), str(FRAMES)], check=True)
with h5py.File(folder / "answer.h5", "r") as file:
    frames = file["frames"]
    assert frames["solid_fraction"].compression == "gzip" and frames["solid_fraction"].shuffle
    assert frames["solid_fraction"].shape == (FRAMES, NY, NX)
    for frame in range(FRAMES):
        temperature, solid = frame_of(folder / "full" / "frames" / f"freeze_{frame:04}.vti")
        check_values(temperature, solid)
        np.testing.assert_array_equal(frames["temperature_C"][frame], temperature)
        np.testing.assert_array_equal(frames["solid_fraction"][frame], solid)
    history = frames["temperature_C"][:, NY // 2, NX // 2]
    assert (np.diff(history) < 0).all(), "the middle of the disk cools"
print("as written")
