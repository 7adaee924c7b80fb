"""Whether the two ends of each connection can mate: its sizes, end forms and keys."""

from collections.abc import Callable, Iterator
from functools import lru_cache
from operator import attrgetter
from typing import NamedTuple

from joinmatrix.assembly.model import Assembly, Connection, Key
from joinmatrix.reference import ends, keys, sizes
from joinmatrix.reference.match import Comparison, Match


class Ends(NamedTuple):
    """Two cells of one connection that do not plainly fit each other.

    what        "size", "end" or "key"
    comparison  why they do not fit, or why nobody can tell
    """

    what: str
    one: str
    other: str
    connection: Connection
    comparison: Comparison

    @property
    def columns(self) -> tuple[str, str]:
        """The columns of the two cells."""
        return f"from {self.what}", f"to {self.what}"


def _compare_keys(one: str, other: str, size: str) -> Comparison:
    return keys.compare(one, other, sizes.shell_of(size) if size else None)


_COMPARE: dict[str, Callable[[str, str, str], Comparison]] = {
    "size": sizes.compare,
    "end": lambda one, other, _: ends.compare(one, other),
    "key": _compare_keys,
}

_CELLS = attrgetter("from_size", "to_size", "from_end", "to_end", "from_key", "to_key")


@lru_cache(maxsize=8)
def doubtful_ends(assembly: Assembly) -> tuple[Ends, ...]:
    """Ends that cannot mate, and ends that no table knows; in reading order.

    A blank says nothing, and columns on which the lists disagree are left to the disagreement.
    """
    known: dict[tuple[str, ...], tuple[tuple[str, str, str, Comparison], ...]] = {}
    found = []
    for connection in assembly.connections:
        cells = _CELLS(connection)
        doubts = known.get(cells)
        if doubts is None:
            doubts = known[cells] = tuple(_doubts(*cells))
        for what, one, other, comparison in doubts:
            pair = Ends(what, one, other, connection, comparison)
            if not connection.disputed.intersection(pair.columns):
                found.append(pair)
    return tuple(found)


def _doubts(
    from_size: str, to_size: str, from_end: str, to_end: str, from_key: str, to_key: str
) -> Iterator[tuple[str, str, str, Comparison]]:
    """What is compared, the two cells, and why they do not plainly fit."""
    for what, one, other, hint in (
        ("size", from_size, to_size, from_end),
        ("end", from_end, to_end, ""),
        ("key", from_key, to_key, from_size),
    ):
        if not one or not other or (one == other and what == "size"):
            continue
        comparison = _COMPARE[what](one, other, hint)
        if comparison.match is not Match.FITS:
            yield what, one, other, comparison


@lru_cache(maxsize=8)
def cannot_mate(assembly: Assembly) -> frozenset[tuple[Key, str]]:
    """Connections and columns ("from size") that are told as ends that cannot mate."""
    return frozenset(
        (pair.connection.key, column)
        for pair in doubtful_ends(assembly)
        if pair.comparison.match is Match.DIFFERS
        for column in pair.columns
    )
