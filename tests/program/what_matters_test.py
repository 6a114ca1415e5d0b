"""--what-matters ranks what the verdicts hang on."""

import re
import unittest

from program import SMALL_CASE, ProgramTest, summary_of

# Thin walls in green sand, where what carries the heat away is the sand (common practice).
BAR = re.sub(r"(?s)\[\[part\]\]\nname      = \"chill\".*?\n(?=\[\[probe)", "", SMALL_CASE).replace("y_mm = [0, 60]", "y_mm = [0, 40]")


class WhatMatters(ProgramTest):
    def test_table_file_and_picture(self):
        answer = self.folder / "a"
        done = self.assert_runs("run", self.write_case(BAR), "-o", answer, "--what-matters")
        matters = summary_of(answer)["what_matters"]
        names = [i["input"] for i in matters["inputs"]]
        self.assertIn("moisture of green sand", names)
        self.assertIn("heat transfer from metal to mould", names)
        self.assertTrue(matters["whole"])
        self.assertGreaterEqual(matters["solves"], len(names) + 3)
        ranks = [i["margin_change_percent"] for i in matters["inputs"]]
        self.assertEqual(ranks, sorted(ranks, reverse=True))

        # The sand decides how long all of it takes: conductivity, +-25 %, moves the last freeze time most of all.
        by_last = max(matters["inputs"], key=lambda i: abs(i["last_freeze_change_percent"]["high"]))
        self.assertEqual(by_last["input"], "conductivity of green sand")
        self.assertLess(by_last["last_freeze_change_percent"]["high"], -5)
        self.assertEqual((by_last["low"], by_last["high"]), ("-25 %", "+25 %"))
        self.assertEqual(by_last["range_from"], "the library's green sand")
        moisture = next(i for i in matters["inputs"] if i["input"] == "moisture of green sand")
        self.assertEqual((moisture["low"], moisture["high"]), ("2.8 %", "4.2 %"))
        self.assertLess(moisture["last_freeze_change_percent"]["high"], 0)

        lines = done.stdout.splitlines()
        table = lines[next(n for n, line in enumerate(lines) if line.startswith("What matters")):]
        self.assertLessEqual(max(map(len, table)), 80, done.stdout)
        self.assertTrue(table[2].startswith(names[0]), done.stdout)
        told = " ".join(" ".join(table).split())
        self.assertIn(" ".join(matters["because"].split()), told)
        for name in names[6:]:
            self.assertIn(name, told)
        self.assertRegex(done.stderr, rf"^What matters: {len(names)} uncertain inputs, about {len(names) + 3} more solves")
        self.assertTrue((answer / "what_matters.png").read_bytes().startswith(b"\x89PNG"))

        studied = summary_of(answer)
        again = self.assert_runs("run", self.folder / "small.toml", "-o", answer)
        plain = summary_of(answer)
        self.assertNotIn("What matters", again.stdout)
        self.assertNotIn("what_matters", plain)
        self.assertFalse((answer / "what_matters.png").exists())  # it went with the answer that it belonged to
        for member in ("metal", "parts", "gates", "feeders", "checks"):
            self.assertEqual(plain[member], studied[member])

    def test_ctrl_c_keeps_the_answer_and_what_was_found(self):
        case = self.write_case(BAR.replace("cell_mm  = 2", "cell_mm  = 1"))
        output = self.interrupt_once_it_says("What matters", "run", case, "-o", self.folder / "a", "--what-matters", "--threads", "1")
        summary = summary_of(self.folder / "a")
        self.assertTrue(summary["run"]["all_solid"])
        self.assertFalse(summary["what_matters"]["whole"])
        self.assertIn("Stopped after ", summary["what_matters"]["because"])
        self.assertIn("Stopped after ", output)


if __name__ == "__main__":
    unittest.main()
