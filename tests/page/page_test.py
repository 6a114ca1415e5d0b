"""report.html of the demo cases: what it carries against the HDF5 file, then what a browser shows of it.

Answers, screenshots, printed pages and figures.txt (sizes, times to the first paint) stay in the build folder."""

import base64
import json
import os
import pathlib
import shutil
import subprocess
import sys
import unittest
import zlib

import h5py
import numpy

HERE = pathlib.Path(__file__).resolve().parent
sys.path.insert(0, str(HERE.parent / "program"))

from program import CASES, SMALL_CASE, run, summary_of  # noqa: E402

FOLDER = pathlib.Path(os.environ["SANDFREEZE_PAGE_FOLDER"])
DEMO_ANSWERS = pathlib.Path(os.environ["SANDFREEZE_DEMO_ANSWERS"])
MEGABYTE = 1e6
LARGEST_PAGE = 8 * MEGABYTE

# With advice, and with hostile names; the others were run for the tests of the program.
OWN_RUNS = ["rocker_arm_thin_gate", "hostile"]
# Alone, where SANDFREEZE_SHORT asks for the short form: one of each view and of each kind of trouble.
SHORT = {"rocker_arm_thin_gate", "pump_standard_closed_feeder", "lathe_faceplate_small_feeder", "router_table",
         "stove_door_slow_pour"}
# Looked at more closely: dark, and on a phone.
THOROUGH = {"rocker_arm_thin_gate", "router_table", "pump_standard_closed_feeder"}

# Names that would be markup if they ever became part of one.
HOSTILE = "<script>alert(1)</script>"
HOSTILE_TITLE = "</script><!-- <script> <img src=x onerror=alert(2)> & é"
HOSTILE_FEEDER = "\" onmouseover=\"alert(3)\" ' onclick='alert(4)' `${alert(5)}` \\"
HOSTILE_CHILL = "'><svg onload=alert(6)>"
HOSTILE_PROBE = "javascript:alert(7)//]]><b>{{7*7}}</b>"
HOSTILE_COMMENT = "# \u2028 alert(8) \u2029 </script><script>alert(9)</script> --> ]]> é\n"


def hostile_case():
    text = SMALL_CASE.replace("Small bar", HOSTILE_TITLE).replace('"bar"', json.dumps(HOSTILE))
    for key, plain, hostile in (("name      = ", "feeder", HOSTILE_FEEDER), ("then  = ", "feeder", HOSTILE_FEEDER),
                                ("name      = ", "chill", HOSTILE_CHILL), ("name  = ", "middle, bar", HOSTILE_PROBE)):
        text = text.replace(f'{key}"{plain}"', key + json.dumps(hostile))
    return HOSTILE_COMMENT + text


def page_data(page):
    """What the page carries."""
    text = page.read_text(encoding="utf-8")
    start = text.index(">", text.index('id="answer-data"')) + 1
    return json.loads(text[start:text.index("</script>", start)])


def numbers(packed):
    raw = numpy.frombuffer(zlib.decompress(base64.b64decode(packed)), numpy.uint8)
    count = len(raw) // 2
    steps = raw[:count].astype(numpy.uint16) + 256 * raw[count:].astype(numpy.uint16)
    return numpy.cumsum(steps, dtype=numpy.uint16)


def map_values(packed):
    steps = numbers(packed["packed"]).astype(float)
    values = packed["low"] + steps / 65534 * (packed["high"] - packed["low"])
    return numpy.where(steps == 65535, numpy.nan, values)


def frame_values(packed, pixels):
    raw = numpy.frombuffer(zlib.decompress(base64.b64decode(packed["packed"])), numpy.uint8)
    steps = numpy.cumsum(raw.reshape(-1, pixels), axis=0, dtype=numpy.uint8).astype(float)
    values = packed["low"] + steps / 254 * (packed["high"] - packed["low"])
    return numpy.where(steps == 255, numpy.nan, values)


def sheet_of_file(array, sheet, heights):
    """The values of an HDF5 array that a section's or a level's sheet shows."""
    if array.ndim == 2:
        return array
    middle = (sheet["from_mm"] + sheet["to_mm"]) / 2
    return array[int(numpy.searchsorted(heights, middle)) - 1]


class Pages(unittest.TestCase):
    @classmethod
    def setUpClass(cls):
        FOLDER.mkdir(parents=True, exist_ok=True)
        shown = {case.stem for case in CASES.glob("*.toml")}
        if os.environ.get("SANDFREEZE_SHORT"):
            shown &= SHORT
        cls.cases = {case.stem: case for case in sorted(CASES.glob("*.toml")) if case.stem in shown}
        hostile = FOLDER / "hostile.toml"
        hostile.write_text(hostile_case(), encoding="utf-8")
        cls.cases["hostile"] = hostile
        cls.answers = {name: DEMO_ANSWERS / name for name in cls.cases}
        for name in OWN_RUNS:
            cls.answers[name] = FOLDER / "answers" / name
            shutil.rmtree(cls.answers[name], ignore_errors=True)
            done = run("run", cls.cases[name], "-o", cls.answers[name])
            if done.returncode not in (0, 1):
                raise AssertionError(f"{name}: {done.stderr}")

    def test_1_pages_carry_what_the_files_say(self):
        for name, answer in self.answers.items():
            with self.subTest(name):
                page = answer / "report.html"
                self.assertLess(page.stat().st_size, LARGEST_PAGE)
                data = page_data(page)
                summary = summary_of(answer)
                for key in ("gates", "feeders", "hot_spots", "pools", "shrinkage", "parts", "case_sha256"):
                    self.assertEqual(data["answer"][key], summary[key], key)
                self.assertEqual(data["case_text"], self.cases[name].read_text(encoding="utf-8"))
                with h5py.File(answer / "fields.h5") as file:
                    self.check_sheets(data, file)

    def check_sheets(self, data, file):
        heights = file["z_faces_mm"][()] if "z_faces_mm" in file else None
        seen = 0
        for sheet in data["fields"]["sheets"]:
            if sheet["lie"] not in ("section", "level") or sheet["thinned"] != 1:
                continue
            shape = (sheet["ny"], sheet["nx"])
            part = sheet_of_file(file["maps/part"][()], sheet, heights)
            numpy.testing.assert_array_equal(numbers(sheet["parts"]).reshape(shape), part)
            for name, packed in sheet["maps"].items():
                truth = sheet_of_file(file["maps"][name][()], sheet, heights)
                if packed is None:
                    self.assertTrue(numpy.isnan(truth).all(), name)
                    continue
                step = (packed["high"] - packed["low"]) / 65534
                numpy.testing.assert_allclose(map_values(packed).reshape(shape), truth, rtol=1e-6, atol=0.51 * step + 1e-30, err_msg=name)
                seen += 1
            self.check_frames(sheet, data["fields"]["times_s"], file, heights)
        self.assertGreater(seen, 0)

    def check_frames(self, sheet, times, file, heights):
        frames = sheet["frames"]
        factor, shape = frames["factor"], (frames["ny"], frames["nx"])
        rows = numpy.minimum(numpy.arange(shape[0]) * factor + factor // 2, sheet["ny"] - 1)
        columns = numpy.minimum(numpy.arange(shape[1]) * factor + factor // 2, sheet["nx"] - 1)
        file_times = file["frames/time_s"][()]
        compared = 0
        for name in ("temperature_C", "solid_fraction"):
            values = frame_values(frames[name], shape[0] * shape[1])
            step = (frames[name]["high"] - frames[name]["low"]) / 254
            for n in range(0, len(times), 7):
                same = numpy.flatnonzero(numpy.isclose(file_times, times[n], rtol=1e-9, atol=1e-9))
                if len(same) == 0:
                    continue
                truth = sheet_of_file(file["frames"][name][same[0]], sheet, heights)[numpy.ix_(rows, columns)]
                # The file's own values are rounded as well, to an eighth of a degree in the mould.
                numpy.testing.assert_allclose(values[n].reshape(shape), truth, rtol=0, atol=0.51 * step + 0.07, err_msg=name)
                compared += 1
        self.assertGreater(compared, 0)

    def test_2_pages_work_in_a_browser(self):
        jobs = [{"name": name, "page": str(answer / "report.html"), "places": self.places(answer),
                 "thorough": name in THOROUGH,
                 "hostile": [HOSTILE, HOSTILE_TITLE, HOSTILE_FEEDER, HOSTILE_CHILL] if name == "hostile" else None}
                for name, answer in self.answers.items()]
        (FOLDER / "jobs.json").write_text(json.dumps(jobs), encoding="utf-8")
        self.install()
        done = subprocess.run(["node", str(FOLDER / "page_test.mjs"), str(FOLDER)], text=True, timeout=800,
                              stdout=subprocess.PIPE, stderr=subprocess.STDOUT)
        print(done.stdout)
        (FOLDER / "figures.txt").write_text(done.stdout, encoding="utf-8")
        self.assertEqual(done.returncode, 0, done.stdout[-4000:])

    def install(self):
        for file in ("package.json", "package-lock.json", "page_test.mjs"):
            shutil.copy(HERE / file, FOLDER / file)
        for tool in ("node", "npm", "chromium"):
            self.assertIsNotNone(shutil.which(tool), f"{tool} is missing: tools/install-packages checks installs it")
        done = subprocess.run(["npm", "ci", "--no-audit", "--no-fund", "--ignore-scripts", "--cache", str(FOLDER / "npm-cache")], cwd=FOLDER, text=True, timeout=300,
                              stdout=subprocess.PIPE, stderr=subprocess.STDOUT)
        self.assertEqual(done.returncode, 0, "npm could not fetch playwright-core and axe-core (no network?); "
                         f"ctest -LE page leaves this test out.\n{done.stdout}")

    def places(self, answer):
        """Some pixels of the first sheet that HDF5 holds as well, with what is true there."""
        data = page_data(answer / "report.html")
        number, sheet = next((n, s) for n, s in enumerate(data["fields"]["sheets"]) if s["lie"] in ("section", "level"))
        self.assertEqual(sheet["thinned"], 1)
        with h5py.File(answer / "fields.h5") as file:
            heights = file["z_faces_mm"][()] if "z_faces_mm" in file else None
            maps = {name: sheet_of_file(file["maps"][name][()], sheet, heights) for name in sheet["maps"]}
            part = sheet_of_file(file["maps/part"][()], sheet, heights)
        freeze = maps["freeze_time_s"]
        metal = numpy.flatnonzero(~numpy.isnan(freeze))
        spots = [int(numpy.nanargmax(freeze)), metal[len(metal) // 2]]
        out = []
        for spot in spots:
            j, i = divmod(int(spot), sheet["nx"])
            values = {name: None if numpy.isnan(m[j, i]) else float(m[j, i]) for name, m in maps.items()}
            out.append({"sheet": number, "i": i, "j": j, "part": data["parts"][int(part[j, i])]["name"], "values": values})
        return out


if __name__ == "__main__":
    unittest.main()
