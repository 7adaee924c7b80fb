"""How two cells that ought to agree compare, once what they mean is known."""

from enum import StrEnum
from typing import NamedTuple


class Match(StrEnum):
    """Whether the two ends of a connection can mate, as far as the words tell."""

    FITS = "fits"
    UNSURE = "unsure"  # nothing speaks against it, and no table says that it fits
    DIFFERS = "differs"


class Comparison(NamedTuple):
    """What comparing two cells came to.

    why     a clause: the rule or table entry behind it; "" where the words are the same
    source  where that is published, "" when it needs no source
    sure    "seen", "second-hand" or "memory": how the entry came here
    """

    match: Match
    why: str = ""
    source: str = ""
    sure: str = ""


SAME = Comparison(Match.FITS)
