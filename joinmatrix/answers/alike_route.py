"""Where the alike route of another side goes another way: two routes walked side by side."""

from collections import defaultdict
from collections.abc import Iterable, Sequence
from typing import NamedTuple

from joinmatrix.assembly.model import Assembly, Connection, Key, Run
from joinmatrix.assembly.ports import Link, designed_routes, port_names, ports
from joinmatrix.pairing.pairs import group_of

Hop = tuple[Link, Key, Key]  # a link, the port it is left from and the one it leads to


class Departure(NamedTuple):
    """Where the alike route of another side first goes another way."""

    side: str
    text: str


def departures(assembly: Assembly, start: Key, way: Sequence[Hop]) -> tuple[Departure, ...]:
    """Where the route on each alike side goes another way than this one.

    Ports of paired connections are alike. A run has to lead from the like of one of its ports to
    the like of the other.
    """
    alike = [
        assembly.alike.get(link.joint_key, ()) for link, *_ in way if isinstance(link, Connection)
    ]
    labels = dict.fromkeys(
        label for sides in alike if start.side in sides for label in sides if label != start.side
    )
    found = ((label, _Facing(assembly, label).departure(start, way)) for label in labels)
    return tuple(Departure(label, text) for label, text in found if text)


class _Facing:
    """A walk along the alike route, beside the walk along the asked one."""

    def __init__(self, assembly: Assembly, label: str) -> None:
        self._assembly = assembly
        self._label = label
        self._known = ports(assembly)
        self._like: dict[Key, Key] = {}
        self._links: defaultdict[Key, list[tuple[Link, Key]]] = defaultdict(list)
        self._own: defaultdict[Key, list[tuple[Link, Key]]] = defaultdict(list)

    def departure(self, start: Key, way: Sequence[Hop]) -> str:
        """The first place where the alike route differs, in words; "" when it never does."""
        lone = self._pair_ports(way)
        self._like.setdefault(start, Key(start.name, self._label))
        self._gather()
        for link, here, there in way:
            self._own[here].append((link, there))
            self._own[there].append((link, here))
        for link, here, there in way:
            text = self._compare(link, here, there, lone)
            if text:
                return text
        return self._more({key: None for _, *ends in way for key in ends} or {start: None})

    def _more(self, visited: Iterable[Key]) -> str:
        """A run of the alike route that this one has not."""
        for key in visited:
            near = self._like.get(key)
            if near is None:
                continue
            runs = [far for link, far in self._links[near] if isinstance(link, Run)]
            own = [far for link, far in self._own[key] if isinstance(link, Run)]
            if len(runs) > len(own):
                leads = " and ".join(self._name(far) for far in runs)
                return f"from {self._name(near)} a run leads to {leads}, from {self._name(key)} not"
        return ""

    def _pair_ports(self, way: Sequence[Hop]) -> set[Key]:
        """Take the ports of paired connections as alike; give the connections without a pair."""
        lone = set()
        for link, *_ in way:
            if not isinstance(link, Connection) or link.side not in self._alike(link):
                continue
            group = group_of(self._assembly).get(link.key)
            facing = group.on(self._label) if group else None
            if facing is None or not facing.from_port or not facing.to_port:
                lone.add(link.key)
                continue
            self._like[link.from_key_port] = facing.from_key_port
            self._like[link.to_key_port] = facing.to_key_port
        return lone

    def _alike(self, link: Connection) -> tuple[str, ...]:
        return self._assembly.alike.get(link.joint_key, ())

    def _gather(self) -> None:
        """The links at each port of the routes that may be alike."""
        known, routes = ports(self._assembly), designed_routes(self._assembly)
        wanted = {
            routes[self._known.number(key)] for key in self._like.values() if key in self._known
        }
        for index, (one, other) in enumerate(zip(known.starts, known.ends, strict=True)):
            if routes[one] in wanted:
                link = known.link(index)
                self._links[known.key(one)].append((link, known.key(other)))
                self._links[known.key(other)].append((link, known.key(one)))

    def _compare(self, link: Link, here: Key, there: Key, lone: set[Key]) -> str:
        if isinstance(link, Connection):
            if link.key in lone:
                return f'"{link.id}" ({link.joint}) has no like there'
            return ""
        near = self._like.get(here)
        if near is None:
            return ""
        onward = [far for each, far in self._links[near] if isinstance(each, Run)]
        wanted = self._like.get(there)
        if wanted is None:
            wanted = self._guess(there, onward)
            if wanted is not None:
                self._like[there] = wanted
        if wanted in onward:
            return ""
        own = f"the run {self._name(here)} to {self._name(there)}"
        if not onward:
            return f"{own} has no like there: no run leads on from {self._name(near)}"
        leads = " and ".join(self._name(far) for far in onward)
        return f"{own} has no like there: from {self._name(near)} the run leads to {leads}"

    def _guess(self, there: Key, onward: Sequence[Key]) -> Key | None:
        """The port like one that no connection takes: of the same name, or the only one."""
        same = Key(there.name, self._label if there.side != "C" else there.side)
        if same in onward or there in onward:
            return same if same in onward else there
        free = [far for far in onward if far not in self._like.values()]
        return free[0] if len(free) == 1 and len(onward) == 1 else None

    def _name(self, key: Key) -> str:
        if key not in self._known:
            return f'"{key.name}" ({key.side})'
        return f'"{port_names(self._assembly)[key]}" ({key.side})'
