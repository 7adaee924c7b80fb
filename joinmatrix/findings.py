"""What a check says: kinds, severities, findings, and the verdict they make."""

from collections.abc import Iterable
from dataclasses import dataclass, replace
from enum import StrEnum

from joinmatrix.place import Place


class Severity(StrEnum):
    """How much a finding weighs."""

    HOLD = "hold"  # stops work
    OPEN = "open"  # work that is still to do
    NOTE = "note"  # something to know


class Kind(StrEnum):
    """Every kind of finding, in the order in which reports and help list them."""

    UNMADE = "unmade"
    DUPLICATE = "duplicate"
    MIS_SEQUENCED = "mis-sequenced"
    CONTRADICTION = "contradiction"
    UNPROVEN = "unproven"
    ASYMMETRIC = "asymmetric"
    CONFLICT = "conflict"
    ONE_ENDED = "one-ended"
    MISMATCHED = "mismatched"
    CROSSED = "crossed"
    BROKEN_ROUTE = "broken-route"
    JOINED_ROUTES = "joined-routes"
    UNINSPECTED = "uninspected"
    SELF_INSPECTED = "self-inspected"
    LAPSED = "lapsed"
    OUT_OF_LIMITS = "out-of-limits"
    NO_READING = "no-reading"
    LEFT_FITTED = "left-fitted"
    UNLISTED = "unlisted"
    NOT_AUTHORISED = "not-authorised"
    OUT_OF_CALIBRATION = "out-of-calibration"
    LOOKALIKE = "lookalike"
    UNREADABLE = "unreadable"


class Verdict(StrEnum):
    """What the findings of a joint, or of the assembly, come to."""

    HOLD = "hold"
    OPEN = "open"
    CLEAR = "clear"


@dataclass(frozen=True, slots=True)
class Finding:
    """One thing that somebody should know, do or undo.

    message      what is wrong and why, one or two plain sentences, no file names
    clears       what clears it, an instruction
    places       the cells behind it, the one to look at first in front
    joint        "" when it is about no single joint
    sides        the sides it is about, in reading order; () when about none
    connections  connection identifiers as written, without side
    stages       stage names as written
    items        temporary items, persons or tools
    rank         0; above it how far behind the other findings of its joint it belongs
    """

    kind: Kind
    severity: Severity
    message: str
    clears: str
    places: tuple[Place, ...]
    joint: str = ""
    sides: tuple[str, ...] = ()
    connections: tuple[str, ...] = ()
    stages: tuple[str, ...] = ()
    items: tuple[str, ...] = ()
    rank: int = 0

    @property
    def side(self) -> str:
        """The one side, "" when there are several or none."""
        return self.sides[0] if len(self.sides) == 1 else ""

    @property
    def sort_key(self) -> tuple[object, ...]:
        """Joint, rank, side, kind, place; the rest makes the order total."""
        what = (_KIND_RANK[self.kind], self.places, self.connections, self.message)
        return (self.joint, self.rank, self.sides, *what)


_KIND_RANK = {kind: rank for rank, kind in enumerate(Kind)}


def strict(finding: Finding) -> Finding:
    """The finding as sign-off weighs it: open work holds, and so does an order not shown."""
    if finding.severity is Severity.OPEN or (
        finding.severity is Severity.NOTE and finding.kind is Kind.UNPROVEN
    ):
        return replace(finding, severity=Severity.HOLD)
    return finding


def verdict_of(findings: Iterable[Finding]) -> Verdict:
    """Hold if any finding holds, else open if any is open, else clear."""
    severities = {finding.severity for finding in findings}
    if Severity.HOLD in severities:
        return Verdict.HOLD
    return Verdict.OPEN if Severity.OPEN in severities else Verdict.CLEAR
