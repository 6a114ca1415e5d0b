"""Reads the sample's cooling curves with Python's csv module."""
import csv
import pathlib
import subprocess
import sys

program, folder = sys.argv[1], pathlib.Path(sys.argv[2])
subprocess.run([program, folder], check=True)
with open(folder / "probes.csv", newline="", encoding="utf-8") as file:
    rows = list(csv.reader(file))
assert rows[0] == ["time_s", 'mid "plate", 20 °C/s_C', "sand_C"], rows[0]
assert rows[1:] == [["0", "700", "20"], ["0.5", "650.125", ""], ["2", "600", "21.5"], ["4", "", "23"]], rows[1:]
print("as written")
