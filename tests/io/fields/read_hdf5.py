"""Reads the sample file with h5py and holds it against what was written."""
import pathlib
import subprocess
import sys

import h5py
import numpy as np

NX, NY = 12, 7
I, J = np.meshgrid(np.arange(NX), np.arange(NY))
PART = np.zeros((NY, NX), int)
PART[2:5, 2:10] = 1
PART[1, 4:7] = 2
PART[5:7, 8:10] = 3
METAL = (PART == 1) | (PART == 3)


def only_metal(values):
    return np.where(METAL, values, np.nan)


def same(found, expected, what):
    assert found.shape == np.shape(expected), (what, found.shape)
    assert np.allclose(found, expected, rtol=1e-6, atol=0, equal_nan=True), (what, found)


def units(dataset):
    return dataset.attrs["units"]


def check_heading(file):
    assert file.attrs["title"] == 'Prüfstück <1> & "two"'
    assert file.attrs["format"] == 1
    assert file.attrs["view"] == "planar"
    assert abs(file.attrs["cell_mm"] - 2) < 1e-12
    assert file["case_text"].asstr()[()] == 'title = "Prüfstück"\n# the case\n'
    same(file["x_mm"], -10 + 2 * (np.arange(NX) + 0.5), "x_mm")
    same(file["y_mm"], 30 + 2 * (np.arange(NY) + 0.5), "y_mm")
    assert units(file["x_mm"]) == "mm"
    assert list(file["parts/name"].asstr()) == ["mould", "plate", "chill & co", "feeder"]
    assert list(file["parts/role"].asstr()) == ["sand", "casting", "chill", "feeder"]
    assert list(file["parts/material"].asstr()) == ["green sand", "AlSi10Mg", "grey iron", "AlSi10Mg"]
    assert list(file["materials/name"].asstr()) == ["green sand", "AlSi10Mg", "grey iron"]


def check_maps(maps):
    freeze = (10.0 * I + J)
    expected = {
        "freeze_time_s": ("s", np.where((I == 3) & (J == 2), np.nan, freeze)),
        "closing_time_s": ("s", freeze / 2),
        "cut_off_time_s": ("s", freeze / 4),
        "unfed_time_s": ("s", freeze / 8),
        "below_liquidus_s": ("s", freeze / 16),
        "cooling_rate_K_s": ("K/s", 1.0 + I),
        "gradient_K_mm": ("K/mm", 1.0 + J),
        "criterion_sqrtKs_mm": ("(K s)^0.5/mm", 0.5 * (1.0 + I)),
        "pressure_loss_Pa": ("Pa", 100.0 * (1.0 + J)),
        "arm_spacing_um": ("um", 10.0 * (1.0 + I)),
        "hollow_percent": ("%", 100.0 * I / 1024),
        "pores_percent": ("%", 100.0 * J / 1024),
    }
    for name, (unit, values) in expected.items():
        same(maps[name], only_metal(values), name)
        assert units(maps[name]) == unit and len(maps[name].attrs["meaning"]) > 10
    assert (maps["part"][()] == PART).all()
    assert (maps["material"][()] == np.array([0, 1, 2, 1])[PART]).all()
    assert set(maps) == set(expected) | {"part", "material"}


def check_frames(frames):
    same(frames["time_s"], [0, 1.25, 7.1], "time_s")
    for frame in range(3):
        same(frames["temperature_C"][frame], 600.0 + 10 * I + J + 0.25 * frame, frame)
        same(frames["solid_fraction"][frame], only_metal((frame + I / 16) / 4), frame)
    assert units(frames["temperature_C"]) == "°C" and units(frames["solid_fraction"]) == "1"
    assert frames["temperature_C"].chunks == (1, NY, NX) and frames["temperature_C"].compression == "gzip"
    assert frames["temperature_C"].dtype == np.float32


def check_probes(probes):
    mid, sand = probes["0"], probes["1"]
    assert mid.attrs["name"] == 'mid "plate", 20 °C/s' and mid.attrs["part"] == "plate"
    assert np.allclose(mid.attrs["at_mm"], [1, 37])
    same(mid["time_s"], [0, 0.5, 2], "time_s")
    same(mid["temperature_C"], [700, 650.125, 600], "temperature_C")
    same(mid["solid_fraction"], [0, 0.25, 1], "solid_fraction")
    assert np.isnan(sand["solid_fraction"]).all()


program, folder = sys.argv[1], pathlib.Path(sys.argv[2])
subprocess.run([program, folder], check=True)
with h5py.File(folder / "answer.h5", "r") as file:
    check_heading(file)
    check_maps(file["maps"])
    check_frames(file["frames"])
    check_probes(file["probes"])
print("as written")
