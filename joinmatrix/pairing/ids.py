"""Pairing by identifier: the same one, or the same once the words for the sides are swapped."""

from collections import defaultdict
from collections.abc import Iterable, Iterator, Sequence

from joinmatrix.assembly.model import Assembly, Connection
from joinmatrix.pairing.groups import How, Sign, Unit, in_order, join_by_key, open_units
from joinmatrix.pairing.tokens import OWN, SideWords, side_words

_SAME_ID = (Sign(How.SAME_ID, "the same identifier"),)


def _why_swapped(members: Sequence[Connection]) -> str:
    ids = dict.fromkeys(member.id for member in members)
    return f"{' and '.join(ids)} are one name with the side changed"


_SWAPPED = Sign(How.SWAPPED_ID, _why_swapped)


def by_same_id(assembly: Assembly) -> list[Unit]:
    """Every connection on an alike side, those with one identifier at one joint together."""
    by_joint: dict[str, tuple[tuple[str, ...], dict[str, Unit]]] = {}
    for connection in assembly.connections:
        joint_key = connection.joint_key
        of_joint = by_joint.get(joint_key)
        if of_joint is None:
            of_joint = by_joint[joint_key] = (assembly.alike.get(joint_key, ("L", "R")), {})
        alike, by_name = of_joint
        name, side = connection.key
        if side not in alike or len(alike) < 2:
            continue
        unit = by_name.get(name)
        if unit is None:
            by_name[name] = Unit(alike, connection)
        else:
            unit.members.append(connection)
            unit.signs = _SAME_ID
    units = [unit for _, by_name in by_joint.values() for unit in by_name.values()]
    for unit in units:
        if len(unit.members) > 1:
            unit.members = in_order(unit.members, unit.alike)
    return units


def by_swapped_id(units: Sequence[Unit]) -> None:
    """Join what has one name once the words for its side are taken out of it."""
    of_sides: defaultdict[tuple[str, ...], list[Unit]] = defaultdict(list)
    for unit in units:
        of_sides[unit.alike].append(unit)
    for alike, some in of_sides.items():
        words = side_words(alike)
        keyed = list(_all_marked(some, words))
        several = {key[0] for key, _ in keyed if key[1].count(OWN) > 1}
        # Of two numbers in a name one is the side and one counts, as in T-2-1 on 2 and T-1-1 on 1.
        # Of two letters both are the side, as in LH-L1 and RH-R1.
        counting = set() if words.letters else several
        join_by_key((each for each in keyed if each[0][0] not in counting), _SWAPPED)
        if several:
            left = [unit for unit in open_units(some) if unit.members[0].joint_key in several]
            _by_doubtful_words(left, words)
            join_by_key(_all_marked(open_units(left), words), _SWAPPED)


def _all_marked(units: Iterable[Unit], words: SideWords) -> Iterator[tuple[tuple[str, str], Unit]]:
    """The units by joint and name, where the name has words for its own side; side by side."""
    of_side: dict[str, tuple[list[str], list[str], list[Unit]]] = {
        side: ([], [], []) for side in words.alike
    }
    for unit in units:
        for member in unit.members:
            name, side = member.key
            names, joints, owners = of_side[side]
            names.append(name)
            joints.append(member.joint_key)
            owners.append(unit)
    for side, (names, joints, owners) in of_side.items():
        if names:
            marked = words.marked(names, side)
            for name, joint, unit in zip(marked, joints, owners, strict=True):
                if OWN in name:
                    yield (joint, name), unit


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
