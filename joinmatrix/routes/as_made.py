"""The routes as made against the routes as designed: swaps, ports taken twice, opens and shorts.

Only a connection that was found at another port than listed can make a difference: what is not
made yet leaves a route open, and that is work to do, not a fault. So all of this looks at the
wrong mates and at the routes they touch, and costs next to nothing where there are none.
"""

from collections import defaultdict
from collections.abc import Collection, Iterable, Iterator, Sequence
from dataclasses import dataclass
from functools import lru_cache
from itertools import chain
from typing import NamedTuple

from joinmatrix.assembly.model import Assembly, Connection, Key
from joinmatrix.assembly.ports import (
    components,
    designed_routes,
    links_of_routes,
    ports,
    taken_twice,
)
from joinmatrix.assembly.standing import Standing, standings
from joinmatrix.routes.mates import Mate, mates


class Swap(NamedTuple):
    """Connections that took each other's ports: each the port of the next, the last the first's."""

    mates: tuple[Mate, ...]


class Clash(NamedTuple):
    """A port at which several connections are made.

    mates     connections found there that are listed elsewhere
    rightful  connections made there as listed
    """

    port: Key
    mates: tuple[Mate, ...]
    rightful: tuple[Connection, ...]


class Short(NamedTuple):
    """Designed routes that are one as made.

    routes  their numbers, as `designed_routes` gives them
    mates   the wrong mates that join them
    """

    routes: tuple[int, ...]
    mates: tuple[Mate, ...]


class Open(NamedTuple):
    """A designed route of which every connection is made and that is not whole.

    mates   the wrong mates that leave it open
    """

    route: int
    mates: tuple[Mate, ...]


@dataclass(frozen=True, slots=True)
class AsMade:
    """Every wrong mate, in exactly one of these, but those that a fault of the lists explains.

    strays  found at another port than listed, though all routes come out as designed, or before
            their route is made throughout
    """

    swaps: tuple[Swap, ...] = ()
    clashes: tuple[Clash, ...] = ()
    shorts: tuple[Short, ...] = ()
    opens: tuple[Open, ...] = ()
    strays: tuple[Mate, ...] = ()


@lru_cache(maxsize=8)
def as_made(assembly: Assembly) -> AsMade:
    """What the wrong mates come to, one cause once.

    Swaps and ports taken twice are taken out first, as if they had been put right; what is still
    different between the routes then is a short or an open.
    """
    wrong = _not_explained(assembly, mates(assembly).wrong)
    if not wrong:
        return AsMade()
    swaps = tuple(Swap(cycle) for cycle in _cycles(wrong))
    swapped = {mate.connection.key for swap in swaps for mate in swap.mates}
    clashes = tuple(_clashes(assembly, wrong, swapped))
    explained = swapped | {mate.connection.key for clash in clashes for mate in clash.mates}
    rest = [mate for mate in wrong if mate.connection.key not in explained]
    if not rest:
        return AsMade(swaps, clashes)
    shorts, opens = _differences(assembly, rest)
    told = {
        mate.connection.key
        for found in (*(short.mates for short in shorts), *(each.mates for each in opens))
        for mate in found
    }
    strays = tuple(mate for mate in rest if mate.connection.key not in told)
    return AsMade(swaps, clashes, shorts, opens, strays)


def as_made_links(
    assembly: Assembly,
    wrong: Iterable[Mate] | None = None,
    routes: Iterable[int] | None = None,
) -> list[tuple[int, int]]:
    """The links that exist as made, as pairs of port numbers: runs, and connections made now.

    wrong   the mates that count; by default all of them
    routes  only the links that are listed on these designed routes; by default all
    """
    known, standing = ports(assembly), standings(assembly)
    on_routes = links_of_routes(assembly)
    moved = {
        mate.connection.key: mate for mate in (mates(assembly).wrong if wrong is None else wrong)
    }
    links = []
    for index in chain.from_iterable(
        on_routes[route] for route in (on_routes if routes is None else routes)
    ):
        link = known.link(index)
        if isinstance(link, Connection):
            if standing[link.key].made is None:
                continue
            if link.key in moved:
                mate = moved[link.key]
                links.append((known.number(mate.start), known.number(mate.end)))
                continue
        links.append((known.starts[index], known.ends[index]))
    return links


def _not_explained(assembly: Assembly, wrong: Sequence[Mate]) -> tuple[Mate, ...]:
    """The wrong mates without those whose listed port the lists give to another one too.

    Such a connection, found at a port that none is listed at, is most likely right, and the list
    has a slip, which is told as a port taken twice.
    """
    shared: set[tuple[Key, Key]] = set()
    if wrong:
        for taken in taken_twice(assembly):
            for each in taken.connections:
                ends = (each.from_key_port, each.to_key_port) if taken.port is None else ()
                shared.update((each.key, port) for port in ends or (taken.port,) if port)
    if not shared:
        return tuple(wrong)
    return tuple(
        mate
        for mate in wrong
        if (mate.connection.key, mate.missed) not in shared or _is_listed(assembly, mate.port)
    )


def _is_listed(assembly: Assembly, port: Key) -> bool:
    """Whether a connection has the port; a run alone may end at it too."""
    known = ports(assembly)
    number = known.number(port)
    route = designed_routes(assembly)[number]
    return any(number == end for _, end in known.loose) or any(
        isinstance(known.link(index), Connection)
        and number in (known.starts[index], known.ends[index])
        for index in links_of_routes(assembly).get(route, ())
    )


def _cycles(wrong: Sequence[Mate]) -> Iterator[tuple[Mate, ...]]:
    """Closed rings: each mate sits on a port of the next connection, the last on one of the first.

    Every mate leads to one other at most, so a walk from each finds every ring once.
    """
    owner: dict[Key, int] = {}
    for number, mate in enumerate(wrong):
        owner.setdefault(mate.connection.from_key_port, number)
        owner.setdefault(mate.connection.to_key_port, number)
    walk_of: dict[int, int] = {}
    for first in range(len(wrong)):
        walk: list[int] = []
        step: int | None = first
        while step is not None and step not in walk_of:
            walk_of[step] = first
            walk.append(step)
            step = owner.get(wrong[step].port)
        if step is not None and walk_of[step] == first:
            ring = walk[walk.index(step) :]
            lowest = ring.index(min(ring))
            yield tuple(wrong[each] for each in ring[lowest:] + ring[:lowest])


def _clashes(
    assembly: Assembly, wrong: Sequence[Mate], swapped: Collection[Key]
) -> Iterator[Clash]:
    """Ports at which a wrong mate meets another connection that is made there."""
    standing = standings(assembly)
    at_port: defaultdict[Key, list[Mate]] = defaultdict(list)
    for mate in wrong:
        at_port[mate.port].append(mate)
    left = {mate.connection.key: mate.missed for mate in wrong}
    rightful = _made_at(assembly, at_port, standing, left)
    for port, found in at_port.items():
        strangers = [mate for mate in found if mate.connection.key not in swapped]
        own = [each for each in rightful[port] if each.key not in {m.connection.key for m in found}]
        if strangers and len(found) + len(own) > 1:
            yield Clash(port, tuple(found), tuple(own))


def _made_at(
    assembly: Assembly,
    wanted: Collection[Key],
    standing: dict[Key, Standing],
    left: dict[Key, Key],
) -> defaultdict[Key, list[Connection]]:
    """Connections made at the wanted ports as listed.

    left    connection -> the listed port at which it is not, for those that are elsewhere
    """
    known, routes = ports(assembly), designed_routes(assembly)
    found: defaultdict[Key, list[Connection]] = defaultdict(list)
    for port in wanted:
        number = known.number(port)
        for index in links_of_routes(assembly).get(routes[number], ()):
            link = known.link(index)
            if (
                isinstance(link, Connection)
                and number in (known.starts[index], known.ends[index])
                and standing[link.key].made is not None
                and left.get(link.key) != port
            ):
                found[port].append(link)
    return found


def _differences(
    assembly: Assembly, rest: Sequence[Mate]
) -> tuple[tuple[Short, ...], tuple[Open, ...]]:
    """Shorts and opens that the mates leave; everything else counts as made where it is listed."""
    known, routes = ports(assembly), designed_routes(assembly)
    touched = {
        routes[known.number(port)] for mate in rest for port in (mate.start, mate.end, mate.missed)
    }
    made = _pieces(assembly, rest, touched)
    routes_in: defaultdict[int, set[int]] = defaultdict(set)
    pieces_of: defaultdict[int, set[int]] = defaultdict(set)
    for port, piece in made.items():
        routes_in[piece].add(routes[port])
        pieces_of[routes[port]].add(piece)
    mates_in: defaultdict[int, list[Mate]] = defaultdict(list)
    for mate in rest:
        mates_in[made[known.number(mate.start)]].append(mate)
    shorts = tuple(
        Short(tuple(sorted(joined)), tuple(mates_in[piece]))
        for piece, joined in routes_in.items()
        if len(joined) > 1
    )
    told = {mate.connection.key for short in shorts for mate in short.mates}
    unfinished = _unfinished(assembly, touched)
    of_route: defaultdict[int, list[Mate]] = defaultdict(list)
    for mate in rest:
        of_route[routes[known.number(mate.connection.from_key_port)]].append(mate)
    opens = tuple(
        Open(route, tuple(found))
        for route, found in of_route.items()
        if len(pieces_of[route]) > 1
        and route not in unfinished
        and not any(mate.connection.key in told for mate in found)
    )
    return shorts, opens


def _pieces(assembly: Assembly, wrong: Sequence[Mate], touched: Collection[int]) -> dict[int, int]:
    """For each port of the touched routes, in reading order, the piece that it is on as made."""
    known, routes, on_routes = ports(assembly), designed_routes(assembly), links_of_routes(assembly)
    met = {port for _, port in known.loose if routes[port] in touched}
    for index in chain.from_iterable(on_routes.get(route, ()) for route in touched):
        met.update((known.starts[index], known.ends[index]))
    place = {port: number for number, port in enumerate(sorted(met))}
    links = as_made_links(assembly, wrong, sorted(touched))
    piece = components(
        len(place), [place[one] for one, _ in links], [place[other] for _, other in links]
    )
    return dict(zip(place, piece, strict=True))


def _unfinished(assembly: Assembly, touched: Collection[int]) -> set[int]:
    """Routes with a connection that is not made, or of which one end is not known."""
    known, routes, standing = ports(assembly), designed_routes(assembly), standings(assembly)
    listed = (
        (route, known.link(index))
        for route in touched
        for index in links_of_routes(assembly).get(route, ())
    )
    unmade = {
        route
        for route, link in listed
        if isinstance(link, Connection) and standing[link.key].made is None
    }
    return unmade | {routes[port] for _, port in known.loose}
