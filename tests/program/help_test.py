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
        for command in ("run", "look", "materials", "help"):
            page = self.assert_runs(command, "--help").stdout
            self.assertIn(f"sandfreeze {command}", page)
            self.assertLessEqual(max(map(len, page.splitlines())), 80, page)
        page = self.assert_runs("run", "--help").stdout
        for option in ("-o", "--quiet", "--threads", "--strict", "--no-chill-test", "--self-check", "--plain"):
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
    def test_the_list_has_what_a_case_may_name(self):
        page = self.assert_runs("materials").stdout
        for name in ("pure aluminium", "AlSi12", "AlSi11", "AlSi10Mg", "AlSi7Mg", "green sand", "dry silica sand",
                     "mild steel", "grey iron", "copper", "graphite", "air"):
            self.assertRegex(page, rf"(?m)^  {name} ")
        self.assertLessEqual(max(map(len, page.splitlines())), 80)

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

    def test_a_misspelt_material(self):
        done = self.assert_runs("materials", "show", "AlSi1O", code=2)
        self.assertIn('the library has no material "AlSi1O"; did you mean "', done.stderr)
        self.assertEqual(run("materials", "show").returncode, 2)


if __name__ == "__main__":
    unittest.main()
