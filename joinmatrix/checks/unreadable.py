"""A row, cell or rule cannot be understood, so that a connection could be missed.

Nothing is guessed. What cannot be understood is shown with its cell and the nearest words that
can be, and as long as it stands the answer is not complete. An unreadable rule binds nothing and
raises no further finding.

Example: the timing of H-07 says "after gaer down"; the stages list has "gear down".

What clears it: correct the cell; the finding names the words that are understood.

What it cannot see: a word that can be understood and is wrong.
"""

from collections.abc import Iterator

from joinmatrix.assembly.model import Assembly
from joinmatrix.checks.check import Check
from joinmatrix.findings import Finding, Kind, Severity
from joinmatrix.lists.table import Trouble
from joinmatrix.place import Place
from joinmatrix.readings.judge import faults as reading_faults
from joinmatrix.routes.mates import faults as mate_faults
from joinmatrix.timing.faults import faults as rule_faults


def unreadable(assembly: Assembly) -> Iterator[Finding]:
    """One finding for each trouble of the reading, the merging, the rules, routes and limits."""
    yield from map(_finding, assembly.troubles)
    for faults in (rule_faults, mate_faults, reading_faults):
        yield from map(_finding, faults(assembly))


def _finding(trouble: Trouble) -> Finding:
    return Finding(
        Kind.UNREADABLE,
        Severity.HOLD if trouble.holds else Severity.NOTE,
        trouble.found,
        trouble.remedy,
        tuple(map(_cell, (trouble.place, *trouble.others))),
        joint=trouble.joint,
        sides=trouble.sides,
        connections=trouble.connections,
        stages=trouble.stages,
        items=trouble.items,
    )


def _cell(place: Place) -> Place:
    """A cell of the row where the trouble is with the row as a whole."""
    return place._replace(column=1) if place.row and not place.column else place


CHECK = Check(Kind.UNREADABLE, unreadable)
