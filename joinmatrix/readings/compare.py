"""One reading held against one limit.

How exact: a reading in the unit of its limit is compared exactly as it is written, so 150.1 is
outside 135..150. A reading that has to be worked out first, because it is in another unit or was
taken on a wrench with an extension, is within its limits when it is so by half a unit of its last
written digit: 15.3 N·m is written for anything from 15.25 to 15.35.
"""

from fractions import Fraction
from functools import lru_cache
from typing import NamedTuple

from joinmatrix.assembly.model import Connection
from joinmatrix.lists import words
from joinmatrix.names import folded
from joinmatrix.place import Place
from joinmatrix.readings.limits import Limit, amount, measure_key
from joinmatrix.readings.numbers import Number, Unclear, shown
from joinmatrix.readings.record import Measurement, Written
from joinmatrix.readings.units import (
    COUNT,
    TORQUE,
    Unit,
    compact,
    converted,
    read_unit,
    same_unit,
)
from joinmatrix.readings.wrench import correction


class Seen(NamedTuple):
    """What a reading comes to.

    number  in the unit of the instrument
    unit    as written
    """

    number: Number
    unit: str


class Held(NamedTuple):
    """What came of it.

    said  the reading in words, worked out where it had to be: "17 N·m, which is 150.5 in-lbf"
    """

    within: bool
    said: str


class UnclearReading(NamedTuple):
    """Why a reading cannot be held against its limit, and the cells that say so."""

    unclear: Unclear
    cells: tuple[Place, ...]


class _Unread(NamedTuple):
    """The same before it is known in which row: the columns that say so, "limits" the limit's."""

    unclear: Unclear
    columns: tuple[str, ...]

    def of(self, measurement: Measurement, limit_cells: tuple[Place, ...] = ()) -> UnclearReading:
        cells: list[Place] = []
        for column in self.columns:
            cells += limit_cells if column == LIMITS else (measurement.source.place(column),)
        return UnclearReading(self.unclear, tuple(cells))


LIMITS = "limits"


def seen(measurement: Measurement) -> Seen | UnclearReading:
    """The number and unit of a reading; the unit can stand in the cell of the value."""
    read = _seen(measurement.measure, measurement.value, measurement.unit)
    return read if isinstance(read, Seen) else read.of(measurement)


def one_quantity(measurement: Measurement, limit: Limit) -> bool:
    """Whether a reading can be of what a limit without a measure asks for."""
    read = _seen(measurement.measure, measurement.value, measurement.unit)
    if not isinstance(read, Seen):
        return bool(limit.wanted)
    if same_unit(read.unit, limit.unit) or _is_count_of(measurement.key, limit, read.unit):
        return True
    mine, wanted = read_unit(read.unit), read_unit(limit.unit)
    return isinstance(mine, Unit) and isinstance(wanted, Unit) and mine.quantity == wanted.quantity


def held_against(
    limit: Limit, measurement: Measurement, connection: Connection
) -> Held | UnclearReading:
    """Whether a reading is within a limit of a connection."""
    held = _held(limit, measurement.written)
    return held if isinstance(held, Held) else held.of(measurement, connection.cells(LIMITS))


@lru_cache(maxsize=1 << 14)
def _seen(measure: str, value: str, unit: str) -> Seen | _Unread:
    number, behind = amount(value)
    what = f"reading of {measure}" if measure else "reading"
    if isinstance(number, Unclear):
        return _Unread(Unclear(f"{what}: {number.found}", number.remedy), ("value",))
    if behind and unit and not same_unit(behind, unit):
        found = f'{what} "{value}" is in "{behind}", and its unit is "{unit}"'
        remedy = "write the unit in which it was read"
        return _Unread(Unclear(found, remedy), ("value", "unit"))
    known = read_unit(unit or behind)
    if isinstance(known, Unclear):
        column = "unit" if unit else "value"
        return _Unread(Unclear(f"{what}: {known.found}", known.remedy), (column,))
    return Seen(number, unit or behind)


@lru_cache(maxsize=1 << 16)
def _held(limit: Limit, written: Written) -> Held | _Unread:
    """What a reading comes to against a limit; the same for every reading of the same texts."""
    if limit.wanted:
        return Held(_same_text(limit.wanted, written.value), f'"{written.value}"')
    read = _seen(written.measure, written.value, written.unit)
    if isinstance(read, _Unread):
        return read
    units = _units(limit, written, read)
    if isinstance(units, _Unread):
        return units
    mine, wanted = units
    factor = _factor_at_nut(mine, written)
    if isinstance(factor, _Unread):
        return factor
    at_nut = read.number.value * factor
    value = converted(at_nut, mine, wanted)
    slack = Fraction(0)
    if factor != 1 or mine != wanted:
        half = read.number.step / 2 * factor
        slack = abs(converted(at_nut + half, mine, wanted) - value)
    within = _within(limit, read.number.relation, value, slack)
    if within is None:
        found = f'reading "{read.number.text}" does not show whether "{limit.text}" is met'
        remedy = "measure again within the range of the instrument, and record the number"
        return _Unread(Unclear(found, remedy), ("value", LIMITS))
    said = [_written(read)]
    if mine != wanted or factor != 1:
        tolerance = f" (± {shown(slack, slack)} for its last digit)" if slack else ""
        place = "which is" if factor == 1 else "which with the extension is at the nut"
        said.append(f"{place} {shown(value, 2 * slack)} {limit.unit}{tolerance}")
    return Held(within, ", ".join(said))


def _written(read: Seen) -> str:
    """A reading as written, with its unit once."""
    return f"{read.number.text} {read.unit}".strip()


def _units(limit: Limit, written: Written, read: Seen) -> tuple[Unit, Unit] | _Unread:
    """The unit of the reading and that of its limit, where they measure the same."""
    mine, wanted = read_unit(read.unit), read_unit(limit.unit)
    if same_unit(read.unit, limit.unit) or _is_count_of(written.key, limit, read.unit):
        same = mine if isinstance(mine, Unit) else COUNT
        return same, same
    what = f"{written.measure or limit.measure or 'reading'} {written.value}".strip()
    column = "unit" if written.unit else "value"
    if not compact(limit.unit):
        found = f'{what} is in "{read.unit}", and its limit "{limit.text}" has no unit'
        return _Unread(Unclear(found, "write the unit of the limit"), (LIMITS, column))
    if not compact(read.unit):
        found = f'{what} has no unit, and its limit is "{limit.text}"'
        remedy = "write the unit in which it was read"
        return _Unread(Unclear(found, remedy), (column, LIMITS))
    if not isinstance(mine, Unit) or not isinstance(wanted, Unit):
        strange = read.unit if not isinstance(mine, Unit) else limit.unit
        found = (
            f'{what} is in "{read.unit}" and its limit in "{limit.unit}"; "{strange}" is no unit'
        )
        remedy = f'write it in "{limit.unit}", as the limit is, or correct the spelling of the unit'
        return _Unread(Unclear(f"{found} that is known", remedy), (column, LIMITS))
    if mine.quantity != wanted.quantity:
        found = (
            f'{what} is in "{read.unit}", which measures {mine.quantity}; its limit '
            f'"{limit.text}" measures {wanted.quantity}'
        )
        remedy = f'correct the unit, or record the {wanted.quantity} in "{limit.unit}"'
        return _Unread(Unclear(found, remedy), (column, LIMITS))
    return mine, wanted


def _factor_at_nut(mine: Unit, written: Written) -> Fraction | _Unread:
    """What the nut saw for each unit on the wrench; only torque goes through an extension."""
    if mine.quantity != TORQUE and not (mine == COUNT and written.key in ("", TORQUE)):
        return Fraction(1)
    found = correction(written.extension, written.wrench_length)
    if found.unclear is not None:
        return _Unread(found.unclear, (found.column, "value"))
    return found.factor


def _within(limit: Limit, relation: str, value: Fraction, slack: Fraction) -> bool | None:
    """Whether a value is within the bounds; None when "> 500" does not tell."""
    low = limit.low is None or _reaches(value + slack, limit.low, limit.above_low, slack)
    high = limit.high is None or _reaches(-value + slack, -limit.high, limit.below_high, slack)
    if relation == ">":
        if limit.high is None and limit.low is not None and value >= limit.low:
            return True
        return None if high else False
    if relation == "<":
        if limit.low is None and limit.high is not None and value <= limit.high:
            return True
        return None if low else False
    return low and high


def _reaches(value: Fraction, bound: Fraction, beyond: bool, slack: Fraction) -> bool:
    """Whether a value is at the bound or above; above it where the bound itself is outside."""
    return value > bound if beyond and not slack else value >= bound


def _same_text(wanted: str, value: str) -> bool:
    answer = words.yes_no(wanted)
    if answer is not None and words.yes_no(value) is not None:
        return answer == words.yes_no(value)
    return folded(wanted) == folded(value)


def _is_count_of(key: str, limit: Limit, unit: str) -> bool:
    """Whether the one unit only repeats what is counted: "threads >= 1", and 2 "threads"."""
    counted = {key, limit.key} - {""}
    ours, theirs = measure_key(compact(unit)), measure_key(compact(limit.unit))
    return (ours in counted and not theirs) or (theirs in counted and not ours)
