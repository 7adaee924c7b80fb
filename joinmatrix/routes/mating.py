"""Whether the two ends of each connection can mate: its sizes, end forms and keys."""

from collections.abc import Callable
from functools import lru_cache
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


@lru_cache(maxsize=8)
def doubtful_ends(assembly: Assembly) -> tuple[Ends, ...]:
    """Ends that cannot mate, and ends that no table knows; in reading order.

    A blank says nothing, and columns on which the lists disagree are left to the disagreement.
    """
    known: dict[tuple[str, ...], Comparison] = {}
    found = []
    for connection in assembly.connections:
        for what, one, other, hint in (
            ("size", connection.from_size, connection.to_size, connection.from_end),
            ("end", connection.from_end, connection.to_end, ""),
            ("key", connection.from_key, connection.to_key, connection.from_size),
        ):
            if not one or not other or (one == other and what == "size"):
                continue
            comparison = known.get((what, one, other, hint))
            if comparison is None:
                comparison = known[what, one, other, hint] = _COMPARE[what](one, other, hint)
            if comparison.match is not Match.FITS:
                pair = Ends(what, one, other, connection, comparison)
                if not connection.disputed.intersection(pair.columns):
                    found.append(pair)
    return tuple(found)


@lru_cache(maxsize=8)
def cannot_mate(assembly: Assembly) -> frozenset[tuple[Key, str]]:
    """Connections and columns ("from size") that are told as ends that cannot mate."""
    return frozenset(
        (pair.connection.key, column)
        for pair in doubtful_ends(assembly)
        if pair.comparison.match is Match.DIFFERS
        for column in pair.columns
    )
