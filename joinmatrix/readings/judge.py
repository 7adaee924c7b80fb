"""The readings of every connection against its limits."""

from collections import defaultdict
from collections.abc import Iterator
from enum import StrEnum
from functools import lru_cache
from typing import NamedTuple

from joinmatrix.assembly.model import Assembly, Connection
from joinmatrix.assembly.standing import standings
from joinmatrix.lists.table import Trouble
from joinmatrix.names import quoted_list
from joinmatrix.place import Place
from joinmatrix.readings.compare import UnclearReading, held_against, one_quantity
from joinmatrix.readings.limits import Limit, read_limits
from joinmatrix.readings.numbers import Unclear
from joinmatrix.readings.ranges import range_troubles
from joinmatrix.readings.record import Measurement, counting


class Outcome(StrEnum):
    """What came of holding a reading against its limit."""

    WITHIN = "within"
    OUTSIDE = "outside"
    MISSING = "missing"
    UNREADABLE = "unreadable"


class Judgement(NamedTuple):
    """One limit of one connection, and the reading that it was held against.

    measurement  None when there is none
    said         the reading in words, worked out where it had to be
    """

    connection: Connection
    limit: Limit
    outcome: Outcome
    measurement: Measurement | None = None
    said: str = ""


class _Result(NamedTuple):
    judgements: tuple[Judgement, ...]
    troubles: tuple[Trouble, ...]


def judged(assembly: Assembly) -> tuple[Judgement, ...]:
    """Every limit of every connection that is made, in reading order.

    A limit on which two lists disagree is left to the conflict. A limit that several readings of
    one moment answer is judged on each of them.
    """
    return _worked_out(assembly).judgements


def faults(assembly: Assembly) -> tuple[Trouble, ...]:
    """Limits, readings, extensions and tool ranges that cannot be understood or compared."""
    return _worked_out(assembly).troubles


@lru_cache(maxsize=8)
def _worked_out(assembly: Assembly) -> _Result:
    readings = counting(assembly)
    stand = standings(assembly)
    judgements: list[Judgement] = []
    troubles = _Troubles()
    for connection in assembly.connections:
        if not connection.limits or "limits" in connection.disputed:
            continue
        limits, unclear = read_limits(connection.limits)
        for each in unclear:
            troubles.add(connection, each, connection.cells("limits"), of_list=True)
        if stand[connection.key].made is None:
            continue
        taken = readings.get(connection.key, ())
        for limit, measurements in _assigned(connection, limits, taken, troubles):
            if not measurements:
                judgements.append(Judgement(connection, limit, Outcome.MISSING))
            judgements.extend(
                _judge(connection, limit, measurement, troubles) for measurement in measurements
            )
    return _Result(tuple(judgements), (*troubles.all(), *range_troubles(assembly.tools)))


class _Troubles:
    """Faults, gathered so that one cause is one fault.

    One text in a list column is one fault for a joint, however many rows repeat it; a reading of a
    "both" row is one fault for its sides.
    """

    def __init__(self) -> None:
        self._found: dict[tuple[object, ...], tuple[Unclear, list[Connection], dict[Place, None]]]
        self._found = {}

    def add(
        self,
        connection: Connection,
        unclear: Unclear,
        cells: tuple[Place, ...],
        *,
        of_list: bool = False,
    ) -> None:
        key = (connection.joint_key, unclear) if of_list else (connection.key.name, unclear, cells)
        _, connections, places = self._found.setdefault(key, (unclear, [], {}))
        connections.append(connection)
        places.update(dict.fromkeys(cells))

    def all(self) -> Iterator[Trouble]:
        for unclear, connections, places in self._found.values():
            first, *others = places
            yield Trouble(
                first,
                unclear.found,
                unclear.remedy,
                others=tuple(others),
                joint=connections[0].joint,
                sides=tuple(dict.fromkeys(each.side for each in connections)),
                connections=tuple(dict.fromkeys(each.id for each in connections)),
            )


def _assigned(
    connection: Connection,
    limits: tuple[Limit, ...],
    taken: tuple[Measurement, ...],
    troubles: _Troubles,
) -> Iterator[tuple[Limit, list[Measurement]]]:
    """Each limit with the latest readings of what it asks for.

    A reading that names no measure belongs to the only measure there is; a limit that names none
    takes what no other limit asks for.
    """
    keys = {limit.key for limit in limits}
    only = next(iter(keys)) if len(keys) == 1 else ""
    by_key: defaultdict[str, list[Measurement]] = defaultdict(list)
    for each in taken:
        by_key[(each.key or only) if each.key in keys or not each.key else ""].append(each)
    unnamed = [each for each in by_key[""] if not each.key] if "" not in keys else []
    for each in unnamed:
        named = quoted_list(dict.fromkeys(limit.measure for limit in limits))
        found = "this reading does not say what was measured, and there are several limits"
        unclear = Unclear(found, f"write {named} as its measure")
        troubles.add(connection, unclear, (each.place,))
    for limit in limits:
        mine = by_key[limit.key] if limit.key else _comparable(by_key[""], limit)
        if mine or not unnamed:  # perhaps the unnamed one is the reading that is missing
            yield limit, _latest(mine)


def _comparable(taken: list[Measurement], limit: Limit) -> list[Measurement]:
    """The readings that a limit without a measure can be held against, else all there are."""
    fitting = [each for each in taken if not each.key or one_quantity(each, limit)]
    return fitting or taken


def _latest(taken: list[Measurement]) -> list[Measurement]:
    """The readings of the latest act that has any; two of one act are both the latest."""
    return [each for each in taken if each.entry is taken[-1].entry]


def _judge(
    connection: Connection, limit: Limit, measurement: Measurement, troubles: _Troubles
) -> Judgement:
    held = held_against(limit, measurement, connection)
    if isinstance(held, UnclearReading):
        troubles.add(connection, *held)
        return Judgement(connection, limit, Outcome.UNREADABLE, measurement)
    outcome = Outcome.WITHIN if held.within else Outcome.OUTSIDE
    return Judgement(connection, limit, outcome, measurement, held.said)
