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
        self.assertIn("more: see summary.json", done.stdout)

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

    def test_bold_only_on_a_terminal_without_no_color(self):
        case = self.write_case()
        os.environ.pop("NO_COLOR", None)
        output, _ = self.run_on_terminal("run", case, "-o", self.folder / "a")
        self.assertIn("\033[1mSmall bar\033[0m", output)
        output, _ = self.run_on_terminal("run", case, "-o", self.folder / "a", environment={"NO_COLOR": "1"})
        self.assertNotIn("\033", output)


if __name__ == "__main__":
    unittest.main()
