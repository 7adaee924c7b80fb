"""The ports of an assembly and what joins them: one graph of runs and connections."""

from collections import defaultdict
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from functools import lru_cache
from itertools import count
from typing import TYPE_CHECKING, NamedTuple

from joinmatrix.assembly.model import Assembly, Connection, Key, Run
from joinmatrix.names import all_folded

if TYPE_CHECKING:
    import networkx as nx

Link = Connection | Run
_NONE = -1  # the number of a port that is not given


@dataclass(frozen=True, slots=True, eq=False)
class Ports:
    """Every port by number, and every link between two of them.

    names        port number -> folded name, in reading order
    sides        port number -> side
    numbers      side -> folded name -> port number
    connections  connections with both ends known
    runs         every run
    starts       port numbers, one for each link: connections first, then runs
    ends         the same for the other end of each link
    loose        connections with one end known, and the port number of that end
    """

    names: Sequence[str]
    sides: Sequence[str]
    numbers: Mapping[str, Mapping[str, int]]
    connections: Sequence[Connection]
    runs: Sequence[Run]
    starts: Sequence[int]
    ends: Sequence[int]
    loose: Sequence[tuple[Connection, int]]

    def key(self, number: int) -> Key:
        """The key of a port by its number. Made when asked: most are never asked for."""
        return Key(self.names[number], self.sides[number])

    def every_key(self) -> Iterator[Key]:
        """The keys of all ports, in the order of their numbers."""
        return map(Key, self.names, self.sides)

    def number(self, port: Key) -> int:
        """The number of a port; KeyError when no list has it."""
        return self.numbers[port.side][port.name]

    def __contains__(self, port: Key) -> bool:
        return port.name in self.numbers.get(port.side, ())

    def link(self, index: int) -> Link:
        """The connection or run behind a position of `starts` and `ends`."""
        first_run = len(self.connections)
        return self.connections[index] if index < first_run else self.runs[index - first_run]


@lru_cache(maxsize=8)
def ports(assembly: Assembly) -> Ports:
    """The ports that connections and runs name, as designed."""
    # By side and then by name: to hash a pair a million times costs more than all the rest.
    following = count()
    numbers: defaultdict[str, defaultdict[str, int]] = defaultdict(
        lambda: defaultdict(following.__next__)
    )
    listed, runs = assembly.connections, assembly.runs
    on = [numbers[each.key.side] for each in listed]
    written = all_folded([each.from_port for each in listed])
    opposite = all_folded([each.to_port for each in listed])
    found = [
        number[name] if name else _NONE
        for number, one, other in zip(on, written, opposite, strict=True)
        for name in (one, other)
    ]
    starts, ends = found[::2], found[1::2]
    connections: Sequence[Connection] = listed
    loose: list[tuple[Connection, int]] = []
    if _NONE in starts or _NONE in ends:
        connected = list(zip(listed, starts, ends, strict=True))
        both = [each for each in connected if each[1] != _NONE and each[2] != _NONE]
        connections = [connection for connection, _, _ in both]
        starts, ends = [start for _, start, _ in both], [end for *_, end in both]
        loose = [
            (connection, max(start, end))
            for connection, start, end in connected
            if (start == _NONE) != (end == _NONE)
        ]
    found = [numbers[side][name] for run in runs for name, side in (run.start, run.end)]
    starts += found[::2]
    ends += found[1::2]

    names = [""] * next(following)
    sides = names.copy()
    numbers.default_factory = None
    for side, of_side in numbers.items():
        of_side.default_factory = None  # a port that is not here gets no number any more
        for name, index in of_side.items():
            names[index], sides[index] = name, side
    return Ports(names, sides, numbers, connections, runs, starts, ends, loose)


@lru_cache(maxsize=8)
def port_names(assembly: Assembly) -> Mapping[Key, str]:
    """The ports as first written, connections before runs."""
    names: dict[Key, str] = {}
    for connection in assembly.connections:
        if connection.from_port:
            names.setdefault(connection.from_key_port, connection.from_port)
        if connection.to_port:
            names.setdefault(connection.to_key_port, connection.to_port)
    for run in assembly.runs:
        names.setdefault(run.start, run.from_port)
        names.setdefault(run.end, run.to_port)
    return names


def written_name(assembly: Assembly, port: Key) -> str:
    """A port as first written; for a few of them, where `port_names` would look at all."""
    known = ports(assembly)
    number = known.number(port)
    for index in links_of_routes(assembly).get(designed_routes(assembly)[number], ()):
        link = known.link(index)
        if known.starts[index] == number:
            return link.from_port
        if known.ends[index] == number:
            return link.to_port
    loose = next(each for each, end in known.loose if end == number)
    return loose.from_port or loose.to_port


@lru_cache(maxsize=8)
def port_graph(assembly: Assembly, route: int | None = None) -> "nx.MultiGraph[Key]":
    """The ports as nodes (attribute `name`, as written), runs and connections as edges (`link`).

    route  only the ports of this designed route; by default of all
    As designed. A connection with one end known is a node without an edge. Do not change it: it
    is kept beside the assembly.
    """
    import networkx as nx

    known = ports(assembly)
    names, routes = port_names(assembly), designed_routes(assembly)
    graph: nx.MultiGraph[Key] = nx.MultiGraph()
    graph.add_nodes_from(
        (key, {"name": names[key]})
        for number, key in enumerate(known.every_key())
        if route is None or routes[number] == route
    )
    graph.add_edges_from(
        (known.key(start), known.key(end), {"link": known.link(index)})
        for index, (start, end) in enumerate(zip(known.starts, known.ends, strict=True))
        if route is None or routes[start] == route
    )
    return nx.freeze(graph)


def components(count: int, starts: Iterable[int], ends: Iterable[int]) -> list[int]:
    """Which ports are joined: for each port the number of its component's first port.

    count         number of ports
    starts, ends  port numbers of each link
    """
    parent = list(range(count))
    for one, other in zip(starts, ends, strict=True):
        while parent[one] != one:  # halve the way up while walking it
            parent[one] = one = parent[parent[one]]
        while parent[other] != other:
            parent[other] = other = parent[parent[other]]
        # The lower number stays the root, so that a component is named by its first port.
        if one < other:
            parent[other] = one
        elif other < one:
            parent[one] = other
    for port, up in enumerate(parent):  # parents have lower numbers and are settled already
        parent[port] = parent[up]
    return parent


@lru_cache(maxsize=8)
def designed_routes(assembly: Assembly) -> list[int]:
    """The designed route of each port: the number of the first port on it."""
    known = ports(assembly)
    return components(len(known.names), known.starts, known.ends)


@lru_cache(maxsize=8)
def links_of_routes(assembly: Assembly) -> Mapping[int, Sequence[int]]:
    """The links on each designed route, as positions in `Ports.starts`."""
    found: defaultdict[int, list[int]] = defaultdict(list)
    routes = designed_routes(assembly)
    for index, start in enumerate(ports(assembly).starts):
        found[routes[start]].append(index)
    return found


class Taken(NamedTuple):
    """Connections that claim the same port or the same pair of ports.

    port         None when they share both ports
    connections  in reading order
    """

    port: Key | None
    connections: tuple[Connection, ...]


@lru_cache(maxsize=8)
def taken_twice(assembly: Assembly) -> tuple[Taken, ...]:
    """Ports that the lists give to two connections, and pairs of ports that they join twice.

    Two connections that share both ports are one case, not also two ports taken twice. An end on
    which the lists disagree claims no port: the disagreement is the thing to settle first.
    """
    known = ports(assembly)
    uses = [0] * len(known.names)
    for start, end in zip(known.starts, known.ends[: len(known.connections)], strict=False):
        uses[start] += 1
        if start != end:
            uses[end] += 1
    for _, port in known.loose:
        uses[port] += 1
    if max(uses, default=0) < 2:
        return ()
    return tuple(_taken(known, uses))


def _taken(known: Ports, uses: Sequence[int]) -> Iterable[Taken]:
    users: defaultdict[int, dict[Connection, frozenset[int]]] = defaultdict(dict)
    pairs: defaultdict[frozenset[int], list[Connection]] = defaultdict(list)
    for start, end, connection in zip(known.starts, known.ends, known.connections, strict=False):
        if uses[start] < 2 and uses[end] < 2:
            continue
        pair = frozenset((start, end))
        if not connection.disputed & {"from", "to"}:
            pairs[pair].append(connection)
        if uses[start] > 1 and "from" not in connection.disputed:
            users[start][connection] = pair
        if uses[end] > 1 and "to" not in connection.disputed:
            users[end][connection] = pair
    for number, (connection, port) in enumerate(known.loose, 1):
        if uses[port] > 1 and not connection.disputed & {"from", "to"}:
            users[port][connection] = frozenset((port, -number))  # its other end is nobody's
    for same in pairs.values():
        if len(same) > 1:
            yield Taken(None, tuple(same))
    for port, claims in users.items():
        if len(set(claims.values())) > 1:
            yield Taken(known.key(port), tuple(claims))
