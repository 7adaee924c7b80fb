"""A connection is mated to another port than the one listed.

Two lines that lie side by side, with the same nuts, are easily swapped. Each is made, each is
tight, each gets its tick, and the control runs backwards or the pressure goes where the return
should. The record's `mated to` says which port was found at the other end; where connections took
each other's ports the whole swap is one finding, however many take part.

Example: H-07 is listed from "P1" to "W1" and mated to "W2", H-09 from "P2" to "W2" and mated to
"W1".

What clears it: open them, mate each port as listed, inspect again and record it; or correct the
record where the entry is wrong.

What it cannot see: a swap of which nobody recorded what the port was mated to.
"""

from collections.abc import Iterator

from joinmatrix.assembly.model import Assembly
from joinmatrix.checks.check import Check
from joinmatrix.findings import Finding, Kind, Severity
from joinmatrix.routes import telling
from joinmatrix.routes.as_made import as_made
from joinmatrix.routes.mates import Mate


def crossed(assembly: Assembly) -> Iterator[Finding]:
    """One finding for each ring of connections that took each other's ports, and each stray."""
    found = as_made(assembly)
    rings = [swap.mates for swap in found.swaps] + [(mate,) for mate in found.strays]
    yield from telling.one_for_all_sides(_finding(assembly, mates) for mates in rings)


def _finding(assembly: Assembly, mates: tuple[Mate, ...]) -> Finding:
    connections = [mate.connection for mate in mates]
    sides = telling.sides_of(connections)
    if len(mates) > 1:
        swaps = ", ".join(telling.swap_text(assembly, mate, sides) for mate in mates)
        said = f"{telling.named(connections)} are crossed: {swaps}"
    else:
        said = telling.mate_text(assembly, mates[0], sides)
    return Finding(
        Kind.CROSSED,
        Severity.HOLD,
        said,
        telling.put_right(mates),
        telling.mate_cells(mates),
        joint=telling.joint_of(connections),
        sides=sides,
        connections=telling.names_of(connections),
    )


CHECK = Check(Kind.CROSSED, crossed, acts=True)
