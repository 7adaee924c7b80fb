"""Who signed for an act, and whether two names can be one person."""

import re
from collections.abc import Iterator
from functools import lru_cache

from joinmatrix.assembly.model import Entry
from joinmatrix.lists.ticks import is_nothing
from joinmatrix.names import folded
from joinmatrix.place import Place

_SEVERAL = re.compile(r"\s*[/;&+\n]\s*|\s+and\s+")
_PART = re.compile(r"[^\W\d_][^\s.,]*")
_BRACKETS = re.compile(r"\([^)]*\)|\[[^\]]*\]")
_INITIALS = re.compile(r"[^\W\d_]{2,4}")


def signers(entry: Entry) -> Iterator[tuple[str, Place]]:
    """Every name under an act, as written, with its cell; several in one cell are several."""
    found = False
    for row in entry.rows:
        column = "by" if not entry.tick else f"{entry.act} by"
        for name in names_in(row.text(column)):
            found = True
            yield name, row.place(column)
    if not found:  # initials in the tick itself, or a tick's name taken over by the record
        for name in names_in(entry.by):
            yield name, entry.cell("by")


@lru_cache(maxsize=1 << 12)
def names_in(text: str) -> tuple[str, ...]:
    """The persons whom a cell names: "A. Berg / M. Holm" are two, "Berg, A." is one, "-" none."""
    if is_nothing(text):
        return ()
    return tuple(name for part in _SEVERAL.split(text) if (name := part.strip()))


@lru_cache(maxsize=1 << 12)
def may_be_one(one: str, other: str) -> bool:
    """Whether two different spellings can be one person: a question, never an answer.

    Initial and surname ("J. Ruiz", "Jan Ruiz"), surname first ("Ruiz, Jan"), a surname alone, and
    initials alone ("JR").
    """
    mine, theirs = _parts(one), _parts(other)
    if not mine or not theirs:
        return False
    if len(mine) > len(theirs):
        one, mine, other, theirs = other, theirs, one, mine
    if len(mine) == 1:
        word = folded(one)
        letters = [part[0] for part in theirs]
        initials = _INITIALS.fullmatch(word) and len(theirs) > 1 and sorted(word) == sorted(letters)
        return bool(initials) or (len(word) > 1 and word in theirs)
    shared = [part for part in mine if len(part) > 1 and part in theirs]
    if not shared:
        return False
    return _fit(_without(mine, shared[-1]), _without(theirs, shared[-1]))


def _parts(name: str) -> list[str]:
    """The words of a name, folded; what stands in brackets is no part of it."""
    return _PART.findall(_BRACKETS.sub(" ", folded(name)))


def _without(parts: list[str], one: str) -> list[str]:
    at = parts.index(one)
    return parts[:at] + parts[at + 1 :]


def _fit(fewer: list[str], more: list[str]) -> bool:
    """Whether each of the words has a word of its own that it is, or whose initial it is."""
    left = list(more)
    for part in sorted(fewer, key=len, reverse=True):
        fitting = [
            each
            for each in left
            if part == each or (1 in (len(part), len(each)) and part[0] == each[0])
        ]
        if not fitting:
            return False
        left.remove(max(fitting, key=len))
    return True
