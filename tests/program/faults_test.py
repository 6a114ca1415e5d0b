"""Disks that fill up, fail or take half of what is written, folders that vanish, memory that runs out: the message says
what and where, the exit code is 4 or 3, what was there before is whole, and nothing half-written is left.

SANDFREEZE_FAULTS says how many operations fail in turn for each kind of fault; all: every one (thousands of runs)."""

import os
import pathlib
import random
import resource
import shutil
import tempfile
import time
import unittest

from program import PROGRAM, SMALL_CASE, ProgramTest, interruptible, run, summary_of
from resume_test import FAULTY_DISK, SEED, checkpoints_in, faulty, start, whole_answer

FAULTS = os.environ.get("SANDFREEZE_FAULTS", "1")

# Few frames, so that few operations write them.
CASE = SMALL_CASE.replace("[[check]]", "[run]\nframe_every_s = 60\n[[check]]")
OPTIONS = ["--no-advice", "--no-chill-test", "--quiet", "--threads", "1"]

NOTES = ["notes.txt", "frames/notes.txt", "pictures/notes.txt"]


def half_written(folder):
    return [str(p) for p in folder.rglob("*") if "unfinished" in p.name or "partial" in p.name or p.name.startswith(".")]


def visible(folder):
    """Every byte of what a person sees in the folder."""
    return {str(p.relative_to(folder)): p.read_bytes() for p in folder.rglob("*")
            if p.is_file() and not p.relative_to(folder).parts[0].startswith(".")}


@unittest.skipUnless(FAULTY_DISK, "needs the library that makes a disk faulty")
class Disk(ProgramTest):
    @classmethod
    def setUpClass(cls):
        holder = tempfile.TemporaryDirectory(prefix="sandfreeze-test-")
        cls.addClassCleanup(holder.cleanup)
        cls.chance = random.Random(SEED)
        cls.holder = pathlib.Path(holder.name)
        cls.case = cls.holder / "small.toml"
        cls.case.write_text(CASE, encoding="utf-8")
        cls.log = cls.holder / "log"
        cls.earlier = cls.holder / "answer"
        cls.operations, _ = cls.count(cls.earlier)
        cls.expected = whole_answer(cls.earlier)
        cls.before = cls.holder / "before"
        shutil.copytree(cls.earlier, cls.before)
        cls.make_another(cls.before)
        shutil.copytree(cls.before, cls.earlier, dirs_exist_ok=True)
        cls.replacing_operations, cls.replacing_renames = cls.count(cls.earlier)

    @classmethod
    def make_another(cls, answer):
        """Of an answer one that differs in every file but the case, with files that the first has not."""
        for path in answer.rglob("*"):
            if path.is_file() and path.name != "case.toml":
                path.write_bytes(path.read_bytes() + b"\n")
        (answer / "pictures" / "frames").mkdir(parents=True)
        for name in ("unfed_time.png", "frames/freeze_9999.vti", "pictures/pores.png", "pictures/frames/freeze_00.png"):
            (answer / name).write_text("old")
        for name in NOTES:
            (answer / name).write_text("mine")

    @classmethod
    def count(cls, folder):
        """The operations by which a run writes its files, none of which fails, and the renames among them."""
        done, lines = cls.run_with(0, "EIO", folder)
        assert done.returncode == 0, done.stderr
        return [int(number) for number in lines[-1].split()[1:]]

    @classmethod
    def run_with(cls, nth, how, folder, *words, **more):
        """The finished run, and the lines of the log. However slow it is, it leaves no checkpoint unless asked to."""
        cls.log.unlink(missing_ok=True)
        words = words or ("--checkpoint-every", "0")
        done = run("run", cls.case, "-o", folder, *OPTIONS, *words,
                   env=faulty(nth, how, folder.name + "/", cls.log, **more))
        return done, cls.log.read_text().splitlines() if cls.log.exists() else []

    def chosen(self, operations):
        if FAULTS == "all":
            return range(1, operations + 1)
        return [self.chance.randint(1, operations) for _ in range(int(FAULTS))]

    def assert_is_new(self, folder):
        """The new answer, and in the place of an earlier one also what was not the program's."""
        summary, files = whole_answer(folder)
        notes = {files.pop(name, None) for name in NOTES}
        self.assertIn(notes, ({None}, {b"mine"}))
        self.assertEqual((summary, files), self.expected)

    def what_is_in(self, folder):
        """By every byte that a person sees."""
        if (folder / ".answer.whole").exists():
            return "a new answer on its way"
        if half_written(folder):
            return "leavings"
        if not folder.exists():
            return "nothing"
        if visible(folder) == visible(self.before):
            return "the earlier answer"
        self.assert_is_new(folder)
        return "the new answer"

    def test_any_operation_may_fail(self):
        faults = told = partly = 0
        for how, lasts, replaces in (("ENOSPC", True, True), ("EIO", False, True), ("EROFS", True, True),
                                     ("EACCES", False, False)):
            for nth in self.chosen(self.replacing_operations if replaces else self.operations):
                folder = self.folder / "answer"
                shutil.rmtree(folder, ignore_errors=True)
                if replaces:
                    shutil.copytree(self.before, folder)
                done, lines = self.run_with(nth, how, folder, **({"FAULTY_LASTS": "1"} if lasts else {}))
                failed = lines[0].split(" ", 1)
                self.assertNotEqual(failed[0], "count")
                faults += 1
                there = self.what_is_in(folder)
                with self.subTest(how=how, nth=nth, call=failed[0], path=failed[1]):
                    if done.returncode == 0:  # a folder may be synchronised or not
                        self.assertEqual(failed[0], "fsync")
                        self.assertEqual(there, "the new answer")
                        continue
                    self.assertEqual(done.returncode, 4, done.stderr)
                    self.assertRegex(done.stderr, r'cannot [\w ]+ ".*answer')
                    self.assertNotIn("/.answer", done.stderr)
                    self.assertIn("Small bar", done.stdout, "the answer is told all the same")
                    told += 1
                    if lasts and there == "a new answer on its way":  # what fails once is undone
                        self.assertIn(f"to put it there: sandfreeze resume {folder}", done.stderr)
                        self.assertIn("now it is", self.assert_runs("resume", folder).stdout)
                        self.assertEqual(self.what_is_in(folder), "the new answer")
                        partly += 1
                    else:
                        self.assertEqual(there, "the earlier answer" if replaces else "nothing")
        self.assertGreater(told, faults // 2, "faults that nobody is told of are those of folders' fsync alone")
        print(f"{self.operations} operations, {self.replacing_operations} in the place of an earlier answer; {faults} "
              f"faults, {partly} of them while files were moved, which could not be moved back either")

    def test_killed_at_any_move(self):
        kept = finished = 0
        for nth in list(self.chosen(self.replacing_renames)) + [self.replacing_renames - 10]:
            folder = self.folder / "answer"
            shutil.copytree(self.before, folder)
            done, lines = self.run_with(nth, "kill", folder, FAULTY_CALLS="rename")
            self.assertEqual(done.returncode, -9)
            with self.subTest(nth=nth, path=lines[0]):
                if not (folder / ".answer.whole").exists():
                    self.assertTrue(visible(folder) == visible(self.before), "every byte is as it was")
                    self.assert_runs("run", self.case, "-o", folder, *OPTIONS)
                    kept += 1
                else:
                    # The last is that by which .answer.whole is done with.
                    if (folder / "summary.json").exists():  # before all moves, or after them
                        self.assertTrue(visible(folder) == visible(self.before) or nth == self.replacing_renames)
                    run("resume", folder, env=faulty(self.chance.randint(1, 20), "kill", folder, FAULTY_CALLS="rename"))
                    if (folder / ".answer.whole").exists():
                        self.assertIn("now it is", self.assert_runs("resume", folder).stdout)
                    self.assertIn("holds a whole answer", self.assert_runs("resume", folder).stdout)
                    finished += 1
                self.assert_is_new(folder)
            shutil.rmtree(folder)
        print(f"{kept} kills left the earlier answer, {finished} the new one, which was then put in its place")

    def test_short_writes_are_gone_on_with(self):
        folder = self.folder / "answer"
        done, lines = self.run_with(1, "short", folder, FAULTY_LASTS="1")
        self.assertEqual(done.returncode, 0, done.stderr)
        self.assertGreater(int(lines[-1].split()[1]), self.operations)
        self.assertEqual(whole_answer(folder), self.expected)

    def test_a_checkpoint_that_cannot_be_written_costs_no_answer(self):
        words = ["--checkpoint-every", "0.002"]
        for call in ("mkdir", "open", "write", "fsync", "rename") if FAULTS == "all" else ("write", "rename"):
            folder = self.folder / call
            done, lines = self.run_with(1 if call == "mkdir" else 2, "ENOSPC", folder, *words, FAULTY_LASTS="1",
                                        FAULTY_PATH="/checkpoints", FAULTY_CALLS=call)
            self.assertTrue(lines[0].startswith(call), lines)
            self.assertEqual(done.returncode, 0, done.stderr)
            self.assertEqual(done.stderr.count("cannot write"), 1)
            self.assertIn("No s", done.stderr)  # space left on device, or such folder
            self.assertIn("The run goes on", done.stderr)
            self.assertEqual(whole_answer(folder), self.expected)

    def test_an_earlier_checkpoint_outlives_a_full_disk(self):
        folder = self.folder / "answer"
        done, _ = self.run_with(1, "kill", folder, "--checkpoint-every", "0.002",
                                FAULTY_PATH="/checkpoints/answer-1.h5", FAULTY_CALLS="rename")
        self.assertEqual(done.returncode, -9)
        self.assertIn("answer-0.h5", checkpoints_in(folder))
        done = run("resume", folder, "--quiet", env=faulty(1, "ENOSPC", folder.name + "/", FAULTY_LASTS="1"))
        self.assertEqual(done.returncode, 4, done.stderr)
        self.assertIn("No space left on device", done.stderr)
        self.assertIn("answer-0.h5", checkpoints_in(folder))
        self.assert_runs("resume", folder, "--quiet")
        self.assertEqual(whole_answer(folder), self.expected)


class Places(ProgramTest):
    def test_a_folder_that_vanishes(self):
        case = self.write_case(SMALL_CASE.replace("cell_mm  = 2", "cell_mm  = 1"))
        folder = self.folder / "answer"
        process = start("run", case, "-o", folder, *OPTIONS, "--checkpoint-every", "0.01")
        self.addCleanup(process.kill)
        while not folder.exists():
            self.assertIsNone(process.poll())
            time.sleep(0.002)
        shutil.rmtree(folder, ignore_errors=True)
        output = process.communicate(timeout=120)[0]
        if not folder.exists():  # unless a checkpoint was just being written
            self.assertEqual(process.returncode, 4, output)
            self.assertRegex(output, r'cannot [\w ]+ ".*answer')
            self.assertIn("No such file or directory", output)

    @unittest.skipIf(os.geteuid() == 0, "root may write everywhere")
    def test_a_folder_that_may_only_be_read(self):
        folder = self.folder / "answer"
        folder.mkdir(mode=0o500)
        done = self.assert_runs("run", self.write_case(), "-o", folder, code=4)
        self.assertIn("name a folder that you may write to", done.stderr)

    def test_files_that_may_not_be_so_large(self):
        folder = self.folder / "answer"

        def limited():
            interruptible()
            resource.setrlimit(resource.RLIMIT_FSIZE, (4096, 4096))
        done = run("run", self.write_case(), "-o", folder, *OPTIONS, preexec=limited)
        self.assertEqual(done.returncode, 4, done.stderr)
        self.assertIn("File too large", done.stderr)
        self.assertIn("freezing order", done.stdout)
        self.assertFalse(folder.exists())

    def test_a_reader_that_has_gone_away_costs_no_answer(self):
        folder = self.folder / "answer"
        reader, writer = os.pipe()
        os.close(reader)
        done = run("run", self.write_case(), "-o", folder, stderr=writer)
        os.close(writer)
        self.assertEqual(done.returncode, 0)
        self.assertTrue((folder / "summary.json").exists())

    def test_memory_that_runs_out(self):
        case = self.write_case(SMALL_CASE.replace("cell_mm  = 2", "cell_mm  = 0.5"))
        codes = []
        for megabytes in (75, 80, 85, 90, 100, 120, 160) if FAULTS == "all" else (80, 100):
            def limited(size=megabytes << 20):
                interruptible()
                resource.setrlimit(resource.RLIMIT_AS, (size, size))
            done = run("run", case, "-o", self.folder / str(megabytes), *OPTIONS, preexec=limited)
            codes.append(done.returncode)
            if done.returncode != 0 and "shared libraries" not in done.stderr:
                self.assertIn(done.returncode, (3, 4), done.stderr)
                self.assertRegex(done.stderr, "memory|allocate|--threads 1")
                self.assertFalse((self.folder / str(megabytes) / "summary.json").exists())
        print(f"exit codes {codes}")


if __name__ == "__main__":
    unittest.main()
