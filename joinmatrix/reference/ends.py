"""End forms: which of them mate, in `ends.csv`, each with its source and how sure it is.

A form belongs to a family (pin and socket are contacts, fork and eye are links). Two ends are
compared family by family: "plug, sockets" takes "receptacle, pins". A family that only one end
names decides nothing.
"""

import re
from collections.abc import Mapping
from functools import lru_cache
from typing import NamedTuple

from joinmatrix.names import folded
from joinmatrix.reference.marks import plain
from joinmatrix.reference.match import Comparison, Match
from joinmatrix.reference.tables import rows


class Form(NamedTuple):
    """One end form.

    family  what it is a kind of; ends of one family are compared
    mate    the form that it takes; itself for flanges, flares and their like
    """

    name: str
    family: str
    mate: str
    sure: str
    source: str


class End(NamedTuple):
    """What the words of an end come to.

    forms  family -> form
    rest   words that no table has, in reading order
    """

    forms: Mapping[str, Form]
    rest: tuple[str, ...]


# Words that name no form: "fork end", "male fitting".
_NOISE = frozenset(
    ("a", "an", "and", "connector", "deg", "end", "fitting", "form", "half", "nut", "of", "the",
     "thread", "threaded", "tube", "type", "with")
)  # fmt: skip
_DISTINCT = re.compile(r"\b(?:nut|tube)\b|\+|(?<!\S)-(?!\S)")
_LETTERS = {"p": "pin", "s": "socket", "m": "male", "f": "female"}
_WORDS = re.compile(r"[^\W\d_]+|\d+")
_DEGREES = re.compile(r"°|\bdegrees?\b|\bdegs\b")
# A known form of one of these never takes a known form of another.
_APART = ({"contact", "shell"}, {"link"}, {"tube"})


@lru_cache(maxsize=1)
def forms() -> Mapping[str, Form]:
    """The forms by name."""
    return {
        row["form"]: Form(row["form"], row["family"], row["mate"], row["sure"], row["source"])
        for row in rows("ends.csv")
    }


@lru_cache(maxsize=1)
def _spellings() -> tuple[tuple[re.Pattern[str], Form], ...]:
    """A pattern for each spelling, the longest first, so that "flare 37 deg" is taken whole."""
    spelt = [
        (spelling, forms()[row["form"]])
        for row in rows("ends.csv")
        for spelling in row["spellings"].split(";")
    ]
    spelt.sort(key=lambda each: len(each[0]), reverse=True)
    return tuple((re.compile(rf"\b{spelling}\b"), form) for spelling, form in spelt)


@lru_cache(maxsize=1 << 14)
def read_end(text: str) -> End:
    """What the words of an end come to."""
    words = " ".join(_WORDS.findall(_DEGREES.sub(" deg ", plain(text))))
    words = _LETTERS.get(words, words)
    designated = words.endswith(" a")  # "type A"; before a word it is the article
    found: dict[str, Form] = {}
    for pattern, form in _spellings():
        words, count = pattern.subn(" ", words)
        if count and found.setdefault(form.family, form) is not form:
            return End({}, (folded(text),))  # "pin or socket": it says two things
    rest = [word for word in words.split() if word not in _NOISE]
    if designated:
        rest.append("a")
    return End(found, tuple(rest))


@lru_cache(maxsize=1 << 14)
def canonical(text: str) -> str:
    """One text for all spellings of an end.

    What stands at the end, and the sign of a pole, count where they are written, though they
    decide nothing about mating: "flare 37 nut", "pin +".
    """
    end = read_end(text)
    said = (*sorted(form.name for form in end.forms.values()), *end.rest)
    return " ".join((*said, *_DISTINCT.findall(plain(text)))) or folded(text)


@lru_cache(maxsize=1 << 14)
def compare(one: str, other: str) -> Comparison:
    """Whether two ends mate."""
    ours, theirs = read_end(one), read_end(other)
    mine, facing = _flare_of(ours), _flare_of(theirs)
    if mine is not None and facing is not None and mine is not facing:
        why = f"{mine.name} takes {mine.mate}, not {facing.name}"
        return Comparison(Match.DIFFERS, why, mine.source, mine.sure)
    shared = [family for family in ours.forms if family in theirs.forms]
    for family in shared:
        form, facing = ours.forms[family], theirs.forms[family]
        if form.mate != facing.name:
            why = f"{form.name} takes {form.mate}, not {facing.name}"
            return Comparison(Match.DIFFERS, why, form.source, form.sure)
    if not shared and _are_apart(ours, theirs):
        why = f'"{one}" and "{other}" are ends of different kinds of connection'
        return Comparison(Match.DIFFERS, why, "general trade usage", "memory")
    if shared and ours.rest == theirs.rest:
        form = ours.forms[shared[0]]
        return Comparison(Match.FITS, f"{form.name} takes {form.mate}", form.source, form.sure)
    return Comparison(Match.UNSURE, "no table says whether these two ends mate")


def _flare_of(end: End) -> Form | None:
    """The flare of an end, also of one that says nothing but an angle at which tubes are flared.

    What is no flare can stand at such an angle, too, so the angle alone proves nothing more.
    """
    if end.forms:
        named = end.forms.get("tube")
        return named if named in _flares().values() else None
    return _flares().get(" ".join(end.rest))


@lru_cache(maxsize=1)
def _flares() -> Mapping[str, Form]:
    """The flares by their angle."""
    return {
        name.removeprefix("flare "): form
        for name, form in forms().items()
        if name.startswith("flare ")
    }


def _are_apart(ours: End, theirs: End) -> bool:
    return any(
        one & ours.forms.keys() and other & theirs.forms.keys()
        for one in _APART
        for other in _APART
        if one is not other
    )
