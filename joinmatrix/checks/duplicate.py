"""The same thing is listed or joined twice.

A connection that stands twice is counted twice, and whoever ticks one row leaves the other open or
believes both done. Two connections that claim one port cannot both be made: one of them belongs
somewhere else, and the port that it should go to stays open. A making recorded on top of a making
is worth a look: perhaps the opening between them was not recorded, perhaps the entry belongs to
another connection.

Example: lines H-07 and H-09 both name port "W12" on the left wing.

What clears it: strike the row that is too many, or correct the port of the connection that belongs
elsewhere; for a port taken twice as made, open the one that is wrong and mate it as listed.

What it cannot see: one thing listed under two names with different ports.
"""

from collections.abc import Iterator

from joinmatrix.assembly.model import Assembly, Connection, Entry, Key
from joinmatrix.assembly.ports import Taken, taken_twice, written_name
from joinmatrix.assembly.standing import standings
from joinmatrix.checks.check import Check
from joinmatrix.findings import Finding, Kind, Severity
from joinmatrix.names import quoted_list
from joinmatrix.place import Place
from joinmatrix.routes import telling
from joinmatrix.routes.as_made import Clash, as_made
from joinmatrix.routes.mates import mates, said_ports


def duplicate(assembly: Assembly) -> Iterator[Finding]:
    """Rows that stand twice, ports and pairs of ports taken twice, makings on top of makings."""
    yield from _listed_twice(assembly)
    shared = (_shared(assembly, taken) for taken in taken_twice(assembly))
    yield from telling.one_for_all_sides(shared)
    yield from telling.one_for_all_sides(_mated_twice(assembly))
    yield from telling.one_for_all_sides(_made_twice(assembly))


def _listed_twice(assembly: Assembly) -> Iterator[Finding]:
    for repeat in assembly.repeats:
        times = {2: "twice"}.get(len(repeat.places), f"{len(repeat.places)} times")
        yield Finding(
            Kind.DUPLICATE,
            Severity.HOLD,
            f'"{repeat.id}" stands {times} for the same side in one list; a list names a '
            "connection once for each side",
            "strike the row that is too many, or give it its own identifier or side",
            repeat.places,
            joint=repeat.joint,
            sides=repeat.sides,
            connections=(repeat.id,),
        )


def _shared(assembly: Assembly, taken: Taken) -> Finding:
    connections = taken.connections
    named = telling.named(connections)
    if taken.port is None:
        first = connections[0]
        message = (
            f'{named} join the same two ports, "{first.from_port}" and "{first.to_port}"; '
            "two ports are joined by one connection"
        )
        remedy = "strike the one that is too many, or correct the ports of the other"
        cells = telling.cells(connections, "from", "to")
    else:
        port = written_name(assembly, taken.port)
        message = (
            f'port "{port}" is taken by {named}; a port takes one connection, and another port '
            "stays open"
        )
        remedy = f'find out which connection belongs on "{port}" and correct the port of the other'
        cells = tuple(cell for each in connections for cell in _cells_at(each, taken.port))
    return Finding(
        Kind.DUPLICATE,
        Severity.HOLD,
        message,
        remedy,
        cells,
        joint=telling.joint_of(connections),
        sides=telling.sides_of(connections),
        connections=telling.names_of(connections),
    )


def _cells_at(connection: Connection, port: Key) -> tuple[Place, ...]:
    """The cells of the end that claims the port."""
    at_from = connection.from_port and connection.from_key_port == port
    return telling.cells((connection,), "from" if at_from else "to")


def _mated_twice(assembly: Assembly) -> Iterator[Finding]:
    """Ports at which the record has several connections, and connections it has at several."""
    for clash in as_made(assembly).clashes:
        connections = [mate.connection for mate in clash.mates] + [*clash.rightful]
        sides = telling.sides_of(connections)
        said = ", ".join(telling.mate_text(assembly, mate, sides) for mate in clash.mates)
        yield Finding(
            Kind.DUPLICATE,
            Severity.HOLD,
            f"port {telling.port_name(assembly, clash.port, sides)} is taken by "
            f"{telling.named(connections)} as made: {said}",
            telling.put_right(clash.mates),
            telling.mate_cells(clash.mates) + tuple(_rightful_cells(assembly, clash)),
            joint=telling.joint_of(connections),
            sides=sides,
            connections=telling.names_of(connections),
        )
    for doubled in mates(assembly).doubled:
        connection = doubled.connection
        named = (telling.port_name(assembly, port, (connection.side,)) for port in doubled.ports)
        yield Finding(
            Kind.DUPLICATE,
            Severity.HOLD,
            f'the record has "{connection.id}" mated to {" and to ".join(named)}; one end has one '
            "mate",
            "look which port it is and write that one alone"
            if len(doubled.cells) == 1
            else "look which port it is and correct the other entry",
            doubled.cells,
            joint=connection.joint,
            sides=(connection.side,),
            connections=(connection.id,),
        )


def _rightful_cells(assembly: Assembly, clash: Clash) -> Iterator[Place]:
    """The cells by which the connections that belong there are there: the record's, the list's."""
    for connection in clash.rightful:
        yield from (place for _, place in said_ports(assembly, connection))
        yield from _cells_at(connection, clash.port)


def _made_twice(assembly: Assembly) -> Iterator[Finding]:
    if assembly.plan_only:
        return
    for key, standing in standings(assembly).items():
        if not standing.remade:
            continue
        connection = assembly.by_key[key]
        makings = (_making_before(standing.history, standing.remade[0]), *standing.remade)
        when = quoted_list((entry.when.text or "an unknown day" for entry in makings), "and")
        yield Finding(
            Kind.DUPLICATE,
            Severity.NOTE,
            f'"{connection.id}" is recorded as made on {when}, and as opened at no time between',
            "record when it was opened, or correct the entry that belongs to another connection",
            tuple(entry.cell() for entry in makings),
            joint=connection.joint,
            sides=(connection.side,),
            connections=(connection.id,),
        )


def _making_before(history: tuple[Entry, ...], again: Entry) -> Entry:
    """The making that a second one was recorded on top of."""
    earlier = history[: history.index(again)]
    return next(entry for entry in reversed(earlier) if entry.act is again.act)


CHECK = Check(Kind.DUPLICATE, duplicate)
