"""What several route checks need to put a finding into words and cells."""

from collections.abc import Collection, Iterable, Iterator
from dataclasses import replace

from joinmatrix.assembly.model import Assembly, Connection, Key, Run
from joinmatrix.assembly.ports import designed_routes, links_of_routes, ports, written_name
from joinmatrix.findings import Finding
from joinmatrix.names import folded, quoted_list
from joinmatrix.place import Place
from joinmatrix.routes.mates import Mate


def one_for_all_sides(findings: Iterable[Finding]) -> Iterator[Finding]:
    """Findings that differ by their sides alone, as one: a "both" row is one cause, not two.

    The messages must not name the side for this; `Finding.sides` does.
    """
    together: dict[Finding, dict[str, None]] = {}
    for finding in findings:
        sides = together.setdefault(replace(finding, sides=()), {})
        sides.update(dict.fromkeys(finding.sides))
    for finding, sides in together.items():
        yield replace(finding, sides=tuple(sides))


def cells(connections: Iterable[Connection], *columns: str) -> tuple[Place, ...]:
    """The filled cells of the columns, column by column for each connection, each cell once.

    A plain `size` stands behind "from size" and "to size" where those are blank.
    """
    found = (
        place
        for connection in connections
        for column in columns
        for place in _cells_of(connection, column)
    )
    return tuple(dict.fromkeys(found))


def _cells_of(connection: Connection, column: str) -> tuple[Place, ...]:
    if column.endswith(" size") and not any(row.text(column) for row in connection.rows):
        return connection.cells("size")
    return connection.cells(column)


def joint_of(connections: Iterable[Connection]) -> str:
    """The one joint of the connections, as written; "" when they are at several."""
    joints = {connection.joint_key: connection.joint for connection in connections}
    return next(iter(joints.values())) if len(joints) == 1 else ""


def sides_of(connections: Iterable[Connection]) -> tuple[str, ...]:
    """The sides of the connections, each once, in the order given."""
    return tuple(dict.fromkeys(connection.side for connection in connections))


def names_of(connections: Iterable[Connection]) -> tuple[str, ...]:
    """The identifiers of the connections, each once, in the order given."""
    return tuple(dict.fromkeys([connection.id for connection in connections]))


def named(connections: Iterable[Connection]) -> str:
    """Connections as a sentence lists them, with their side where they are on several."""
    connections = tuple(connections)
    several = len(sides_of(connections)) > 1
    return quoted_list(
        dict.fromkeys(str(each) if several else each.id for each in connections), "and"
    )


def port_name(assembly: Assembly, port: Key, home: Iterable[str]) -> str:
    """A port as a message names it; with its side unless it is on the one side of the finding."""
    name = written_name(assembly, port)
    return f'"{name}"' if set(home) == {port.side} else f'"{name}" ({port.side})'


def mate_text(assembly: Assembly, mate: Mate, home: Iterable[str]) -> str:
    """What a wrong mate is, as a clause: "H-07" is mated to "d", not to "b"."""
    return (
        f'"{mate.connection.id}" is mated to {port_name(assembly, mate.port, home)}, '
        f"not to {port_name(assembly, mate.missed, home)}"
    )


def swap_text(assembly: Assembly, mate: Mate, home: Iterable[str]) -> str:
    """The same within a swap, port by port: "A" to "d" instead of "b"."""
    near = mate.start if mate.end == mate.port else mate.end
    found, missed = (port_name(assembly, port, home) for port in (mate.port, mate.missed))
    return f"{port_name(assembly, near, home)} to {found} instead of {missed}"


def mate_cells(mates: Iterable[Mate]) -> tuple[Place, ...]:
    """The cells of the record that say so, then those that list the port that was missed."""
    mates = tuple(mates)
    said = (place for mate in mates for place in mate.cells)
    listed = (
        place
        for mate in mates
        for place in mate.connection.cells("to" if mate.end == mate.port else "from")
    )
    return tuple(dict.fromkeys((*said, *listed)))


def put_right(mates: Iterable[Mate]) -> str:
    """What clears wrong mates, an instruction."""
    opened = named(mate.connection for mate in mates)
    return (
        f"open {opened}, mate as listed and inspect again, or correct the record if it was "
        "written down wrongly"
    )


def route_names(assembly: Assembly, routes: Iterable[int]) -> str:
    """Designed routes as a message names them: by their services, else by a connection on them."""
    named = dict.fromkeys(_route_name(assembly, route) for route in routes)
    return " and ".join(named)


def _route_name(assembly: Assembly, route: int) -> str:
    known = ports(assembly)
    links = [known.link(index) for index in links_of_routes(assembly).get(route, ())]
    connections = [link for link in links if isinstance(link, Connection)]
    if not connections:
        port = written_name(assembly, known.key(route))
        return f'the run at "{port}"' if links else f'port "{port}"'
    written = [each.service for each in connections if each.service]
    services = {folded(service): service for service in reversed(written)}
    through = f'through "{connections[0].id}"'
    if services:
        return f"the route of {quoted_list(reversed(services.values()), 'and')} {through}"
    return f"the route {through}"


def run_cells(assembly: Assembly, ends: Collection[int]) -> tuple[Place, ...]:
    """The cells of the runs that end at these ports, by number."""
    known, routes = ports(assembly), designed_routes(assembly)
    found = []
    for route in dict.fromkeys(routes[port] for port in ends):
        for index in links_of_routes(assembly)[route]:
            link = known.link(index)
            if isinstance(link, Run):
                for port, column in ((known.starts[index], "from"), (known.ends[index], "to")):
                    if port in ends:
                        found.append(link.row.place(column))
    return tuple(found)
