"""How long the routes take against reading the same lists as CSV.

    python -m tests.benchmarks.bench_routes [CONNECTIONS]

Half as many runs again as connections, both sides, a thousand wrong mates. Prints seconds of
processor time, with garbage collection off as `verify` has it; the line "all of it" is to stay
below "reading the lists". The worst case for the check of lookalikes: every connection has
hundreds of them.
"""

import gc
import random
import sys
import tempfile
import time
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

from joinmatrix.assembly.merge import assemble
from joinmatrix.assembly.model import Assembly
from joinmatrix.assembly.ports import designed_routes, ports
from joinmatrix.assembly.standing import standings
from joinmatrix.checks import (
    broken_route,
    crossed,
    duplicate,
    joined_routes,
    lookalike,
    mismatched,
    one_ended,
)
from joinmatrix.lists.reader import read
from joinmatrix.routes.as_made import as_made
from joinmatrix.routes.mates import mates

SEED = 4
HEADINGS = (
    "connection", "joint", "side", "type", "service", "from", "to", "size", "from end", "to end",
    "place", "timing", "inspect", "closed by", "limits", "part", "remarks",
)  # fmt: skip
CHECKS = (
    duplicate.CHECK, one_ended.CHECK, mismatched.CHECK, crossed.CHECK, broken_route.CHECK,
    joined_routes.CHECK, lookalike.CHECK,
)  # fmt: skip


def write_lists(folder: Path, count: int, wrong: int = 1000) -> None:
    """Lines through three joints, each joint a third of the connections; runs between and beyond.

    count  number of connections
    wrong  number of connections that are recorded at another port than listed
    """
    pick = random.Random(SEED)
    lines = count // 6  # three joints, two sides
    with (folder / "connections.csv").open("w") as file:
        file.write(",".join(HEADINGS) + "\n")
        for joint in range(3):
            for line in range(lines):
                for side in "LR":
                    size = pick.randint(2, 16)
                    file.write(
                        f"C{joint}-{line},joint {joint},{side},hydraulic line,service {line},"
                        f"J{joint}A{line},J{joint}B{line},-{size},flare 37,flare 37,,"
                        f"after joint {joint} mate,before fairing {joint},fairing {joint},"
                        f"torque 135..150 in-lbf,P-{line}-{joint},\n"
                    )
    with (folder / "runs.csv").open("w") as file:
        file.write("from,to,side,half\n")
        for line in range(lines):
            for side in "LR":
                file.write(
                    f"J0B{line},J1A{line},{side},half 1\nJ1B{line},J2A{line},{side},half 2\n"
                )
        beyond = lines * 6 * 3 // 2 - lines * 4
        for number in range(beyond):
            line, side = number % lines, "LR"[number // lines % 2]
            file.write(f"J2B{line},END{number},{side},half 3\n")
    with (folder / "record.csv").open("w") as file:
        file.write("connection,side,act,when,by,mated to\n")
        for _ in range(wrong):
            line, other = pick.randrange(lines), pick.randrange(lines)
            file.write(f"C1-{line},L,made,2026-03-04,AB,J1B{other}\n")


@contextmanager
def timed(what: str) -> Iterator[None]:
    """Print how long it took."""
    before = time.process_time()
    yield
    print(f"{what:24} {time.process_time() - before:6.2f} s")


def measure(assembly: Assembly) -> None:
    """Every part of it in the order in which it is first needed."""
    with timed("all of it"):
        with timed("  ports"):
            ports(assembly)
        with timed("  designed routes"):
            designed_routes(assembly)
        with timed("  mates"):
            mates(assembly)
        with timed("  as made"):
            as_made(assembly)
        for check in CHECKS:
            with timed(f"  {check.kind}"):
                found = sum(1 for _ in check.run(assembly))
            print(f"{'':26}{found} findings")


def main(count: int = 100_000) -> None:
    """Generate, read, merge, measure."""
    with tempfile.TemporaryDirectory() as name:
        folder = Path(name)
        write_lists(folder, count)
        gc.disable()
        print(f"{count} connections")
        with timed("reading the lists"):
            reading = read([folder])
    with timed("merging"):
        assembly = assemble(reading)
    standings(assembly)
    measure(assembly)


if __name__ == "__main__":
    main(*map(int, sys.argv[1:2]))
