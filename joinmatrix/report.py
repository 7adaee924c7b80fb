"""The result of a run, as every output reads it."""

from dataclasses import dataclass
from functools import cached_property

from joinmatrix.assembly.model import Assembly, Key
from joinmatrix.assembly.standing import Standing
from joinmatrix.findings import Finding, Kind, Severity, Verdict, verdict_of
from joinmatrix.lists.table import NotUsed, Reading
from joinmatrix.pairing.pairs import groups


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

    findings   sorted by joint, side, kind and place
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
        return {
            member.key: tuple(each.key for each in group.members)
            for group in groups(self.assembly)
            for member in group.members
        }

    def count(self, severity: Severity) -> int:
        """Findings of one severity."""
        return sum(finding.severity is severity for finding in self.findings)
