"""Headings that are repeated further down a list, or nearly."""

from joinmatrix.lists.found import Found
from joinmatrix.lists.grid import Grid
from joinmatrix.lists.headings import heading_key
from joinmatrix.lists.meanings import Seen, seen_as
from joinmatrix.lists.settings import NO_SETTINGS, Settings
from joinmatrix.lists.values import text_of


def differing(
    grid: Grid, found: Found, index: int, settings: Settings = NO_SETTINGS
) -> tuple[int, ...] | None:
    """The columns in which headings that are repeated further down are not those of the list.

    return  (): the same headings again; None: the row has not even half of them, so it is none
    """
    texts = _heading_texts(grid, found, index)
    headed = {each.column: each for each in found.seen}
    same = {at for at, each in headed.items() if _is_same(grid, found, each, texts.get(at, ""))}
    if len(same) * 2 <= len(headed):
        return None
    others = {at: text for at, text in texts.items() if at not in same}
    meant = seen_as({at: (text,) for at, text in others.items()}, found.kind, settings)
    return tuple(each.column for each in meant if _is_other(headed.get(each.column), each))


def _heading_texts(grid: Grid, found: Found, index: int) -> dict[int, str]:
    """The texts of a row in the span of a list, and as far beyond as no cell is blank."""
    row = grid.row(index)
    left, right = found.span
    while left and row[left - 1] != "":
        left -= 1
    while right + 1 < len(row) and row[right + 1] != "":
        right += 1
    texts = {at: " ".join(text_of(row[at]).split()) for at in range(left, right + 1)}
    return {at: text for at, text in texts.items() if text}


def _is_same(grid: Grid, found: Found, heading: Seen, text: str) -> bool:
    """Whether a text is a heading as written: as a whole, or one of its two lines."""
    column = grid.columns[heading.column]
    lines = (heading.text, *(text_of(column[at]) for at in {found.top, found.heading}))
    return bool(text) and heading_key(text) in map(heading_key, lines)


def _is_other(heading: Seen | None, text: Seen) -> bool:
    """Whether a text means something else than the heading of its column, if that has one."""
    if heading is None:
        return text.known
    return bool(heading.label) or _said(heading) != _said(text)


def _said(heading: Seen) -> tuple[str, ...]:
    return heading.meaning, heading.measure, heading.bound, heading.unit
