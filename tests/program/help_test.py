"""Help, materials and version."""

import re
import unittest

from program import PROJECT, ProgramTest, run

TOPICS = ["first-evening", "case", "verdicts", "files", "exit-codes"]


class Help(ProgramTest):
    def test_topics_answer_within_the_screen_width(self):
        overview = self.assert_runs("help").stdout
        self.assertLessEqual(max(map(len, overview.splitlines())), 80)
        for topic in TOPICS:
            self.assertIn(topic, overview)
            page = self.assert_runs("help", topic).stdout
            self.assertGreater(len(page.splitlines()), 10, topic)
            self.assertLessEqual(max(map(len, page.splitlines())), 80, topic)

    def test_options_are_listed_within_the_screen_width(self):
        for command in ("run", "resume", "look", "sheet", "materials", "help"):
            page = self.assert_runs(command, "--help").stdout
            self.assertIn(f"sandfreeze {command}", page)
            self.assertLessEqual(max(map(len, page.splitlines())), 80, page)
        page = self.assert_runs("run", "--help").stdout
        for option in ("-o", "--quiet", "--threads", "--strict", "--no-chill-test", "--self-check", "--plain",
                       "--no-advice", "--pictures", "--full-fields", "--sketch", "--checkpoint-every"):
            self.assertIn(option, page)

    def test_the_program_alone_says_what_there_is(self):
        self.assertEqual(self.assert_runs("--help").stdout, self.assert_runs("help").stdout)

    def test_a_misspelt_topic(self):
        done = self.assert_runs("help", "verdict", code=2)
        self.assertIn('there is no help on "verdict"; did you mean "verdicts"?', done.stderr)

    def test_the_version_is_that_of_the_project(self):
        version = re.search(r"VERSION (\d+\.\d+\.\d+)", (PROJECT / "CMakeLists.txt").read_text()).group(1)
        self.assertEqual(self.assert_runs("--version").stdout, f"sandfreeze {version}\n")

    def test_the_first_evening_runs_as_written(self):
        page = self.assert_runs("help", "first-evening").stdout
        lines = page[page.index("    title"):page.index("2. Look")].splitlines()
        case = self.write_case("\n".join(line[4:] for line in lines), "first.toml")
        self.assert_runs("look", case, cwd=self.folder)
        self.assert_runs("run", case, "-o", self.folder / "first")


class Materials(ProgramTest):
    def test_the_list_has_what_a_case_may_name_in_groups(self):
        page = self.assert_runs("materials").stdout
        self.assertLessEqual(max(map(len, page.splitlines())), 80)
        groups = re.split(r"(?m)^(Metals|Sands|Chills|Sleeves|Air)\b", page)
        found = dict(zip(groups[1::2], groups[2::2]))
        for group, names in {
                "Metals": ("pure aluminium", "AlCu4MgTi", "AlSi12", "AlSi7Mg", "AlSi7Mg0.3", "AlSi9Cu3", "CuSn10",
                           "CuZn33Pb2", "silicon bronze", "grey cast iron", "ductile cast iron",
                           "cast carbon steel", "ZA-12", "pewter"),
                "Sands": ("green sand", "dry silica sand", "zircon sand", "plaster investment", "refractory board"),
                "Chills": ("mild steel", "grey iron", "copper", "graphite"),
                "Sleeves": ("insulating sleeve", "exothermic sleeve", "covering powder"),
                "Air": ("air",)}.items():
            for name in names:
                self.assertRegex(found[group], rf"(?m)^  {re.escape(name)} ")
        self.assertRegex(page, r"(?m)^  AlSi7Mg +EN AC-42000 +614 to 577 °C$")
        self.assertRegex(page, r"(?m)^  pure tin +231\.9 °C$")

    def test_every_number_comes_with_unit_source_and_uncertainty(self):
        page = self.assert_runs("materials", "show", "AlSi12").stdout
        self.assertIn("EN AC-44200", page)
        for line in ("density_kg_m3 = ", "specific_heat_J_kgK = ", "conductivity_W_mK = ", "liquidus_C = ",
                     "latent_heat_J_kg = ", "shrinkage_percent = "):
            self.assertIn(line, page)
        self.assertIn("Magnusson & Arnberg", page)
        self.assertIn("+- 12 %", page)
        self.assertLessEqual(max(map(len, page.splitlines())), 80)

    def test_another_name_will_do(self):
        self.assertEqual(self.assert_runs("materials", "show", "EN AC-44200").stdout,
                         self.assert_runs("materials", "show", "AlSi12").stdout)

    def test_what_else_is_known_comes_with_source_and_uncertainty(self):
        page = self.assert_runs("materials", "show", "AlSi9Cu3").stdout
        self.assertRegex(page, r"dendrite_um = 17\.6\n +\+- 25 %; Ronto & Roosz")
        for key in ("dendrite_exponent", "liquid_contraction_percent_per_100K", "emissivity"):
            self.assertRegex(page, rf"  {key} = [\d.]+\n +\+- \d+ %; ")
        page = self.assert_runs("materials", "show", "exothermic sleeve").stdout
        for key in ("ignition_C", "burn_s", "heat_J_kg"):
            self.assertRegex(page, rf"  {key} = \d+\n +\+- \d+ %; ")
        page = self.assert_runs("materials", "show", "green sand").stdout
        for key in ("clay_percent", "dry_density_kg_m3", "dry_conductivity_W_mK"):
            self.assertIn(f"  {key} = ", page)

    def test_a_material_is_drawn_where_one_says_or_in_this_folder(self):
        done = self.assert_runs("materials", "show", "green sand", "--plot", cwd=self.folder)
        self.assertTrue(done.stdout.endswith("\nPicture: green_sand_properties.png\n"))
        self.assertTrue((self.folder / "green_sand_properties.png").read_bytes().startswith(b"\x89PNG"))
        picture = self.folder / "drawn.png"
        done = self.assert_runs("materials", "show", "AC-44100", "--plot", picture, cwd=self.folder)
        self.assertIn(f"Picture: {picture}\n", done.stdout)
        self.assertTrue(picture.exists())
        self.assert_runs("materials", "show", "AlSi12(b)", "--plot", cwd=self.folder)
        self.assertEqual(sorted(f.name for f in self.folder.iterdir()),
                         ["AlSi12_b_properties.png", "drawn.png", "green_sand_properties.png"])
        done = self.assert_runs("materials", "show", "air", "--plot", self.folder / "no" / "x.png", code=4)
        self.assertIn("x.png", done.stderr)
        self.assertIn("sandfreeze materials show", self.assert_runs("materials", "show", "--help").stdout)

    def test_a_misspelt_material(self):
        done = self.assert_runs("materials", "show", "AlSi1O", code=2)
        self.assertIn('the library has no material "AlSi1O"; did you mean "', done.stderr)
        self.assertEqual(run("materials", "show").returncode, 2)


if __name__ == "__main__":
    unittest.main()
