"""Pairing by place in the route graph: a renamed line is found by what it joins.

Two connections have the same place when their ports have the same names, or when what lies beyond
their ports is the same: runs for the same service, ports of the same name, connections that are
paired already. How far one has to look depends; the farthest view that finds one candidate on each
side is taken first, as it has seen the most.
"""

from collections import Counter, defaultdict
from collections.abc import Iterable, Iterator, Sequence
from itertools import islice
from typing import NamedTuple

from joinmatrix.assembly.model import Assembly, Connection, Run
from joinmatrix.assembly.ports import ports
from joinmatrix.names import folded
from joinmatrix.pairing.groups import (
    Fits,
    How,
    Member,
    Sign,
    Unit,
    by_joint,
    can_join,
    join_by_key,
    open_units,
)
from joinmatrix.pairing.likeness import Likeness, Likenesses
from joinmatrix.pairing.places import Ends, both_ends, places_of
from joinmatrix.pairing.tokens import side_words

_FARTHEST = 5  # runs and connections beyond a port
_HUB = 12  # a port with more on it, such as an earthing point, tells nothing by what is on it
_ROUNDS = 4  # what has been paired shows the place of what is next to it


class _Way(NamedTuple):
    """One way on from a port.

    to     number of the port at its other end
    name   that port, as written
    label  number of what it is, as seen from its own side
    told   what it is in words, where that says more than that there is something; else ""
    """

    to: int
    name: str
    label: int
    told: str


def by_route(
    assembly: Assembly, units: Sequence[Unit], unpaired: Sequence[Unit], likes: Likenesses
) -> None:
    """Join connections that have the same place in the routes of their sides.

    units     all there are: those that are paired show the place of their neighbours
    unpaired  those of them that lack a side
    """
    unpaired = _joinable(unit for unit in unpaired if _has_port(unit))
    if not unpaired:
        return

    def fits(one: Connection, other: Connection) -> bool:
        return like_of[one.joint_key].may_pair(one, other)

    like_of = {unit.members[0].joint_key: likes[unit.alike] for unit in unpaired}

    def may_serve_one_thing(one: Connection, other: Connection) -> bool:
        return like_of[one.joint_key].may_serve_one_thing(one, other)

    # At the same two ports a line of another type is still the counterpart.
    for ends, fit in ((both_ends, may_serve_one_thing), (_from_end, fits), (_to_end, fits)):
        keyed = _by_port_names(unpaired, ends)
        if join_by_key(keyed, Sign(How.ROUTE, _why_port_names), fit):
            unpaired = _joinable(unpaired)
    if not assembly.runs:
        return
    for _ in range(_ROUNDS):
        unpaired = _joinable(unpaired)
        if not unpaired or not _by_what_lies_beyond(assembly, units, unpaired, like_of, fits):
            return


def by_same_ports(unpaired: Sequence[Unit]) -> None:
    """Join what nothing else has paired and what is between ports of the same names."""
    unpaired = _joinable(unit for unit in unpaired if _has_port(unit))
    join_by_key(_by_port_names(unpaired, both_ends), Sign(How.ROUTE, _why_port_names))


def _has_port(unit: Unit) -> bool:
    return any(member.from_port or member.to_port for member in unit.members)


def _joinable(units: Iterable[Unit]) -> list[Unit]:
    """The open units of joints where more than one side has some."""
    joints = by_joint(open_units(units)).values()
    return [unit for here in joints if can_join(here) for unit in here]


# --- the ports themselves ----------------------------------------------------------------------


def _from_end(member: Connection) -> tuple[str, str]:
    return (member.from_port, "")


def _to_end(member: Connection) -> tuple[str, str]:
    return ("", member.to_port)


def _by_port_names(units: Iterable[Unit], ends: Ends) -> Iterator[tuple[object, Unit]]:
    """The units by joint and the names of their ports without the words for their side."""
    having: defaultdict[tuple[tuple[str, ...], str], list[Member]] = defaultdict(list)
    for unit in units:
        for member in unit.members:
            if any(ends(member)):
                having[unit.alike, member.key.side].append((unit, member))
    for (alike, side), here in having.items():
        places = places_of([member for _, member in here], ends, side_words(alike), side)
        for (unit, member), place in zip(here, places, strict=True):
            yield (member.joint_key, *place), unit


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
    fits: Fits,
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

    Everything seen gets a number, the same for what looks the same from its own side. What is
    paired later is not seen by this view.
    """

    def __init__(self, assembly: Assembly, units: Sequence[Unit]) -> None:
        self._ports = ports(assembly)
        self._numbers: dict[tuple[object, ...], int] = {}
        self._labels: dict[int, tuple[int, str]] = {}
        self._seen: dict[tuple[int, int, int], tuple[int, bool]] = {}
        self._words = {side: side_words(unit.alike) for unit in units for side in unit.alike}
        self._own: dict[tuple[str, str], str] = {}
        self._open = {unit.members[0].key for unit in units if len(unit.members) == 1}
        self._paired = {
            member.key: tuple(unit.members)
            for unit in units
            if len(unit.members) > 1
            for member in unit.members
        }
        self._links_at: defaultdict[int, list[int]] = defaultdict(list)
        for index, start in enumerate(self._ports.starts):
            self._links_at[start].append(index)
        for index, end in enumerate(self._ports.ends):
            self._links_at[end].append(index)
        self._shared = self._names_on_several_sides()

    def _ways(self, port: int) -> Iterator[_Way]:
        """The ways on from a port; one that comes back to it counts twice."""
        starts, ends = self._ports.starts, self._ports.ends
        for index in self._links_at.get(port, ()):
            label, told = self._label(index)
            link = self._ports.link(index)
            if starts[index] == port:
                yield _Way(ends[index], link.to_port, label, told)
            else:
                yield _Way(starts[index], link.from_port, label, told)

    def _label(self, index: int) -> tuple[int, str]:
        """The number of what a link is, and what it is in words."""
        known = self._labels.get(index)
        if known is None:
            link = self._ports.link(index)
            what, told = self._run(link) if isinstance(link, Run) else self._connection(link)
            known = self._labels[index] = (self._number(what), told)
        return known

    def _run(self, run: Run) -> tuple[tuple[object, ...], str]:
        side = run.start.side
        what = ("run", self._from_own_side(run.service, side), self._from_own_side(run.half, side))
        return what, f"a run for {run.service}" if run.service else ""

    def _connection(self, each: Connection) -> tuple[tuple[object, ...], str]:
        if each.key in self._open:
            return ("open", each.joint_key, folded(each.type)), ""
        members = self._paired.get(each.key, (each,))
        names = "/".join(dict.fromkeys(member.id for member in members))
        return ("known", members[0].key), f"{names} at joint {each.joint}"

    def _number(self, what: tuple[object, ...]) -> int:
        return self._numbers.setdefault(what, len(self._numbers))

    def _from_own_side(self, text: str, side: str) -> str:
        known = self._own.get((text, side))
        if known is None:
            words = self._words.get(side)
            known = words.marked_text(folded(text), side) if words else folded(text)
            self._own[text, side] = known
        return known

    def _names_on_several_sides(self) -> dict[int, int]:
        """The ports whose name, seen from their side, another side has too."""
        marked: list[tuple[int, str]] = []
        times: Counter[str] = Counter()
        for side, of_side in self._ports.numbers.items():
            names = [name for name, port in of_side.items() if port in self._links_at]
            words = self._words.get(side)
            seen = words.marked(names, side) if words else names
            marked += zip((of_side[name] for name in names), seen, strict=True)
            times.update(set(seen))
        return {port: self._number(("port", name)) for port, name in marked if times[name] > 1}

    def beyond(self, member: Connection, depth: int) -> tuple[int, ...] | None:
        """What lies within some steps beyond the ports; None if that tells nothing."""
        seen = [self._from(port, back, depth) for port, back in self._own_ports(member)]
        return tuple(number for number, _ in seen) if any(tells for _, tells in seen) else None

    def _own_ports(self, member: Connection) -> tuple[tuple[int, int], ...]:
        """The ports of a connection, each with the one across the joint; -1 for one not given."""
        numbers = self._ports.numbers.get(member.key.side, {})
        start = numbers.get(folded(member.from_port), -1)
        end = numbers.get(folded(member.to_port), -1)
        return (start, end), (end, start)

    def _from(self, port: int, back: int, depth: int) -> tuple[int, bool]:
        """The number of what is seen from a port, except back the way one came; if it tells."""
        known = self._seen.get((port, back, depth))
        if known is not None:
            return known
        found = []
        tells = False
        links = self._links_at.get(port, ())
        if depth and len(links) <= _HUB:
            starts, ends = self._ports.starts, self._ports.ends
            for index in links:
                to = ends[index] if starts[index] == port else starts[index]
                if to != back:
                    label, told = self._label(index)
                    further, more = self._from(to, port, depth - 1)
                    name = self._shared.get(to, -1)
                    tells = tells or more or name >= 0 or bool(told)
                    found.append((label, name, further))
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
        level: Sequence[tuple[int, int]] = self._own_ports(member)
        for _ in range(_FARTHEST):
            ahead = []
            for port, back in level:
                for way in islice(self._ways(port), _HUB):
                    if way.to != back:
                        if way.told:
                            met.append((way.label, way.told))
                        if way.to in self._shared:
                            met.append((self._shared[way.to], f'port "{way.name}"'))
                        ahead.append((way.to, port))
            level = ahead[: _HUB**2]
        return iter(met)
