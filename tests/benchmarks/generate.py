"""Generated lists of any size, for measuring only."""

import csv
from collections.abc import Iterator
from pathlib import Path

# Twenty columns, as the lists of the samples have.
CONNECTIONS = (
    "connection", "joint", "side", "type", "service", "from", "to", "size", "from end", "to end",
    "timing", "inspect", "closed by", "part", "made", "made on", "made by", "inspected",
    "inspected by", "remarks",
)  # fmt: skip
JOINTS = 50


def rows(count: int) -> Iterator[list[str]]:
    """Connections in pairs over 50 joints, all but one in 50 made and inspected."""
    kinds = ("hydraulic line", "electrical connector", "control rod", "bolt", "bonding strap")
    for number in range(count):
        pair, side = divmod(number, 2)
        joint = pair % JOINTS
        kind = kinds[pair % len(kinds)]
        made = ["x", "2031-03-04", "AB", "x", "CD"] if pair % JOINTS else [""] * 5
        size = f"-{2 + pair % 15}"
        yield [
            f"H-{pair:06d}", f"joint {joint}", "LR"[side], kind, f"service {pair}", f"A{pair}",
            f"B{pair}", size, "male", "female", f"after joint {joint} mate",
            f"before joint {joint} fairing", f"joint {joint} fairing",
            f"29-{pair % 997:03d}-{1 + side:02d}", *made, f"bracket {pair % 211}, see sheet 2",
        ]  # fmt: skip


def stages() -> Iterator[list[str]]:
    """Two stages for each joint."""
    for joint in range(JOINTS):
        yield [f"joint {joint} mate", "both", "" if joint == 0 else f"after joint {joint - 1} mate"]
        yield [f"joint {joint} fairing", "both", f"after joint {joint} mate"]


def record() -> Iterator[list[str]]:
    """Every joint mated before its connections are made; no fairing on yet."""
    for joint in range(JOINTS):
        for side in "LR":
            yield ["2031-03-01 08:00", f"joint {joint} mate", side, "started", "AB"]
            yield ["2031-03-02 16:00", f"joint {joint} mate", side, "done", "AB"]


def workbook(path: Path, count: int) -> None:
    """A workbook with a connections list, a stages list and the record of the stages."""
    import openpyxl

    book = openpyxl.Workbook(write_only=True)
    lines = book.create_sheet("Lines")
    lines.append(list(CONNECTIONS))
    for row in rows(count):
        lines.append(row)
    steps = book.create_sheet("Stages")
    steps.append(["stage", "side", "timing"])
    for row in stages():
        steps.append(row)
    shop = book.create_sheet("Record")
    shop.append(["when", "stage", "side", "act", "by"])
    for row in record():
        shop.append(row)
    book.save(path)


def separated(path: Path, count: int) -> None:
    """The connections list alone, as a .csv."""
    with path.open("w", newline="", encoding="utf-8") as stream:
        writer = csv.writer(stream)
        writer.writerow(CONNECTIONS)
        writer.writerows(rows(count))
