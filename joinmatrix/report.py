"""The result of a run, as every output reads it."""

from dataclasses import dataclass
from functools import cached_property
from typing import TYPE_CHECKING

from joinmatrix.assembly.model import Assembly, Entry, Key
from joinmatrix.assembly.standing import Standing
from joinmatrix.findings import Finding, Kind, Severity, Verdict, verdict_of
from joinmatrix.lists.table import NotUsed, Reading
from joinmatrix.pairing.pairs import groups

if TYPE_CHECKING:
    import pandas as pd

CONNECTION_COLUMNS = (
    "connection", "side", "joint", "type", "service", "from", "to", "critical", "state",
    "placed", "made", "made by", "inspected", "inspected by", "file", "sheet", "row",
)  # fmt: skip
FINDING_COLUMNS = (
    "kind", "severity", "joint", "sides", "connections", "stages", "items", "message", "clears",
    "file", "sheet", "cell", "cells",
)  # fmt: skip


@dataclass(frozen=True, slots=True)
class JointSummary:
    """One side of one joint: how many connections it has and how far they are."""

    joint: str
    side: str
    verdict: Verdict
    connections: int
    placed: int
    made: int
    inspected: int


@dataclass(frozen=True, slots=True)
class NotRun:
    """A check that did not run, and why."""

    kinds: tuple[Kind, ...]
    why: str


@dataclass(frozen=True, eq=False)
class Report:
    """What was read, where everything stands, and what was found.

    findings   sorted by joint, side, kind and place; lookalikes last, the worst first
    standings  where each connection stands, by its key
    not_run    checks that were switched off because their list was not given
    crashed    checks that stopped on a fault of the program; the run is then never clear
    """

    reading: Reading
    assembly: Assembly
    standings: dict[Key, Standing]
    joints: tuple[JointSummary, ...]
    findings: tuple[Finding, ...]
    not_run: tuple[NotRun, ...] = ()
    crashed: tuple[NotRun, ...] = ()

    @property
    def verdict(self) -> Verdict:
        """The verdict of the whole."""
        return Verdict.HOLD if self.crashed else verdict_of(self.findings)

    @property
    def not_used(self) -> tuple[NotUsed, ...]:
        """Sheets that fit no list."""
        return self.reading.not_used

    @property
    def exit_code(self) -> int:
        """0 no hold, 1 hold."""
        return 1 if self.verdict is Verdict.HOLD else 0

    @cached_property
    def pairs(self) -> dict[Key, tuple[Key, ...]]:
        """For each connection on an alike side, all that belong together, itself included."""
        pairs: dict[Key, tuple[Key, ...]] = {}
        for group in groups(self.assembly):
            keys = tuple([member.key for member in group.members])
            pairs.update(dict.fromkeys(keys, keys))
        return pairs

    def count(self, severity: Severity) -> int:
        """Findings of one severity."""
        return sum(finding.severity is severity for finding in self.findings)

    def connections_frame(self) -> "pd.DataFrame":
        """A table for notebooks: one row for each connection on each side, in reading order.

        Times are texts, "2031-03-04 10:30" or "2031-03-04" as far as they are known, "undated",
        or "" for what is not done. file, sheet and row are those of the first list that has it.
        """
        import pandas as pd

        rows = []
        for each in self.assembly.connections:
            standing = self.standings[each.key]
            table, index = each.rows[0]
            rows.append(
                (
                    each.id, each.key.side, each.joint, each.type, each.service, each.from_port,
                    each.to_port, each.critical, standing.state.value, _time(standing.placed),
                    _time(standing.made), _by(standing.made), _time(standing.inspected),
                    _by(standing.inspected), table.file, table.sheet, table.rows[index],
                )
            )  # fmt: skip
        return pd.DataFrame(rows, columns=list(CONNECTION_COLUMNS))

    def findings_frame(self) -> "pd.DataFrame":
        """A table for notebooks: one row for each finding, in the order of the report.

        sides, connections, stages and items are tuples; `file`, `sheet` and `cell` are those of the
        cell to look at first, `cells` has all of them as texts ("lines.xlsx: Wing root!D14").
        """
        import pandas as pd

        rows = []
        for each in self.findings:
            first = each.places[0] if each.places else None
            rows.append(
                (
                    each.kind.value, each.severity.value, each.joint, each.sides, each.connections,
                    each.stages, each.items, each.message, each.clears,
                    first.file if first else "", first.sheet if first else "",
                    first.cell if first else "", tuple(map(str, each.places)),
                )
            )  # fmt: skip
        return pd.DataFrame(rows, columns=list(FINDING_COLUMNS))


def _time(entry: Entry | None) -> str:
    return "" if entry is None else entry.when.text or "undated"


def _by(entry: Entry | None) -> str:
    return "" if entry is None else entry.by
