"""The answer is the same, bit for bit, for any number of threads."""

import unittest

import h5py

from program import CASES, ProgramTest, summary_of

TAKEN_BY_THE_RUN = ["wall_s", "solve_s", "threads", "peak_memory_bytes"]


def all_bits(path):
    bits = {}
    with h5py.File(path) as file:
        file.visititems(lambda name, item: bits.update({name: (item.shape, item[()].tobytes())})
                        if isinstance(item, h5py.Dataset) and item.dtype != object else None)
    return bits


class Threads(ProgramTest):
    def test_fields_and_summary_are_the_same(self):
        found = []
        for threads in (1, 2, 3):
            folder = self.folder / str(threads)
            self.assert_runs("run", CASES / "valve_plate_chill.toml", "-o", folder, "--threads", threads)
            summary = summary_of(folder)
            self.assertEqual(summary["run"]["threads"], threads)
            for key in TAKEN_BY_THE_RUN:
                del summary["run"][key]
            found.append((summary, all_bits(folder / "fields.h5")))
        self.assertGreater(len(found[0][1]), 10)
        for summary, bits in found[1:]:
            self.assertEqual(summary, found[0][0])
            self.assertEqual(bits, found[0][1])


if __name__ == "__main__":
    unittest.main()
