"""Run after run of the program into one folder: as much memory, as many files. SANDFREEZE_SOAK_RUNS: how often (5)."""

import os
import subprocess
import unittest

from program import PROGRAM, ProgramTest


class Soak(ProgramTest):
    def test_runs_leave_nothing_behind(self):
        case, answer = self.write_case(), self.folder / "answer"
        environment = {**os.environ, "TMPDIR": str(self.folder / "tmp")}
        (self.folder / "tmp").mkdir()
        peaks, names = [], []
        for _ in range(int(os.environ.get("SANDFREEZE_SOAK_RUNS", 5))):
            process = subprocess.Popen([PROGRAM, "run", case, "-o", answer, "--quiet", "--threads", "1"],
                                       stdin=subprocess.DEVNULL, stdout=subprocess.DEVNULL, env=environment)
            _, status, usage = os.wait4(process.pid, 0)
            process.returncode = os.waitstatus_to_exitcode(status)
            self.assertEqual(process.returncode, 0)
            peaks.append(usage.ru_maxrss)
            names.append(sorted(str(p.relative_to(self.folder)) for p in self.folder.rglob("*")))
        print(f"{len(peaks)} runs: peaks of {min(peaks)} to {max(peaks)} kB, {len(names[0])} files")
        self.assertEqual(names[0], names[-1])
        self.assertLess(max(peaks), 1.05 * min(peaks))
        self.assertEqual(list((self.folder / "tmp").iterdir()), [])


if __name__ == "__main__":
    unittest.main()
