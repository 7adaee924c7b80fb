"""The order of a connection's acts, where some have a time of day and others only a date.

Acts with a time keep their order. On a day where every act has the shop's running number, and not
every one a time, the numbers decide. Else an act without a time stands where it naturally belongs:
placed, made, measured, inspected, opened; on a day that begins with the connection made, an
opening comes before the making that follows it.
"""

from collections.abc import Iterable
from itertools import groupby

from joinmatrix.assembly.model import Act, Entry

_DAY = 24 * 60  # minutes
_RANK = {Act.PLACED: 0, Act.MADE: 1, Act.MEASURED: 2, Act.INSPECTED: 3, Act.OPENED: 4}


def in_order(entries: Iterable[Entry]) -> list[Entry]:
    """The acts on one connection, earliest first."""
    ordered: list[Entry] = []
    made = False
    for _, day in groupby(sorted(entries, key=_by_time), key=_day_of):
        today = list(day)
        ordered += today if len(today) == 1 else _of_day(today, made)
        for entry in reversed(ordered):
            if entry.act in (Act.MADE, Act.OPENED):
                made = entry.act is Act.MADE
                break
    return ordered


def _day_of(entry: Entry) -> int:
    return entry.when.low // _DAY


def _by_time(entry: Entry) -> tuple[int, float, int, int]:
    when = entry.when
    return (when.low, when.seq if when.seq is not None else 0.0, when.high, _RANK.get(entry.act, 0))


def _of_day(today: list[Entry], made: bool) -> list[Entry]:
    timed = [entry for entry in today if entry.when.low == entry.when.high]
    if len(timed) == len(today):
        return today
    if all(entry.when.seq is not None for entry in today):
        return sorted(today, key=lambda entry: (entry.when.seq or 0.0, _RANK.get(entry.act, 0)))
    untimed = [entry for entry in today if entry.when.low != entry.when.high]
    opened_first = made and {Act.OPENED, Act.MADE} <= {entry.act for entry in untimed}
    untimed.sort(
        key=lambda entry: (
            -1 if opened_first and entry.act is Act.OPENED else _RANK.get(entry.act, 0)
        )
    )
    if not timed:
        return untimed
    for entry in untimed:
        timed.insert(_where(entry, timed, made), entry)
    return timed


def _where(entry: Entry, others: list[Entry], made: bool) -> int:
    """Where an act without a time belongs among those of its day."""
    acts = [other.act for other in others]
    if entry.act is Act.OPENED:
        return acts.index(Act.MADE) if made and Act.MADE in acts else len(acts)
    if entry.act is Act.MADE and Act.OPENED in acts:
        last = len(acts) - 1 - acts[::-1].index(Act.OPENED)
        if Act.MADE not in acts[last:] and (made or Act.MADE in acts[:last]):
            return last + 1
    rank = _RANK.get(entry.act, 0)
    earlier = [
        number
        for number, act in enumerate(acts)
        if act is not Act.OPENED and _RANK.get(act, 0) <= rank
    ]
    return earlier[-1] + 1 if earlier else 0
