"""How names are compared: connections, ports, stages, people and tools.

Names match after trimming, collapsing spaces and folding case and Unicode form. Nothing more:
"1001" and "01001" are different names, and a Cyrillic letter is not the Latin one it looks like.
"""

import difflib
import re
import unicodedata
from collections import defaultdict
from collections.abc import Collection, Iterable, Mapping, Sequence
from functools import cached_property, lru_cache
from itertools import chain

# Zero-width space, joiners, soft hyphen, byte-order mark: nobody sees them, so nobody means them.
_INVISIBLE = dict.fromkeys(map(ord, "\u200b\u200c\u200d\u2060\u00ad\ufeff"))
_SPACES = re.compile(r"\s+")
_MANY_NAMES, _MANY_QUESTIONS = 400, 200
# Characters of a name in which one slip leaves too little for its likeness to be reckoned.
_SHORT = 3


@lru_cache(maxsize=1 << 16)
def folded(name: str) -> str:
    """The name as it is compared: trimmed, single spaces, no case, compatibility form (NFKC)."""
    if name.isascii():
        return " ".join(name.split()).lower()
    plain = unicodedata.normalize("NFKC", name).translate(_INVISIBLE)
    return unicodedata.normalize("NFKC", _SPACES.sub(" ", plain).strip().casefold())


def all_folded(names: Sequence[str]) -> list[str]:
    """Every name folded, in the same order. Plain names are folded all at once, as one text."""
    text = f"|{'|'.join(names)}|"
    plain = text.isascii() and text.isprintable() and text.count("|") == len(names) + 1
    if plain and not any(loose in text for loose in ("| ", " |", "  ")):
        return text[1:-1].lower().split("|") if names else []
    return [folded(name) for name in names]


def folds(names: Collection[str]) -> dict[str, str]:
    """Every name with its folded form."""
    return dict(zip(names, all_folded(tuple(names)), strict=True))


def nearest(name: str, known: Iterable[str], most: int = 3) -> list[str]:
    """Up to `most` of the known names that are most like the name, best first."""
    return _closest(folded(name), _by_fold(known), most)


def _by_fold(names: Iterable[str]) -> dict[str, str]:
    """Folded name -> the name as first written."""
    found: dict[str, str] = {}
    for name in names:
        found.setdefault(folded(name), name)
    return found


def _closest(name: str, pool: Mapping[str, str], most: int = 3) -> list[str]:
    close = difflib.get_close_matches(name, pool, n=most, cutoff=0.6)
    if len(name) <= _SHORT:
        near = {*close, *(each for each in pool if _one_apart(name, each))}
        close = sorted(near, key=lambda each: _unlikeness(name, each))[:most]
    return [pool[each] for each in close]


def _one_apart(name: str, other: str) -> bool:
    """Whether one character is changed, missing or added, and one at least is the same."""
    if len(name) == len(other):
        return sum(map(str.__ne__, name, other)) == 1 < len(name)
    short, long = sorted((name, other), key=len)
    return len(long) == len(short) + 1 and short in _shortened(long)


def _shortened(name: str) -> set[str]:
    """What is left of a name without one of its characters, if anything is."""
    return {name[:at] + name[at + 1 :] for at in range(len(name))} - {""}


def _unlikeness(name: str, other: str) -> tuple[float, bool, int, str]:
    """The likeness, then how far the names count on from each other: W6 is nearest to W5 and W7."""
    apart = sum(abs(ord(one) - ord(two)) for one, two in zip(name, other, strict=False))
    ratio = difflib.SequenceMatcher(None, other, name).ratio()
    return -ratio, name[:1] != other[:1], apart, other


class Nearest:
    """Finds the known names that are most like one that is not known, again and again.

    Likeness is slow to reckon, and a list can have a hundred thousand names: of many only those
    that begin or end alike are looked at, and for a short one those that one slip leads to. After
    many questions no more is answered: then a whole list is missing, and near names help nobody.
    """

    def __init__(self, known: Iterable[str]) -> None:
        self._written = _by_fold(known)
        self._asked: dict[str, list[str]] = {}

    def __call__(self, name: str) -> list[str]:
        """Up to three of the known names, best first; none after many questions."""
        name = folded(name)
        if name not in self._asked:
            if len(self._asked) >= _MANY_QUESTIONS:
                return []
            self._asked[name] = _closest(name, self._pool(name))
        return self._asked[name]

    def _pool(self, name: str) -> Mapping[str, str]:
        if len(self._written) <= _MANY_NAMES:
            return self._written
        near = {each for end in _ends(name) for each in self._by_ends.get(end, ())[:_MANY_NAMES]}
        if len(name) <= _SHORT:
            slips = (
                self._by_slip.get(each, ())[:_MANY_NAMES] for each in (name, *_shortened(name))
            )
            near.update(each for each in chain.from_iterable(slips) if _one_apart(name, each))
        return {each: self._written[each] for each in near}

    @cached_property
    def _by_ends(self) -> Mapping[str, list[str]]:
        found: defaultdict[str, list[str]] = defaultdict(list)
        for name in self._written:
            for end in _ends(name):
                found[end].append(name)
        return found

    @cached_property
    def _by_slip(self) -> Mapping[str, list[str]]:
        """Short names by what is left of them without one character, and by themselves."""
        found: defaultdict[str, list[str]] = defaultdict(list)
        for name in self._written:
            if len(name) <= _SHORT + 1:
                for each in (name, *_shortened(name)):
                    found[each].append(name)
        return found


def _ends(name: str) -> set[str]:
    return {name[:2], name[-2:]}


def quoted_list(names: Iterable[str], join: str = "or") -> str:
    """Names in quotes as a sentence lists them: "a", "b" or "c"; "" for none."""
    quoted = [f'"{name}"' for name in names]
    if len(quoted) < 2:
        return "".join(quoted)
    return f"{', '.join(quoted[:-1])} {join} {quoted[-1]}"
