"""What in the lists could not be understood, so that an answer may lack something."""

from collections.abc import Callable, Iterable
from enum import StrEnum

from joinmatrix.assembly.model import Assembly
from joinmatrix.lists.table import Trouble
from joinmatrix.readings.judge import faults as reading_faults
from joinmatrix.routes.mates import faults as mate_faults
from joinmatrix.timing.faults import faults as rule_faults


class Part(StrEnum):
    """What an answer rests on."""

    ROWS = "rows"  # what was read and merged
    RULES = "rules"  # of timing
    MATES = "mates"  # ports as the record has them
    LIMITS = "limits"  # and the readings held against them


_FAULTS: dict[Part, Callable[[Assembly], Iterable[Trouble]]] = {
    Part.ROWS: lambda assembly: assembly.troubles,
    Part.RULES: rule_faults,
    Part.MATES: mate_faults,
    Part.LIMITS: reading_faults,
}


def not_understood(assembly: Assembly, parts: Iterable[Part]) -> tuple[Trouble, ...]:
    """The troubles that hold in the parts that an answer rests on, by their cells."""
    found = (trouble for part in parts for trouble in _FAULTS[part](assembly) if trouble.holds)
    return tuple(sorted(found, key=lambda trouble: (trouble.place, trouble.found)))
