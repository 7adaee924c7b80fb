"""Titles between the rows of a list, which may give the joint or the side of those below."""

from bisect import bisect_right
from collections.abc import Iterator, Sequence
from typing import NamedTuple

from joinmatrix.lists.found import Found
from joinmatrix.lists.grid import Grid, Value
from joinmatrix.lists.supplied import Known, Title, is_label, title_of
from joinmatrix.lists.values import text_of

_LABELS_BEGIN = frozenset("jJiIsS \u00a0")  # "Joint:", "Interface:", "Side:"


class Section(NamedTuple):
    """A row between those of a list that is a title; shown is its text."""

    shown: str
    title: Title


def titles(grid: Grid, found: Found, known: Known) -> dict[int, Section]:
    """Rows of a list with one filled cell, or with labels and their values: index -> the title."""
    left, right = found.span
    columns = grid.columns[left : right + 1]
    result = {}
    for at in sorted({*_rows_without_type(grid, found), *_rows_of_labels(grid, found)}):
        values: list[Value] = [column[at] for column in columns if column[at] != ""]
        texts = [text for value in values if (text := text_of(value))]
        if _is_section(values, texts):
            result[at] = Section(" ".join(texts), title_of(texts, known))
    return result


def _is_section(values: Sequence[Value], texts: Sequence[str]) -> bool:
    if len(texts) == 1:
        return len(values) == 1 and isinstance(values[0], str)
    return bool(texts) and len(texts) % 2 == 0 and all(map(is_label, texts[::2]))


def _rows_without_type(grid: Grid, found: Found) -> Iterator[int]:
    """Rows of a list of connections that have no type, which every connection has."""
    at = found.columns["type"]
    column = grid.columns[at]
    covered: set[int] = set()
    for merge in grid.marks.merges:
        if merge.left == at + 1 and merge.bottom > merge.top:
            first, end = bisect_right(grid.rows, merge.top), bisect_right(grid.rows, merge.bottom)
            covered.update(range(first, end))
    return (
        row
        for row in range(found.heading + 1, found.end)
        if column[row] == "" and row not in covered
    )


def _rows_of_labels(grid: Grid, found: Found) -> Iterator[int]:
    """Rows with a cell such as "Joint:", whatever stands in the others."""
    left, right = found.span
    for at in range(left, right + 1):
        # The first letter is a quick look, for a column may have a hundred thousand names.
        labels = {
            each
            for each in grid.distinct[at]
            if isinstance(each, str) and each[:1] in _LABELS_BEGIN and is_label(each)
        }
        if labels:
            column = grid.columns[at]
            yield from (row for row in range(found.heading + 1, found.end) if column[row] in labels)
