"""A connection is made and not inspected; it holds when its time has passed.

Until somebody has looked, a making is only a claim. While the inspection can still be done it is
work that is to do, and sign-off waits for it. Once a stage has started that it had to precede (its
`inspect` rule, or the stage that closes over it), perhaps nobody can look any more: then it stops
work.

Example: line H-07 is closed by "tail cone mate"; it is made, the mate was started, and nobody has
inspected H-07.

What clears it: inspect it and record that.

What it cannot see: how well somebody looked. Inspected, then opened and made again is `lapsed`.
"""

from collections.abc import Iterator, Sequence

from joinmatrix.assembly.model import Act, Assembly, Connection, Entry
from joinmatrix.assembly.standing import standings
from joinmatrix.checks.check import Check
from joinmatrix.findings import Finding, Kind, Severity
from joinmatrix.timing.judge import Passed, judge
from joinmatrix.timing.late import late_cells, late_stages, why_late
from joinmatrix.timing.wording import on_text


def uninspected(assembly: Assembly) -> Iterator[Finding]:
    """One finding for each connection, on each side, that is made and not inspected."""
    passed = judge(assembly).passed
    stand = standings(assembly)
    for connection in assembly.connections:
        standing = stand[connection.key]
        if standing.made is not None and standing.inspected is None and standing.lapsed is None:
            late = [
                each
                for each in passed.get(("connection", connection.key), ())
                if each.act is Act.INSPECTED
            ]
            yield _finding(assembly, connection, standing.made, late)


def _finding(
    assembly: Assembly, connection: Connection, made: Entry, late: Sequence[Passed]
) -> Finding:
    message = f'"{connection.id}" was made{on_text(made.when)} and is not inspected'
    clears = f'inspect "{connection.id}" and record it'
    if late:
        message += "; " + why_late(assembly, connection.side, late[0])
        clears = (
            f'find out whether "{connection.id}" was inspected and not recorded; if not, inspect '
            "it before work goes on, and open up again what closes over it"
        )
    places = (*connection.id_cells, made.cell(), *late_cells(connection.rows, late))
    return Finding(
        Kind.UNINSPECTED,
        Severity.HOLD if late else Severity.OPEN,
        message,
        clears,
        tuple(dict.fromkeys(places)),
        joint=connection.joint,
        sides=(connection.side,),
        connections=(connection.id,),
        stages=late_stages(late),
    )


CHECK = Check(Kind.UNINSPECTED, uninspected, acts=True)
