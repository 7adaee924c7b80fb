"""Two lists disagree about the same connection.

Each discipline keeps its own list, and the same connection often stands in two of them. Where
both say something and do not say the same, one of them is wrong, and whoever works from the wrong
one builds the wrong thing. A blank never disagrees: it is filled from the other list. Neither does
another spelling of a size, end or key that the published tables know to be equal: -8 and 1/2 in.

Example: the hydraulics list gives line H-07 L a size of -6, the airframe list -8.

What clears it: correct the list that is wrong, so that both say the same.

What it cannot see: a mistake that both lists share.
"""

from collections.abc import Iterator

from joinmatrix.assembly.model import Assembly, Conflict
from joinmatrix.checks.check import Check
from joinmatrix.findings import Finding, Kind, Severity

_TICKED = ("made", "inspected")


def conflict(assembly: Assembly) -> Iterator[Finding]:
    """One finding for each connection and column on which lists disagree."""
    stages = {stage.name for stage in assembly.stages}
    items = {item.name for item in assembly.temporary}
    for each in assembly.conflicts:
        said = " and ".join(f'"{value}" ({place})' for value, place in each.values)
        yield Finding(
            Kind.CONFLICT,
            Severity.HOLD,
            f"the lists disagree on {_matter(each)}: {said}",
            "find out which is right and correct the other list",
            tuple(place for _, place in each.values),
            joint=each.joint,
            sides=each.sides,
            connections=(each.id,) if each.id and each.id not in stages | items else (),
            stages=(each.id,) if each.id in stages else (),
            items=(each.id,) if each.id in items else (),
        )


def _matter(each: Conflict) -> str:
    act, _, asked = each.column.partition(" ")
    if act in _TICKED and asked == "on":
        return f"when {_subject(each)} was {act}"
    if act in _TICKED and asked == "by":
        return f"who {act} {_subject(each)}"
    return f"the {each.column} of {_subject(each)}"


def _subject(each: Conflict) -> str:
    if not each.id:
        return f"joint {each.joint}"
    return f"{each.id} {'/'.join(each.sides)}".rstrip()


CHECK = Check(Kind.CONFLICT, conflict)
