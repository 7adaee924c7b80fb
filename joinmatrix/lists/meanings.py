"""What a heading means: by its spelling, by the settings, or as a measure with a unit."""

import re
from collections.abc import Mapping, Sequence
from functools import lru_cache
from typing import NamedTuple

from joinmatrix.lists.headings import (
    COLUMNS,
    MEASURES,
    UNIT_COLUMNS,
    heading_key,
    without_brackets,
)
from joinmatrix.lists.settings import NO_SETTINGS, Settings
from joinmatrix.lists.table import ListKind

# Column -> the texts that may be its heading, best first: two lines joined, the lower, the upper.
Candidates = Mapping[int, Sequence[str]]


class Seen(NamedTuple):
    """A heading as it stands on the sheet.

    column   0-based
    meaning  the column of the design, "" for one that is not known
    sure     False when it is only taken for that for want of a better one
    unit     unit of the values, from the brackets of the heading
    measure  what a column of limits limits ("torque"), "" for all others
    bound    "min" or "max" when a column of limits has only that
    label    the side or joint that the column is about, in a matrix
    """

    column: int
    text: str
    meaning: str = ""
    sure: bool = True
    unit: str = ""
    measure: str = ""
    bound: str = ""
    label: str = ""

    @property
    def known(self) -> bool:
        """Whether the column is read."""
        return bool(self.meaning)


def seen_as(
    headings: Candidates, kind: ListKind, settings: Settings = NO_SETTINGS
) -> tuple[Seen, ...]:
    """What each heading means if the list is of that kind, from left to right."""
    return tuple(
        _seen(column, tuple(headings[column]), kind, settings) for column in sorted(headings)
    )


@lru_cache(maxsize=1 << 14)
def _seen(column: int, texts: tuple[str, ...], kind: ListKind, settings: Settings) -> Seen:
    for text in texts:
        found = _meaning(text, kind, settings)
        if found is not None:
            return found._replace(column=column)
    return Seen(column, texts[0])


def _meaning(text: str, kind: ListKind, settings: Settings) -> Seen | None:
    """The meaning of one text, with what it has in brackets or else without."""
    said = settings.meaning(text, kind)
    if said is not None:
        return Seen(0, text, said, unit=_unit_beside(text, said))
    index = _index(kind)
    if found := index.get(heading_key(text)):
        return Seen(0, text, *found)
    name, aside = without_brackets(text)
    if found := index.get(heading_key(name)) if aside else None:
        unit = aside if found[0] in UNIT_COLUMNS else ""
        return Seen(0, text, *found, unit=unit)
    return _measure(text) if kind is ListKind.CONNECTIONS else None


def _unit_beside(text: str, meaning: str) -> str:
    """The unit in the brackets of a heading that the settings explain."""
    aside = without_brackets(text).aside
    is_unit = meaning in UNIT_COLUMNS or (meaning == "limits" and _UNIT.fullmatch(aside))
    return aside if is_unit else ""


def _measure(text: str) -> Seen | None:
    """A column of limits for one measure, as "Torque (Nm)", "Torque min" or "min. gap [mm]" is."""
    name, aside = without_brackets(text)
    words = name.lower().replace(".", " ").replace(",", " ").split()
    bound = ""
    for spelt, meant in _BOUNDS.items():
        if spelt in words:
            bound = meant
            words.remove(spelt)
    measure = " ".join(word for word in words if word != "limits")
    if heading_key(measure) not in MEASURES:
        return None
    return Seen(0, text, "limits", unit=aside, measure=measure, bound=bound)


_UNIT = re.compile(r"[^\s\d;,]{1,10}")  # "Nm", "in-lbf"; not "see sheet 2"
_BOUNDS = {"min": "min", "minimum": "min", "max": "max", "maximum": "max"}


@lru_cache(maxsize=len(ListKind))
def _index(kind: ListKind) -> Mapping[str, tuple[str, bool]]:
    """Heading key -> column and whether it is sure, for one kind of list."""
    loose = {key: (name, False) for name, each in COLUMNS[kind].items() for key in each.loose}
    sure = {key: (name, True) for name, each in COLUMNS[kind].items() for key in each.sure}
    return {**loose, **sure}


@lru_cache(maxsize=1)
def any_meaning() -> frozenset[str]:
    """The keys of all sure headings of all lists."""
    return frozenset(
        key for columns in COLUMNS.values() for each in columns.values() for key in each.sure
    )


@lru_cache(maxsize=1 << 14)
def may_be_heading(text: str, settings: Settings = NO_SETTINGS) -> bool:
    """Whether a text is spelt like a heading of some list."""
    return any(_meaning(text, kind, settings) is not None for kind in ListKind)
