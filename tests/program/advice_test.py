"""What would mend a bad verdict: tried before it is offered, and true when it is done."""

import re
import unittest

from program import CASES, ProgramTest, named, run, summary_of


def applied(text, edits):
    """The case file with the edits made as a caster would make them."""
    for edit in edits:
        if edit["key"] is None:
            text = text.replace("[[part]]", edit["to"] + "\n[[part]]", 1)
            continue
        key = re.escape(edit["key"].split(".")[-1])
        part = re.fullmatch(r"part '(.*)'", edit["where"])
        start = text.index(f'"{part.group(1)}"', text.index("[[part]]")) if part else 0
        line = re.compile(rf"({key}\s*=\s*){re.escape(edit['from'])}")
        text = text[:start] + line.sub(lambda m, to=edit["to"]: m.group(1) + to, text[start:], count=1)
    return text


class Advice(ProgramTest):
    def advised(self, name):
        folder = self.folder / "a"
        done = run("run", CASES / f"{name}.toml", "-o", folder)
        return done, summary_of(folder)

    def test_a_chill_behind_sand_is_to_be_moved_and_then_all_is_well(self):
        done, summary = self.advised("valve_plate_chill_behind_sand")
        trouble, = summary["advice"]
        self.assertEqual((trouble["of"], trouble["verdict"]), ("hot spot in 'pad'", "cut off"))
        self.assertEqual(trouble["with"], ["check 'pad' before 'narrows of the web'"])
        offer = trouble["offered"][0]
        self.assertEqual(offer["change"], "move chill 'chill' by 4 mm, against the casting")
        self.assertEqual(offer["verdict"], "fed")
        self.assertAlmostEqual(offer["extra_metal_kg"], 0, delta=1e-6)
        self.assertEqual(offer["worse"], [])
        self.assertTrue(summary["advice_run"]["whole"])
        self.assertEqual(summary["advice_run"]["solves"], len(trouble["offered"]) + len(trouble["not_enough"]))

        self.assertRegex(done.stderr, r"^What would mend it: up to 6 more solves, .*\n.*--no-advice")
        told = done.stdout[done.stdout.index("What would mend it"):]
        self.assertLessEqual(max(map(len, told.splitlines())), 80, told)
        self.assertIn("  1. Move chill 'chill' by 4 mm, against the casting.\n", told)
        self.assertIn("part 'chill', rectangle.x_mm: [20, 40] instead of [16, 36]", told)

        text = (CASES / "valve_plate_chill_behind_sand.toml").read_text(encoding="utf-8")
        case = self.write_case(applied(text, offer["edits"]))
        self.assert_runs("run", case, "-o", self.folder / "b", "--strict", "--no-chill-test")
        mended = summary_of(self.folder / "b")
        self.assertEqual([s for s in mended["hot_spots"] if s["verdict"] != "fed"], [])
        self.assertNotIn("advice", mended)

    def test_new_parts_read_as_they_are_printed(self):
        _, summary = self.advised("steel_hub")
        trouble, = summary["advice"]
        self.assertEqual(trouble["of"], "feeder 'feeder'")
        changes = trouble["offered"] + trouble["not_enough"]
        change = next(c for c in changes if any(e["key"] is None for e in c["edits"]))
        text = (CASES / "steel_hub.toml").read_text(encoding="utf-8")
        case = self.write_case(applied(text, change["edits"]))
        run("run", case, "-o", self.folder / "b", "--no-advice", "--no-chill-test")
        feeder = named(summary_of(self.folder / "b")["feeders"], "feeder")
        self.assertEqual(feeder["verdict"], change["verdict"])
        self.assertAlmostEqual(feeder["margin_s"], change["margin_s"], delta=0.05)

    def test_it_is_left_out_where_nobody_wants_it_or_needs_it(self):
        done = run("run", CASES / "steel_hub.toml", "-o", self.folder / "a", "--no-advice")
        self.assertNotIn("mend", done.stdout + done.stderr)
        self.assertNotIn("advice", summary_of(self.folder / "a"))
        done = self.assert_runs("run", CASES / "steel_hub_sleeve.toml", "-o", self.folder / "b")
        self.assertNotIn("mend", done.stdout + done.stderr)
        self.assertNotIn("advice", summary_of(self.folder / "b"))

    def test_ctrl_c_keeps_the_answer(self):
        output = self.interrupt_once_it_says("What would mend it", "run", CASES / "rocker_arm_thin_gate.toml", "-o", self.folder / "a", "--threads", "1")
        summary = summary_of(self.folder / "a")
        self.assertTrue(summary["run"]["all_solid"])
        self.assertFalse(summary["advice_run"]["whole"])
        self.assertIn("Stopped after ", output)


if __name__ == "__main__":
    unittest.main()
