"""What the lists alone say about routes: services that are joined, and services that are not whole.

A connection whose ports are already in question (it shares a port with another, has one end only,
is its own mate, or the lists disagree on its ends) joins nothing here: that fault is told by
itself, and what follows from it would be told twice.
"""

import re
from collections import defaultdict
from collections.abc import Collection, Iterable, Iterator, Mapping, Sequence
from functools import lru_cache
from itertools import chain, pairwise
from typing import NamedTuple

from joinmatrix.assembly.model import Assembly, Connection, Key
from joinmatrix.assembly.ports import (
    Link,
    Ports,
    components,
    designed_routes,
    links_of_routes,
    ports,
    taken_twice,
)
from joinmatrix.lists.words import side_word
from joinmatrix.names import all_folded, folded

_WORDS = re.compile(r"[^\w]+")


class Service(NamedTuple):
    """A service as services are compared: its words, and the side they name, if any."""

    words: str
    side: str

    def differs(self, other: "Service") -> bool:
        """Whether these are two services: "brake" and "brake left" are not, "left" and "right" are.

        A centre joint has to say left or right where the outer joints have their side column.
        """
        return self.words != other.words or bool(
            self.side and other.side and self.side != other.side
        )


class Joined(NamedTuple):
    """Services that the lists join on one or more routes.

    chains  for each route the shortest way from one service to another: the first and the last
            link carry the two services, those between carry none
    near    the connections on the chains, and those next to a run at the end of a chain
    """

    services: tuple[str, ...]
    sides: tuple[str, ...]
    chains: tuple[tuple[Link, ...], ...]
    near: tuple[Connection, ...]


class Broken(NamedTuple):
    """A service of one side that several joints have and the runs do not join.

    pieces  its connections, those that are joined together
    """

    service: str
    side: str
    pieces: tuple[tuple[Connection, ...], ...]


@lru_cache(maxsize=1 << 14)
def service_of(text: str) -> Service:
    """A service's words in reading order without side words, and the side that they named."""
    words = [word for word in _WORDS.split(folded(text)) if word]
    sides = [label for word in words if (label := side_word(word)) is not None]
    plain = " ".join(word for word in words if side_word(word) is None)
    if not plain or len(set(sides)) > 1:
        return Service(" ".join(words), "")
    return Service(plain, sides[0] if sides else "")


def _carried(link: Link) -> str:
    """The service that a link names; none where its lists disagree, which is told by itself."""
    if isinstance(link, Connection) and "service" in link.disputed:
        return ""
    return link.service


@lru_cache(maxsize=8)
def in_question(assembly: Assembly) -> frozenset[Key]:
    """Connections whose ports another finding calls into question."""
    known = ports(assembly)
    shared = {each.key for taken in taken_twice(assembly) for each in taken.connections}
    loose = {connection.key for connection, _ in known.loose}
    own_mates = {
        connection.key
        for start, end, connection in zip(known.starts, known.ends, known.connections, strict=False)
        if start == end
    }
    disputed = {
        each.key for each in assembly.connections if each.disputed and each.disputed & _ENDS
    }
    return frozenset(shared | loose | own_mates | disputed)


_ENDS = frozenset(("from", "to"))


@lru_cache(maxsize=8)
def joined_services(assembly: Assembly) -> tuple[Joined, ...]:
    """Services that one designed route carries together, one case for each set that is mixed up.

    Two routes that mix the same services are one case: their runs are crossed.
    """
    pieces = list(_mixed_pieces(assembly))
    if not pieces:
        return ()
    together = _sharing(pieces)
    groups: defaultdict[int, list[_Piece]] = defaultdict(list)
    for number, piece in enumerate(pieces):
        groups[together[number]].append(piece)
    return tuple(_joined(ports(assembly), group) for group in groups.values())


def _joined(known: Ports, group: Sequence["_Piece"]) -> Joined:
    chains = [_meeting(known, piece) for piece in group]
    near = dict.fromkeys(
        connection
        for piece, links in zip(group, chains, strict=True)
        for connection in _near(known, piece, links)
    )
    return Joined(
        tuple(dict.fromkeys(name for piece in group for name in piece.services)),
        tuple(dict.fromkeys(side for piece in group for _, side in piece.carried)),
        tuple(tuple(known.link(index) for index in links) for links in chains),
        tuple(near),
    )


def _near(known: Ports, piece: "_Piece", links: Sequence[int]) -> Iterator[Connection]:
    """The connections on a chain, and in place of a run at its end those that the run leads to."""
    for index in links:
        link = known.link(index)
        if isinstance(link, Connection):
            yield link
        elif index in (links[0], links[-1]):
            at = {known.starts[index], known.ends[index]}
            for other in piece.links:
                touching = known.link(other)
                if isinstance(touching, Connection) and at & {
                    known.starts[other],
                    known.ends[other],
                }:
                    yield touching


class _Piece(NamedTuple):
    """Links that are joined and carry several services.

    links     positions in `Ports.starts`
    carried   services with the side of their connections
    services  the same as written, each once
    """

    links: tuple[int, ...]
    carried: frozenset[tuple[Service, str]]
    services: tuple[str, ...]


def _mixed_pieces(assembly: Assembly) -> Iterator[_Piece]:
    known, routes = ports(assembly), designed_routes(assembly)
    mixed = _mixed_routes(known, routes)
    if not mixed:
        return
    questioned = in_question(assembly)
    for route in sorted(mixed):
        links = [
            index
            for index in links_of_routes(assembly)[route]
            if index >= len(known.connections) or known.connections[index].key not in questioned
        ]
        for part in _parts(known, links):
            piece = _piece(known, part)
            if _several({service for service, _ in piece.carried}):
                yield piece


def _mixed_routes(known: Ports, routes: Sequence[int]) -> set[int]:
    """Routes on which two links name different services."""
    first: dict[int, str] = {}
    mixed: set[int] = set()
    texts = chain(map(_carried, known.connections), map(_carried, known.runs))
    for start, text in zip(known.starts, texts, strict=True):
        if text:
            route = routes[start]
            seen = first.setdefault(route, text)
            if seen == text:
                continue
            if service_of(seen).differs(service_of(text)):
                mixed.add(route)
            elif not service_of(seen).side:
                first[route] = text  # the one that names a side can differ from more
    return mixed


def _several(services: Iterable[Service]) -> bool:
    found = sorted(services)
    return any(
        one.differs(other) for number, one in enumerate(found) for other in found[number + 1 :]
    )


def _parts(known: Ports, links: Sequence[int]) -> Iterator[list[int]]:
    """The links that are joined with each other, part by part."""
    numbers: dict[int, int] = {}
    for index in links:
        for port in (known.starts[index], known.ends[index]):
            numbers.setdefault(port, len(numbers))
    root = components(
        len(numbers),
        [numbers[known.starts[index]] for index in links],
        [numbers[known.ends[index]] for index in links],
    )
    parts: defaultdict[int, list[int]] = defaultdict(list)
    for index in links:
        parts[root[numbers[known.starts[index]]]].append(index)
    yield from parts.values()


def _piece(known: Ports, links: Iterable[int]) -> _Piece:
    links = tuple(links)
    named = [known.link(index) for index in links]
    carried = [
        (service_of(link.service), known.sides[known.starts[index]])
        for index, link in zip(links, named, strict=True)
        if _carried(link)
    ]
    written = {folded(link.service): link.service for link in reversed(named) if _carried(link)}
    return _Piece(links, frozenset(carried), tuple(reversed(written.values())))


def _sharing(pieces: Sequence[_Piece]) -> list[int]:
    """Pieces that carry two services of one side in common, by the number of their first."""
    holders: defaultdict[tuple[Service, str], list[int]] = defaultdict(list)
    for number, piece in enumerate(pieces):
        for carried in piece.carried:
            holders[carried].append(number)
    common: defaultdict[tuple[int, int], int] = defaultdict(int)
    for numbers in holders.values():
        for one, other in pairwise(numbers):
            common[one, other] += 1
    pairs = [pair for pair, count in common.items() if count > 1]
    return components(len(pieces), [one for one, _ in pairs], [other for _, other in pairs])


def _meeting(known: Ports, piece: _Piece) -> tuple[int, ...]:
    """The shortest chain of links from one service to a different one, by position."""
    import networkx as nx

    graph = nx.Graph()
    for index in piece.links:
        graph.add_edge(("link", index), ("port", known.starts[index]))
        graph.add_edge(("link", index), ("port", known.ends[index]))
    serving = [index for index in piece.links if _carried(known.link(index))]
    found = [service_of(known.link(index).service) for index in serving]
    start = next(one for one in found if any(one.differs(other) for other in found))
    for index in serving:
        differs = service_of(known.link(index).service).differs(start)
        graph.add_edge("finish" if differs else "start", ("link", index))
    way = nx.shortest_path(graph, "start", "finish")
    return tuple(step[1] for step in way[1:-1] if step[0] == "link")


@lru_cache(maxsize=8)
def told_services(assembly: Assembly) -> frozenset[tuple[Key, str]]:
    """Connections at which two services are told to meet, and the column that says so."""
    return frozenset(
        (link.key, "service")
        for joined in joined_services(assembly)
        for chain_of_links in joined.chains
        for link in chain_of_links
        if isinstance(link, Connection)
    )


@lru_cache(maxsize=8)
def broken_services(assembly: Assembly) -> tuple[Broken, ...]:
    """Services of one side at two or more joints whose runs do not join them.

    Several whole lines of one service side by side are not broken: each of them reaches every
    joint that the service has on that side.
    """
    spread = _spread(assembly)
    if not spread:
        return ()
    known, routes = ports(assembly), designed_routes(assembly)
    told = _told_as_joined(assembly)
    loose = {routes[port] for _, port in known.loose}
    found = []
    for (name, side), members in _of_services(assembly).items():
        if (name, side) not in spread or (service_of(name), side) in told:
            continue
        broken = _broken(assembly, side, members, loose)
        if broken is not None and not _lacks_a_connection(assembly, broken, name):
            found.append(broken)
    return tuple(found)


def _spread(assembly: Assembly) -> set[tuple[str, str]]:
    """Services, folded, with the side on which they are on several routes."""
    known, routes = ports(assembly), designed_routes(assembly)
    first: defaultdict[str, dict[str, int]] = defaultdict(dict)
    several: set[tuple[str, str]] = set()
    texts = [_carried(each) for each in known.connections]
    for name, start in zip(all_folded(texts), known.starts, strict=False):
        side = known.sides[start]
        if name and first[side].setdefault(name, routes[start]) != routes[start]:
            several.add((name, side))
    return several


@lru_cache(maxsize=8)
def _of_services(assembly: Assembly) -> Mapping[tuple[str, str], Sequence[int]]:
    """Service, folded, and side -> the connections that carry it, as positions in `Ports`."""
    groups: defaultdict[tuple[str, str], list[int]] = defaultdict(list)
    for index, connection in enumerate(ports(assembly).connections):
        text = _carried(connection)
        if text:
            groups[folded(text), connection.key.side].append(index)
    return groups


def _told_as_joined(assembly: Assembly) -> set[tuple[Service, str]]:
    return {
        (service_of(name), side)
        for each in joined_services(assembly)
        for name in each.services
        for side in each.sides
    }


def _broken(
    assembly: Assembly, side: str, members: Iterable[int], loose: Collection[int]
) -> Broken | None:
    """The service in pieces; None where it is whole, or where another fault may be the reason.

    loose  routes with a connection that has one end: it may be what should join the pieces
    """
    known, routes = ports(assembly), designed_routes(assembly)
    pieces: defaultdict[int, list[Connection]] = defaultdict(list)
    for index in members:
        pieces[routes[known.starts[index]]].append(known.connections[index])
    connections = [each for piece in pieces.values() for each in piece]
    joints = {each.joint_key for each in connections}
    if len(joints) < 2 or any(each.key in in_question(assembly) for each in connections):
        return None
    if any(route in loose for route in pieces):
        return None
    if all({each.joint_key for each in piece} == joints for piece in pieces.values()):
        return None
    return Broken(connections[0].service, side, tuple(tuple(piece) for piece in pieces.values()))


def _lacks_a_connection(assembly: Assembly, broken: Broken, name: str) -> bool:
    """Whether an alike side has the service at a further joint, and nobody has agreed to that.

    Then a connection is missing here, which is told as such, and the break only follows from it.
    """
    here = {each.joint_key for piece in broken.pieces for each in piece}
    alike = {
        label for joint in here for label in assembly.alike.get(joint, ()) if label != broken.side
    }
    listed, of_services = ports(assembly).connections, _of_services(assembly)
    further = {
        listed[index].key.name
        for label in alike
        for index in of_services.get((name, label), ())
        if listed[index].joint_key not in here
        and broken.side in assembly.alike.get(listed[index].joint_key, ())
    }
    agreed = {
        folded(text)
        for difference in assembly.differences
        if not difference.column
        for text in (difference.connection, difference.service)
    }
    return bool(further - agreed) and name not in agreed


def loose_ends(assembly: Assembly, connections: Iterable[Connection]) -> tuple[int, ...]:
    """Ports, by number, on the routes of these connections at which only one link ends."""
    known, routes = ports(assembly), designed_routes(assembly)
    met: defaultdict[int, int] = defaultdict(int)
    for route in dict.fromkeys(routes[known.number(each.from_key_port)] for each in connections):
        for index in links_of_routes(assembly)[route]:
            met[known.starts[index]] += 1
            met[known.ends[index]] += 1
    return tuple(port for port, count in met.items() if count == 1)
