"""How long pairing and comparing alike sides takes against reading the same list as CSV.

    python -m tests.benchmarks.bench_pairing [CONNECTIONS]

500 joints, left and right, one connection in a hundred altered on one side. The identifiers are the
same on both sides, or carry side words, or have nothing in common; then part numbers tell, or, in
the worst case, services alone. Prints seconds of processor time; pairing and comparing together are
to stay below reading.
"""

import csv
import gc
import sys
import tempfile
import time
from collections.abc import Callable, Iterator
from pathlib import Path
from typing import TypeVar

from joinmatrix.assembly.merge import assemble
from joinmatrix.assembly.standing import standings
from joinmatrix.checks.asymmetric import asymmetric
from joinmatrix.lists.reader import read
from joinmatrix.pairing.pairs import groups
from joinmatrix.routes.mating import cannot_mate
from joinmatrix.routes.services import told_services
from joinmatrix.timing.stages import names_of

JOINTS = 500
HEADINGS = (
    "connection", "joint", "side", "type", "service", "from", "to", "size", "from end", "to end",
    "place", "timing", "inspect", "closed by", "limits", "part", "remarks",
)  # fmt: skip
FORMS = {
    "same": "H-{pair:06d}",
    "side words": "H-{pair:06d}-{side}H",
    "unrelated": "Q-{other:07d}",
    "services": "Q-{other:07d}",
}
Result = TypeVar("Result")


def rows(count: int, ids: str) -> Iterator[tuple[str, ...]]:
    """Connections in pairs of left and right."""
    for number in range(count):
        pair, odd = divmod(number, 2)
        side = "LR"[odd]
        size = "-8" if odd and pair % 100 == 0 else "-6"
        named = ids != "services"
        ports, part = (f"F{pair} {side}", f"W{pair} {side}"), f"41-{number + 1}"
        name = FORMS[ids].format(pair=pair, side=side, other=number * 7919 % 1_000_003)
        yield (
            name, f"joint {pair % JOINTS}", side, "hydraulic line",
            f"service {pair}", *(ports if named else ("", "")), size, "flare 37", "flare 37",
            "before wing mate", f"after gear down {side}", "before panel close",
            f"panel close {side}", "torque 135..150 in-lbf", part if named else "", "",
        )  # fmt: skip


def timed(work: Callable[[], Result]) -> tuple[float, Result]:
    """Processor time of some work, with garbage collection off as `verify` has it."""
    gc.collect()
    gc.disable()
    start = time.process_time()
    result = work()
    taken = time.process_time() - start
    gc.enable()
    return taken, result


def main(count: int) -> None:
    """Measure each kind of identifier."""
    print(f"{count:,} connections in {JOINTS} joints, seconds")
    print(
        f"{'identifiers':12} {'reading':>8} {'pairing':>8} {'comparing':>9} {'share':>6}  findings"
    )
    for ids in FORMS:
        with tempfile.TemporaryDirectory() as folder:
            path = Path(folder) / "connections.csv"
            with path.open("w", newline="", encoding="utf-8") as stream:
                writer = csv.writer(stream)
                writer.writerow(HEADINGS)
                writer.writerows(rows(count, ids))
            reading, lists = timed(lambda path=path: read([path]))
        assembly = assemble(lists)
        for shared in (names_of, standings, cannot_mate, told_services):
            shared(assembly)  # other checks need them too, so they are not pairing's own
        pairing, _ = timed(lambda assembly=assembly: groups(assembly))
        comparing, findings = timed(lambda assembly=assembly: list(asymmetric(assembly)))
        share = (pairing + comparing) / reading
        print(
            f"{ids:12} {reading:8.2f} {pairing:8.2f} {comparing:9.2f} {share:6.0%}  {len(findings)}"
        )


if __name__ == "__main__":
    main(int(sys.argv[1]) if len(sys.argv) > 1 else 100_000)
