"""The matrix of a joint: a row for each connection, a column for each side, numbered findings.

Every output that shows a matrix lays it out from here, so that they all show the same.
"""

from collections import Counter, defaultdict
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass
from functools import lru_cache
from typing import NamedTuple

from joinmatrix.assembly.model import Assembly, Connection, Key
from joinmatrix.assembly.standing import NOTHING_DONE, Standing
from joinmatrix.findings import Finding, Severity
from joinmatrix.names import folded
from joinmatrix.report import JointSummary, Report

LETTERS = {Severity.HOLD: "H", Severity.OPEN: "O", Severity.NOTE: "N"}
WORST_FIRST = tuple(LETTERS)
NOT_TOUCHED = len(WORST_FIRST)  # the rank of a row without findings
_RANK = {severity: rank for rank, severity in enumerate(WORST_FIRST)}


class Numbered(NamedTuple):
    """A finding with the number that the outputs know it by: H3 is the third hold."""

    finding: Finding
    number: int

    @property
    def label(self) -> str:
        """Letter and number: "H3"."""
        return f"{LETTERS[self.finding.severity]}{self.number}"

    @property
    def rank(self) -> tuple[int, int]:
        """Worst first, then in the order of the report."""
        return (_RANK[self.finding.severity], self.number)


def numbered(findings: Iterable[Finding]) -> list[Numbered]:
    """The findings in their order, each severity with numbers of its own."""
    last: Counter[Severity] = Counter()
    result = []
    for finding in findings:
        last[finding.severity] += 1
        result.append(Numbered(finding, last[finding.severity]))
    return result


def touches(
    findings: Iterable[Numbered], report: Report, among: Iterable[Connection] | None = None
) -> dict[Key, list[Numbered]]:
    """The findings that touch each connection, worst first.

    among  the connections that are asked about; by default all
    """
    asked = report.assembly.connections if among is None else among
    names = {each.id: each.key.name for each in asked}
    known = None if among is None else set(names.values())
    found: defaultdict[Key, list[Numbered]] = defaultdict(list)
    for each in findings:
        for written in dict.fromkeys(each.finding.connections):
            name = names.get(written) or folded(written)
            if known is not None and name not in known:
                continue
            for side in each.finding.sides or _sides_of(report.assembly).get(name, ()):
                found[Key(name, side)].append(each)
    for several in found.values():
        if len(several) > 1:
            several.sort(key=lambda each: each.rank)
    return dict(found)


@lru_cache(maxsize=8)
def _sides_of(assembly: Assembly) -> dict[str, list[str]]:
    """The sides on which each connection exists, by its name."""
    sides: defaultdict[str, list[str]] = defaultdict(list)
    for key in assembly.by_key:
        sides[key.name].append(key.side)
    return dict(sides)


class Cell(NamedTuple):
    """One connection on one side: where it stands and what was found about it, worst first."""

    connection: Connection
    standing: Standing
    findings: tuple[Numbered, ...]


class Row(NamedTuple):
    """Connections that belong together, one for each side.

    A joint can have very many rows of which few are shown, so a row is light until it is asked.
    expected  the sides on which it could exist
    """

    connections: tuple[Connection, ...]
    expected: tuple[str, ...]
    standings: Mapping[Key, Standing]
    touched: Mapping[Key, list[Numbered]]

    @property
    def cells(self) -> dict[str, Cell]:
        """Side -> the connection there; a side without one is not in it."""
        return {
            each.key.side: Cell(
                each,
                self.standings.get(each.key, NOTHING_DONE),
                tuple(self.touched.get(each.key, ())),
            )
            for each in self.connections
        }

    @property
    def missing(self) -> tuple[str, ...]:
        """The sides on which it could exist and does not."""
        there = {each.key.side for each in self.connections}
        return tuple(side for side in self.expected if side not in there)

    @property
    def ids(self) -> tuple[str, ...]:
        """The different identifiers, as written."""
        return tuple({each.key.name: each.id for each in self.connections}.values())

    @property
    def rank(self) -> int:
        """0 when a hold touches it, 1 an open finding, 2 a note, 3 nothing."""
        found = (self.touched.get(each.key) for each in self.connections)
        return min((several[0].rank[0] for several in found if several), default=NOT_TOUCHED)

    def texts(self, column: str) -> dict[str, str]:
        """What the connections say in a field, by side; under "" when they all say the same."""
        said = {each.key.side: str(getattr(each, column)) for each in self.connections}
        different = {folded(text) for text in said.values()}
        if len(different) > 1:
            return said
        return {"": next(iter(said.values()), "")} if different - {""} else {}


@dataclass(frozen=True, slots=True)
class Block:
    """Sides of a joint that share their rows: the alike sides, or one further side."""

    sides: tuple[str, ...]
    rows: tuple[Row, ...]


@dataclass(frozen=True, slots=True)
class Sheet:
    """A joint: how far each of its sides is, and its connections."""

    joint: str
    joint_key: str
    alike: tuple[str, ...]
    summaries: tuple[JointSummary, ...]
    connections: tuple[Connection, ...]


def sheets(report: Report) -> Iterator[Sheet]:
    """The joints in reading order; rows are laid out later, by `blocks`, where they are shown."""
    connections: defaultdict[str, list[Connection]] = defaultdict(list)
    for each in report.assembly.connections:
        connections[each.joint_key].append(each)
    summaries: defaultdict[str, list[JointSummary]] = defaultdict(list)
    for summary in report.joints:
        summaries[folded(summary.joint)].append(summary)
    for key, several in summaries.items():
        alike = report.assembly.alike.get(key, ())
        yield Sheet(several[0].joint, key, alike, tuple(several), tuple(connections[key]))


def blocks(
    sheet: Sheet, report: Report, touched: Mapping[Key, list[Numbered]]
) -> tuple[Block, ...]:
    """The rows of a joint: first those of the alike sides, then those of each further side."""
    rows: dict[Key, dict[str, Connection]] = {}
    for each in sheet.connections:
        key = each.key
        row = min(report.pairs.get(key, (key,)))
        if key.side in rows.setdefault(row, {}):
            row = key  # two on one side are not one row, whoever paired them
            rows[row] = {}
        rows[row][key.side] = each
    together: defaultdict[tuple[str, ...], list[Row]] = defaultdict(list)
    for members in rows.values():
        expected = sheet.alike if next(iter(members)) in sheet.alike else tuple(members)
        in_order = tuple(members[side] for side in expected if side in members)
        together[expected].append(Row(in_order, expected, report.standings, touched))
    blocks_in_order = sorted(together, key=lambda sides: (sides != sheet.alike, sides))
    return tuple(Block(sides, tuple(together[sides])) for sides in blocks_in_order)
