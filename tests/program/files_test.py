"""The files of a run, read by readers that are not ours: h5py, and VTK's own Python."""

import csv
import hashlib
import os
import unittest
import xml.etree.ElementTree

import h5py
import numpy
from vtkmodules.util.numpy_support import vtk_to_numpy
from vtkmodules.vtkIOImage import vtkPNGReader
from vtkmodules.vtkIOXML import vtkXMLImageDataReader

from program import CASES, ProgramTest, run, summary_of

METAL_MAPS = ["freeze_time_s", "closing_time_s", "cut_off_time_s", "unfed_time_s"]


def read_image(path):
    reader = vtkXMLImageDataReader()
    reader.SetFileName(str(path))
    reader.Update()
    return reader.GetOutput()


def cells(image, name):
    return vtk_to_numpy(image.GetCellData().GetArray(name))


class Files(ProgramTest):
    """All tests look at one run."""

    @classmethod
    def setUpClass(cls):
        cls.case = CASES / "valve_plate_chill.toml"

    def setUp(self):
        super().setUp()
        self.answer = self.folder / "answer"
        self.assert_runs("run", self.case, "-o", self.answer)
        self.summary = summary_of(self.answer)

    def test_files(self):
        self.check_names()
        self.check_summary()
        self.check_series()
        self.check_maps()
        self.check_hdf5()
        self.check_probes()

    def check_names(self):
        self.assertEqual(sorted(p.name for p in self.answer.iterdir()),
                         ["case.toml", "criterion.png", "fields.h5", "frames", "freeze.pvd", "freeze_time.png", "hollow.png", "maps.vti",
                          "probes.csv", "report.html", "section.png", "summary.json"])

    def check_summary(self):
        text = self.case.read_bytes()
        self.assertEqual((self.answer / "case.toml").read_bytes(), text)
        self.assertEqual(self.summary["case_sha256"], hashlib.sha256(text).hexdigest())
        version = run("--version").stdout.split()
        self.assertEqual(version, ["sandfreeze", self.summary["program_version"]])
        facts = self.summary["run"]
        self.assertGreater(facts["wall_s"], facts["solve_s"])
        self.assertGreater(facts["solve_s"], 0)
        self.assertGreater(facts["peak_memory_bytes"], 1e6)

    def check_series(self):
        sets = xml.etree.ElementTree.parse(self.answer / "freeze.pvd").getroot().findall("Collection/DataSet")
        times = [float(s.get("timestep")) for s in sets]
        self.assertGreaterEqual(len(times), 30)
        self.assertTrue(all(a < b for a, b in zip(times, times[1:])), times)
        self.assertAlmostEqual(times[-1], self.summary["run"]["end_s"], delta=1e-6 * times[-1])
        first, last = (read_image(self.answer / s.get("file")) for s in (sets[0], sets[-1]))
        fraction = cells(first, "solid_fraction")
        metal = ~numpy.isnan(fraction)
        self.assertTrue((fraction[metal] == 0).all(), "at the start all metal is liquid")
        self.assertTrue((cells(last, "solid_fraction")[metal] == 1).all(), "at the end all metal is solid")
        self.assertTrue((cells(first, "temperature_C")[metal] == 710).all())
        self.assertTrue(numpy.isnan(cells(first, "temperature_C")[~metal]).all(), "blank outside the metal")
        self.assertTrue((cells(first, "vtkGhostType")[~metal] == 32).all(), "and hidden from viewers")
        # The smallest box around pad, web, seat, neck and feeder.
        self.assertEqual(numpy.count_nonzero(metal), 22 * 20 + 70 * 9 + 22 * 16 + 18 * 6 + 36 * 46)
        outside = numpy.pad(metal.reshape(first.GetDimensions()[1] - 1, -1), 1)
        for edge in (outside[1], outside[-2], outside[:, 1], outside[:, -2]):
            self.assertTrue(edge.any())

    def check_maps(self):
        maps = read_image(self.answer / "maps.vti")
        freezes = cells(maps, "freeze_time_s")
        # Metal of this case, drawn on the lines of its cells: pad, web, seat, neck, feeder.
        area = 22 * 20 + 70 * 9 + 22 * 16 + 18 * 6 + 36 * 46
        for name in METAL_MAPS[:2]:
            self.assertEqual(numpy.count_nonzero(~numpy.isnan(cells(maps, name))), area, name)
        self.assertAlmostEqual(float(numpy.nanmax(freezes)), self.summary["metal"]["last_freeze_s"],
                               delta=1e-6 * float(numpy.nanmax(freezes)))
        place = numpy.nanargmax(freezes)
        nx = maps.GetDimensions()[0] - 1
        self.assertEqual(self.summary["metal"]["last_freeze_at_mm"], [place % nx + 0.5, place // nx + 0.5])
        self.assertTrue((cells(maps, "closing_time_s") <= freezes)[~numpy.isnan(freezes)].all())

    def check_hdf5(self):
        maps = read_image(self.answer / "maps.vti")
        with h5py.File(self.answer / "fields.h5") as file:
            for name in METAL_MAPS:
                numpy.testing.assert_array_equal(file["maps"][name][()].ravel(), cells(maps, name))
            times = file["frames/time_s"][()]
            self.assertTrue((numpy.diff(times) > 0).all())
            self.assertEqual(file["frames/temperature_C"].shape, (len(times), 124, 202))
            text = file["case_text"][()]
            self.assertEqual(text, self.case.read_bytes())
            self.assertEqual(len(file["probes"]), len(self.summary["probes"]))

    def check_probes(self):
        with open(self.answer / "probes.csv", encoding="utf-8", newline="") as file:
            rows = list(csv.reader(file))
        self.assertEqual(rows[0], ["time_s", "middle of the pad_C", "narrows of the web_C"])
        self.assertEqual([float(x) for x in rows[1]], [0, 710, 710])
        self.assertAlmostEqual(float(rows[-1][1]), self.summary["probes"][0]["temperature_end_C"], delta=0.01)


def picture_size(path):
    """Of a PNG, by its header."""
    head = path.read_bytes()[:24]
    assert head[:8] == b"\x89PNG\r\n\x1a\n", path
    return int.from_bytes(head[16:20], "big"), int.from_bytes(head[20:24], "big")


def unpacked(data, least_bits):
    """Pixels of a GIF's image from its LZW codes."""
    clear, end = 1 << least_bits, (1 << least_bits) + 1
    pixels, table, bits, before = [], [], least_bits + 1, None
    stream, held, at = 0, 0, 0
    while True:
        while held < bits:
            stream |= data[at] << held
            held, at = held + 8, at + 1
        code = stream & ((1 << bits) - 1)
        stream, held = stream >> bits, held - bits
        if code == clear:
            table, bits, before = [bytes([n]) for n in range(clear)] + [b"", b""], least_bits + 1, None
            continue
        if code == end:
            return pixels
        entry = table[code] if code < len(table) else before + before[:1]
        pixels.extend(entry)
        if before is not None and len(table) < 4096:
            table.append(before + entry[:1])
        if len(table) == 1 << bits and bits < 12:
            bits += 1
        before = entry


def animation_of(path):
    """Size, durations in s, whether it plays for ever, and the first image in RGB, of a GIF, by its blocks."""
    data = path.read_bytes()
    assert data[:6] == b"GIF89a"
    size = int.from_bytes(data[6:8], "little"), int.from_bytes(data[8:10], "little")
    at = 13 + (3 << ((data[10] & 7) + 1) if data[10] & 128 else 0)
    palette = numpy.frombuffer(data[13:at], numpy.uint8).reshape(-1, 3)
    durations, frames, endless, first = [], 0, False, None

    def end_of_blocks(at):
        while data[at]:
            at += data[at] + 1
        return at + 1

    def joined_blocks(at):
        joined = b""
        while data[at]:
            joined += data[at + 1:at + 1 + data[at]]
            at += data[at] + 1
        return joined

    while data[at] != 0x3B:
        if data[at] == 0x21:  # an extension
            if data[at + 1] == 0xF9:
                durations.append(int.from_bytes(data[at + 4:at + 6], "little") / 100)
            endless = endless or data[at + 3:at + 14] == b"NETSCAPE2.0"
            at = end_of_blocks(at + 2)
        else:
            assert data[at] == 0x2C, at
            assert not data[at + 9] & 128, "one palette for all"
            left, top, width, height = (int.from_bytes(data[at + n:at + n + 2], "little") for n in (1, 3, 5, 7))
            assert left + width <= size[0] and top + height <= size[1]
            if first is None:
                assert (left, top, width, height) == (0, 0, *size)
                pixels = unpacked(joined_blocks(at + 11), data[at + 10])
                first = palette[numpy.array(pixels)].reshape(height, width, 3)
            frames += 1
            at = end_of_blocks(at + 11)
    assert at == len(data) - 1 and frames == len(durations)
    return size, durations, endless, first


def pixels_of(png):
    reader = vtkPNGReader()
    reader.SetFileName(str(png))
    reader.Update()
    image = reader.GetOutput()
    width, height, _ = image.GetDimensions()
    return vtk_to_numpy(image.GetPointData().GetScalars()).reshape(height, width, -1)[::-1, :, :3]


class Pictures(ProgramTest):
    def test_all_maps_and_an_animation_are_drawn_when_asked_for(self):
        folder = self.folder / "answer"
        case = self.write_case()
        environment = {k: v for k, v in os.environ.items() if k not in ("DISPLAY", "WAYLAND_DISPLAY")}
        done = self.assert_runs("run", case, "-o", folder, "--pictures", "--no-advice", env=environment)
        self.assertIn("pictures/", done.stdout)
        names = {p.name for p in (folder / "pictures").iterdir()}
        self.assertTrue({"freeze_time.png", "closing_time.png", "cut_off_time.png", "hollow.png",
                         "temperature.png", "freeze.gif", "frames"} <= names, names)
        for picture in (folder / "pictures").glob("*.png"):
            self.assertGreater(min(picture_size(picture)), 300, picture)
        frames = sorted((folder / "pictures" / "frames").iterdir())
        size, durations, endless, first = animation_of(folder / "pictures" / "freeze.gif")
        off = numpy.abs(first.astype(int) - pixels_of(frames[0]).astype(int)).max(axis=2)
        self.assertLess(numpy.count_nonzero(off > 40) / off.size, 0.002, "the palette has the colours of the pictures")
        self.assertEqual(len(frames), len(durations))
        self.assertTrue(20 <= len(frames) <= 40, len(frames))
        self.assertEqual({picture_size(frame) for frame in frames}, {size})
        self.assertTrue(endless)
        self.assertTrue(5 < sum(durations) < 15, durations)
        self.assert_runs("run", case, "-o", folder, "--no-advice")
        self.assertFalse((folder / "pictures").exists(), "pictures of another run would mislead")

    def test_full_fields_have_the_temperature_of_the_mould(self):
        folder = self.folder / "answer"
        self.assert_runs("run", self.write_case(), "-o", folder, "--full-fields", "--no-advice")
        image = read_image(folder / "frames" / "freeze_0000.vti")
        temperature = cells(image, "temperature_C")
        self.assertEqual((temperature.min(), temperature.max()), (20, 710))
        with h5py.File(folder / "fields.h5") as file:
            numpy.testing.assert_array_equal(file["frames/temperature_C"][0].ravel(), temperature)


class Again(ProgramTest):
    def test_a_map_of_unfed_time_is_drawn_where_metal_ends_unfed(self):
        folder = self.folder / "answer"
        done = self.assert_runs("run", CASES / "rocker_arm_thin_gate.toml", "-o", folder, "--no-advice")
        self.assertTrue((folder / "unfed_time.png").exists())
        self.assertIn("unfed_time.png", done.stdout)
        done = self.assert_runs("run", CASES / "rocker_arm.toml", "-o", folder, "--replace")
        self.assertFalse((folder / "unfed_time.png").exists())
        self.assertNotIn("unfed_time.png", done.stdout)

    def test_an_earlier_answer_is_replaced_as_a_whole(self):
        answer = self.folder / "answer"
        case = self.write_case()
        self.assert_runs("run", case, "-o", answer)
        self.assertTrue((answer / "probes.csv").exists())
        (answer / "notes.txt").write_text("mine")
        text = case.read_text()
        case.write_text(text[:text.index("[[probe]]")] + text[text.index("[[check]]"):])
        self.assert_runs("run", case, "-o", answer, "--replace")
        self.assertFalse((answer / "probes.csv").exists(), "there are no probes any more")
        self.assertEqual((answer / "notes.txt").read_text(), "mine")
        self.assertEqual((answer / "case.toml").read_text(), case.read_text())

    def test_a_case_that_was_changed_in_the_folder_is_not_overwritten(self):
        answer = self.folder / "answer"
        self.assert_runs("run", self.write_case(), "-o", answer)
        changed = (answer / "case.toml").read_text() + "# I went on here\n"
        (answer / "case.toml").write_text(changed)
        done = self.assert_runs("run", self.folder / "small.toml", "-o", answer, code=4)
        self.assertIn("it was changed after the run it belongs to", done.stderr)
        self.assertEqual((answer / "case.toml").read_text(), changed)
        self.assert_runs("run", answer / "case.toml", "-o", answer, "--replace")

    def test_what_a_killed_run_left_behind_is_replaced(self):
        answer = self.folder / "answer"
        for name in ("frames.partial", ".answer.unfinished-77"):
            (answer / name / "new").mkdir(parents=True)
        self.assert_runs("run", self.write_case(), "-o", answer)
        self.assertTrue((answer / "summary.json").exists())
        self.assertEqual([p.name for p in answer.iterdir() if "partial" in p.name or "unfinished" in p.name], [])

    def test_an_empty_folder_and_folders_in_folders_will_do(self):
        (self.folder / "empty").mkdir()
        case = self.write_case()
        self.assert_runs("run", case, "-o", self.folder / "empty")
        self.assert_runs("run", case, "-o", self.folder / "a" / "b")
        self.assertTrue((self.folder / "a" / "b" / "summary.json").exists())

    def test_it_runs_from_any_folder(self):
        self.write_case()
        (self.folder / "elsewhere").mkdir()
        self.assert_runs("run", "../small.toml", "-o", "here", cwd=self.folder / "elsewhere")
        self.assertEqual(summary_of(self.folder / "elsewhere" / "here")["title"], "Small bar")

    def test_without_the_chill_test_a_chill_has_no_verdict(self):
        self.assert_runs("run", self.write_case(), "-o", self.folder / "a", "--no-chill-test")
        self.assertIsNone(summary_of(self.folder / "a")["chills"][0]["verdict"])

    def test_plain_computes_every_voxel(self):
        self.assert_runs("run", self.write_case(), "-o", self.folder / "a", "--plain")
        facts = summary_of(self.folder / "a")["run"]
        self.assertEqual(facts["cells"], facts["voxels"])


if __name__ == "__main__":
    unittest.main()
