"""What a run shows on a terminal, and what it does not show elsewhere."""

import os
import subprocess
import unittest

from program import CASES, PROGRAM, ProgramTest, interruptible, run


class Terminal(ProgramTest):
    def run_on_terminal(self, *words, environment=None):
        """Standard output and standard error of a run that has a terminal for each."""
        pairs = [os.openpty(), os.openpty()]
        process = subprocess.Popen([PROGRAM, *map(str, words)], stdin=subprocess.DEVNULL, stdout=pairs[0][1],
                                   stderr=pairs[1][1], env={**os.environ, **(environment or {})},
                                   preexec_fn=interruptible)
        for _, end in pairs:
            os.close(end)
        texts = []
        for terminal, _ in reversed(pairs):  # standard error first: it is written while the run goes on
            text = b""
            while True:
                try:
                    piece = os.read(terminal, 65536)
                except OSError:  # the other end is closed
                    break
                if not piece:
                    break
                text += piece
            os.close(terminal)
            texts.append(text.decode("utf-8"))
        process.wait(timeout=500)
        return texts[1], texts[0]

    def test_a_summary_with_many_findings_fits_too(self):
        parts = "".join(f"""
[[part]]
name = "a lug with quite a long name, number {n}"
role = "casting"
material = "AlSi12"
rectangle = {{ x_mm = [{40 * n}, {40 * n + 20}], y_mm = [0, 20] }}
""" for n in range(12))
        case = self.write_case('format = 1\ntitle = "Twelve lugs that nothing feeds, ' + 80 * "x" + '"\n'
                               '[section]\nview = "planar"\ncell_mm = 2\n[mould]\nmaterial = "green sand"\n'
                               "[pour]\ntemperature_C = 700\n" + parts)
        done = self.assert_runs("run", case, "-o", self.folder / "a", "--no-advice")
        lines = done.stdout.splitlines()
        self.assertLessEqual(len(lines), 24, done.stdout)
        self.assertLessEqual(max(map(len, lines)), 80, done.stdout)
        self.assertRegex(done.stdout, r"\nand \d+ more in report\.html: [a-z]")

    def test_the_worst_comes_first_with_its_place(self):
        done = run("run", CASES / "rocker_arm_thin_gate.toml", "-o", self.folder / "a", "--no-advice")
        lines = done.stdout.splitlines()
        self.assertEqual(lines[1], "2 things are wrong, the worst first:")
        self.assertRegex(lines[2], r"^Cut off: hot spot in 'boss' at x 1[5-7]\d(\.\d)?, y [56]\d(\.\d)? mm$")
        self.assertRegex(done.stdout, r"\nToo early: gate 'gate' at x \d+(\.\d)?, y \d+(\.\d)? mm\n")

    def test_a_good_design_says_so(self):
        done = run("run", CASES / "rocker_arm.toml", "-o", self.folder / "a")
        self.assertEqual(done.stdout.splitlines()[1],
                         "Nothing is wrong: all of the casting was fed until it closed.")

    def test_progress_shows_on_a_terminal_and_is_wiped(self):
        output, errors = self.run_on_terminal("run", CASES / "rocker_arm.toml", "-o", self.folder / "a")
        self.assertRegex(errors, r"\r +\d+ % of the metal frozen, \d+(\.\d)? m?i?n? ?s? ?.*after the pour")
        self.assertTrue(errors.endswith("\r" + 79 * " " + "\r"), errors[-100:])
        self.assertNotIn("\n", errors)
        self.assertNotIn("of the metal frozen", output)

    def test_quiet_shows_none(self):
        output, errors = self.run_on_terminal("run", self.write_case(), "-o", self.folder / "a", "--quiet")
        self.assertEqual(errors, "")
        self.assertIn("Small bar", output)

    def test_bold_and_colours_only_on_a_terminal_without_no_color(self):
        case = self.write_case()
        os.environ.pop("NO_COLOR", None)
        on_terminal = {"TERM": "xterm"}
        output, _ = self.run_on_terminal("run", case, "-o", self.folder / "a", environment=on_terminal)
        self.assertIn("\033[1mSmall bar\033[0m", output)
        output, _ = self.run_on_terminal("run", case, "-o", self.folder / "a",
                                         environment={**on_terminal, "NO_COLOR": ""})
        self.assertIn("\033", output, "empty counts as not set")
        for plain in ({"NO_COLOR": "1"}, {"TERM": "dumb"}):
            output, _ = self.run_on_terminal("run", case, "-o", self.folder / "a",
                                             environment={**on_terminal, **plain})
            self.assertNotIn("\033", output)
        self.assertNotIn("\033", run("run", case, "-o", self.folder / "a").stdout)

    def test_what_is_wrong_is_red_and_says_so_in_words_too(self):
        os.environ.pop("NO_COLOR", None)
        output, _ = self.run_on_terminal("run", CASES / "rocker_arm_thin_gate.toml", "-o", self.folder / "a",
                                         "--no-advice", environment={"TERM": "xterm"})
        self.assertRegex(output, r"\n\033\[1;31mCut off: hot spot in 'boss' at [^\n]*\033\[0m")

    def sketch_of(self, case, locale):
        done = self.assert_runs("run", case, "-o", self.folder / "a", "--no-advice", "--sketch",
                                env={**os.environ, "LC_ALL": locale})
        lines = done.stdout.split("\n\n")[-1].splitlines()
        self.assertLessEqual(max(map(len, done.stdout.splitlines())), 80, done.stdout)
        self.assertLessEqual(len(lines), 23, done.stdout)
        return lines

    def test_a_sketch_shows_the_last_metal_last_and_the_outlines_of_parts(self):
        lines = self.sketch_of(self.write_case(), "C")
        picture = [line for line in lines if not line.startswith("0 to 9")][:20]
        self.assertTrue(all(set(line) <= set("0123456789|-# ") for line in picture[:16]), lines)
        # The bar, 60 of 112 mm, with a chill to its left; the feeder on the right is the last.
        self.assertRegex(picture[-1], r"^#+\|?[0-9]")
        self.assertTrue(any("9" in line[55:] for line in picture))
        self.assertFalse(any("9" in line[:40] for line in picture))
        self.assertRegex("\n".join(picture), r"\d[|]\d", "a line between bar and feeder")
        key = " ".join(lines)
        self.assertIn("0 to 9: solid in that tenth of", key)
        self.assertIn("# chill", key)

    def test_a_sketch_has_shades_where_the_locale_can_show_them(self):
        text = "\n".join(self.sketch_of(self.write_case(), "C.UTF-8"))
        for shade in "░▒▓█│":
            self.assertIn(shade, text)
        self.assertIn("█ solid by", text)

    def test_a_plan_is_sketched_from_above(self):
        from look_test import PLAN
        text = "\n".join(self.sketch_of(self.write_case(PLAN), "C"))
        self.assertIn("9", text)
        self.assertIn("0", text)


if __name__ == "__main__":
    unittest.main()
