"""What goes wrong is told by a message on standard error and by the exit code."""

import os
import unittest

from program import SMALL_CASE, ProgramTest, run


class ExitCodes(ProgramTest):
    def assert_refused(self, code, message, *words):
        done = run(*words)
        self.assertEqual(done.returncode, code, done.stderr)
        self.assertEqual(done.stdout, "")
        self.assertIn(message, done.stderr)
        return done.stderr

    def refused_case(self, old, new, message):
        case = self.write_case(SMALL_CASE.replace(old, new))
        folder = self.folder / "answer"
        text = self.assert_refused(2, message, "run", case, "-o", folder)
        self.assertFalse(folder.exists(), "a case that cannot be used leaves nothing behind")
        return text

    # 2: the case

    def test_a_misspelt_role(self):
        text = self.refused_case('"feeder"\nmaterial', '"fedeer"\nmaterial', 'did you mean "feeder"?')
        line = SMALL_CASE[:SMALL_CASE.index('"feeder"\nmaterial')].count("\n") + 1
        self.assertTrue(text.startswith(f"{self.folder}/small.toml:{line}:"), text)

    def test_a_misspelt_key(self):
        self.refused_case("cell_mm", "cel_mm", 'did you mean "cell_mm"?')

    def test_a_misspelt_material(self):
        self.refused_case('"green sand"', '"gren sand"', 'did you mean "green sand"?')

    def test_a_check_on_a_part_that_is_not_there(self):
        self.refused_case('then  = "feeder"', 'then  = "feedr"', 'did you mean "feeder"?')

    def test_text_that_is_no_toml(self):
        self.refused_case("[section]", "[section", "small.toml:4:")

    def test_a_grid_that_is_too_large_for_any_machine(self):
        self.refused_case("cell_mm  = 2", "cell_mm  = 0.001", "cell_mm = 0.001 makes 212000 by 160000 cells")

    def test_a_filling_time_without_a_place_to_fill_from(self):
        self.refused_case("temperature_C = 710", "temperature_C = 710\nfill_time_s = 12", "enters is missing")

    def test_a_plan_without_heights(self):
        self.refused_case('"planar"', '"plan"', "[section] has no z_mm")

    def test_several_mistakes_are_reported_together(self):
        text = self.refused_case('"chill"\nmaterial', '"chil"\nmaterial = 5\nmaterail', "chil")
        self.assertGreaterEqual(text.count("small.toml:"), 2)

    # 2: the command line

    def test_a_misspelt_command(self):
        self.assert_refused(2, 'there is no command "rum"; did you mean "run"?', "rum", "x.toml")

    def test_a_misspelt_option(self):
        case = self.write_case()
        self.assert_refused(2, 'no option "--quite"; did you mean "--quiet"?', "run", case, "-o", "x", "--quite")

    def test_no_command(self):
        self.assert_refused(2, "no command was given")

    def test_no_case(self):
        self.assert_refused(2, "which case? Name its file: sandfreeze run CASE.toml -o DIR", "run")
        self.assert_refused(2, "which case? Name its file: sandfreeze look CASE.toml", "look")

    def test_no_folder(self):
        case = self.write_case()
        self.assert_refused(2, "where to put the answer? Name a folder with -o: sandfreeze run CASE.toml -o DIR",
                            "run", case)

    def test_an_option_without_its_value(self):
        self.assert_refused(2, "-o needs a value after it", "run", "x.toml", "-o")
        self.assert_refused(2, "which run? Name the folder of its answer: sandfreeze resume DIR", "resume", "")
        self.assert_refused(2, "--html needs a value after it", "sheet", self.write_case(), "--html", "")

    def test_an_option_given_twice(self):
        self.assert_refused(2, "-o is given twice; see sandfreeze run --help", "run", "x.toml", "-o", "a", "-o", "b")

    def test_two_commands_at_once(self):
        case = self.write_case()
        self.assert_refused(2, 'sandfreeze run does not know what to do with "look"', "run", case, "-o",
                            self.folder / "a", "look", case)
        self.assertFalse((self.folder / "a").exists())
        self.assert_refused(4, 'cannot go on with "run"', "resume", "run")  # a folder of that name

    def test_threads_out_of_range(self):
        case = self.write_case()
        for threads in ("0", "-1", "257", "two"):
            self.assert_refused(2, "--threads", "run", case, "-o", "x", "--threads", threads)

    def test_a_word_too_many(self):
        case = self.write_case()
        self.assert_refused(2, 'does not know what to do with "more"', "look", case, "more")

    # 4: files

    def test_a_case_that_is_not_there(self):
        text = self.assert_refused(4, 'cannot read "nowhere.toml"', "look", "nowhere.toml")
        self.assertIn("No such file", text)

    def test_a_case_with_a_misspelt_name(self):
        case = self.write_case()
        self.assert_refused(4, f'did you mean "{case}"?', "look", case.with_name("smal.toml"))

    def test_a_folder_for_a_case(self):
        self.assert_refused(4, "cannot read", "look", self.folder)

    def test_a_folder_that_cannot_be_made(self):
        self.assert_refused(4, 'cannot make the folder "/proc/answer"', "run", self.write_case(), "-o",
                            "/proc/answer")

    def test_a_file_in_the_place_of_the_folder(self):
        case = self.write_case()
        self.assert_refused(4, "a file of that name is in the way", "run", case, "-o", case)

    def test_a_folder_with_other_things_in_it_is_left_alone(self):
        case = self.write_case()
        other = self.folder / "holiday"
        other.mkdir()
        (other / "photo.txt").write_text("sea")
        text = self.assert_refused(4, "cannot write into", "run", case, "-o", other)
        self.assertIn('such as "photo.txt"', text)
        self.assertEqual([p.name for p in other.iterdir()], ["photo.txt"])

    def test_a_summary_of_something_else_is_left_alone(self):
        other = self.folder / "other"
        other.mkdir()
        (other / "summary.json").write_text('{"sales": 3}')
        self.assert_refused(4, "cannot write into", "run", self.write_case(), "-o", other)
        self.assertEqual((other / "summary.json").read_text(), '{"sales": 3}')

    def test_a_picture_where_no_picture_can_be(self):
        self.assert_refused(4, "cannot write", "look", self.write_case(), "-o", self.folder / "no" / "x.png")

    @unittest.skipUnless(os.path.exists("/dev/full"), "needs a device that is full")
    def test_an_output_that_cannot_be_written(self):
        with open("/dev/full", "w", encoding="utf-8") as full:
            done = run("materials", stdout=full)
        self.assertEqual(done.returncode, 4)
        self.assertIn("cannot write", done.stderr)

    # 0 and 1

    def test_a_check_decides(self):
        holds = self.write_case()
        self.assert_runs("run", holds, "-o", self.folder / "a", code=0)
        fails = self.write_case(SMALL_CASE.replace('first = "bar"\nthen  = "feeder"',
                                                   'first = "feeder"\nthen  = "bar"'), "fails.toml")
        done = self.assert_runs("run", fails, "-o", self.folder / "b", "--no-advice", code=1)
        self.assertIn("Check fails", done.stdout)
        self.assertEqual(done.stderr, "")

    def test_a_missed_margin_fails_too(self):
        case = self.write_case(SMALL_CASE + "margin_s = 100000\n")
        self.assert_runs("run", case, "-o", self.folder / "a", "--no-advice", code=1)

    def test_a_field_file_that_cannot_be_written(self):
        case = self.write_case()
        for threads in (1, 2):  # with two it is written beside the others
            folder = self.folder / str(threads)
            self.assert_runs("run", case, "-o", folder)
            summary = (folder / "summary.json").read_bytes()
            (folder / "fields.h5").unlink()
            (folder / "fields.h5" / "mine").mkdir(parents=True)
            done = run("run", case, "-o", folder, "--threads", threads)
            self.assertEqual(done.returncode, 4, done.stderr)
            self.assertIn(f'cannot write "{folder / "fields.h5"}"', done.stderr)
            self.assertIn("a folder of that name is in the way", done.stderr)
            self.assertIn("Small bar", done.stdout, "the answer is told all the same")
            self.assertEqual((folder / "summary.json").read_bytes(), summary, "the earlier answer stays")
            self.assertEqual([p.name for p in folder.iterdir() if p.name.startswith(".")], [])


if __name__ == "__main__":
    unittest.main()
