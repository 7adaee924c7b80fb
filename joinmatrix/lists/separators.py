"""What stands between the cells of a .csv: the mark at which its lines fall into headings."""

import csv
import io
import re
from collections.abc import Callable, Iterator, Sequence
from itertools import islice
from typing import NamedTuple

from joinmatrix.lists.headings import heading_key
from joinmatrix.lists.meanings import any_meaning, may_be_heading
from joinmatrix.lists.settings import NO_SETTINGS, Settings

HEAD = 1 << 16  # characters in which the separator is looked for

SEPARATORS = ",;\t|"
_NAMES = {",": "commas", ";": "semicolons", "\t": "tabs", "|": "bars"}
_SEP_LINE = re.compile(r'"?sep=([^\w"\r\n])"?[ \t]*(?:\r\n?|\n|$)', re.IGNORECASE)
_ROWS_LOOKED_THROUGH = 30  # filled rows at the top in which any spelling of a heading counts
_LONGEST_HEADING = 200


class Separator(NamedTuple):
    """What parts the cells of a .csv.

    skipped  lines at the top that name it and hold nothing else
    note     how it was chosen, "" where nobody would ask
    """

    mark: str
    skipped: int = 0
    note: str = ""


def separator_of(text: str, settings: Settings = NO_SETTINGS) -> Separator:
    """The separator of a file that begins with the text.

    The line of the headings decides, because a title or a rule can hold more commas than a list
    has columns. Where no separator gives headings, the one that a line has most of is taken.
    """
    line = _SEP_LINE.match(text)
    declared = line[1] if line else ""
    heads = _headings(text[line.end() :] if line else text, declared, settings)
    best = max(heads, key=lambda mark: heads[mark])
    if declared and (heads[declared] > 1 or heads[best] < 2):
        return Separator(declared, 1)
    if declared:
        note = f"the first line says that {named(declared)} separate the cells, but the headings"
        return Separator(best, 1, f"{note} are separated by {named(best)}, and so all was read")
    busiest = next(iter(heads))
    if heads[best] > 1 and best != busiest:
        return Separator(best, 0, f"cells are separated by {named(best)}, as the headings are")
    usual = busiest == ","
    return Separator(busiest, 0, "" if usual else f"cells are separated by {named(busiest)}")


def named(mark: str) -> str:
    """A separator as a note names it."""
    return _NAMES.get(mark, f'"{mark}"')


def _headings(text: str, declared: str, settings: Settings) -> dict[str, int]:
    """How many headings a line has at most with each separator; the likeliest separator first."""
    counts = _counted(text)
    marks = sorted(SEPARATORS, key=lambda each: -counts[each])
    marks = list(dict.fromkeys((*declared, *marks)))
    found = {mark: _most_headings(text, mark, settings) for mark in marks}
    if max(found.values()) > 1:
        return found
    return {mark: _most(rows_of(text, mark), _is_sure) for mark in marks}


def _counted(text: str) -> dict[str, int]:
    """How often each separator stands outside quotes in the first lines, most in one line."""
    most = dict.fromkeys(SEPARATORS, 0)
    for line in re.split(r"\r\n|\r|\n", text)[:30]:
        outside = re.sub(r'"[^"]*"', "", line)
        for each in SEPARATORS:
            most[each] = max(most[each], outside.count(each))
    return most


def _most_headings(text: str, mark: str, settings: Settings) -> int:
    rows = (row for row in rows_of(text, mark) if any(row))
    return _most(islice(rows, _ROWS_LOOKED_THROUGH), lambda cell: may_be_heading(cell, settings))


def _is_sure(text: str) -> bool:
    return heading_key(text) in any_meaning()


def _most(rows: Iterator[Sequence[str]], is_heading: Callable[[str], bool]) -> int:
    """The most different headings in one of the rows."""
    return max((sum(map(is_heading, _texts(row))) for row in rows), default=0)


def _texts(row: Sequence[str]) -> set[str]:
    texts = {" ".join(cell.split()) for cell in row if len(cell) < _LONGEST_HEADING}
    return texts - {""}


def rows_of(text: str, mark: str) -> Iterator[Sequence[str]]:
    """The rows of a text as far as they can be read with a separator."""
    try:
        yield from csv.reader(io.StringIO(text, newline=""), delimiter=mark, strict=True)
    except csv.Error:
        return
