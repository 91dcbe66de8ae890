"""A long fuzz of every wire format: `python tests/bench/fuzz_formats.py --bytes 20000000 --seed 7`.

The suite of the catalogue feeds each format 200 000 bytes of a bad line; this feeds it as many as there is
time for, from another seed each run unless one is given. A seed that fails is printed with the exception.
"""

import argparse
import importlib.util
import sys
from pathlib import Path
from random import SystemRandom
from types import ModuleType

SUITE = Path(__file__).parents[1] / "drivers" / "test_formats.py"


def suite() -> ModuleType:
    """The suite of the catalogue, with its specimens and its fuzz."""
    spec = importlib.util.spec_from_file_location("suite_of_formats", SUITE)
    assert spec is not None
    assert spec.loader is not None
    module = importlib.util.module_from_spec(spec)
    sys.modules[spec.name] = module
    spec.loader.exec_module(module)
    return module


def main() -> None:
    """Fuzz every format in turn."""
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--bytes", type=int, default=5_000_000)
    parser.add_argument("--seed", type=int, default=SystemRandom().randrange(1 << 32))
    options = parser.parse_args()
    tests = suite()
    sys.stdout.write(f"seed {options.seed}, {options.bytes} bytes for each format\n")
    for specimens, fuzz in ((tests.SPOKEN, tests.fuzz_spoken), (tests.ANSWERED, tests.fuzz_answered)):
        for kind, specimen in specimens.items():
            readings = fuzz(specimen, options.bytes, options.seed)
            sys.stdout.write(f"{kind.__name__:16} {fuzz.__name__:14} {readings} readings came through\n")


if __name__ == "__main__":
    main()
