"""How names are compared: connections, ports, stages, people and tools.

Names match after trimming, collapsing spaces and folding case and Unicode form. Nothing more:
"1001" and "01001" are different names, and a Cyrillic letter is not the Latin one it looks like.
"""

import difflib
import re
import unicodedata
from collections.abc import Collection, Iterable
from functools import lru_cache

# Zero-width space, joiners, soft hyphen, byte-order mark: nobody sees them, so nobody means them.
_INVISIBLE = dict.fromkeys(map(ord, "\u200b\u200c\u200d\u2060\u00ad\ufeff"))
_SPACES = re.compile(r"\s+")


@lru_cache(maxsize=1 << 16)
def folded(name: str) -> str:
    """The name as it is compared: trimmed, single spaces, no case, compatibility form (NFKC)."""
    if name.isascii():
        return " ".join(name.split()).lower()
    plain = unicodedata.normalize("NFKC", name).translate(_INVISIBLE)
    return unicodedata.normalize("NFKC", _SPACES.sub(" ", plain).strip().casefold())


def folds(names: Collection[str]) -> dict[str, str]:
    """Every name with its folded form. Plain names are folded all at once, as one text."""
    text = "|".join(names)
    plain = text.isascii() and text.isprintable() and text.count("|") == len(names) - 1
    if plain and not any(space in f"|{text}|" for space in ("| ", " |", "  ")):
        return dict(zip(names, text.lower().split("|"), strict=True))
    return {name: folded(name) for name in names}


def nearest(name: str, known: Iterable[str], most: int = 3) -> list[str]:
    """Up to `most` of the known names that are most like the name, best first."""
    by_fold: dict[str, str] = {}
    for each in known:
        by_fold.setdefault(folded(each), each)
    close = difflib.get_close_matches(folded(name), by_fold, n=most, cutoff=0.6)
    return [by_fold[each] for each in close]


def quoted_list(names: Iterable[str], join: str = "or") -> str:
    """Names in quotes as a sentence lists them: "a", "b" or "c"; "" for none."""
    quoted = [f'"{name}"' for name in names]
    if len(quoted) < 2:
        return "".join(quoted)
    return f"{', '.join(quoted[:-1])} {join} {quoted[-1]}"
