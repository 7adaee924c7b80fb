"""Only one half lists the connection.

Where each half has its own list, a line that only one of them has ends in the open at the joint:
the other half was built without it, or its list forgot it. Nobody at the joint can tell which.

Example: the hull list has port "F31" for line B-04, and the wing list has no row for B-04.

What clears it: write the port on the other half in its list, or strike the connection.

What it cannot see: a connection that both halves forgot, and one listed without any port.
"""

from collections import defaultdict
from collections.abc import Iterator, Sequence
from dataclasses import replace

from joinmatrix.assembly.model import Assembly, Connection
from joinmatrix.assembly.ports import ports
from joinmatrix.checks.check import Check
from joinmatrix.findings import Finding, Kind, Severity
from joinmatrix.names import folded, nearest, quoted_list
from joinmatrix.place import Place
from joinmatrix.routes import telling
from joinmatrix.routes.mates import said_ports

_MANY = 200  # beyond this a list of the other half is missing, and near names help nobody


def one_ended(assembly: Assembly) -> Iterator[Finding]:
    """One finding for each connection of which one port is known and the other is not."""
    loose = [
        connection
        for connection, _ in ports(assembly).loose
        if not assembly.is_unsure("connection", connection.key.name)
    ]
    together: defaultdict[Finding, list[Connection]] = defaultdict(list)
    for connection in loose:
        together[_finding(connection, loose)].append(connection)
    for finding, same in together.items():
        said = [each for connection in same for each in _recorded(assembly, connection)]
        texts = quoted_list(dict.fromkeys(text for text, _ in said), "and")
        hint = f" (the record has it mated to {texts})" if said else ""
        yield replace(
            finding,
            clears=finding.clears + hint,
            places=finding.places + tuple(place for _, place in said),
            sides=telling.sides_of(same),
        )


def _finding(connection: Connection, loose: Sequence[Connection]) -> Finding:
    """What is the same on every side of a "both" row."""
    known, missing = ("from", "to") if connection.from_port else ("to", "from")
    port = connection.from_port or connection.to_port
    return Finding(
        Kind.ONE_ENDED,
        Severity.HOLD,
        f'only one half lists "{connection.id}": its "{known}" is port "{port}", and no list '
        f'gives its "{missing}"',
        f'write the port on the other half as "{missing}" of "{connection.id}", or strike the '
        f"connection if the other half has none{_partner(connection, loose)}",
        (
            *(row.place("connection") for row in connection.rows if row.text(known)),
            *telling.cells((connection,), known),
            *_blank_cells(connection, missing),
        ),
        joint=connection.joint,
        connections=(connection.id,),
    )


def _blank_cells(connection: Connection, missing: str) -> tuple[Place, ...]:
    """The cells where the missing port could be written, of lists that have its column."""
    return tuple(row.place(missing) for row in connection.rows if missing in row.table.numbers)


def _recorded(assembly: Assembly, connection: Connection) -> Iterator[tuple[str, Place]]:
    """What the record has at its other end, and where: perhaps the port that is missing."""
    if not assembly.plan_only:
        listed = folded(connection.from_port or connection.to_port)
        for text, place in said_ports(assembly, connection):
            if folded(text) != listed:
                yield text, place


def _partner(connection: Connection, loose: Sequence[Connection]) -> str:
    """A hint at connections of the other half that may be the same under another name."""
    if len(loose) > _MANY:
        return ""
    others = (
        other.id
        for other in loose
        if other.joint_key == connection.joint_key
        and other.side == connection.side
        and bool(other.from_port) != bool(connection.from_port)
    )
    near = nearest(connection.id, others)
    return f" (the other half lists {quoted_list(near)})" if near else ""


CHECK = Check(Kind.ONE_ENDED, one_ended)
