"""A reading is outside its limits.

A bolt below its torque works loose, a nut above it cracks the flare, a cable too slack jams beside
its pulley. The latest reading counts, from the latest making on. Readings are converted to the
unit of the limit, and a torque taken through an extension is worked out to what the nut saw. In
the limit's own unit a reading is compared exactly as it is written; where it had to be worked out,
half a unit of its last written digit is allowed for.

Example: the limit of H-07 is "torque 135..150 in-lbf", and 160 in-lbf was read.

What clears it: make it again to the limit and record the new reading, or correct the reading if it
was written down wrongly.

What it cannot see: a reading that was never taken, or a limit that is wrong.
"""

from collections.abc import Iterator

from joinmatrix.assembly.model import Assembly
from joinmatrix.checks.check import Check
from joinmatrix.findings import Finding, Kind, Severity
from joinmatrix.readings import Judgement, Outcome, judged
from joinmatrix.routes.telling import one_for_all_sides


def out_of_limits(assembly: Assembly) -> Iterator[Finding]:
    """One finding for each reading that is outside; a row for both sides is one reading."""
    outside = (each for each in judged(assembly) if each.outcome is Outcome.OUTSIDE)
    yield from one_for_all_sides(map(_finding, outside))


def _finding(judgement: Judgement) -> Finding:
    connection, limit, reading = judgement.connection, judgement.limit, judgement.measurement
    assert reading is not None  # only a reading can be outside
    measure = limit.measure or reading.measure or "the reading"
    return Finding(
        Kind.OUT_OF_LIMITS,
        Severity.HOLD,
        f'{measure} of "{connection.id}" is {judgement.said}; the limit is "{limit.text}"',
        "make it again to its limit and record the new reading, or correct what was written down",
        (reading.place, *connection.cells("limits")),
        joint=connection.joint,
        sides=(connection.side,),
        connections=(connection.id,),
    )


CHECK = Check(Kind.OUT_OF_LIMITS, out_of_limits, acts=True)
