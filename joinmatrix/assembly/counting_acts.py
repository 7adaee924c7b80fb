"""The acts that count now: what was undone since says nothing about how a connection stands."""

from collections.abc import Iterable
from itertools import groupby

from joinmatrix.assembly.model import Act, Entry, Moment
from joinmatrix.assembly.standing import Standing

_DAY = 24 * 60  # minutes
_ORDER = {Act.PLACED: 0, Act.MADE: 1, Act.MEASURED: 2, Act.INSPECTED: 3, Act.OPENED: 4}


def since_making(standing: Standing) -> list[Entry]:
    """The making that counts, with the measuring and inspecting since, earliest first."""
    made = standing.made
    if made is None:
        return []
    since = [
        entry
        for entry in standing.history
        if entry.act in (Act.MEASURED, Act.INSPECTED) and not surely_before(entry.when, made.when)
    ]
    return in_order([made, *since])


def counting_acts(standing: Standing) -> list[Entry]:
    """Placing, making, measuring and inspecting as far as they count, and every opening.

    An opening is part of how a connection came to be as it is, even when it was made again since.
    """
    acts = since_making(standing)
    placed = standing.placed
    if placed is not None and placed.act is Act.PLACED:
        acts.insert(0, placed)
    return acts + [entry for entry in standing.history if entry.act is Act.OPENED]


def surely_before(one: Moment, other: Moment) -> bool:
    """Whether the record shows one moment before another.

    The shop's running number decides on one day, when a time is missing.
    """
    if one.high < other.low:
        return True
    if one.seq is None or other.seq is None or (one.low == one.high and other.low == other.high):
        return False
    return one.low // _DAY == other.low // _DAY and one.seq < other.seq


def in_order(entries: Iterable[Entry]) -> list[Entry]:
    """Entries earliest first; on a day with a time missing, by running number or natural order."""
    by_day = sorted(entries, key=lambda entry: entry.when.low // _DAY)
    ordered: list[Entry] = []
    for _, day in groupby(by_day, key=lambda entry: entry.when.low // _DAY):
        same = list(day)
        if all(entry.when.low == entry.when.high for entry in same):
            same.sort(key=lambda entry: (entry.when.low, _ORDER.get(entry.act, 0)))
        elif all(entry.when.seq is not None for entry in same):
            same.sort(key=lambda entry: entry.when.seq or 0.0)
        else:
            same.sort(key=lambda entry: (_ORDER.get(entry.act, 0), entry.when.low))
        ordered.extend(same)
    return ordered
