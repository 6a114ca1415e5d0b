"""Ctrl-C and SIGTERM stop a run; what was done so far is written whole."""

import os
import re
import select
import signal
import subprocess
import time
import unittest

from program import CASES, PROGRAM, ProgramTest, interruptible, run, summary_of

PATIENCE = 120  # s


class Stopping(ProgramTest):
    def start_long_run(self, threads=1, options=()):
        """A run that takes far longer than the test, and the terminal on which it shows its progress."""
        text = (CASES / "rocker_arm.toml").read_text(encoding="utf-8")
        case = self.write_case(re.sub(r"cell_mm  = 1\b", "cell_mm  = 0.2", text))
        terminal, ours = os.openpty()
        self.addCleanup(os.close, terminal)
        process = subprocess.Popen(
            [PROGRAM, "run", case, "-o", self.folder / "answer", "--plain", "--threads", str(threads), *options],
            stdin=subprocess.DEVNULL, stdout=subprocess.PIPE, stderr=ours, preexec_fn=interruptible)
        os.close(ours)
        self.addCleanup(process.stdout.close)
        self.addCleanup(process.kill)
        return process, terminal

    def wait_for_progress(self, terminal):
        seen = b""
        deadline = time.monotonic() + PATIENCE
        while b"of the metal frozen" not in seen:
            self.assertLess(time.monotonic(), deadline, seen)
            if select.select([terminal], [], [], 1)[0]:
                seen += os.read(terminal, 4096)
        return seen

    def assert_stops(self, number, code, threads):
        process, terminal = self.start_long_run(threads)
        self.wait_for_progress(terminal)
        process.send_signal(number)
        output = process.communicate(timeout=PATIENCE)[0].decode("utf-8")
        self.assertEqual(process.returncode, code, output)
        answer = self.folder / "answer"
        summary = summary_of(answer)
        self.assertFalse(summary["run"]["all_solid"])
        self.assertTrue(any("was stopped" in w for w in summary["warnings"]), summary["warnings"])
        self.assertIn("was stopped", output)
        self.assertLessEqual(summary["energy"]["relative_imbalance"], 1e-6)
        for name in ("fields.h5", "freeze.pvd", "maps.vti", "section.png", "freeze_time.png", "case.toml"):
            self.assertGreater((answer / name).stat().st_size, 0, name)
        self.assertEqual([p.name for p in answer.iterdir() if "unfinished" in p.name or "partial" in p.name], [])

    def test_ctrl_c(self):
        self.assert_stops(signal.SIGINT, 130, threads=1)

    def test_sigterm(self):
        self.assert_stops(signal.SIGTERM, 143, threads=2)

    def test_a_terminal_that_is_closed(self):
        """A shell that ends sends SIGHUP, and the system once more; then nothing can be written to it."""
        text = (CASES / "rocker_arm.toml").read_text(encoding="utf-8")
        case = self.write_case(re.sub(r"cell_mm  = 1\b", "cell_mm  = 0.2", text))
        terminal, ours = os.openpty()
        process = subprocess.Popen([PROGRAM, "run", case, "-o", self.folder / "answer", "--plain", "--threads", "1"],
                                   stdin=subprocess.DEVNULL, stdout=ours, stderr=ours, preexec_fn=interruptible)
        self.addCleanup(process.kill)
        os.close(ours)
        self.wait_for_progress(terminal)
        os.close(terminal)
        for _ in range(2):
            process.send_signal(signal.SIGHUP)
            time.sleep(0.05)
        self.assertEqual(process.wait(timeout=PATIENCE), 129)
        self.assertTrue(any("was stopped" in w for w in summary_of(self.folder / "answer")["warnings"]))

    def test_a_whole_answer_is_not_replaced_by_a_partial_one(self):
        answer = self.folder / "answer"
        self.assert_runs("run", CASES / "rocker_arm.toml", "-o", answer, "--quiet", "--no-advice")
        before = {p: p.read_bytes() for p in answer.rglob("*") if p.is_file()}
        process, terminal = self.start_long_run(options=["--replace", "--checkpoint-every", "0"])
        self.wait_for_progress(terminal)
        process.send_signal(signal.SIGINT)
        output = process.communicate(timeout=PATIENCE)[0].decode("utf-8")
        self.assertEqual(process.returncode, 130, output)
        self.assertIn("was stopped", output)
        self.assertIn(f"Not written: {answer} holds the whole answer of an earlier run, and that stays.", output)
        self.assertEqual({p: p.read_bytes() for p in answer.rglob("*") if p.is_file()}, before)

    def test_a_folder_takes_one_run_at_a_time(self):
        answer = self.folder / "answer"
        process, terminal = self.start_long_run(options=["--checkpoint-every", "0.1"])
        self.wait_for_progress(terminal)
        for second in (["run", CASES / "rocker_arm.toml", "-o", answer, "--replace"], ["resume", answer]):
            refused = run(*second)
            self.assertEqual(refused.returncode, 4, refused.stderr)
            self.assertIn(f'cannot write into "{answer}"; another run is at work there: wait until it is done, '
                          "or name another folder", refused.stderr)
        self.assertIsNone(process.poll())
        process.kill()
        process.communicate(timeout=PATIENCE)
        self.assert_runs("run", CASES / "rocker_arm.toml", "-o", answer, "--quiet", "--no-advice", "--replace")

    def test_a_run_that_is_killed_leaves_no_summary(self):
        process, terminal = self.start_long_run()
        self.wait_for_progress(terminal)
        process.kill()
        process.communicate(timeout=PATIENCE)
        self.assertFalse((self.folder / "answer" / "summary.json").exists())


if __name__ == "__main__":
    unittest.main()
