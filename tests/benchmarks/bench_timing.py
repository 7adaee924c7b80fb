"""The timing part against the reading of the same workbook, in one run.

    python -m tests.benchmarks.bench_timing [COUNT ...]

For each size: CPU seconds to read the workbook and to merge it, then for the timing part (rules,
network, contradictions, the judgement of the record) and for each of the answers, and the timing
part as a share of the reading. Each step runs once, in order and with the cycle collector as a
command has it: at rest while lists are read and merged, and past what they made from then on.
"""

import gc
import sys
import tempfile
import time
from collections.abc import Iterator
from pathlib import Path

STAGES = 200
SIZES = (1_000, 10_000, 100_000)
BEGUN = STAGES // 2  # stages of the record; what closes before them is made and inspected
COLUMNS = (
    "connection", "joint", "side", "type", "service", "from", "to", "place", "timing", "inspect",
    "closed by", "made on", "made by", "inspected on", "inspected by",
)  # fmt: skip


def connections(count: int) -> Iterator[list[str]]:
    """Pairs between two stages each; one in 50 follows another connection, one in 100 cures."""
    for number in range(count):
        pair, side = divmod(number, 2)
        after = pair % (STAGES - 8)
        closing = after + 2 + pair % 5
        timing = f"after stage {after}"
        if pair % 50 == 1:
            timing += f" and H-{pair - 1:06d}"
        if pair % 100 == 7:
            timing = f"at least 6 h after stage {after}"
        done = [day(closing - 1), "AB", day(closing - 1), "CD"] if closing < BEGUN else [""] * 4
        yield [
            f"H-{pair:06d}", f"joint {after // 10}", "LR"[side], "hydraulic line",
            f"service {pair}", f"A{pair}", f"B{pair}",
            f"before stage {closing}" if pair % 3 == 0 else "", timing, "",
            f"stage {closing}", *done,
        ]  # fmt: skip


def day(stage: int) -> str:
    """The day on which a stage is gone through; two days lie between two stages."""
    months, days = divmod(2 * stage, 28)
    return f"{2031 + months // 12}-{months % 12 + 1:02}-{days + 1:02}"


def workbook(path: Path, count: int) -> None:
    """Connections, a chain of stages on both sides, and the record of the first half of them."""
    import openpyxl

    book = openpyxl.Workbook(write_only=True)
    sheet = book.create_sheet("Lines")
    sheet.append(list(COLUMNS))
    for row in connections(count):
        sheet.append(row)
    sheet = book.create_sheet("Stages")
    sheet.append(["stage", "side", "after"])
    for number in range(STAGES):
        sheet.append([f"stage {number}", "both", f"stage {number - 1}" if number else ""])
    sheet = book.create_sheet("Record")
    sheet.append(["when", "stage", "side", "act"])
    for number in range(BEGUN):
        for side in "LR":
            sheet.append([f"{day(number)} 08:00", f"stage {number}", side, "started"])
            sheet.append([f"{day(number)} 16:00", f"stage {number}", side, "done"])
    book.save(path)


def measured(path: Path) -> dict[str, float]:
    """CPU seconds of each step."""
    from joinmatrix.answers.gate import gate
    from joinmatrix.answers.next_acts import next_acts
    from joinmatrix.answers.sequence import sequence
    from joinmatrix.assembly.merge import assemble
    from joinmatrix.lists.reader import read
    from joinmatrix.timing.constraints import faults, plan_of
    from joinmatrix.timing.judge import judge

    marks: dict[str, float] = {}
    start = time.process_time()

    def mark(step: str) -> None:
        nonlocal start
        marks[step] = time.process_time() - start
        start = time.process_time()

    gc.disable()
    reading = read([path])
    mark("read")
    assembly = assemble(reading)
    gc.freeze()
    gc.enable()
    mark("merge")
    found = plan_of(assembly).circles, faults(assembly)
    judge(assembly)
    mark("timing")
    assert found == ([], ()), found
    gate(assembly, f"stage {BEGUN}")
    mark("gate")
    next_acts(assembly)
    mark("next")
    sequence(assembly)
    mark("sequence")
    return marks


def main(sizes: list[int]) -> None:
    """Measure each size and print a line."""
    steps = ("read", "merge", "timing", "gate", "next", "sequence")
    print(f"{'connections':>11}" + "".join(f"{step:>10}" for step in steps) + "  timing/read")
    with tempfile.TemporaryDirectory() as folder:
        for size in sizes:
            path = Path(folder) / f"{size}.xlsx"
            workbook(path, size)
            marks = measured(path)
            print(
                f"{size:>11,}"
                + "".join(f"{marks[step]:>10.3f}" for step in steps)
                + f"{marks['timing'] / marks['read']:>13.2f}",
                flush=True,
            )


if __name__ == "__main__":
    main([int(each) for each in sys.argv[1:]] or list(SIZES))
