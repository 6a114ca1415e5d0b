"""What comes with a hostile case or lies in the way on the disk does no harm."""

import csv
import os
import re
import unittest

from program import SMALL_CASE, ProgramTest, run

NAMES = {'"bar"': "'../../bar'", 'name      = "feeder"': "name = '/etc/feeder'", 'then  = "feeder"': "then = '/etc/feeder'",
         'name      = "chill"': "name = '..'", '"middle, bar"': "'=HYPERLINK(`x`)'"}


def hostile_case():
    text = SMALL_CASE
    for plain, hostile in NAMES.items():
        text = text.replace(plain, hostile)
    return text.replace("Small bar", "Small <b>bar</b>")


class Names(ProgramTest):
    def test_names_of_a_case_are_never_names_of_files(self):
        inner = self.folder / "a" / "b" / "answer"
        self.assert_runs("run", self.write_case(hostile_case()), "-o", inner, "--pictures", "--full-fields")
        self.assertEqual(sorted(p.name for p in self.folder.iterdir()), ["a", "small.toml"])
        self.assertEqual([p.name for p in (self.folder / "a").iterdir()], ["b"])
        self.assertEqual([p.name for p in (self.folder / "a" / "b").iterdir()], ["answer"])
        for path in inner.rglob("*"):
            self.assertRegex(path.name, r"^[a-z0-9_]+(\.[a-z0-9]+)?$")

    def test_a_spreadsheet_shows_the_name_of_a_probe_and_computes_nothing(self):
        answer = self.folder / "answer"
        self.assert_runs("run", self.write_case(hostile_case()), "-o", answer, "--no-chill-test")
        with open(answer / "probes.csv", encoding="utf-8", newline="") as file:
            rows = list(csv.reader(file))
        self.assertEqual(rows[0], ["time_s", "'=HYPERLINK(`x`)_C"])
        self.assertEqual({len(row) for row in rows}, {2})

    def test_nothing_that_steers_a_terminal_is_printed(self):
        case = self.write_case(SMALL_CASE.replace("format", '"\\u001b[2Jformat"'), "red\x1b[31m.toml")
        for words in (("run", case, "-o", self.folder / "answer"), ("look", case), ("look", f"{case}\x1b[2J")):
            done = run(*words, cwd=self.folder)
            self.assertIn(done.returncode, (2, 4), done.stderr)
            self.assertFalse(re.search("[\x00-\x08\x0b-\x1f\x7f-\x9f]", done.stdout + done.stderr), done.stderr)
            self.assertIn("\\u001B", done.stderr)

    def test_nor_where_a_folder_has_such_a_name(self):
        case = self.write_case(name="red\x1b[31m.toml")
        for words in (("run", case, "-o", "blue\x1b[34m", "--quiet"), ("resume", "blue\x1b[34m"), ("look", case),
                      ("sheet", case, "--html", "s\x1b[0m.html")):
            done = self.assert_runs(*words, cwd=self.folder)
            self.assertFalse(re.search("[\x00-\x08\x0b-\x1f\x7f-\x9f]", done.stdout + done.stderr), done.stdout)
            self.assertIn("\\u001B", done.stdout)

    def test_a_file_without_end_is_no_case(self):
        done = run("look", "/dev/zero", timeout=20)
        self.assertEqual(done.returncode, 2)
        self.assertIn("larger than 4 MB; is this a case file?", done.stderr)


class InTheWay(ProgramTest):
    def setUp(self):
        super().setUp()
        self.case = self.write_case()
        self.answer = self.folder / "answer"

    def refused(self, *words):
        done = run(*words)
        self.assertEqual(done.returncode, 4, done.stderr)
        return done.stderr

    def test_links_in_the_folder_are_neither_followed_nor_replaced(self):
        self.assert_runs("run", self.case, "-o", self.answer, "--pictures", "--no-chill-test")
        outside = self.folder / "precious"
        outside.mkdir()
        (outside / "freeze_0000.vti").write_text("mine")
        (outside / "file").write_text("mine")
        for name, target in (("summary.json", "file"), ("probes.csv", "file"), ("case.toml", "file"),
                             ("frames", "."), ("frames.partial", "."), ("pictures", "."), ("pictures/frames", "."),
                             ("frames/freeze_0000.vti", "freeze_0000.vti"), ("report.html", "nowhere")):
            with self.subTest(name):
                link, kept = self.answer / name, self.folder / "kept"
                if link.exists():
                    link.rename(kept)
                link.symlink_to(outside / target)
                said = self.refused("run", self.case, "-o", self.answer, "--replace")
                self.assertIn(f'cannot replace "{link}"; it is a link, which no run makes. Take it away, or name '
                              "another folder after -o", said)
                self.assertTrue(link.is_symlink())
                link.unlink()
                if kept.exists():
                    kept.rename(link)
        self.assertEqual({p.name: p.read_text() for p in outside.iterdir()}, {"freeze_0000.vti": "mine", "file": "mine"})

    def test_an_answer_on_its_way_goes_nowhere_else(self):
        self.assert_runs("run", self.case, "-o", self.answer, "--no-chill-test")
        files = {p.name: p.read_bytes() for p in self.answer.iterdir() if p.is_file()}
        text = self.case.read_text()
        way = self.answer / ".answer.whole"
        (way / "new").mkdir(parents=True)
        (way / "new" / "summary.json").write_text("{}")
        (way / "new" / "stolen.toml").write_text("theirs")
        for names, why in (("summary.json\n../small.toml\n", "it names what no run writes"),
                           (f"summary.json\n{self.case}\n", "it names what no run writes"),
                           ("summary.json\npictures/../../small.toml\n", "it names what no run writes"),
                           ("summary.json\nwhat_matters.png\n", "what_matters.png is missing"),
                           ("report.html\n", "it is not what a run leaves there"),
                           ("", "it is not what a run leaves there")):
            (way / "names").write_text(names)
            for words in (("run", self.case, "-o", self.answer), ("resume", self.answer)):
                said = self.refused(*words)
                self.assertIn(f'cannot use "{way}"; {why}. Take it away, or name another folder after -o\n', said)
        (way / "names").write_text("summary.json\nreport.html\n")
        (way / "new" / "report.html").symlink_to(self.case)
        self.assertIn("it is a link, which no run makes", self.refused("resume", self.answer))
        self.assertEqual(self.case.read_text(), text)
        self.assertEqual({p.name: p.read_bytes() for p in self.answer.iterdir() if p.is_file()}, files)

    def test_a_pipe_in_the_folder_is_not_waited_for(self):
        self.answer.mkdir()
        os.mkfifo(self.answer / "summary.json")
        done = run("run", self.case, "-o", self.answer, timeout=20)
        self.assertEqual(done.returncode, 4)
        self.assertIn("it is no plain file, which no run makes", done.stderr)

    def test_the_answer_to_another_case_is_kept_unless_it_may_be_replaced(self):
        self.assert_runs("run", self.case, "-o", self.answer, "--no-chill-test")
        files = {p.name: p.read_bytes() for p in self.answer.iterdir() if p.is_file()}
        self.case.write_text(self.case.read_text().replace("710", "720"))
        self.assertIn("it holds the answer to another case, or to this one before it was changed. Name another folder "
                      "after -o, or add --replace to write over that answer", self.refused("run", self.case, "-o", self.answer))
        self.assertEqual({p.name: p.read_bytes() for p in self.answer.iterdir() if p.is_file()}, files)
        self.assert_runs("run", self.case, "-o", self.answer, "--no-chill-test", "--replace")
        self.assert_runs("run", self.case, "-o", self.answer, "--no-chill-test")  # its own

    def test_replace_does_not_take_what_no_run_wrote(self):
        self.answer.mkdir()
        (self.answer / "report.html").write_text("mine")
        (self.answer / "letter.txt").write_text("mine")
        self.assertIn("it holds other things than an earlier answer",
                      self.refused("run", self.case, "-o", self.answer, "--replace"))
        self.assertEqual((self.answer / "report.html").read_text(), "mine")

    def test_a_picture_takes_the_place_of_pictures_alone(self):
        text = self.case.read_text()
        said = self.refused("look", self.case, "-o", self.case)
        self.assertIn(f'cannot replace "{self.case}": File exists; it is no picture (PNG)', said)
        self.assertEqual(self.case.read_text(), text)
        link = self.folder / "link.png"
        link.symlink_to(self.case)
        self.refused("look", self.case, "-o", link)
        self.refused("materials", "show", "AlSi12", f"--plot={self.case}")
        self.assertEqual(self.case.read_text(), text)
        picture = self.folder / "picture.png"
        self.assert_runs("look", self.case, "-o", picture)
        self.assert_runs("look", self.case, "-o", picture)

    def test_a_sheet_takes_the_place_of_sheets_alone(self):
        self.assert_runs("run", self.case, "-o", self.answer, "--no-chill-test")
        link = self.folder / "link.html"
        link.symlink_to(self.case)
        os.mkfifo(self.folder / "pipe.json")
        before = (self.answer / "fields.h5").read_bytes()
        for option, target in (("--html", self.answer / "fields.h5"), ("--json", self.answer / "fields.h5"),
                               ("--html", link), ("--json", self.folder / "pipe.json")):
            self.assertIn(f'cannot replace "{target}": File exists; it is no ',
                          self.refused("sheet", self.case, option, target))
        self.assertEqual((self.answer / "fields.h5").read_bytes(), before)
        self.assertTrue(link.is_symlink())
        page, data = self.folder / "s.html", self.folder / "s.json"
        for _ in range(2):
            self.assert_runs("sheet", self.case, "--html", page, "--json", data)
        self.assertIn("it is no page of a sheet", self.refused("sheet", self.case, "--html", data))
        self.assertIn("--html and --json both name", self.assert_runs(
            "sheet", self.case, "--html", self.folder / "new", "--json", "new", code=2, cwd=self.folder).stderr)

    def test_files_of_the_caster_are_not_taken_for_a_killed_run_s(self):
        for name in ("probes.csv", "section.png", "pictures"):
            folder = self.folder / f"job {name}"
            folder.mkdir()
            (folder / name).write_text("measured")
            self.assertIn(f'it holds other things than an earlier answer, such as "{name}"',
                          self.refused("run", self.case, "-o", folder))
            self.assertEqual((folder / name).read_text(), "measured")


if __name__ == "__main__":
    unittest.main()
