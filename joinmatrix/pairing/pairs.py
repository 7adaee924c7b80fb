"""Which connections of alike sides belong together, joint by joint.

The surest sign comes first, and what one sign has paired the next leaves alone. Nothing is ever
paired across joints.
"""

from collections import defaultdict
from collections.abc import Iterator
from functools import lru_cache

from joinmatrix.assembly.model import Assembly, Connection, Key
from joinmatrix.pairing.alike import by_likeness
from joinmatrix.pairing.groups import Group, How, Unit, open_units
from joinmatrix.pairing.hands import by_handed_parts
from joinmatrix.pairing.ids import by_same_id, by_swapped_id
from joinmatrix.pairing.likeness import Likenesses
from joinmatrix.pairing.neighbours import by_route, by_same_ports


@lru_cache(maxsize=8)
def groups(assembly: Assembly) -> tuple[Group, ...]:
    """Every connection on an alike side, with those that belong to it; joint by joint.

    Connections on no alike side (the centre line) are in no group.
    """
    likes = Likenesses()
    units: list[Unit] = []
    unpaired: list[Unit] = []
    for alike, connections in _on_alike_sides(assembly):
        # All that one joint needs is done at once, while the computer has it at hand.
        here = by_same_id(connections, alike)
        by_swapped_id(open_units(here))
        by_handed_parts(open_units(here), likes)
        units += here
        unpaired += open_units(here)
    by_route(assembly, units, unpaired, likes)
    by_likeness(units, open_units(unpaired), likes)
    by_same_ports(open_units(unpaired))
    return tuple(unit.group() for unit in units if unit.members)


def _on_alike_sides(assembly: Assembly) -> Iterator[tuple[tuple[str, ...], list[Connection]]]:
    """Joint by joint its alike sides and the connections on them."""
    joints: defaultdict[str, list[Connection]] = defaultdict(list)
    for connection in assembly.connections:
        joints[connection.joint_key].append(connection)
    for joint_key, connections in joints.items():
        alike = assembly.alike.get(joint_key, ("L", "R"))
        if len(alike) > 1:
            yield alike, [each for each in connections if each.key.side in alike]


@lru_cache(maxsize=8)
def group_of(assembly: Assembly) -> dict[Key, Group]:
    """The group of every connection that is in one."""
    return {member.key: group for group in groups(assembly) for member in group.members}


__all__ = ["Group", "How", "group_of", "groups"]
