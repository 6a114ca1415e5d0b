"""The sheet of the pour: terminal, JSON and page say the same, of every demo case."""

import html
import json
import re
import unittest

from program import CASES, SMALL_CASE, ProgramTest, run

FURNACE = """
[melt]
crucible_brim_l = 1
[sprue]
height_mm = 70
choke_mm2 = 60
"""


def lines_of(sheet):
    return [line for section in sheet["sections"] for line in section["lines"]]


def words_of(page):
    """The text of a page, without its tags."""
    return re.sub(r"\s+", " ", html.unescape(re.sub(r"<[^>]*>", " ", page)))


class Sheet(ProgramTest):
    def sheet_of(self, subject):
        """Terminal, JSON and page of one case."""
        page, data = self.folder / "sheet.html", self.folder / "sheet.json"
        done = self.assert_runs("sheet", subject, "--html", page, "--json", data)
        self.assertEqual(done.stderr, "")
        return done.stdout, json.loads(data.read_text(encoding="utf-8")), page.read_text(encoding="utf-8")

    def test_every_demo_case_has_one_that_says_the_same_three_times(self):
        for case in sorted(CASES.glob("*.toml")):
            text, sheet, page = self.sheet_of(case)
            self.assertLessEqual(max(map(len, text.splitlines())), 80, case.stem)
            ids = [line["id"] for line in lines_of(sheet)]
            self.assertEqual(len(ids), len(set(ids)), case.stem)
            for needed in ("charge", "yield", "rate", "lift", "weight", "sand", "allowance", "castings_solid", "touch"):
                self.assertIn(needed, ids, case.stem)
            printed = words_of(page)
            joined = re.sub(r"\s+", " ", text)
            flat = printed.replace("²", "2").replace("³", "3")
            for line in lines_of(sheet):
                self.assertIn(line["label"].strip(), printed, case.stem)
                self.assertIn(line["label"].strip()[:31], joined, case.stem)
                if line["value"] is not None and line["unit"] != "s":
                    figures = [f"{float(format(line['value'], f'.{n}e')):.15g} {line['unit']}" for n in (1, 2, 3)]
                    self.assertTrue(any(f in joined and f in flat for f in figures), f"{case.stem} {line['id']}")
                if line["caution"]:
                    self.assertIn(line["caution"][:30], joined, f"{case.stem} {line['id']}")

    def test_its_masses_agree_with_the_run(self):
        case = self.write_case(SMALL_CASE + FURNACE)
        self.assert_runs("run", case, "-o", self.folder / "a", "--no-chill-test", "--no-advice")
        answer = json.loads((self.folder / "a" / "summary.json").read_text(encoding="utf-8"))
        _, sheet, _ = self.sheet_of(self.folder / "a")
        line = {item["id"]: item for item in lines_of(sheet)}
        self.assertAlmostEqual(line["poured"]["value"], answer["metal"]["mass_kg"], places=9)
        self.assertAlmostEqual(line["all_solid"]["value"], answer["metal"]["last_freeze_s"], places=6)
        self.assertAlmostEqual(line["opening"]["value"], answer["opening"]["at_s"], places=6)
        self.assertEqual(sheet["case_sha256"], answer["case_sha256"])
        _, ruled, _ = self.sheet_of(case)
        self.assertIn("by the modulus rule", ruled["basis"])
        # A sheet beside the answer does not keep the next run from writing there.
        self.assert_runs("sheet", self.folder / "a", "--html", self.folder / "a" / "sheet.html")
        self.assert_runs("run", case, "-o", self.folder / "a", "--no-chill-test", "--no-advice")

    def test_a_number_is_explained(self):
        case = self.write_case(SMALL_CASE + FURNACE.replace("choke_mm2 = 60\n", ""))
        _, sheet, _ = self.sheet_of(case)
        choke = next(line for line in lines_of(sheet) if line["id"] == "choke")
        text = self.assert_runs("sheet", case, "--explain", "choke").stdout
        self.assertIn("m / (rho c t sqrt(2 g H)) (E14)", text)
        self.assertIn("assumed; set [sprue] loss_factor", text)
        self.assertIn("see head", text)
        n = {item["symbol"]: item["value"] for item in choke["inputs"]}
        area = n["m"] / (n["rho"] * n["c"] * n["t"] * (2 * 9.81 * n["H"] / 1e3) ** 0.5) * 1e6
        self.assertAlmostEqual(choke["value"], area, places=6)
        every = self.assert_runs("sheet", case, "--explain", "all").stdout
        for line in lines_of(sheet):
            self.assertIn(f"[{line['id']}]", every)
        self.assertLessEqual(max(map(len, every.splitlines())), 80)
        wrong = self.assert_runs("sheet", case, "--explain", "chok", code=2)
        self.assertIn('the sheet has no line "chok"; did you mean "choke"?', wrong.stderr)

    def test_a_name_from_the_case_cannot_become_part_of_the_page(self):
        case = self.write_case(SMALL_CASE.replace('"Small bar"', '"<script>alert(1)</script>"')
                               .replace('"bar"', '"<img src=x onerror=alert(1)>"'))
        _, _, page = self.sheet_of(case)
        self.assertNotIn("<script", page)
        self.assertNotIn("<img", page)
        self.assertIn("&lt;script&gt;alert(1)&lt;/script&gt;", page)

    def refused(self, code, message, *words):
        done = run("sheet", *words)
        self.assertEqual((done.returncode, done.stdout), (code, ""), done.stderr)
        self.assertIn(message, done.stderr)

    def test_what_cannot_be_is_refused(self):
        case = self.write_case()
        self.refused(2, "which case? Name its file: sandfreeze sheet CASE.toml")
        self.refused(4, "no_such.toml", self.folder / "no_such.toml")
        self.refused(2, "would write over a case file; name the file to write, such as sheet.html", case, "--html", case)
        self.assertEqual(case.read_text(encoding="utf-8"), SMALL_CASE)
        self.refused(2, "would write over what a run writes; name the file to write, such as sheet.json", case, "--json",
                     self.folder / "summary.json")
        self.refused(4, "a folder needs a whole answer, as sandfreeze run writes it; or give the case file itself",
                     self.folder)
        answer = self.folder / "answer"
        answer.mkdir()
        (answer / "case.toml").write_text(SMALL_CASE, encoding="utf-8")
        (answer / "summary.json").write_text("{}", encoding="utf-8")
        self.refused(4, "it is no whole answer", answer)
        (answer / "summary.json").write_text('{"program_version": "x", "case_sha256": "y"}', encoding="utf-8")
        self.refused(4, "it is the answer to another case than the case.toml beside it", answer)
        self.assertEqual(run("sheet", self.write_case(SMALL_CASE + "[melt]\nheel = 1\n", "wrong.toml")).returncode, 2)
        self.assertEqual(run("sheet", case, "--html", self.folder / "none" / "x.html").returncode, 4)


if __name__ == "__main__":
    unittest.main()
