"""A connection is not made, or not placed; it holds when its time has passed.

While its time has not passed it is work that is still to do, and sign-off waits for it. Once a
stage that it must precede has started, it can perhaps no longer be reached: then it stops work.
What was opened and not made again is unmade too, and so is what was inspected and never made.

Example: line H-07 is closed by "tail cone mate"; the mate was started, and H-07 is not made.

What clears it: make it and record that.

What it cannot see: a connection that was made and not recorded looks unmade.
"""

from collections.abc import Iterator, Sequence

from joinmatrix.assembly.model import Assembly, Connection
from joinmatrix.assembly.standing import NOTHING_DONE, Standing, standings
from joinmatrix.checks.check import Check
from joinmatrix.findings import Finding, Kind, Severity
from joinmatrix.timing.judge import Passed
from joinmatrix.timing.late import holds_unmade, late_cells, late_making, late_stages, why_late
from joinmatrix.timing.wording import on_text


def unmade(assembly: Assembly) -> Iterator[Finding]:
    """One finding for each connection, on each side, that is not made."""
    stand = standings(assembly)
    for connection in assembly.connections:
        standing = stand.get(connection.key, NOTHING_DONE)
        if standing.made is None:
            yield _finding(assembly, connection, standing, late_making(assembly, connection.key))


def _finding(
    assembly: Assembly, connection: Connection, standing: Standing, late: Sequence[Passed]
) -> Finding:
    message, clears = _state(connection, standing), f'make "{connection.id}" and record it'
    places = [*connection.id_cells, *late_cells(connection.rows, late)]
    severity = Severity.HOLD if holds_unmade(assembly, connection.key) else Severity.OPEN
    if late:
        message += "; " + why_late(assembly, connection.side, late[0])
        clears = (
            f'find out whether it was made and not recorded; if not, make "{connection.id}" before '
            "work goes on, and open up again what closes over it"
        )
    elif standing.inspected is not None:
        clears = f'make "{connection.id}" and record it, or correct the entry of its inspection'
    acts = (standing.inspected, standing.opened)
    places += [entry.cell() for entry in acts if entry is not None]
    return Finding(
        Kind.UNMADE,
        severity,
        message,
        clears,
        tuple(dict.fromkeys(places)),
        joint=connection.joint,
        sides=(connection.side,),
        connections=(connection.id,),
        stages=late_stages(late),
    )


def _state(connection: Connection, standing: Standing) -> str:
    name = f'"{connection.id}"'
    if standing.inspected is not None:
        when = on_text(standing.inspected.when)
        return f"{name} is recorded as inspected{when} and not as made"
    if standing.opened is not None:
        return f"{name} was opened{on_text(standing.opened.when)} and is not made again"
    if standing.placed is not None:
        return f"{name} is placed and not made"
    return f"{name} is not made"


CHECK = Check(Kind.UNMADE, unmade, acts=True)
