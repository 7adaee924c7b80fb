"""Faults planted in the finished sample: what is changed, and what is found then that was not.

Plants are written in lines, cells as a spreadsheet shows them, sheets by the short names below. A
line that begins with a space goes on with the one above.

    # two lines swapped                 what it is, in words
    march!J107 = 160                    the cell says this now; nothing behind "=" empties it
    vents!N7:S7 =                       all these cells
    strike march!56                     the row is gone
    copy pipes!6 to 9                   row 6 stands in row 9 once more
    add april!120 = when: 2031-04-20 | stage: gear down | act: done
                                        a new row, by the names of its columns
    plan only                           no record and no ticks
    hold: HY-101 | L | march!J107       the finding: severity, about, sides, cells, first one first

What was read is changed, not the files: the sample is read once.
"""

import re
from collections.abc import Iterable, Iterator
from dataclasses import replace
from functools import cache
from pathlib import Path
from textwrap import dedent
from typing import NamedTuple

from joinmatrix.findings import Finding, Severity
from joinmatrix.lists.reader import read
from joinmatrix.lists.table import ListKind, Reading, Table
from joinmatrix.place import Place
from joinmatrix.report import Report
from joinmatrix.verify import report_on

SAMPLE = Path(__file__).parent.parent / "samples" / "amphibian-finished"
SHEETS = {
    "wings": ("airframe.xlsx", "Wing, nacelle, float"),
    "tail": ("airframe.xlsx", "Tail"),
    "fuel": ("airframe.xlsx", "Fuel"),
    "march": ("build-record.xlsx", "March 2031"),
    "april": ("build-record.xlsx", "April 2031"),
    "stages": ("build-up-plan.xlsx", "Stages"),
    "joints": ("build-up-plan.xlsx", "Joints"),
    "agreed": ("build-up-plan.xlsx", "Agreed differences"),
    "temporary": ("build-up-plan.xlsx", "Temporary items"),
    "people": ("build-up-plan.xlsx", "People"),
    "tools": ("build-up-plan.xlsx", "Tools"),
    "engine": ("controls.xlsx", "Wing and engine"),
    "rudder": ("controls.xlsx", "Tail"),
    "cables": ("controls.xlsx", "Cable runs"),
    "looms": ("electrical.xlsx", "Wing looms"),
    "fin": ("electrical.xlsx", "Fin looms"),
    "bonding": ("electrical.xlsx", "Bonding"),
    "loomruns": ("electrical.xlsx", "Loom runs"),
    "hull": ("hydraulics.xlsx", "Hull half"),
    "wing": ("hydraulics.xlsx", "Wing half"),
    "pipes": ("hydraulics.xlsx", "Nacelle and float"),
    "piperuns": ("hydraulics.xlsx", "Pipe runs"),
    "vents": ("pitot-static-and-vents.csv", ""),
}
SHORT = {where: name for name, where in SHEETS.items()}
TICKS = ("made", "made by", "made on", "inspected", "inspected by", "inspected on")

_SET = re.compile(
    r"(?P<sheet>\w+)!(?P<left>[A-Z])(?P<top>\d+)(:(?P<right>[A-Z])(?P<bottom>\d+))? =(?P<text>.*)"
)
_STRIKE = re.compile(r"strike (?P<sheet>\w+)!(?P<row>\d+)")
_COPY = re.compile(r"copy (?P<sheet>\w+)!(?P<row>\d+) to (?P<to>\d+)")
_ADD = re.compile(r"add (?P<sheet>\w+)!(?P<row>\d+) = (?P<text>.+)")
_FINDING = re.compile(r"(hold|open|note): (?P<about>.*?) ?\| ?(?P<sides>.*?) ?\| ?(?P<cells>.+)")


class Plant(NamedTuple):
    """A fault, and the finding that tells of it, if one should.

    about  the connections of the finding; without any its items, else its stages; "-" where the
           cell alone tells
    cells  its cells, the one to look at first in front
    """

    what: str
    changes: tuple[str, ...]
    severity: Severity = Severity.NOTE
    about: str = ""
    sides: str = ""
    cells: tuple[str, ...] = ()


def plants_of(text: str) -> list[Plant]:
    """The plants of a text, parted by blank lines."""
    return [_plant(block) for block in dedent(text).strip().split("\n\n")]


def _plant(block: str) -> Plant:
    what, *lines = re.sub(r"\n +", " ", block.strip()).splitlines()
    assert what.startswith("# "), block
    match = _FINDING.fullmatch(lines[-1])
    if not match:
        return Plant(what[2:], tuple(lines))
    return Plant(
        what[2:],
        tuple(lines[:-1]),
        Severity(match[1]),
        match["about"],
        match["sides"],
        tuple(match["cells"].split()),
    )


@cache
def clean() -> Reading:
    """The finished sample as it stands."""
    return read([SAMPLE])


def planted(changes: Iterable[str]) -> Reading:
    """The sample with the changes of a plant."""
    tables = {short(table): table for table in clean().tables}
    for line in changes:
        if line == "plan only":
            tables = dict(_without_acts(tables))
        else:
            _change(tables, line)
    return replace(clean(), tables=tuple(tables.values()))


def short(table: Table | Place) -> str:
    """The short name of the sheet of a table or a cell."""
    return SHORT[Path(table.file).name, table.sheet]


def _without_acts(tables: dict[str, Table]) -> Iterator[tuple[str, Table]]:
    for name, table in tables.items():
        if table.kind is not ListKind.RECORD:
            kept = {column: texts for column, texts in table.cells.items() if column not in TICKS}
            yield name, replace(table, cells=kept)


def _change(tables: dict[str, Table], line: str) -> None:
    """Carry out one line; a line that changes nothing is a slip in the test."""
    if match := _SET.fullmatch(line):
        _set(tables, match)
    elif match := _STRIKE.fullmatch(line):
        table = tables[match["sheet"]]
        at = table.rows.index(int(match["row"]))
        tables[match["sheet"]] = replace(
            table,
            rows=_but(table.rows, at),
            cells={column: _but(texts, at) for column, texts in table.cells.items()},
        )
    elif match := _COPY.fullmatch(line):
        table = tables[match["sheet"]]
        at = table.rows.index(int(match["row"]))
        row = {column: texts[at] for column, texts in table.cells.items()}
        tables[match["sheet"]] = _with_row(table, int(match["to"]), row)
    else:
        match = _ADD.fullmatch(line)
        assert match, line
        table = tables[match["sheet"]]
        row = dict(each.split(": ", 1) for each in match["text"].split(" | "))
        tables[match["sheet"]] = _with_row(table, int(match["row"]), row)


def _set(tables: dict[str, Table], match: re.Match[str]) -> None:
    """Write a text into one cell, or into each of several."""
    table, text = tables[match["sheet"]], match["text"].strip()
    rows = range(int(match["top"]), int(match["bottom"] or match["top"]) + 1)
    letters = range(ord(match["left"]), ord(match["right"] or match["left"]) + 1)
    numbers = [letter - ord("A") + 1 for letter in letters]
    for column in [name for name, number in table.numbers.items() if number in numbers]:
        texts = list(table.cells[column])
        for at in [at for at, row in enumerate(table.rows) if row in rows]:
            assert texts[at] != text, f"{match[0]}: it says so already"
            texts[at] = text
        table = replace(table, cells={**table.cells, column: texts})
    assert table is not tables[match["sheet"]], f"{match[0]}: no such cell"
    tables[match["sheet"]] = table


def _but(sequence, at: int) -> list:
    return [each for index, each in enumerate(sequence) if index != at]


def _with_row(table: Table, row: int, texts: dict[str, str]) -> Table:
    assert row not in table.rows, f"row {row} is taken"
    assert texts.keys() <= table.cells.keys(), "no such column"
    cells = {column: [*old, texts.get(column, "")] for column, old in table.cells.items()}
    return replace(table, rows=[*table.rows, row], cells=cells)


def found_anew(report: Report, before: Report) -> list[Finding]:
    """The findings of a report that were not there before, changed ones among them."""
    known = set(map(_told, before.findings))
    return [each for each in report.findings if _told(each) not in known]


def _told(finding: Finding) -> tuple:
    return (finding.kind, finding.severity, finding.places, finding.sides, finding.message)


def cells_of(places: Iterable[Place]) -> list[str]:
    """Cells as the tests write them: "march!J107"."""
    return [f"{short(place)}!{place.cell}" for place in places]


@cache
def report_before(*, plan: bool = False) -> Report:
    """The report on the sample as it stands, or on its plan alone."""
    return report_after(("plan only",) if plan else ())


def report_after(changes: Iterable[str]) -> Report:
    """The report on the sample with the changes of a plant."""
    return report_on(planted(changes))
