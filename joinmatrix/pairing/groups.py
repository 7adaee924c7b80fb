"""Connections that belong together: while they are being found, and once they are."""

from collections import defaultdict
from collections.abc import Callable, Container, Iterable, Iterator, Mapping, Sequence
from enum import StrEnum
from typing import NamedTuple

from joinmatrix.assembly.model import Connection

# Whether two connections can belong together, whatever else speaks for it.
Fits = Callable[[Connection, Connection], bool]


class How(StrEnum):
    """By which sign connections were paired, surest first."""

    ALONE = "alone"  # nothing was found that belongs to it
    SAME_ID = "same id"
    SWAPPED_ID = "same id after swapping the side"
    HANDED_PARTS = "opposite-hand part numbers"
    ROUTE = "same place in the route"
    ALIKE = "most alike"


class Sign(NamedTuple):
    """What brought connections together.

    why      the reason in words, or what tells it of the members: most reasons nobody asks for
    members  those that it brought together, where a side was still lacking; () for all
    """

    how: How
    why: str | Callable[[Sequence[Connection]], str]
    members: tuple[Connection, ...] = ()

    def within(self, other: "Sign") -> bool:
        """Whether another sign gives the same reason for these members and for more."""
        more = not other.members or set(self.members) < set(other.members)
        return bool(self.members) and self.why == other.why and more


class Group(NamedTuple):
    """The connections that belong together at one joint, one for each alike side at most.

    alike    the alike sides of the joint
    members  in the order of the alike sides; one member alone when nothing was found for it
    signs    what brought them together
    """

    joint: str
    joint_key: str
    alike: tuple[str, ...]
    members: tuple[Connection, ...]
    signs: tuple["Sign", ...]

    @property
    def how(self) -> How:
        """The least sure of the signs."""
        return self.signs[-1][0] if self.signs else How.ALONE

    @property
    def why(self) -> str:
        """Why they were paired, in words; "" for a connection alone."""
        said = (
            sign.why if isinstance(sign.why, str) else sign.why(sign.members or self.members)
            for sign in self.signs
            if not any(map(sign.within, self.signs))
        )
        return "; ".join(dict.fromkeys(said))

    @property
    def sides(self) -> tuple[str, ...]:
        """The sides on which it exists."""
        return tuple(member.key.side for member in self.members)

    @property
    def missing(self) -> tuple[str, ...]:
        """The alike sides on which it does not exist."""
        return tuple(side for side in self.alike if side not in self.sides)

    def on(self, side: str) -> Connection | None:
        """The member on a side, if there is one."""
        return next((member for member in self.members if member.key.side == side), None)


class Unit:
    """Connections that are known to belong together so far.

    lacking  whether it still lacks a side
    """

    __slots__ = ("alike", "lacking", "members", "signs")

    def __init__(self, alike: tuple[str, ...], member: Connection) -> None:
        self.alike = alike
        self.members = [member]
        self.signs: tuple[Sign, ...] = ()
        self.lacking = True

    def put(self, members: Sequence[Connection], signs: tuple[Sign, ...]) -> None:
        """Make these its members, with what brought them together."""
        self.members = in_order(members, self.alike)
        self.signs = signs
        self.lacking = len(members) < len(self.alike)

    def take(self, others: Sequence["Unit"], sign: Sign) -> None:
        """Join other units to this one; they are empty afterwards."""
        members, signs = self.members, self.signs
        for other in others:
            members += other.members
            signs += other.signs
            other.members = []
            other.lacking = False
        if len(members) < len(self.alike):
            # Others may join later by another sign, of whom this one says nothing.
            sign = sign._replace(members=tuple(in_order(members, self.alike)))
        self.put(members, tuple(dict.fromkeys((*signs, sign))) if signs else (sign,))

    def group(self) -> Group:
        """What the unit has come to."""
        first = self.members[0]
        return Group(first.joint, first.joint_key, self.alike, tuple(self.members), self.signs)


def open_units(units: Iterable[Unit]) -> list[Unit]:
    """Those that still lack a side."""
    return [unit for unit in units if unit.lacking]


def by_joint(
    units: Iterable[Unit], joints: Container[str] | None = None
) -> Mapping[str, list[Unit]]:
    """The units by the folded names of their joints.

    joints  the joints that are asked about; by default all
    """
    found: defaultdict[str, list[Unit]] = defaultdict(list)
    for unit in units:
        if unit.members:
            joint_key = unit.members[0].joint_key
            if joints is None or joint_key in joints:
                found[joint_key].append(unit)
    return found


def can_join(units: Iterable[Unit]) -> bool:
    """Whether any two of the units can be counterparts: there are some on different sides."""
    return len({member.key.side for unit in units for member in unit.members}) > 1


Member = tuple[Unit, Connection]


def by_side(units: Iterable[Unit]) -> Iterator[tuple[tuple[str, ...], dict[str, list[Member]]]]:
    """For each set of alike sides the members of its units, side by side."""
    of_sides: defaultdict[tuple[str, ...], list[Unit]] = defaultdict(list)
    for unit in units:
        of_sides[unit.alike].append(unit)
    for alike, some in of_sides.items():
        members = [(unit, member) for unit in some for member in unit.members]
        yield (
            alike,
            {side: [each for each in members if each[1].key.side == side] for side in alike},
        )


def in_order(members: Sequence[Connection], alike: Sequence[str]) -> list[Connection]:
    """Connections in the order of the alike sides."""
    if members[0].key.side == alike[0] and len(members) == 2:
        return list(members)
    by_side = {member.key.side: member for member in members}
    return [by_side[side] for side in alike if side in by_side]


def join_by_key(
    keyed: Iterable[tuple[object, Unit]],
    sign: Sign,
    fits: Fits | None = None,
) -> bool:
    """Join the units of one key, where every side has one of them at most; whether any was.

    fits  False for two connections that cannot belong together, whatever the key says
    """
    of_key: dict[object, Unit] = {}
    several: dict[object, list[Unit]] = {}
    for key, unit in keyed:
        first = of_key.setdefault(key, unit)
        if first is not unit:
            same = several.get(key)
            if same is None:
                several[key] = [first, unit]
            elif unit not in same:
                same.append(unit)
    joined = False
    for same in several.values():
        living = [unit for unit in same if unit.members]
        if len(living) > 1 and may_join(living, fits):
            living[0].take(living[1:], sign)
            joined = True
    return joined


def may_join(units: Sequence[Unit], fits: Fits | None) -> bool:
    """Whether each side has one member at most, and every two from different units fit."""
    one, *others = units
    known = one.members.copy()
    for unit in others:
        for member in unit.members:
            for each in known:
                if each.key.side == member.key.side or (fits and not fits(each, member)):
                    return False
        known += unit.members
    return True
