"""`check` against a process that only reads the same workbook, in one run.

    python -m tests.benchmarks.bench_check [COUNT ...]

Prints, for each size, the time of both (the best of three, wall clock and CPU) and their ratio.
Machines are noisy; the ratio is what counts.
"""

import resource
import subprocess
import sys
import tempfile
import time
from pathlib import Path

from tests.benchmarks import generate

BARE_READ = """
import sys
from python_calamine import CalamineWorkbook
book = CalamineWorkbook.from_path(sys.argv[1])
for name in book.sheet_names:
    book.get_sheet_by_name(name).to_python(skip_empty_area=False)
"""
SIZES = (200, 1_000, 5_000, 10_000, 100_000)


def timed(command: list[str]) -> tuple[float, float]:
    """Seconds of wall clock and of CPU, the best of three runs."""
    best = (float("inf"), float("inf"))
    for _ in range(3):
        before = resource.getrusage(resource.RUSAGE_CHILDREN)
        start = time.perf_counter()
        subprocess.run(command, stdout=subprocess.DEVNULL, check=False)
        wall = time.perf_counter() - start
        after = resource.getrusage(resource.RUSAGE_CHILDREN)
        cpu = after.ru_utime + after.ru_stime - before.ru_utime - before.ru_stime
        best = min(best, (wall, cpu))
    return best


def main(sizes: list[int]) -> None:
    """Measure each size and print a line."""
    print(f"{'connections':>11}  {'read s':>7} {'cpu':>6}  {'check s':>7} {'cpu':>6}  {'ratio':>5}")
    with tempfile.TemporaryDirectory() as folder:
        for size in sizes:
            path = Path(folder) / f"{size}.xlsx"
            generate.workbook(path, size)
            read = timed([sys.executable, "-c", BARE_READ, str(path)])
            check = timed([sys.executable, "-m", "joinmatrix", "check", str(path)])
            print(
                f"{size:>11,}  {read[0]:>7.2f} {read[1]:>6.2f}  {check[0]:>7.2f} {check[1]:>6.2f}"
                f"  {check[0] / read[0]:>5.2f}",
                flush=True,
            )


if __name__ == "__main__":
    main([int(each) for each in sys.argv[1:]] or list(SIZES))
