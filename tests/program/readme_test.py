"""Commands, files and the case that the README shows."""

import re
import shlex
import unittest

from program import PROJECT, ProgramTest, run, summary_of

README = (PROJECT / "README.md").read_text(encoding="utf-8")


class Readme(ProgramTest):
    def test_its_commands_exist(self):
        commands = re.findall(r"(?m)^    (sandfreeze .*)$", README) + re.findall(r"`(sandfreeze [^`]+)`", README)
        self.assertGreaterEqual(len(commands), 3)
        for command in commands:
            name = shlex.split(command)[1]
            self.assertEqual(run(name, "--help").returncode, 0, command)
        for script in re.findall(r"(?m)^    (tools/[\w-]+)", README):
            self.assertTrue((PROJECT / script).stat().st_mode & 0o111, script)

    def test_its_first_case_runs_as_written(self):
        case = self.write_case(re.search(r"(?s)```toml\n(.*?)```", README).group(1), "bar.toml")
        self.assert_runs("look", case, cwd=self.folder)
        self.assert_runs("run", "bar.toml", "-o", "bar", cwd=self.folder)
        self.assertEqual(summary_of(self.folder / "bar")["warnings"], [])

    def test_its_files_are_written(self):
        self.assert_runs("run", self.write_case(), "-o", self.folder / "a")
        for name in re.findall(r"(?m)^- `([\w.]+)`", README):
            self.assertTrue((self.folder / "a" / name).exists(), name)

    def test_its_cases_are_those_of_the_project(self):
        named = set(re.findall(r"(?m)^\| `(\w+\.toml)` \|", README))
        self.assertEqual(named, {p.name for p in (PROJECT / "cases").glob("*.toml")})


if __name__ == "__main__":
    unittest.main()
