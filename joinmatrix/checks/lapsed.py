"""An inspection lapsed: the connection was opened or made again, and not inspected since.

What was inspected is no longer there. Whoever sees the old signature believes that somebody has
looked, and nobody has looked at this making. An inspection older than the last disturbance does
not count.

Example: H-07 was inspected on Monday, opened on Tuesday for access and made again.

What clears it: inspect it again and record that.

What it cannot see: an opening that nobody recorded.
"""

from collections.abc import Iterator

from joinmatrix.assembly.model import Act, Assembly, Connection
from joinmatrix.assembly.standing import Standing, standings
from joinmatrix.checks.check import Check
from joinmatrix.findings import Finding, Kind, Severity
from joinmatrix.routes.telling import one_for_all_sides


def lapsed(assembly: Assembly) -> Iterator[Finding]:
    """One finding for each connection that is made, and whose inspection is older than that."""
    stand = standings(assembly)
    yield from one_for_all_sides(
        _finding(connection, stand[connection.key])
        for connection in assembly.connections
        if is_lapsed(stand[connection.key])
    )


def is_lapsed(standing: Standing) -> bool:
    """Made, then inspected, then made again and not inspected since.

    An inspection before anything was made is out of sequence, which is another finding.
    """
    old = standing.lapsed
    if old is None or standing.made is None or standing.inspected is not None:
        return False
    before = standing.history[: standing.history.index(old)]
    return any(entry.act is Act.MADE for entry in before)


def _finding(connection: Connection, standing: Standing) -> Finding:
    inspected, made = standing.lapsed, standing.made
    assert inspected is not None and made is not None  # noqa: PT018 - what `is_lapsed` says
    between = [entry for entry in standing.history if entry.act is Act.OPENED]
    opened = f"opened{_on(between[-1].when.text)} and " if between else ""
    places = [inspected.cell(), *(entry.cell() for entry in between[-1:]), made.cell()]
    return Finding(
        Kind.LAPSED,
        Severity.HOLD,
        f'"{connection.id}" was inspected{_on(inspected.when.text)}, then {opened}made '
        f"again{_on(made.when.text)}; the inspection no longer covers it",
        "inspect it again and record the inspection",
        tuple(dict.fromkeys(places)),
        joint=connection.joint,
        sides=(connection.side,),
        connections=(connection.id,),
    )


def _on(when: str) -> str:
    return f" on {when}" if when else ""


CHECK = Check(Kind.LAPSED, lapsed, acts=True)
