"""The acts that count now: what was undone since says nothing about how a connection stands."""

from joinmatrix.assembly.day_order import in_order
from joinmatrix.assembly.model import Act, Entry, Moment
from joinmatrix.assembly.standing import Standing

_DAY = 24 * 60  # minutes


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
    return in_order([made, *since]) if since else [made]


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
