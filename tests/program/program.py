"""Runs the built program for the tests beside this file."""

import json
import os
import pathlib
import signal
import subprocess
import tempfile
import unittest

PROGRAM = os.environ["SANDFREEZE_PROGRAM"]
PROJECT = pathlib.Path(os.environ["SANDFREEZE_PROJECT"])
CASES = PROJECT / "cases"

# A bar with a feeder and a chill: computed in a moment.
SMALL_CASE = """
title  = "Small bar"
format = 1
[section]
view     = "planar"
cell_mm  = 2
depth_mm = 50
[mould]
material = "green sand"
[pour]
temperature_C = 710
[[part]]
name      = "bar"
role      = "casting"
material  = "AlSi12"
rectangle = { x_mm = [0, 60], y_mm = [0, 12] }
[[part]]
name      = "feeder"
role      = "feeder"
material  = "AlSi12"
rectangle = { x_mm = [60, 100], y_mm = [0, 60] }
[[part]]
name      = "chill"
role      = "chill"
material  = "grey iron"
rectangle = { x_mm = [-12, 0], y_mm = [0, 12] }
[[probe]]
name  = "middle, bar"
at_mm = [31, 7]
[[check]]
first = "bar"
then  = "feeder"
"""


def interruptible():
    """A test run in the background would hand on that signals are ignored."""
    signal.signal(signal.SIGINT, signal.SIG_DFL)
    signal.signal(signal.SIGTERM, signal.SIG_DFL)
    signal.signal(signal.SIGHUP, signal.SIG_DFL)


def run(*words, **options):
    """The finished program: returncode, stdout and stderr as text."""
    options.setdefault("timeout", 500)
    options.setdefault("stdout", subprocess.PIPE)
    options.setdefault("stderr", subprocess.PIPE)
    return subprocess.run([PROGRAM, *map(str, words)], text=True, encoding="utf-8", stdin=subprocess.DEVNULL,
                          preexec_fn=options.pop("preexec", interruptible), **options)


def summary_of(folder):
    return json.loads((pathlib.Path(folder) / "summary.json").read_text(encoding="utf-8"))


def named(items, name):
    return next(item for item in items if item["name"] == name)


class ProgramTest(unittest.TestCase):
    """A test with a folder of its own."""

    def setUp(self):
        holder = tempfile.TemporaryDirectory(prefix="sandfreeze-test-")
        self.addCleanup(holder.cleanup)
        self.folder = pathlib.Path(holder.name)

    def write_case(self, text=SMALL_CASE, name="small.toml"):
        path = self.folder / name
        path.write_text(text, encoding="utf-8")
        return path

    def interrupt_once_it_says(self, words, *command):
        """Ctrl-C when the program has said so on standard error; its output."""
        process = subprocess.Popen([PROGRAM, *map(str, command)], stdin=subprocess.DEVNULL, stdout=subprocess.PIPE,
                                   stderr=subprocess.PIPE, preexec_fn=interruptible)
        self.addCleanup(process.kill)
        self.assertIn(words, process.stderr.readline().decode("utf-8"))
        process.send_signal(signal.SIGINT)
        output = process.communicate(timeout=120)[0].decode("utf-8")
        self.assertEqual(process.returncode, 130, output)
        return output

    def assert_runs(self, *words, code=0, **options):
        done = run(*words, **options)
        self.assertEqual(done.returncode, code, f"{words}\n{done.stdout}\n{done.stderr}")
        return done
