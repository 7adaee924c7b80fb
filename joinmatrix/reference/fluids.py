"""What a fluid line can carry: the functions of `fluid_functions.csv`, and the words for them."""

import re
from functools import lru_cache

from joinmatrix.names import folded
from joinmatrix.reference.tables import rows

# Words by which shops call lines of these functions, beside the functions themselves.
_SHOP_WORDS = (
    *("hyd", "brake", "oil", "lube", "air", "bleed", "pitot", "static", "vacuum", "nitrogen"),
    *("oxygen", "o2", "water", "glycol", "coolant", "steam", "gas", "refrigerant", "deice"),
    *("pneumatic", "inerting", "drain", "vent", "hose", "pipe", "piping", "tubing", "impulse"),
)


@lru_cache(maxsize=1)
def fluid_functions() -> tuple[str, ...]:
    """The functions of a fluid line; a conduit carries cables and is none."""
    return tuple(
        row["function"]
        for row in rows("fluid_functions.csv")
        if row["function"] != "electrical conduit"
    )


@lru_cache(maxsize=1)
def _pattern() -> re.Pattern[str]:
    words = sorted({*fluid_functions(), *_SHOP_WORDS, "hydraulics"}, key=len, reverse=True)
    return re.compile(rf"\b(?:{'|'.join(map(re.escape, words))})\b")


@lru_cache(maxsize=1 << 14)
def is_fluid(text: str) -> bool:
    """Whether a type or service names something that flows."""
    return bool(_pattern().search(folded(text)))
