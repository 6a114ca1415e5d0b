"""The files of a run, read by readers that are not ours: h5py, and VTK's own Python."""

import csv
import hashlib
import unittest
import xml.etree.ElementTree

import h5py
import numpy
from vtkmodules.util.numpy_support import vtk_to_numpy
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
        self.assertEqual(cells(first, "temperature_C").max(), 710)
        self.assertEqual(cells(first, "temperature_C").min(), 20)

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


class Again(ProgramTest):
    def test_a_map_of_unfed_time_is_drawn_where_metal_ends_unfed(self):
        folder = self.folder / "answer"
        done = self.assert_runs("run", CASES / "rocker_arm_thin_gate.toml", "-o", folder, "--no-advice")
        self.assertTrue((folder / "unfed_time.png").exists())
        self.assertIn("unfed_time.png", done.stdout)
        done = self.assert_runs("run", CASES / "rocker_arm.toml", "-o", folder)
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
        self.assert_runs("run", case, "-o", answer)
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
        self.assert_runs("run", answer / "case.toml", "-o", answer)

    def test_what_a_killed_run_left_behind_is_replaced(self):
        answer = self.folder / "answer"
        self.assert_runs("run", self.write_case(), "-o", answer)
        (answer / "summary.json").unlink()
        (answer / "frames.partial").mkdir()
        self.assert_runs("run", self.folder / "small.toml", "-o", answer)
        self.assertTrue((answer / "summary.json").exists())

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
