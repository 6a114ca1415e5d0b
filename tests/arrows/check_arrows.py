#!/usr/bin/env python3
"""Holds the includes of the rooms against what each room may use.

  check_arrows.py TOP              lists every wrong include under TOP; exit code 1 when there is one
  check_arrows.py --self-check DIR finds in DIR exactly the includes marked "// wrong", no more and no fewer
"""
import pathlib
import re
import sys

ROOMS = ("mesh", "materials", "solver", "io", "tools")
# What a room may include of ours: rooms, or single headers where only those are meant for others.
MAY_USE = {
    "mesh": ("mesh/",),
    "materials": ("materials/",),
    "solver": ("solver/", "materials/", "mesh/"),
    "io": ("io/", "materials/", "mesh/", "solver/case.hpp", "solver/results.hpp", "solver/results_sheet.hpp",
           "solver/state.hpp"),
    "tools": ("tools/", "io/", "solver/", "materials/", "mesh/"),
}
# The core also compiles to WebAssembly and links into other programs: beside the standard library only this.
CORE_MAY_USE = {
    "mesh": re.compile(r"Eigen/|omp\.h$|immintrin\.h$"),
    "materials": re.compile(r"Eigen/|toml\+\+/"),
    "solver": re.compile(r"Eigen/|omp\.h$|immintrin\.h$"),
}
# It prints nothing, and reads no clock and no files.
CORE_MAY_NOT_USE = re.compile(r"(iostream|fstream|filesystem|cstdio|stdio\.h|chrono|ctime|time\.h|csignal|unistd\.h)$")
# Slow to compile: in .cpp files, and in headers that stay inside their room.
HEAVY = re.compile(r"(vtk|H5|hdf5|Eigen/|toml\+\+|toml\.h|nlohmann/|cairo|CLI/|fmt/)")

# io's text half (case and answer files) needs neither fields nor pictures.
FIELDS_ONLY = re.compile(r"(vtk|H5|hdf5|cairo)")

INCLUDE = re.compile(r'^\s*#\s*include\s*(["<])([^">]+)[">]')


def why_wrong(room, path, bracket, target, shown):
    """The rule that an include breaks, or None. `shown`: the file is a header that other rooms get."""
    first = target.split("/")[0]
    if ".." in target.split("/"):
        return "an include is written from the top folder, without '..'"
    if first in ROOMS:
        if target.startswith(MAY_USE[room]):
            return None
        return f"{room} may use only {', '.join(MAY_USE[room])}"
    if bracket == '"':
        return "an include in quotes starts with its room"
    if path.suffix == ".hpp" and HEAVY.match(target) and shown:
        return "other rooms get this header: heavy headers belong in .cpp files, or in headers that stay inside their room"
    if room in CORE_MAY_USE:
        if CORE_MAY_NOT_USE.match(target):
            return f"{room} neither prints nor reads clocks or files"
        if ("/" in target or target.endswith(".h")) and not CORE_MAY_USE[room].match(target):
            return f"{room} may use only the standard library and {CORE_MAY_USE[room].pattern}"
    return None


def io_half(top, half):
    """The files of one of io's two targets, without their suffix."""
    listed = top / "io" / f"{half}.cmake"
    return set(re.findall(r"(\w+)\.cpp", listed.read_text())) if listed.exists() else set()


def why_wrong_in_text(fields, target):
    """The rule that an include in io's text half breaks, or None."""
    room, _, name = target.partition("/")
    if FIELDS_ONLY.match(target) or (room == "io" and pathlib.Path(name).stem in fields):
        return "io's text half uses no fields and pictures"
    return None


def shown_headers(top):
    """Headers that another room includes, themselves or through others."""
    included_by_header = {}
    shown = set()
    for room, path in sources(top):
        name = path.relative_to(top).as_posix()
        for line in path.read_text().splitlines():
            if found := INCLUDE.match(line):
                if found[2].startswith(f"{room}/"):
                    included_by_header.setdefault(name, []).append(found[2])
                else:
                    shown.add(found[2])
    left = list(shown)
    while left:
        for header in included_by_header.get(left.pop(), []):
            if header not in shown:
                shown.add(header)
                left.append(header)
    return shown


def sources(top):
    for room in ROOMS:
        for path in sorted((top / room).rglob("*")):
            if path.suffix in (".cpp", ".hpp", ".h"):
                yield room, path


def wrong_includes(top):
    """Every wrong include as (file, line number, line, reason)."""
    shown = shown_headers(top)
    text, fields = io_half(top, "text"), io_half(top, "fields")
    for room, path in sources(top):
        in_text = room == "io" and path.stem in text
        for number, line in enumerate(path.read_text().splitlines(), 1):
            found = INCLUDE.match(line)
            if not found:
                continue
            reason = why_wrong(room, path, *found.groups(), path.relative_to(top).as_posix() in shown)
            if reason is None and in_text:
                reason = why_wrong_in_text(fields, found[2])
            if reason:
                yield path, number, line, reason


def check(top):
    files = sum(1 for _ in sources(top))
    if files == 0:
        sys.exit(f"no source files under {top}: is this the project's folder?")
    wrong = list(wrong_includes(top))
    for path, number, line, reason in wrong:
        print(f"{path}:{number}: {line.strip()}\n    {reason}")
    print(f"{files} files, {len(wrong)} wrong includes")
    return 1 if wrong else 0


def self_check(fixture):
    marked = {
        (path, number)
        for _, path in sources(fixture)
        for number, line in enumerate(path.read_text().splitlines(), 1)
        if line.rstrip().endswith("// wrong")
    }
    found = {(path, number) for path, number, _, _ in wrong_includes(fixture)}
    for path, number in sorted(marked - found):
        print(f"{path}:{number}: marked wrong, but not found")
    for path, number in sorted(found - marked):
        print(f"{path}:{number}: found, but not marked wrong")
    print(f"{len(marked)} marked, {len(found)} found")
    return 0 if marked and marked == found else 1


if __name__ == "__main__":
    if len(sys.argv) == 3 and sys.argv[1] == "--self-check":
        sys.exit(self_check(pathlib.Path(sys.argv[2])))
    if len(sys.argv) != 2:
        sys.exit(__doc__)
    sys.exit(check(pathlib.Path(sys.argv[1])))
