"""Connections that look alike can be swapped by hand.

On one joint and side, with the same type, size, ends and keys, each fits the other's place; only
what they carry is different. Wherever it can be, design keeps such things apart by size or key;
where it does not, a tag or a colour band on both halves has to. Flight controls and fluids come
first. It is a note: nothing is wrong yet.

Example: H-07 brake pressure and H-09 brake return, both -6 lines with 37 degree flares.

What clears it: a tag or colour band on both ends that the part or remarks column names; it stays as
a note until size, end or key tells them apart.

What it cannot see: what is too short or too stiff to reach the other place.
"""

from collections.abc import Iterator

from joinmatrix.assembly.model import Assembly
from joinmatrix.checks.check import Check
from joinmatrix.findings import Finding, Kind, Severity
from joinmatrix.names import quoted_list
from joinmatrix.routes import telling
from joinmatrix.routes.alike import Alike, Hazard, alike_groups

_SHOWN = 6  # members that a message names with their service before it counts the rest
_HAZARDS = {Hazard.FLIGHT_CONTROL: "flight controls: ", Hazard.FLUID: "fluids: ", Hazard.OTHER: ""}
_APART = {"part": "the part tag", "colour": "the colour band"}


def lookalike(assembly: Assembly) -> Iterator[Finding]:
    """One note for each group that can be swapped by hand, the worst first."""
    yield from telling.one_for_all_sides(_finding(group) for group in alike_groups(assembly))


def _finding(group: Alike) -> Finding:
    members = group.connections
    named = [f'"{member.id}" ({member.service})' for member in members[:_SHOWN]]
    more = f" and {len(members) - _SHOWN} more" if len(members) > _SHOWN else ""
    return Finding(
        Kind.LOOKALIKE,
        Severity.NOTE,
        f"{_HAZARDS[group.hazard]}{', '.join(named)}{more} can be swapped by hand; "
        f"{_told_apart(group)}",
        _remedy(group),
        tuple([row.place("connection") for each in members for row in each.rows]),
        joint=group.joint,
        sides=(group.side,),
        connections=telling.names_of(members),
        rank=1 + group.hazard,
    )


def _told_apart(group: Alike) -> str:
    if not group.apart:
        return "nothing in the lists tells them apart"
    return f"they are told apart by {' and '.join(_APART[each] for each in group.apart)} only"


def _remedy(group: Alike) -> str:
    if not group.apart:
        return "tag both ends of each with its service or a colour band before the halves meet"
    shown = group.connections[:_SHOWN]
    by = group.apart[0]
    tags = (each.part if by == "part" else each.remarks or each.part for each in shown)
    return f"compare {_APART[by]} at both ends before mating: {quoted_list(tags, 'and')}"


CHECK = Check(Kind.LOOKALIKE, lookalike)
