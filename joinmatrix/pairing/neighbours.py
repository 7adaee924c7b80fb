"""Pairing by place in the route graph: a renamed line is found by what it joins.

Two connections have the same place when their ports have the same names, or when what lies beyond
their ports is the same: runs for the same service, ports of the same name, connections that are
paired already. How far one has to look depends; the farthest view that finds one candidate on each
side is taken first, as it has seen the most.
"""

from collections import defaultdict
from collections.abc import Callable, Iterable, Iterator, Sequence
from typing import NamedTuple

from joinmatrix.assembly.model import Assembly, Connection, Key
from joinmatrix.names import all_folded, folded
from joinmatrix.pairing.groups import How, Sign, Unit, join_by_key, open_units
from joinmatrix.pairing.likeness import Likeness
from joinmatrix.pairing.tokens import side_words

_FARTHEST = 5  # runs and connections beyond a port
_HUB = 12  # a port with more on it, such as an earthing point, tells nothing by what is on it
_ROUNDS = 4  # what has been paired shows the place of what is next to it


class _Way(NamedTuple):
    """One way on from a port.

    to     the port at its other end
    label  number of what it is, as seen from its own side
    told   what it is in words, where that says more than that there is something; else ""
    """

    to: Key
    label: int
    told: str


def by_route(assembly: Assembly, units: Sequence[Unit], unpaired: Sequence[Unit]) -> None:
    """Join connections that have the same place in the routes of their sides.

    units     all there are: those that are paired show the place of their neighbours
    unpaired  those of them that lack a side
    """
    unpaired = _joinable(unpaired)
    if not unpaired:
        return
    likes: dict[tuple[str, ...], Likeness] = {}
    for unit in unpaired:
        if unit.alike not in likes:
            likes[unit.alike] = Likeness(side_words(unit.alike))

    def fits(one: Connection, other: Connection) -> bool:
        return like_of[one.joint_key].may_pair(one, other)

    like_of = {unit.members[0].joint_key: likes[unit.alike] for unit in unpaired}
    for ends in (_both_ends, _from_end, _to_end):
        keyed = _by_port_names(unpaired, ends)
        if join_by_key(keyed, Sign(How.ROUTE, _why_port_names), fits):
            unpaired = _joinable(unpaired)
    if not assembly.runs:
        return
    for _ in range(_ROUNDS):
        unpaired = _joinable(unpaired)
        if not unpaired or not _by_what_lies_beyond(assembly, units, unpaired, like_of, fits):
            return


def _joinable(units: Iterable[Unit]) -> list[Unit]:
    """The open units of joints where more than one side has some."""
    by_joint: defaultdict[str, list[Unit]] = defaultdict(list)
    for unit in open_units(units):
        by_joint[unit.members[0].joint_key].append(unit)
    return [
        unit
        for some in by_joint.values()
        if len({member.key.side for each in some for member in each.members}) > 1
        for unit in some
    ]


# --- the ports themselves ----------------------------------------------------------------------

_Ends = Callable[[Connection], tuple[str, str]]


def _both_ends(member: Connection) -> tuple[str, str]:
    both = member.from_port and member.to_port
    return (member.from_port, member.to_port) if both else ("", "")


def _from_end(member: Connection) -> tuple[str, str]:
    return (member.from_port, "")


def _to_end(member: Connection) -> tuple[str, str]:
    return ("", member.to_port)


def _by_port_names(units: Iterable[Unit], ends: _Ends) -> Iterator[tuple[object, Unit]]:
    """The units by joint and the names of their ports without the words for their side."""
    places: defaultdict[tuple[tuple[str, ...], str], tuple[list[tuple[str, Unit]], list[str]]]
    places = defaultdict(lambda: ([], []))
    for unit in units:
        for member in unit.members:
            start, end = ends(member)
            if start or end:
                owners, names = places[unit.alike, member.key.side]
                owners.append((member.joint_key, unit))
                names += (start, end)
    for (alike, side), (owners, names) in places.items():
        marked = iter(side_words(alike).marked(all_folded(names), side))
        for (joint_key, unit), start, end in zip(owners, marked, marked, strict=True):
            yield (joint_key, start, end), unit


def _why_port_names(members: Sequence[Connection]) -> str:
    first = members[0]
    same = [
        port
        for port, others in (
            (first.from_port, {folded(each.from_port) for each in members}),
            (first.to_port, {folded(each.to_port) for each in members}),
        )
        if port and len(others) == 1
    ]
    if same:
        return f"{_each(members)} {'joins' if len(same) > 1 else 'is on'} " + " to ".join(
            f'"{port}"' for port in same
        )
    return f"{_each(members)} joins ports that have one name with the side changed"


def _each(members: Sequence[Connection]) -> str:
    return "each of them" if len(members) > 2 else "either"


# --- beyond the ports --------------------------------------------------------------------------


def _by_what_lies_beyond(
    assembly: Assembly,
    units: Sequence[Unit],
    unpaired: Sequence[Unit],
    like_of: dict[str, Likeness],
    fits: Callable[[Connection, Connection], bool],
) -> bool:
    view = _View(assembly, units)
    joined = False
    for depth in range(_FARTHEST, 0, -1):
        keyed: list[tuple[object, Unit]] = []
        for unit in open_units(unpaired):
            like = like_of[unit.members[0].joint_key]
            for member in unit.members:
                beyond = view.beyond(member, depth)
                if beyond is not None:
                    kind = like.seen(member.type, member.key.side)
                    keyed.append(((member.joint_key, kind, beyond), unit))
        joined |= join_by_key(keyed, Sign(How.ROUTE, view.why), fits)
    return joined


class _View:
    """What can be seen from a port, looking away from the joint.

    Everything seen gets a number, the same for what looks the same from its own side.
    """

    def __init__(self, assembly: Assembly, units: Sequence[Unit]) -> None:
        self._numbers: dict[tuple[object, ...], int] = {}
        self._ways: defaultdict[Key, list[_Way]] = defaultdict(list)
        self._written: dict[Key, str] = {}
        self._seen: dict[tuple[Key, Key, int], tuple[int, bool]] = {}
        self._words = {side: side_words(unit.alike) for unit in units for side in unit.alike}
        for run in assembly.runs:
            service = self._from_own_side(run.service, run.start.side)
            label = ("run", service, self._from_own_side(run.half, run.start.side))
            told = f"a run for {run.service}" if service else ""
            self._add(run.start, run.from_port, run.end, run.to_port, label, told)
        unit_of = {member.key: unit for unit in units for member in unit.members}
        for each in assembly.connections:
            if each.from_port and each.to_port:
                self._add_connection(each, unit_of.get(each.key))
        self._shared = self._names_on_several_sides()

    def _add_connection(self, each: Connection, unit: Unit | None) -> None:
        label: tuple[object, ...] = ("open", each.joint_key, folded(each.type))
        told = ""
        if unit is None or len(unit.members) > 1:
            members = unit.members if unit else [each]
            label = ("known", members[0].key)
            told = f"{'/'.join(dict.fromkeys(each.id for each in members))} at joint {each.joint}"
        ends = (each.from_key_port, each.from_port, each.to_key_port, each.to_port)
        self._add(*ends, label, told)

    def _add(
        self,
        start: Key,
        from_port: str,
        end: Key,
        to_port: str,
        label: tuple[object, ...],
        told: str,
    ) -> None:
        number = self._number(label)
        self._ways[start].append(_Way(end, number, told))
        self._ways[end].append(_Way(start, number, told))
        self._written.setdefault(start, from_port)
        self._written.setdefault(end, to_port)

    def _number(self, what: tuple[object, ...]) -> int:
        return self._numbers.setdefault(what, len(self._numbers))

    def _from_own_side(self, text: str, side: str) -> str:
        words = self._words.get(side)
        return words.marked([folded(text)], side)[0] if words else folded(text)

    def _names_on_several_sides(self) -> dict[Key, int]:
        """The ports whose name, seen from their side, another side has too."""
        names = {key: self._from_own_side(key.name, key.side) for key in self._ways}
        sides: defaultdict[str, set[str]] = defaultdict(set)
        for key, name in names.items():
            sides[name].add(key.side)
        return {
            key: self._number(("port", name)) for key, name in names.items() if len(sides[name]) > 1
        }

    def beyond(self, member: Connection, depth: int) -> tuple[int, ...] | None:
        """What lies within some steps beyond the ports; None if that tells nothing."""
        seen = [self._from(port, back, depth) for port, back in _own_ports(member)]
        return tuple(number for number, _ in seen) if any(tells for _, tells in seen) else None

    def _from(self, port: Key, back: Key, depth: int) -> tuple[int, bool]:
        """The number of what is seen from a port, except back the way one came; if it tells."""
        known = self._seen.get((port, back, depth))
        if known is not None:
            return known
        found = []
        tells = False
        ways = self._ways.get(port, ())
        if depth and len(ways) <= _HUB:
            for way in ways:
                if way.to != back:
                    further, more = self._from(way.to, port, depth - 1)
                    name = self._shared.get(way.to, -1)
                    tells = tells or more or name >= 0 or bool(way.told)
                    found.append((way.label, name, further))
        seen = (self._number(("seen", *sorted(found))), tells)
        self._seen[port, back, depth] = seen
        return seen

    def why(self, members: Sequence[Connection]) -> str:
        """What is met on the ways of all members, in words."""
        told = [dict(self._told(member)) for member in members]
        shared = [text for what, text in told[0].items() if all(what in each for each in told)]
        if shared:
            return f"{_each(members)} leads to {shared[0]}"
        return f"what lies beyond their ports is the same for {_each(members)}"

    def _told(self, member: Connection) -> Iterator[tuple[int, str]]:
        """What is met on the way from a connection and tells something, nearest first."""
        met: list[tuple[int, str]] = []
        level = _own_ports(member)
        for _ in range(_FARTHEST):
            ahead = []
            for port, back in level:
                for way in self._ways.get(port, ())[:_HUB]:
                    if way.to != back:
                        if way.told:
                            met.append((way.label, way.told))
                        if way.to in self._shared:
                            met.append((self._shared[way.to], f'port "{self._written[way.to]}"'))
                        ahead.append((way.to, port))
            level = ahead[: _HUB**2]
        return iter(met)


def _own_ports(member: Connection) -> list[tuple[Key, Key]]:
    """The ports of a connection, each with the one across the joint."""
    start, end = member.from_key_port, member.to_key_port
    return [(start, end), (end, start)]
