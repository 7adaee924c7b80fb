"""Readings of connections that should be alike, each within its limits and yet far apart.

The criterion: two readings of the same measure are far apart when they differ by more than half the
width of their limits (LOW..HIGH; the wider where they differ), or, where the limits have one bound
or there are none, by more than a quarter of the larger. A bare count is only held against limits
with two bounds. A reading outside its limits is a finding of its own and is left out here.
"""

from collections.abc import Iterable, Iterator, Mapping, Sequence
from fractions import Fraction
from itertools import combinations
from typing import NamedTuple

from joinmatrix.assembly.model import Assembly, Connection, Key
from joinmatrix.lists.table import Source
from joinmatrix.readings.compare import Seen, seen
from joinmatrix.readings.judge import Judgement, Outcome, judged
from joinmatrix.readings.limits import Limit
from joinmatrix.readings.record import Measurement, counting
from joinmatrix.readings.units import COUNT, Unit, compact, converted, read_unit, same_unit
from joinmatrix.readings.wrench import correction

OF_LIMITS = Fraction(1, 2)
OF_LARGER = Fraction(1, 4)


class Reading(NamedTuple):
    """One reading that counts, with the limit that it was held against, if there is one."""

    connection: Connection
    measurement: Measurement
    said: Seen
    limit: Limit | None


class Apart(NamedTuple):
    """Two readings that are far apart.

    measure  as written, "" where it is not named
    allowed  how far apart they might be, in words
    """

    one: Reading
    other: Reading
    measure: str
    allowed: str


def far_apart(assembly: Assembly, alike: Iterable[Sequence[Connection]]) -> Iterator[Apart]:
    """The two readings of each measure that are farthest apart, where that is too far.

    alike  connections that should be alike, set by set
    """
    readings = counting(assembly)
    if not readings:
        return
    of_reading = {
        (judgement.connection.key, judgement.measurement.source): judgement
        for judgement in judged(assembly)
        if judgement.measurement is not None
    }
    for members in alike:
        by_measure: dict[str, list[Reading]] = {}
        for member in members:
            for reading in _latest(member, readings.get(member.key, ()), of_reading):
                by_measure.setdefault(_measure(reading), []).append(reading)
        for same in by_measure.values():
            pairs = [
                (gap, apart)
                for one, other in combinations(same, 2)
                if one.connection.key != other.connection.key
                for gap, apart in _gap(one, other)
            ]
            if pairs:
                yield max(pairs, key=lambda pair: pair[0])[1]


def _latest(
    member: Connection,
    taken: Sequence[Measurement],
    of_reading: Mapping[tuple[Key, Source], Judgement],
) -> Iterator[Reading]:
    """The latest reading of each measure of a connection, where it is a number within limits."""
    latest = {each.key: each for each in taken}
    for each in latest.values():
        judgement = of_reading.get((member.key, each.source))
        if judgement is None or judgement.outcome is Outcome.WITHIN:
            said = seen(each)
            if isinstance(said, Seen) and not said.number.relation:
                yield Reading(member, each, said, judgement.limit if judgement else None)


def _measure(reading: Reading) -> str:
    """What was measured: as the reading says, else as the limit that it was held against."""
    return reading.measurement.key or (reading.limit.key if reading.limit else "")


def _gap(one: Reading, other: Reading) -> Iterator[tuple[Fraction, Apart]]:
    """How far apart two readings are, as a multiple of what is allowed, where it is too far."""
    unit = one.said.unit or other.said.unit
    values = [_in_unit(each, unit) for each in (one, other)]
    if values[0] is None or values[1] is None:
        return
    difference = abs(values[0] - values[1])
    widths = [width for each in (one, other) if (width := _width(each, unit)) is not None]
    if widths:
        allowed = max(widths) * OF_LIMITS
        words = "half the width of their limits"
    elif read_unit(unit) == COUNT:
        return
    else:
        allowed = max(abs(values[0]), abs(values[1])) * OF_LARGER
        words = "a quarter of the larger"
    if difference > allowed:
        measure = one.measurement.measure or (one.limit.measure if one.limit else "")
        ratio = difference / allowed if allowed else difference + 10**9
        yield ratio, Apart(one, other, measure, words)


def _in_unit(reading: Reading, unit: str) -> Fraction | None:
    """The value at the nut, in a unit; None where the two do not compare."""
    value = reading.said.number.value
    row = reading.measurement.source
    corrected = correction(row.text("extension"), row.text("wrench length"))
    if corrected.unclear is not None:
        return None
    return _converted(value * corrected.factor, reading.said.unit, unit)


def _width(reading: Reading, unit: str) -> Fraction | None:
    limit = reading.limit
    if limit is None or limit.low is None or limit.high is None:
        return None
    low, high = (_converted(value, limit.unit, unit) for value in (limit.low, limit.high))
    return None if low is None or high is None else high - low


def _converted(value: Fraction, given: str, wanted: str) -> Fraction | None:
    if not given or same_unit(given, wanted) or compact(given) == compact(wanted):
        return value
    mine, theirs = read_unit(given), read_unit(wanted)
    if isinstance(mine, Unit) and isinstance(theirs, Unit) and mine.quantity == theirs.quantity:
        return converted(value, mine, theirs)
    return None
