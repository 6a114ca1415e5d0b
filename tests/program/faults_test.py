"""Disks that fill up, fail or take half of what is written, folders that vanish, memory that runs out: the message says
what and where, the exit code is 4 or 3, what was there before is whole, and nothing half-written is left.

SANDFREEZE_FAULTS says how many operations fail in turn for each kind of fault; all: every one (1,200 runs and more)."""

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


def half_written(folder):
    return [str(p) for p in folder.rglob("*") if "unfinished" in p.name or "partial" in p.name]


@unittest.skipUnless(FAULTY_DISK, "needs the library that makes a disk faulty")
class Disk(ProgramTest):
    @classmethod
    def setUpClass(cls):
        holder = tempfile.TemporaryDirectory(prefix="sandfreeze-test-")
        cls.addClassCleanup(holder.cleanup)
        cls.chance = random.Random(SEED)
        cls.case = pathlib.Path(holder.name) / "small.toml"
        cls.case.write_text(CASE, encoding="utf-8")
        cls.log = pathlib.Path(holder.name) / "log"
        cls.earlier = pathlib.Path(holder.name) / "answer"
        done, lines = cls.run_with(0, "EIO", cls.earlier)
        assert done.returncode == 0, done.stderr
        cls.operations = int(lines[-1].split()[1])
        cls.expected = whole_answer(cls.earlier)

    @classmethod
    def run_with(cls, nth, how, folder, *words, **more):
        """The finished run, and the lines of the log."""
        cls.log.unlink(missing_ok=True)
        done = run("run", cls.case, "-o", folder, *OPTIONS, *words,
                   env=faulty(nth, how, folder.name + "/", cls.log, **more))
        return done, cls.log.read_text().splitlines() if cls.log.exists() else []

    def chosen(self):
        if FAULTS == "all":
            return range(1, self.operations + 1)
        return [self.chance.randint(1, self.operations) for _ in range(int(FAULTS))]

    def test_any_operation_may_fail(self):
        seen = 0
        for how, lasts in (("ENOSPC", "1"), ("EIO", None), ("EROFS", "1"), ("EACCES", None)):
            for nth in self.chosen():
                folder = self.folder / "answer"
                done, lines = self.run_with(nth, how, folder, **({"FAULTY_LASTS": lasts} if lasts else {}))
                if not lines or lines[0].startswith("count"):
                    continue
                seen += 1
                failed = lines[0].split(" ", 1)
                with self.subTest(how=how, nth=nth, call=failed[0], path=failed[1]):
                    if done.returncode != 0:  # the folder itself may be synchronised or not
                        self.assertEqual(done.returncode, 4, done.stderr)
                        self.assertRegex(done.stderr, r'cannot \w+ ".*answer')
                        self.assertIn("Small bar", done.stdout, "the answer is told all the same")
                        self.assertFalse((folder / "summary.json").exists())
                    else:
                        self.assertEqual(failed[0], "fsync")
                        self.assertEqual(whole_answer(folder), self.expected)
                    if folder.exists():
                        self.assertEqual(half_written(folder), [])
                    self.assertEqual(whole_answer(self.earlier), self.expected)
                shutil.rmtree(folder, ignore_errors=True)
        print(f"{self.operations} operations; {seen} faults")
        self.assertGreater(seen, 0)

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
            self.assertRegex(output, r'cannot \w+ ".*answer')
            self.assertIn("No such file or directory", output)

    @unittest.skipIf(os.geteuid() == 0, "root may write everywhere")
    def test_a_folder_that_may_only_be_read(self):
        folder = self.folder / "answer"
        folder.mkdir(mode=0o500)
        done = self.assert_runs("run", self.write_case(), "-o", folder, code=4)
        self.assertIn("name a folder that you may write to", done.stderr)

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
