"""Where each connection stands: listed, placed, made, inspected."""

from collections import defaultdict
from enum import StrEnum
from functools import lru_cache
from typing import NamedTuple

from joinmatrix.assembly.day_order import in_order
from joinmatrix.assembly.model import UNKNOWN_PAST, Act, Assembly, Entry, Key


class State(StrEnum):
    """The steps of a connection, in order."""

    LISTED = "listed"
    PLACED = "placed"
    MADE = "made"
    INSPECTED = "inspected"


class Standing(NamedTuple):
    """Where one connection stands, by the latest acts that count.

    placed, made, inspected  the act that counts now; None when it is not done, or undone since
    lapsed    the latest inspection, when it was undone by an opening or a new making
    opened    the latest opening, when nothing has made the connection again since
    remade    makings that were recorded on top of a making, without an opening between
    history   every entry of the connection, earliest first
    """

    state: State = State.LISTED
    placed: Entry | None = None
    made: Entry | None = None
    inspected: Entry | None = None
    lapsed: Entry | None = None
    opened: Entry | None = None
    remade: tuple[Entry, ...] = ()
    history: tuple[Entry, ...] = ()


NOTHING_DONE = Standing()
# Acts of one moment happen in their natural order; an opening comes after what it opens.
_RANK = {Act.PLACED: 0, Act.MADE: 1, Act.MEASURED: 2, Act.INSPECTED: 3, Act.OPENED: 4}


def order_key(entry: Entry) -> tuple[int, float, int, int]:
    """Earliest first: by day or minute, then the shop's own number, then the natural order."""
    when = entry.when
    return (when.low, when.seq if when.seq is not None else 0.0, when.high, _RANK.get(entry.act, 0))


@lru_cache(maxsize=8)
def standings(assembly: Assembly) -> dict[Key, Standing]:
    """Where every connection with an entry stands; those without are `NOTHING_DONE`."""
    entries: defaultdict[Key, list[Entry]] = defaultdict(list)
    for entry in assembly.entries:
        if entry.subject == "connection":
            entries[entry.key].append(entry)
    found = dict.fromkeys(assembly.by_key, NOTHING_DONE)
    found.update((key, stand(same)) for key, same in entries.items() if key in found)
    return found


def stand(entries: list[Entry]) -> Standing:
    """Where the entries of one connection leave it."""
    if len(entries) == 2:
        making, inspection = entries
        if _plainly_in_order(making, inspection):
            both = (making, inspection)
            return Standing(State.INSPECTED, None, making, inspection, None, None, (), both)
    history = entries if len(entries) == 1 else _in_order(entries)
    placed: Entry | None = None
    made: Entry | None = None
    inspected: Entry | None = None
    lapsed: Entry | None = None
    opened: Entry | None = None
    remade: list[Entry] = []
    for entry in history:
        if entry.act is Act.PLACED:
            placed = entry
        elif entry.act is Act.MADE:
            if made is not None:
                remade.append(entry)
            if inspected is not None:
                lapsed, inspected = inspected, None
            made, opened = entry, None
        elif entry.act is Act.INSPECTED:
            inspected, lapsed = entry, None
        elif entry.act is Act.OPENED:
            if inspected is not None:
                lapsed, inspected = inspected, None
            placed = placed or made
            made, opened = None, entry
    return Standing(
        _state(placed, made, inspected),
        placed, made, inspected, lapsed, opened, tuple(remade), tuple(history),
    )  # fmt: skip


def _plainly_in_order(one: Entry, other: Entry) -> bool:
    """Made and then inspected: nearly all of a finished assembly, so it is worth a short way."""
    return (
        one.act is Act.MADE
        and other.act is Act.INSPECTED
        and (one.when.high < other.when.low or other.when.low == UNKNOWN_PAST)
    )


def _in_order(entries: list[Entry]) -> list[Entry]:
    """Earliest first. What follows a making and has no time of its own follows the first making."""
    history = in_order(entries)
    undated = [
        entry
        for entry in history
        if entry.when.low == UNKNOWN_PAST and entry.act not in (Act.PLACED, Act.MADE)
    ]
    makings = [number for number, entry in enumerate(history) if entry.act is Act.MADE]
    if not undated or not makings:
        return history
    first = history[makings[0]]
    dated = [entry for entry in history if entry not in undated]
    after = dated.index(first) + 1
    return dated[:after] + undated + dated[after:]


def _state(placed: Entry | None, made: Entry | None, inspected: Entry | None) -> State:
    if made is None:
        return State.PLACED if placed is not None else State.LISTED
    return State.INSPECTED if inspected is not None else State.MADE
