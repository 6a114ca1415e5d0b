"""The answer is the same, bit for bit, for any number of threads."""

import re
import unittest

from program import CASES, ProgramTest, summary_of

TAKEN_BY_THE_RUN = ["wall_s", "solve_s", "threads", "peak_memory_bytes"]


def without_what_the_run_took(page):
    for key in TAKEN_BY_THE_RUN:
        page = re.sub(rb'"%s":[^,}]*' % key.encode(), b"", page)
    return page


def all_bytes(folder):
    """Of every file but the summary, which tells how long things took; of the page all but that."""
    files = {str(path.relative_to(folder)): path.read_bytes()
             for path in folder.rglob("*") if path.is_file() and path.name != "summary.json"}
    files["report.html"] = without_what_the_run_took(files["report.html"])
    return files


class Threads(ProgramTest):
    def test_files_and_summary_are_the_same(self):
        found = []
        for run, threads in enumerate((1, 2, 2, 3)):
            folder = self.folder / str(run)
            self.assert_runs("run", CASES / "valve_plate_chill.toml", "-o", folder, "--threads", threads)
            summary = summary_of(folder)
            self.assertEqual(summary["run"]["threads"], threads)
            for key in TAKEN_BY_THE_RUN:
                del summary["run"][key]
            found.append((summary, all_bytes(folder)))
        self.assertIn("fields.h5", found[0][1])
        self.assertGreater(len(found[0][1]), 60)
        for summary, files in found[1:]:
            self.assertEqual(summary, found[0][0])
            self.assertEqual(sorted(files), sorted(found[0][1]))
            for name, content in files.items():
                self.assertTrue(content == found[0][1][name], f"{name} differs")


if __name__ == "__main__":
    unittest.main()
