"""A run that was killed or stopped goes on to the answer of one that never was, bit for bit.

SANDFREEZE_KILLS says how often runs are killed at random, SANDFREEZE_SEED where."""

import hashlib
import os
import random
import shutil
import signal
import subprocess
import time
import unittest

import h5py
import numpy

from program import PROGRAM, SMALL_CASE, ProgramTest, interruptible, run, summary_of
from threads_test import TAKEN_BY_THE_RUN, all_bytes

FAULTY_DISK = os.environ.get("SANDFREEZE_FAULTY_DISK")
KILLS = int(os.environ.get("SANDFREEZE_KILLS", "6"))
SEED = int(os.environ.get("SANDFREEZE_SEED", "8"))

# A little more to compute and less to write.
CASE = SMALL_CASE.replace("cell_mm  = 2", "cell_mm  = 1").replace("[[check]]", "[run]\nframe_every_s = 30\n[[check]]")
OPTIONS = ["--no-advice", "--quiet"]


def whole_answer(folder):
    """Everything in the folder but how long it took."""
    summary = summary_of(folder)
    for key in TAKEN_BY_THE_RUN:
        del summary["run"][key]
    return summary, all_bytes(folder)


def faulty(nth, how, path, log=None, **more):
    environment = dict(os.environ, LD_PRELOAD=FAULTY_DISK, FAULTY_NTH=str(nth), FAULTY_HOW=how, FAULTY_PATH=str(path),
                       ASAN_OPTIONS=os.environ.get("ASAN_OPTIONS", "") + ":verify_asan_link_order=0")
    environment.update(more)
    if log:
        environment["FAULTY_LOG"] = str(log)
    return environment


def start(*words, **options):
    return subprocess.Popen([PROGRAM, *map(str, words)], stdin=subprocess.DEVNULL, stdout=subprocess.PIPE,
                            stderr=subprocess.STDOUT, preexec_fn=interruptible, text=True, **options)


def checkpoints_in(folder):
    return sorted(p.name for p in (folder / "checkpoints").glob("*.h5") if not p.name.startswith("."))


class Resume(ProgramTest):
    @classmethod
    def setUpClass(cls):
        super().setUpClass()
        cls.reference = None

    def setUp(self):
        super().setUp()
        self.case = self.write_case(CASE)

    def undisturbed(self):
        """Of the case, computed once; and how long it took."""
        if Resume.reference is None:
            folder = self.folder / "undisturbed"
            case = self.write_case(CASE, "undisturbed.toml")
            begin = time.monotonic()
            self.assert_runs("run", case, "-o", folder, *OPTIONS, "--threads", 1)
            Resume.seconds = time.monotonic() - begin
            self.assertFalse((folder / "checkpoints").exists(), "a short run keeps none")
            Resume.reference = whole_answer(folder)
        return Resume.reference

    def assert_undisturbed(self, folder):
        summary, files = whole_answer(folder)
        expected, expected_files = self.undisturbed()
        self.assertEqual(summary, expected)
        self.assertEqual(sorted(files), sorted(expected_files), "nothing more and nothing less is left")
        for name, content in files.items():
            self.assertTrue(content == expected_files[name], f"{name} differs")

    def killed(self, folder, generations=2):
        """A run that was killed once both files of its main solve were there."""
        process = start("run", self.case, "-o", folder, *OPTIONS, "--checkpoint-every", "0.005", "--threads", 1)
        self.addCleanup(process.stdout.close)
        self.addCleanup(process.kill)
        deadline = time.monotonic() + 60
        while sum(n.startswith("answer") for n in checkpoints_in(folder)) < generations:
            self.assertLess(time.monotonic(), deadline)
            self.assertIsNone(process.poll(), "it ended before it could be killed")
            time.sleep(0.002)
        process.kill()
        process.wait()
        self.assertFalse((folder / "summary.json").exists())

    def test_runs_killed_at_random_moments(self):
        self.undisturbed()
        chance = random.Random(SEED)
        told = {"before a checkpoint": 0, "while computing": 0, "in the middle of writing": 0, "while going on": 0}
        runs = kills = 0
        while kills < KILLS:
            folder = self.folder / f"run {runs}"
            kills += self.killed_again_and_again(chance, folder, told)
            self.assert_undisturbed(folder)
            shutil.rmtree(folder)
            runs += 1
        print(f"{kills} kills of {runs} runs, seed {SEED}: {told}")

    def killed_again_and_again(self, chance, folder, told):
        """One run, killed until chance lets it come to its end; how often it was."""
        run_again = ["run", self.case, "-o", folder, *OPTIONS, "--checkpoint-every", "0.01"]
        command, kills = run_again, 0
        while True:
            spared = kills > 0 and chance.random() < 0.5
            counted = not spared and chance.random() < 0.5
            more = {"env": faulty(chance.randrange(1, 600), chance.choice(["kill", "kill-half"]), folder)} if counted else {}
            process = start(*command, "--threads", chance.choice([1, 2]), **more)
            try:
                process.communicate(timeout=120 if spared or counted else chance.uniform(0, self.seconds))
            except subprocess.TimeoutExpired:
                process.kill()
                process.communicate()
            if process.returncode == 0:
                return kills
            self.assertEqual(process.returncode, -signal.SIGKILL)
            kills += 1
            told["while going on"] += command is not run_again
            if checkpoints_in(folder):
                told["in the middle of writing" if counted else "while computing"] += 1
                command = ["resume", folder, "--quiet"]
            elif command is run_again:
                told["before a checkpoint"] += 1
                if (folder / ".answer.whole").exists():  # killed while the files were moved
                    self.assertIn("now it is", self.assert_runs("resume", folder).stdout)
                    return kills
                if folder.exists():
                    done = run("resume", folder)
                    self.assertEqual(done.returncode, 4)
                    self.assertIn("it holds no checkpoint", done.stderr)
            else:  # killed between the whole answer and its end
                self.assertRegex(self.assert_runs("resume", folder).stdout, "holds a whole answer|now it is")
                return kills

    def test_a_damaged_checkpoint_is_named_and_the_older_one_used(self):
        kept = self.folder / "kept"
        self.killed(kept)
        chance = random.Random(SEED)
        for n, damage in enumerate(["flip", "flip", "cut"] * (1 + KILLS // 20)):
            folder = self.folder / f"damaged {n}"
            shutil.copytree(kept, folder)
            victim = folder / "checkpoints" / f"answer-{chance.choice([0, 1])}.h5"
            content = bytearray(victim.read_bytes())
            if damage == "flip":
                content[chance.randrange(512 if n % 2 else len(content))] ^= 1 << chance.randrange(8)
            victim.write_bytes(content if damage == "flip" else content[:chance.randrange(len(content))])
            done = self.assert_runs("resume", folder)
            self.assertIn(f'cannot go on from "{victim}"', done.stderr)
            self.assertIn("damaged", done.stderr)
            self.assert_undisturbed(folder)

    def test_with_no_whole_checkpoint_left_it_says_so(self):
        folder = self.folder / "killed"
        self.killed(folder)
        for file in (folder / "checkpoints").iterdir():
            file.write_bytes(file.read_bytes()[:-1])
        before = checkpoints_in(folder)
        done = self.assert_runs("resume", folder, code=4)
        self.assertIn("no checkpoint in it is whole; run the case again", done.stderr)
        self.assertIn("answer-0.h5", done.stderr)
        self.assertEqual(checkpoints_in(folder), before)
        self.assert_runs("run", self.case, "-o", folder, *OPTIONS, code=4)
        self.assert_runs("run", self.case, "-o", folder, *OPTIONS, "--replace")
        self.assert_undisturbed(folder)

    def test_a_case_that_was_edited_is_refused(self):
        folder = self.folder / "killed"
        self.killed(folder)
        (folder / "case.toml").write_text(CASE + "# more\n", encoding="utf-8")
        done = self.assert_runs("resume", folder, code=4)
        self.assertIn("its case.toml was changed after the run began", done.stderr)
        (folder / "case.toml").unlink()
        self.case.write_text(CASE + "# more\n", encoding="utf-8")
        done = self.assert_runs("resume", folder)
        self.assertIn("the run goes on with the case as it was", done.stderr)
        self.assert_undisturbed(folder)

    def test_another_version_is_refused(self):
        folder = self.folder / "killed"
        self.killed(folder)
        for path in (folder / "checkpoints").iterdir():
            with h5py.File(path, "r+") as file:
                version = file["run.facts.program_version"]
                version[...] = numpy.frombuffer(b"9.9.9"[:version.shape[0]], numpy.uint8)
            content = path.read_bytes()[512:]
            seal = (f"sandfreeze state, format 1\nbytes after this block: {len(content)}\n"
                    f"SHA-256 of them: {hashlib.sha256(content).hexdigest()}\n")
            path.write_bytes(seal.encode().ljust(512, b"\0") + content)
        done = self.assert_runs("resume", folder, code=4)
        self.assertIn("it was written by sandfreeze 9.9.9, and this is", done.stderr)

    def test_a_checkpoint_is_an_hdf5_file(self):
        folder = self.folder / "killed"
        self.killed(folder, generations=1)
        with h5py.File(next((folder / "checkpoints").glob("answer-*.h5"))) as file:
            self.assertEqual(bytes(file["run.facts.case_text"][()]), self.case.read_bytes())
            self.assertGreater(file["solve.stepper.enthalpy"].shape[0], 1000)

    def test_ctrl_c_leaves_a_partial_answer_to_go_on_with(self):
        folder = self.folder / "stopped"
        process = start("run", self.case, "-o", folder, "--no-advice", "--checkpoint-every", "0.01", "--threads", 2)
        self.addCleanup(process.kill)
        while not checkpoints_in(folder):
            self.assertIsNone(process.poll(), "it ended before it could be stopped")
            time.sleep(0.002)
        process.send_signal(signal.SIGINT)
        output = process.communicate(timeout=120)[0]
        self.assertEqual(process.returncode, 130, output)
        self.assertIn(f"To go on with it: sandfreeze resume {folder}", output)
        self.assertTrue(any("was stopped" in w for w in summary_of(folder)["warnings"]))
        self.assert_runs("resume", folder, "--threads", 1)
        self.assert_undisturbed(folder)
        done = self.assert_runs("resume", folder)
        self.assertEqual(done.stdout, f"{folder} holds a whole answer: there is nothing to go on with.\n")
        self.assert_undisturbed(folder)

    def test_none_are_kept_when_not_wanted(self):
        folder = self.folder / "answer"
        process = start("run", self.case, "-o", folder, *OPTIONS, "--checkpoint-every", 0)
        self.addCleanup(process.kill)
        while not folder.exists():
            self.assertIsNone(process.poll())
        time.sleep(0.1)
        process.send_signal(signal.SIGTERM)
        output = process.communicate(timeout=120)[0]
        self.assertEqual(process.returncode, 143, output)
        self.assertNotIn("resume", output)
        self.assertFalse((folder / "checkpoints").exists())
        self.assertIn("it holds a stopped run without checkpoints", self.assert_runs("resume", folder, code=4).stderr)

    def test_a_run_into_the_folder_begins_anew(self):
        folder = self.folder / "killed"
        self.killed(folder)
        (folder / "checkpoints" / "notes.txt").write_text("mine")
        self.assert_runs("run", self.case, "-o", folder, *OPTIONS)
        self.assertEqual([p.name for p in (folder / "checkpoints").iterdir()], ["notes.txt"])
        shutil.rmtree(folder / "checkpoints")
        self.assert_undisturbed(folder)

    def test_another_case_s_run_is_not_given_up_unasked(self):
        folder = self.folder / "killed"
        self.killed(folder)
        other = self.write_case(self.case.read_text(encoding="utf-8").replace("710", "715"), "other.toml")
        kept = sorted(p.name for p in (folder / "checkpoints").iterdir())
        self.assertIn("it holds a run of another case, or of this one before it was changed, that sandfreeze resume would "
                      "go on with", self.assert_runs("run", other, "-o", folder, *OPTIONS, code=4).stderr)
        self.assertEqual(sorted(p.name for p in (folder / "checkpoints").iterdir()), kept)
        self.assert_runs("resume", folder)
        self.assert_undisturbed(folder)

    def test_checkpoints_that_cannot_be_used_are_not_removed_unasked(self):
        folder = self.folder / "mine"
        (folder / "checkpoints").mkdir(parents=True)
        (folder / "checkpoints" / "model-1.h5").write_text("of another program")
        self.assertIn("it holds checkpoints that cannot be used", self.assert_runs(
            "run", self.case, "-o", folder, *OPTIONS, code=4).stderr)
        self.assertEqual((folder / "checkpoints" / "model-1.h5").read_text(), "of another program")

    def test_a_summary_that_was_cut_is_no_whole_answer(self):
        folder = self.folder / "answer"
        self.assert_runs("run", self.case, "-o", folder, *OPTIONS)
        summary = folder / "summary.json"
        summary.write_bytes(summary.read_bytes()[:5000])
        self.assertIn("it holds no checkpoint", self.assert_runs("resume", folder, code=4).stderr)

    def test_what_cannot_be(self):
        for words, code, message in (
                (["resume"], 2, "which run? Name the folder of its answer: sandfreeze resume DIR"),
                (["resume", self.folder / "nowhere"], 4, "there is no such folder"),
                (["resume", self.folder], 4, "it holds no checkpoint"),
                (["resume", self.folder, "--strict"], 2, 'no option "--strict"'),
                (["run", self.case, "-o", "x", "--checkpoint-every", "-1"], 2, "from 0 (never) to 1000000"),
                (["run", self.case, "-o", "x", "--checkpoint-every", "nan"], 2, "from 0 (never) to 1000000"),
                (["run", self.case, "-o", "x", "--checkpoint-every", "often"], 2, "--checkpoint-every")):
            self.assertIn(message, self.assert_runs(*words, code=code, cwd=self.folder).stderr)


if __name__ == "__main__":
    unittest.main()
