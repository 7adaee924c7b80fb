"""Lines of a .csv that a quotation mark has taken into one cell.

An inch mark opens a quotation as well as a quotation mark does, and the next one closes it. What
stands between, be it ten rows, is then the text of one cell, and no reader finds a fault in that.
Where the lines within a cell are cut into as many cells as the list has, or hold what its columns
hold, they were rows.
"""

import re
from bisect import bisect_left
from collections.abc import Container, Iterator, Mapping, Sequence
from dataclasses import replace
from typing import NamedTuple

from joinmatrix.lists.grid import Grid, Value
from joinmatrix.lists.layout import Found
from joinmatrix.lists.meanings import may_be_heading
from joinmatrix.lists.settings import Settings
from joinmatrix.lists.table import Trouble
from joinmatrix.lists.work import ListWork

_BREAK = re.compile(r"\r\n|\r|\n")
_LONGEST_SHOWN = 60


class _Cell(NamedTuple):
    """A cell that takes several lines of the file.

    first  line of the file on which it begins
    """

    column: int
    first: int
    lines: Sequence[str]


def report_swallowed(work: ListWork) -> None:
    """Report the cells of a list that hold rows, and set their rows aside.

    What stands behind such a cell is the rest of another row, so none of it is used.
    """
    for row in sorted(work.grid.lines):
        index = bisect_left(work.rows, row)
        if index == len(work.rows) or work.rows[index] != row:
            continue
        for cell in _cells(work.grid, row):
            if _holds_rows(work, cell) or _holds_headings(work.grid, cell, work.settings):
                trouble = _trouble(work.grid, row, cell)
                heading = work.found.heading_of(cell.column)
                found = f"{heading}: {trouble.found}" if heading else trouble.found
                trouble = replace(trouble, found=f"{found}, and this row was not used")
                work.troubles.append(work.about(index, trouble))
                work.pass_over(index, f"its cell {trouble.place.cell} holds {_said(cell)}")


def swallowed_outside(grid: Grid, lists: Sequence[Found], settings: Settings) -> Iterator[Trouble]:
    """Cells outside all lists that hold the headings of one, and headings that hold rows."""
    if not grid.lines:
        return
    headed = {row: found for found in lists for row in grid.rows[found.top : found.heading + 1]}
    inside = {row for found in lists for row in grid.rows[found.heading + 1 : found.end]}
    for row in sorted(grid.lines.keys() - inside):
        for cell in _cells(grid, row):
            if (
                _is_cut_like(headed[row], cell, grid.separator)
                if row in headed
                else _holds_headings(grid, cell, settings)
            ):
                yield _trouble(grid, row, cell)


def _cells(grid: Grid, row: int) -> Iterator[_Cell]:
    """The cells of a row that hold line breaks."""
    at = bisect_left(grid.rows, row)
    first, _ = grid.lines[row]
    for column, values in enumerate(grid.columns):
        value = values[at]
        if isinstance(value, str) and ("\n" in value or "\r" in value):
            lines = _BREAK.split(value)
            yield _Cell(column, first, lines)
            first += len(lines) - 1


def _holds_rows(work: ListWork, cell: _Cell) -> bool:
    """Whether lines of the cell are cut as the headings are, or hold what the columns hold."""
    mark = work.grid.separator
    if _is_cut_like(work.found, cell, mark):
        return True
    known = {
        column: work.grid.distinct[column]
        for meaning, column in work.columns.items()
        if meaning != "remarks"
    }
    return any(_is_row(line.split(mark), known) for line in cell.lines[1:])


def _is_cut_like(found: Found, cell: _Cell, mark: str) -> bool:
    """Whether lines of the cell have about as many separators as the headings.

    Its first line is the end of one row, and its last line the beginning of another.
    """
    wanted = found.span[1]
    first, *between, last = (line.count(mark) for line in cell.lines)
    return wanted > 0 and max(first + last, *between, 0) * 4 >= wanted * 3


def _is_row(parts: Sequence[str], known: Mapping[int, Container[Value]]) -> bool:
    """Whether two cells of the line hold what the columns of the list hold in other rows."""
    texts = ((column, text.strip()) for column, text in enumerate(parts))
    return sum(bool(text) and text in known.get(column, ()) for column, text in texts) > 1


def _holds_headings(grid: Grid, cell: _Cell, settings: Settings) -> bool:
    """Whether one of the lines, cut at the separators, has the headings of a list."""
    return any(
        sum(may_be_heading(text.strip(), settings) for text in set(line.split(grid.separator))) > 1
        for line in cell.lines[1:]
    )


def _said(cell: _Cell) -> str:
    """The lines of the file that the cell has taken in."""
    first, last = cell.first + 1, cell.first + len(cell.lines) - 1
    return f"lines {first} to {last} of the file" if last > first else f"line {last} of the file"


def _trouble(grid: Grid, row: int, cell: _Cell) -> Trouble:
    shown = next(filter(str.strip, cell.lines[1:]))[:_LONGEST_SHOWN]
    return Trouble(
        grid.place(row, cell.column + 1),
        f'a quotation mark took {_said(cell)} into this cell ("{shown}"); nothing of that was read',
        "double the inch mark that opens the quotation, or write 3/4 in; where several lines are "
        "meant, write them as one",
    )
