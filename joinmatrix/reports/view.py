"""What of a report is shown. The verdict is always that of the whole."""

from collections.abc import Iterable
from dataclasses import dataclass

from joinmatrix.assembly.model import Connection
from joinmatrix.errors import CallError
from joinmatrix.findings import Finding, Kind
from joinmatrix.names import folded, nearest, quoted_list
from joinmatrix.report import JointSummary, Report


@dataclass(frozen=True, slots=True)
class View:
    """A narrower look at a report; an empty tuple narrows nothing.

    joints, sides  as the user typed them
    brief          one line for each finding, and no matrix
    full           every row and every finding, however many there are
    """

    joints: tuple[str, ...] = ()
    sides: tuple[str, ...] = ()
    kinds: tuple[Kind, ...] = ()
    brief: bool = False
    full: bool = False

    @property
    def narrowed(self) -> bool:
        """Whether something may be left out."""
        return bool(self.joints or self.sides or self.kinds)


WHOLE = View()


class Lens:
    """A view on one report: tells of each part of it whether it is shown."""

    def __init__(self, report: Report, view: View) -> None:
        self.view = view
        self._joints = {folded(each) for each in view.joints}
        self._sides = {folded(each) for each in view.sides}
        self._kinds = frozenset(view.kinds)
        self._joints_of: dict[str, set[str]] = {}
        if self._joints:
            for each in report.assembly.connections:
                self._joints_of.setdefault(each.key.name, set()).add(each.joint_key)

    def side(self, side: str) -> bool:
        """Whether a side is shown."""
        return not self._sides or folded(side) in self._sides

    def joint(self, joint: str) -> bool:
        """Whether a joint is shown, by its name."""
        return not self._joints or folded(joint) in self._joints

    def summary(self, summary: JointSummary) -> bool:
        """Whether a side of a joint is shown."""
        return self.joint(summary.joint) and self.side(summary.side)

    def connection(self, connection: Connection) -> bool:
        """Whether a connection is shown; a choice of kinds leaves connections alone."""
        return (not self._joints or connection.joint_key in self._joints) and self.side(
            connection.key.side
        )

    def finding(self, finding: Finding) -> bool:
        """Whether a finding is shown. One that names no joint or side may be about any."""
        if self._kinds and finding.kind not in self._kinds:
            return False
        if self._sides and finding.sides and not any(map(self.side, finding.sides)):
            return False
        return not self._joints or self._at_a_shown_joint(finding)

    def _at_a_shown_joint(self, finding: Finding) -> bool:
        if finding.joint:
            return folded(finding.joint) in self._joints
        joints = [self._joints_of.get(folded(each), set()) for each in finding.connections]
        return not any(joints) or any(each & self._joints for each in joints)


def require_known(view: View, report: Report) -> None:
    """Raise CallError when the view asks for a joint or a side that the report does not have."""
    _require("joint", view.joints, [each.joint for each in report.joints])
    _require("side", view.sides, [each.side for each in report.joints])


def _require(what: str, asked: Iterable[str], known: Iterable[str]) -> None:
    there = {folded(each): each for each in known}
    for each in asked:
        if folded(each) not in there:
            near = nearest(each, there.values()) or list(there.values())
            raise CallError(f'no {what} is called "{each}"', f"Known: {quoted_list(near[:8])}")
