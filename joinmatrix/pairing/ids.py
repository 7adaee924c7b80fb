"""Pairing by identifier: the same one, or the same once the words for the sides are swapped."""

from collections import defaultdict
from collections.abc import Iterable, Iterator, Mapping, Sequence

from joinmatrix.assembly.model import Connection
from joinmatrix.pairing.groups import (
    How,
    Member,
    Sign,
    Unit,
    by_side,
    join_by_key,
    open_units,
)
from joinmatrix.pairing.tokens import OWN, SideWords, side_words

_SAME_ID = (Sign(How.SAME_ID, "the same identifier"),)


def _why_swapped(members: Sequence[Connection]) -> str:
    ids = dict.fromkeys(member.id for member in members)
    return f"{' and '.join(ids)} are one name with the side changed"


_SWAPPED = Sign(How.SWAPPED_ID, _why_swapped)


def by_same_id(connections: Iterable[Connection], alike: tuple[str, ...]) -> list[Unit]:
    """The connections of one joint, those with one identifier together."""
    by_name: dict[str, Unit] = {}
    several: dict[Unit, None] = {}
    for connection in connections:
        name = connection.key.name
        unit = by_name.get(name)
        if unit is None:
            by_name[name] = Unit(alike, connection)
        else:
            unit.members.append(connection)
            several[unit] = None
    for unit in several:
        unit.put(unit.members, _SAME_ID)
    return list(by_name.values())


def by_swapped_id(units: Sequence[Unit]) -> None:
    """Join what has one name once the words for its side are taken out of it."""
    for alike, sides in by_side(units):
        words = side_words(alike)
        keyed = list(_all_marked(sides, words))
        several = {key[0] for key, _ in keyed if key[1].count(OWN) > 1}
        # Of two numbers in a name one is the side and one counts, as in T-2-1 on 2 and T-1-1 on 1.
        # Of two letters both are the side, as in LH-L1 and RH-R1.
        counting = set() if words.letters else several
        join_by_key((each for each in keyed if each[0][0] not in counting), _SWAPPED)
        if several:
            left = [
                unit
                for unit in open_units(units)
                if unit.alike == alike and unit.members[0].joint_key in several
            ]
            _by_doubtful_words(left, words)
            for _, still in by_side(open_units(left)):
                join_by_key(_all_marked(still, words), _SWAPPED)


def _all_marked(
    sides: Mapping[str, Sequence[Member]], words: SideWords
) -> Iterator[tuple[tuple[str, str], Unit]]:
    """The units by joint and name, where the name has words for its own side."""
    for side, here in sides.items():
        marked = words.marked([member.key.name for _, member in here], side)
        for (unit, member), name in zip(here, marked, strict=True):
            if OWN in name:
                yield (member.joint_key, name), unit


def _by_doubtful_words(units: Sequence[Unit], words: SideWords) -> None:
    """Join names with several words that can mean the side, by some of them."""
    if words.letters:
        plain = (
            ((member.joint_key, name), unit)
            for unit in units
            for member in unit.members
            if OWN in (name := words.plainly_marked(*member.key))
        )
        join_by_key(plain, _SWAPPED)
    levels: defaultdict[int, list[tuple[tuple[str, str], Unit]]] = defaultdict(list)
    for unit in open_units(units):
        for member in unit.members:
            for level, name in words.marked_one_by_one(*member.key):
                levels[level].append(((member.joint_key, name), unit))
    for level in sorted(levels):
        join_by_key(levels[level], _SWAPPED)
