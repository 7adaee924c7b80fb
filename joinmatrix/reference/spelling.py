"""One text for all spellings of a cell that the published tables know to be equal."""

from collections.abc import Callable, Mapping
from functools import lru_cache

from joinmatrix.names import folded
from joinmatrix.reference import ends, keys, sizes

_CANONICAL: Mapping[str, Callable[[str], str]] = {
    "from size": sizes.canonical,
    "to size": sizes.canonical,
    "from end": ends.canonical,
    "to end": ends.canonical,
    "from key": keys.canonical,
    "to key": keys.canonical,
}


@lru_cache(maxsize=1 << 14)
def one_spelling(column: str, text: str) -> str:
    """A cell as it is compared: -8 and 1/2 in are one size, "pin" and "pins" one end.

    column  a column of connections; other columns than sizes, ends and keys are folded only
    return  "" for a blank, and for nothing else
    """
    plain = folded(text)
    canonical = _CANONICAL.get(column)
    return canonical(text) if canonical and plain else plain
