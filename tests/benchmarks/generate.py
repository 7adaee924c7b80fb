"""Generated lists of any size, for measuring only."""

import csv
from collections.abc import Callable, Iterable, Iterator, Mapping
from datetime import datetime, timedelta
from pathlib import Path

# Twenty columns, as the lists of the samples have.
CONNECTIONS = (
    "connection", "joint", "side", "type", "service", "from", "to", "size", "from end", "to end",
    "timing", "inspect", "closed by", "part", "made", "made on", "made by", "inspected",
    "inspected by", "remarks",
)  # fmt: skip
STAGES = ("stage", "side", "timing")
RECORD = ("when", "stage", "side", "act", "by")
JOINTS = 50

Row = Iterable[str]
Sheets = Iterable[tuple[str, Row, Iterable[Row]]]  # name, headings, rows


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


# --- shapes ------------------------------------------------------------------------------------


_MADE = CONNECTIONS.index("made")
_TIMING = CONNECTIONS.index("timing")


def _usual(count: int) -> Sheets:
    """A tick sheet, a stages list and the record of the stages."""
    yield "Lines", CONNECTIONS, rows(count)
    yield "Stages", STAGES, stages()
    yield "Record", RECORD, record()


def _plan(count: int) -> Sheets:
    """Nothing is recorded yet."""
    yield "Lines", CONNECTIONS[:_MADE], (row[:_MADE] for row in rows(count))
    yield "Stages", STAGES, stages()


def _both(count: int) -> Sheets:
    """Every row stands for both sides."""
    lines = ([*row[:2], "both", *row[3:]] for row in list(rows(count))[::2])
    yield "Lines", CONNECTIONS, lines
    yield "Stages", STAGES, stages()
    yield "Record", RECORD, record()


def _halves(count: int) -> Sheets:
    """Each half has a list of its own; that of the first half is the tick sheet."""
    for name, width, of_the_other in (("Hull", len(CONNECTIONS), "to"), ("Wing", _MADE, "from")):
        left_out = {CONNECTIONS.index(f"{of_the_other}{more}") for more in ("", " end")}
        picked = [at for at in range(width) if at not in left_out]
        yield (
            name,
            [CONNECTIONS[at] for at in picked],
            ([row[at] for at in picked] for row in rows(count)),
        )
    yield "Stages", STAGES, stages()
    yield "Record", RECORD, record()


def _record(count: int) -> Sheets:
    """A record with two entries for each connection, in place of ticks."""
    yield from _plan(count)
    yield "Record", ("when", "stage", "connection", "side", "act", "by"), _entries(count)


def _entries(count: int) -> Iterator[list[str]]:
    for when, stage, side, act, by in record():
        yield [when, stage, "", side, act, by]
    for number, row in enumerate(rows(count)):
        if row[_MADE]:
            yield [f"2031-03-04 {number % 24:02}:00", "", row[0], row[2], "made", "AB"]
            yield [f"2031-03-05 {number % 24:02}:00", "", row[0], row[2], "inspected", "CD"]


def _runs(count: int) -> Sheets:
    """Half as many runs again as connections."""
    yield from _usual(count)
    pairs = count // 2
    lines = (
        [f"B{number % pairs}", f"E{number}", "LR"[number % 2]] for number in range(count * 3 // 2)
    )
    yield "Runs", ("from", "to", "side"), lines


def _readings(count: int) -> Sheets:
    """Every connection has limits, and a reading where it is made."""
    lines = (
        [*row[:_MADE], f"torque 135..{150 + number % 9} in-lbf"]
        for number, row in enumerate(rows(count))
    )
    yield "Lines", (*CONNECTIONS[:_MADE], "limits"), lines
    yield "Stages", STAGES, stages()
    headings = ("when", "stage", "connection", "side", "act", "by", "measure", "value", "unit")
    yield "Record", headings, _taken(count)


def _taken(count: int) -> Iterator[list[str]]:
    for when, stage, side, act, by in record():
        yield [when, stage, "", side, act, by, "", "", ""]
    for number, row in enumerate(rows(count)):
        if row[_MADE]:
            when, value = f"2031-03-04 {number % 24:02}:00", f"{136 + number % 12}"
            yield [when, "", row[0], row[2], "made", "AB", "torque", value, "in-lbf"]


def _ticks(count: int) -> Sheets:
    """A tick sheet alone: no record, so no stage has a time."""
    yield "Lines", CONNECTIONS, rows(count)
    yield "Stages", STAGES, stages()


def _chain(count: int) -> Sheets:
    """Every connection waits for the one before it on its side, and is made a minute later."""
    yield "Lines", CONNECTIONS, _one_after_another(count)
    yield "Stages", STAGES, stages()
    yield "Record", RECORD, record()


def _one_after_another(count: int) -> Iterator[list[str]]:
    begin = datetime(2031, 3, 4, 8)
    for number, row in enumerate(rows(count)):
        pair = number // 2
        row[_TIMING] = f"after H-{pair - 1:06d}" if pair else ""
        made = begin + timedelta(minutes=pair)
        row[_MADE : _MADE + 5] = ["x", f"{made:%Y-%m-%d %H:%M}", "AB", "", ""]
        yield row


def _late(count: int) -> Sheets:
    """Nothing is made, and every fairing is on."""
    yield from _plan(count)
    on = [
        ["2031-03-09 08:00", f"joint {joint} fairing", side, "started", "AB"]
        for joint in range(JOINTS)
        for side in "LR"
    ]
    yield "Record", RECORD, [*record(), *on]


SHAPES: Mapping[str, Callable[[int], Sheets]] = {
    "usual": _usual,
    "plan": _plan,
    "both": _both,
    "halves": _halves,
    "record": _record,
    "runs": _runs,
    "readings": _readings,
    "ticks": _ticks,
    "chain": _chain,
    "late": _late,
}


def workbook(path: Path, count: int, shape: str = "usual") -> None:
    """A workbook of one shape, a sheet for each list."""
    import openpyxl

    book = openpyxl.Workbook(write_only=True)
    for name, headings, lines in SHAPES[shape](count):
        sheet = book.create_sheet(name)
        sheet.append(list(headings))
        for line in lines:
            sheet.append(list(line))
    book.save(path)


def separated(path: Path, count: int) -> None:
    """The connections list alone, as a .csv."""
    with path.open("w", newline="", encoding="utf-8") as stream:
        writer = csv.writer(stream)
        writer.writerow(CONNECTIONS)
        writer.writerows(rows(count))
