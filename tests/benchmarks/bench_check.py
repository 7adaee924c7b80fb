"""`check` against a process that only reads the same workbook, in one run.

    python -m tests.benchmarks.bench_check [--shape NAME ...] [COUNT ...]

Prints, for each shape and size, the time of both (the best of three, wall clock and CPU), the ratio
of their CPU, and the memory of the check. Machines are noisy; the ratio is what counts. The shapes
are those of `generate`; "all" measures each of them.
"""

import argparse
import os
import subprocess
import sys
import tempfile
import time
from pathlib import Path
from typing import NamedTuple

from tests.benchmarks import generate

BARE_READ = """
import sys
from python_calamine import CalamineWorkbook
book = CalamineWorkbook.from_path(sys.argv[1])
for name in book.sheet_names:
    book.get_sheet_by_name(name).to_python(skip_empty_area=False)
"""
SIZES = (200, 1_000, 5_000, 10_000, 100_000)
RUNS = 3


class Cost(NamedTuple):
    """Seconds of wall clock and of CPU, and MiB at the most."""

    wall: float
    cpu: float
    memory: float


def cost(command: list[str]) -> Cost:
    """What one process takes, the best of several runs."""
    best = Cost(float("inf"), float("inf"), float("inf"))
    for _ in range(RUNS):
        start = time.perf_counter()
        process = subprocess.Popen(command, stdout=subprocess.DEVNULL)
        _, _, used = os.wait4(process.pid, 0)
        process.returncode = 0  # it has been waited for
        wall = time.perf_counter() - start
        taken = Cost(wall, used.ru_utime + used.ru_stime, used.ru_maxrss / 1024)
        best = Cost(*map(min, best, taken))
    return best


def main(shapes: list[str], sizes: list[int]) -> None:
    """Measure each shape and size and print a line."""
    print(
        f"{'shape':8} {'connections':>11}  {'read s':>7} {'cpu':>6}  {'check s':>7} {'cpu':>6}"
        f"  {'ratio':>5}  {'MiB':>5}"
    )
    with tempfile.TemporaryDirectory() as folder:
        for shape in shapes:
            for size in sizes:
                path = Path(folder) / f"{shape}-{size}.xlsx"
                generate.workbook(path, size, shape)
                read = cost([sys.executable, "-c", BARE_READ, str(path)])
                check = cost([sys.executable, "-m", "joinmatrix", "check", str(path)])
                print(
                    f"{shape:8} {size:>11,}  {read.wall:>7.2f} {read.cpu:>6.2f}"
                    f"  {check.wall:>7.2f} {check.cpu:>6.2f}  {check.cpu / read.cpu:>5.2f}"
                    f"  {check.memory:>5.0f}",
                    flush=True,
                )


if __name__ == "__main__":
    parser = argparse.ArgumentParser()
    parser.add_argument("sizes", nargs="*", type=int, default=list(SIZES), metavar="COUNT")
    parser.add_argument(
        "--shape", action="append", choices=["all", *generate.SHAPES], metavar="NAME"
    )
    given = parser.parse_args()
    asked = given.shape or ["usual"]
    main(list(generate.SHAPES) if "all" in asked else asked, given.sizes)
