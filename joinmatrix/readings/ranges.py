"""The range of a tool, and whether what it showed lies in it."""

from collections.abc import Iterable, Iterator
from fractions import Fraction

from joinmatrix.assembly.model import Tool
from joinmatrix.lists.table import Trouble
from joinmatrix.readings.compare import Seen
from joinmatrix.readings.limits import amount
from joinmatrix.readings.numbers import Number, Unclear
from joinmatrix.readings.units import Unit, converted, read_unit, same_unit


def in_range(read: Seen, tool: Tool) -> bool | None:
    """Whether a reading lies in the range of a tool; None where the two cannot be compared.

    A reading in another unit than the range is allowed half a unit of its last written digit.
    """
    low, behind = _end(tool.low)
    high, behind_high = _end(tool.high)
    unit = tool.unit or behind or behind_high
    if (low is None and high is None) or read.number.relation:
        return None
    value, slack = read.number.value, Fraction(0)
    if not same_unit(read.unit, unit):
        mine, wanted = read_unit(read.unit), read_unit(unit)
        if not isinstance(mine, Unit) or not isinstance(wanted, Unit):
            return None
        if mine.quantity != wanted.quantity:
            return None
        half = converted(value + read.number.step / 2, mine, wanted)
        value = converted(value, mine, wanted)
        slack = abs(half - value)
    return (low is None or value + slack >= low) and (high is None or value - slack <= high)


def range_text(tool: Tool) -> str:
    """The range as the list writes it: "30..150 in-lbf"."""
    ends = f"{tool.low}..{tool.high}" if tool.low and tool.high else ""
    if not ends:
        ends = f"{tool.low} and more" if tool.low else f"{tool.high} and less"
    return f"{ends} {tool.unit}".strip()


def range_troubles(tools: Iterable[Tool]) -> Iterator[Trouble]:
    """Ranges that are no numbers."""
    for tool in tools:
        for column, text in (("low", tool.low), ("high", tool.high)):
            number, _ = amount(text) if text else (None, "")
            if isinstance(number, Unclear):
                yield Trouble(
                    tool.row.place(column),
                    f'the range of tool "{tool.name}": {number.found}',
                    "write the least and the most that the tool measures as numbers",
                    items=(tool.name,),
                )


def _end(text: str) -> tuple[Fraction | None, str]:
    number, unit = amount(text) if text else (None, "")
    return (number.value, unit) if isinstance(number, Number) else (None, "")
