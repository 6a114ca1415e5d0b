"""The program that casters run is hardened as the build asks for. Read with binutils, which the compiler brings."""

import subprocess
import unittest

from program import PROGRAM


def read(*words):
    return subprocess.run(["readelf", "--wide", *words, PROGRAM], text=True, check=True, stdout=subprocess.PIPE).stdout


class Hardening(unittest.TestCase):
    def test_it_is_loaded_at_a_random_place(self):
        self.assertRegex(read("--file-header"), r"Type:\s+DYN")
        self.assertRegex(read("--dynamic"), r"FLAGS_1\).*PIE")

    def test_addresses_of_functions_are_read_only_once_it_runs(self):
        self.assertRegex(read("--dynamic"), r"FLAGS_1\).*NOW")
        self.assertIn("GNU_RELRO", read("--segments"))

    def test_nothing_is_both_written_and_run(self):
        segments = read("--segments")
        self.assertNotRegex(segments, r"(LOAD|GNU_STACK).*\bRWE\b")
        self.assertRegex(segments, r"GNU_STACK.* RW ")

    def test_stacks_strings_and_vectors_are_guarded(self):
        symbols = read("--dyn-syms")
        self.assertIn("__stack_chk_fail", symbols)
        self.assertRegex(symbols, r"__\w+_chk\b")  # such as __memcpy_chk
        self.assertIn("__glibcxx_assert_fail", symbols)


if __name__ == "__main__":
    unittest.main()
