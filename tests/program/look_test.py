"""`look` draws the section and lists its parts without solving it."""

import re
import unittest

from vtkmodules.util.numpy_support import vtk_to_numpy
from vtkmodules.vtkIOImage import vtkPNGReader

import numpy

from program import CASES, SMALL_CASE, ProgramTest, named, run, summary_of


def colours_of(path):
    reader = vtkPNGReader()
    reader.SetFileName(str(path))
    reader.Update()
    image = reader.GetOutput()
    pixels = vtk_to_numpy(image.GetPointData().GetScalars())
    return image.GetDimensions(), len(numpy.unique(pixels, axis=0))


# A plate with a feeder on it, seen from above.
PLAN = """
title  = "Small plate"
format = 1
[section]
view    = "plan"
cell_mm = 2
x_mm    = [0, 100]
y_mm    = [0, 80]
z_mm    = [-30, 70]
[mould]
material = "green sand"
[pour]
temperature_C = 710
[[part]]
name      = "plate"
role      = "casting"
material  = "AlSi12"
rectangle = { x_mm = [20, 80], y_mm = [20, 60] }
z_mm      = [0, 10]
[[part]]
name      = "feeder"
role      = "feeder"
material  = "AlSi12"
circle    = { centre_mm = [40, 40], diameter_mm = 30 }
z_mm      = [10, 50]
"""


class Look(ProgramTest):
    def test_the_picture_shows_something(self):
        for case in sorted(CASES.glob("*.toml")):
            picture = self.folder / f"{case.stem}.png"
            self.assert_runs("look", case, "-o", picture)
            (width, height, _), colours = colours_of(picture)
            self.assertGreater(width, 800)
            self.assertGreater(height, 300)
            self.assertGreater(colours, 20)

    def test_without_a_name_the_picture_lies_in_the_current_folder(self):
        case = self.write_case()
        (self.folder / "here").mkdir()
        done = self.assert_runs("look", case, cwd=self.folder / "here")
        self.assertIn("Picture: small_section.png\n", done.stdout)
        self.assertEqual([p.name for p in (self.folder / "here").iterdir()], ["small_section.png"])

    def test_the_legend_has_every_part_with_its_measures(self):
        done = self.assert_runs("look", self.write_case(), cwd=self.folder)
        # 60 x 12 x 50 mm of AlSi12; it cools at two long sides, 60 mm and the 12 mm at the chill: V/A 5.45 mm.
        self.assertRegex(done.stdout, r"1  bar +casting +AlSi12 +60 x 12 +36 +0\.0911 +66 +5\.45\n")
        self.assertRegex(done.stdout, r"3  chill +chill +grey iron +12 x 12 +7\.2 +0\.0518\n")
        self.assertRegex(done.stdout, r"all metal +156 +0\.395\n")
        self.assertIn("= 8480 cells of 2 mm", done.stdout.replace("\n", " "))
        self.assertIn('"green sand"', done.stdout)

    def test_its_measures_are_those_of_the_run(self):
        case = CASES / "rope_pulley.toml"
        done = self.assert_runs("look", case, cwd=self.folder)
        self.assert_runs("run", case, "-o", self.folder / "a")
        for part in summary_of(self.folder / "a")["parts"]:
            line = re.search(rf"(?m)^ *\d+  {part['name']} .*$", done.stdout).group().split()
            for figure, key in zip(line[-4:], ["volume_cm3", "mass_kg", "cooling_area_cm2", "modulus_mm"]):
                self.assertAlmostEqual(float(figure), part[key], delta=0.006 * part[key], msg=key)

    def test_thin_walls_are_told_with_the_way_out(self):
        wedge = SMALL_CASE.replace("rectangle = { x_mm = [0, 60], y_mm = [0, 12] }",
                                   "polygon = { points_mm = [[0, 0], [60, 0], [60, 12], [0, 0.4]] }", 1)
        case = self.write_case(wedge)
        done = self.assert_runs("look", case, cwd=self.folder)
        text = " ".join(done.stdout.split())
        told = r"'bar' is 0\.4\d* mm thin at x [-\d.]+, y [-\d.]+ mm, 0\.2 cells across: " \
               r"use cell_mm = 0\.1\d or less for three"
        self.assertRegex(text, told)
        self.assert_runs("run", case, "-o", self.folder / "a")
        self.assertRegex(summary_of(self.folder / "a")["warnings"][0], told)
        thick = self.write_case(SMALL_CASE.replace("cell_mm  = 2", "cell_mm  = 1"), name="thick.toml")
        self.assertIn("Every wall has three cells or more across.",
                      self.assert_runs("look", thick, cwd=self.folder).stdout)

    def test_a_wall_of_two_cells_gets_finer_ones_and_no_warning(self):
        case = self.write_case(SMALL_CASE.replace("y_mm = [0, 12] }", "y_mm = [0, 4] }", 1))
        text = " ".join(self.assert_runs("look", case, cwd=self.folder).stdout.split())
        told = r"'bar' is 4 mm thin at x [-\d.]+, y [-\d.]+ mm, 2 cells across: computed from cells of 0\.5 mm\."
        self.assertRegex(text, told)
        self.assertIn("Every wall has three of these or more across.", text)
        self.assert_runs("run", case, "-o", self.folder / "a")
        answer = summary_of(self.folder / "a")
        self.assertEqual(answer["warnings"], [])
        self.assertRegex(answer["run"]["finer_cells"]["because"], told)
        self.assertEqual(answer["run"]["finer_cells"]["cell_mm"], 0.5)
        self.assertEqual(answer["run"]["finer_cells"]["for_part"], "bar")

    def test_a_mended_case_has_no_thin_walls(self):
        text = SMALL_CASE.replace("y_mm = [0, 12] }", "y_mm = [0, 1.2] }", 1).replace("cell_mm  = 2", "cell_mm  = 0.4")
        done = self.assert_runs("look", self.write_case(text), cwd=self.folder)
        self.assertIn("Every wall has three of these or more across.", done.stdout)

    def test_a_plan_is_told_with_heights_and_levels(self):
        picture = self.folder / "plan.png"
        done = self.assert_runs("look", self.write_case(PLAN), "-o", picture)
        text = " ".join(done.stdout.split())
        self.assertIn("plan, seen from above; z is up from the parting plane", text)
        self.assertRegex(text, r"x 0 to 100 mm, y 0 to 80 mm, z -30 to 70 mm; 50 x 40 x \d+ = \d+ cells of 2 mm "
                               r"by the height of their level")
        self.assertRegex(text, r'levels \d+ levels, [\d.]+ to [\d.]+ mm high, at most [\d.]+ mm where there is '
                               r'metal; levels = "auto"')
        # 60 x 40 x 10 mm; a cylinder of 30 mm across and 40 mm high: 28.3 cm3.
        self.assertRegex(done.stdout, r"1  plate +casting +AlSi12 +60 x 40 +0 to 10 +24 ")
        self.assertRegex(done.stdout, r"2  feeder +feeder +AlSi12 +30 x 30 +10 to 50 +28\.3 ")
        (width, height, _), colours = colours_of(picture)
        self.assertGreater(width, 800)
        self.assertGreater(height, 600)
        self.assertGreater(colours, 20)

    def test_a_wrong_height_is_seen_before_the_solve(self):
        hovering = self.write_case(PLAN.replace("z_mm      = [10, 50]", "z_mm      = [12, 50]"))
        done = run("look", hovering, cwd=self.folder)
        self.assertEqual(done.returncode, 2)
        self.assertIn('the nearest metal, "plate", is 2 mm below it', done.stderr)

    def test_warnings_of_the_case_are_shown(self):
        lonely = SMALL_CASE + ('[[part]]\nname = "puddle"\nrole = "basin"\nmaterial = "AlSi12"\n'
                               "rectangle = { x_mm = [0, 20], y_mm = [40, 60] }\n")
        done = self.assert_runs("look", self.write_case(lonely), cwd=self.folder)
        self.assertIn('"puddle" is filled with metal but joined to no casting', " ".join(done.stdout.split()))


if __name__ == "__main__":
    unittest.main()
