"""Which connections of alike sides belong together, joint by joint.

The surest sign comes first, and what one sign has paired the next leaves alone. Nothing is ever
paired across joints.
"""

from functools import lru_cache

from joinmatrix.assembly.model import Assembly, Key
from joinmatrix.pairing.alike import by_likeness
from joinmatrix.pairing.groups import Group, How, open_units
from joinmatrix.pairing.hands import by_handed_parts
from joinmatrix.pairing.ids import by_same_id, by_swapped_id
from joinmatrix.pairing.neighbours import by_route


@lru_cache(maxsize=8)
def groups(assembly: Assembly) -> tuple[Group, ...]:
    """Every connection on an alike side, with those that belong to it; joint by joint.

    Connections on no alike side (the centre line) are in no group.
    """
    units = by_same_id(assembly)
    unpaired = open_units(units)
    by_swapped_id(unpaired)
    unpaired = open_units(unpaired)
    by_handed_parts(unpaired)
    unpaired = open_units(unpaired)
    by_route(assembly, units, unpaired)
    by_likeness(open_units(unpaired))
    return tuple(unit.group() for unit in units if unit.members)


@lru_cache(maxsize=8)
def group_of(assembly: Assembly) -> dict[Key, Group]:
    """The group of every connection that is in one."""
    return {member.key: group for group in groups(assembly) for member in group.members}


__all__ = ["Group", "How", "group_of", "groups"]
