"""Rows of a .csv that are the text of one cell.

An inch mark opens a quotation as well as a quotation mark does, and the next one closes it. What
stands between, be it ten rows, is then the text of one cell, and no reader finds a fault in that.
Where the lines within a cell are cut into as many cells as the list has, or hold what its columns
hold, they were rows. So is a line that has other separators than the headings have.
"""

import re
from collections.abc import Collection, Container, Iterable, Iterator, Mapping, Sequence
from dataclasses import replace

from joinmatrix.lists.found import Found
from joinmatrix.lists.grid import Grid, Value
from joinmatrix.lists.meanings import may_be_heading
from joinmatrix.lists.separators import SEPARATORS, named
from joinmatrix.lists.settings import Settings
from joinmatrix.lists.table import Trouble
from joinmatrix.lists.values import all_text
from joinmatrix.lists.work import ListWork

_BREAK = re.compile(r"\r\n|\r|\n")
_LONGEST_SHOWN = 60
_REMEDY = "double the inch mark that opens the quotation, or write 3/4 in"


def report_swallowed(work: ListWork) -> None:
    """Report the cells of a list that hold rows, and set their rows aside.

    What stands behind such a cell is the rest of another row, so none of it is used.
    """
    if not work.grid.lines:
        return
    for column in range(len(work.grid.columns)):
        bad: dict[Value, str] = dict.fromkeys(_holding_rows(work, column), "")
        heading = work.found.heading_of(column)
        for at in work.where(column, bad):
            trouble = _trouble(work.grid, work.start + at, column)
            found = f"{heading}: {trouble.found}" if heading else trouble.found
            trouble = replace(trouble, found=f"{found}, and this row was not used")
            work.troubles.append(work.about(at, trouble))
            taken = _lines_taken(work.grid, work.start + at, column)
            work.pass_over(at, f"its cell {trouble.place.cell} holds {taken}")


def report_joined(work: ListWork) -> None:
    """Report cells of a shorter row in which a quotation mark has joined several of its cells."""
    if not work.grid.widths:
        return
    wanted = work.grid.widths[work.found.heading]
    widths = work.grid.widths[work.start : work.found.end]
    if min(widths, default=wanted) >= wanted:
        return
    for column in range(len(work.grid.columns)):
        cells = work.where(column, _joined(work, column))
        bad = {
            at: found for at, found in cells.items() if widths[at] < wanted and at not in work.aside
        }
        work.troubles += work.troubles_at(column, bad.items(), _REMEDY, what="rows")
        for at in bad:
            work.pass_over(at, f"its cell {work.place(at, column).cell} holds several")


def _joined(work: ListWork, column: int) -> dict[Value, str]:
    """The texts of a column that hold, cut at the separators, what the next columns hold."""
    mark, known = work.grid.separator, _known(work)
    texts = work.grid.distinct[column]
    if not _any_holds(texts, mark):
        return {}
    heading = work.found.heading_of(column)
    return {
        text: f'{heading}: a quotation mark joined several cells to one ("{text[:_LONGEST_SHOWN]}")'
        ", so those behind it have moved to the left, and this row was not used"
        for text in texts
        if isinstance(text, str) and mark in text and _goes_on(text.split(mark), column, known)
    }


def _goes_on(parts: Sequence[str], column: int, known: Mapping[int, Container[Value]]) -> bool:
    behind = ((column + step, part.strip()) for step, part in enumerate(parts) if step)
    return any(text and text in known.get(at, ()) for at, text in behind)


def report_uncut(work: ListWork) -> None:
    """Report rows that another separator cuts into what the columns hold; they are in one cell."""
    column = work.found.span[0]
    for mark in SEPARATORS.replace(work.grid.separator, "") if work.grid.separated else "":
        cells = work.where(column, _cut_by(work, column, mark))
        bad = {at: found for at, found in cells.items() if len(work.filled(at)) == 1}
        remedy = f"separate its cells by {named(work.grid.separator)}, as the headings are"
        work.troubles += work.troubles_at(column, bad.items(), remedy, what="rows")
        for at in bad:
            work.pass_over(at, f"its cells are separated by {named(mark)}")


def _cut_by(work: ListWork, column: int, mark: str) -> dict[Value, str]:
    known = _known(work)
    texts = work.grid.distinct[column]
    if not _any_holds(texts, mark):
        return {}
    return {
        text: f'the cells of the row "{text[:_LONGEST_SHOWN]}" are separated by {named(mark)}, '
        "and those of the headings are not, so it was not used"
        for text in texts
        if isinstance(text, str) and mark in text and _is_row(text.split(mark), known)
    }


def _any_holds(texts: Collection[Value], mark: str) -> bool:
    """Whether one of many texts has the separator in it; a quick look before a long one."""
    words = all_text(texts) or ""
    return words.count(mark) > (len(texts) - 1 if mark == "|" else 0)


def _known(work: ListWork) -> dict[int, Container[Value]]:
    """What the columns of the list hold, of those in which words repeat."""
    columns = (column for meaning, column in work.columns.items() if meaning != "remarks")
    return {column: work.grid.distinct[column] for column in columns}


def swallowed_outside(grid: Grid, lists: Sequence[Found], settings: Settings) -> Iterator[Trouble]:
    """Cells outside all lists that hold the headings of one, and headings that hold rows."""
    if not grid.lines:
        return
    headed = {at: found for found in lists for at in range(found.top, found.heading + 1)}
    inside = {at for found in lists for at in range(found.heading + 1, found.end)}
    for column, known in enumerate(grid.distinct):
        texts = set(_of_several_lines(known))
        values = grid.columns[column] if texts else ()
        for at, value in enumerate(values):
            if value not in texts or at in inside:
                continue
            lines = _BREAK.split(str(value))
            if (
                _is_cut_like(headed[at], lines, column, grid.separator)
                if at in headed
                else _has_headings(lines, grid.separator, settings)
            ):
                yield _trouble(grid, at, column)


def _of_several_lines(values: Iterable[Value]) -> Iterator[str]:
    return (text for text in values if isinstance(text, str) and ("\n" in text or "\r" in text))


def _holding_rows(work: ListWork, column: int) -> Iterator[str]:
    """The different texts of a column that have taken rows, or the headings of a list, in."""
    mark, known = work.grid.separator, _known(work)
    for text in _of_several_lines(work.grid.distinct[column]):
        lines = _BREAK.split(text)
        if (
            _is_cut_like(work.found, lines, column, mark)
            or any(_is_row(line.split(mark), known) for line in lines[1:])
            or _has_headings(lines, mark, work.settings)
        ):
            yield text


def _is_cut_like(found: Found, lines: Sequence[str], column: int, mark: str) -> bool:
    """Whether the lines of a cell have about as many separators as the headings.

    Its first line is the end of one row. Its last line is the beginning of another, down to about
    the same column.
    """
    wanted = found.span[1]
    first, *between, last = (line.count(mark) for line in lines)
    ends = first + last if lines[-1].strip() and last * 2 >= column else 0
    return wanted > 0 and max(ends, *between, 0) * 4 >= wanted * 3


def _is_row(parts: Sequence[str], known: Mapping[int, Container[Value]]) -> bool:
    """Whether two cells of the line hold what the columns of the list hold in other rows."""
    texts = ((column, text.strip()) for column, text in enumerate(parts))
    return sum(bool(text) and text in known.get(column, ()) for column, text in texts) > 1


def _has_headings(lines: Sequence[str], mark: str, settings: Settings) -> bool:
    """Whether one of the lines, cut at the separators, has the headings of a list."""
    return any(
        sum(may_be_heading(text.strip(), settings) for text in set(line.split(mark))) > 1
        for line in lines[1:]
    )


def _lines_taken(grid: Grid, at: int, column: int) -> str:
    """The lines of the file that a cell has taken in."""
    before = _of_several_lines(each[at] for each in grid.columns[:column])
    first, _ = grid.lines[grid.rows[at]]
    first += 1 + sum(len(_BREAK.findall(text)) for text in before)
    last = first + len(_BREAK.findall(str(grid.columns[column][at]))) - 1
    return f"lines {first} to {last} of the file" if last > first else f"line {last} of the file"


def _trouble(grid: Grid, at: int, column: int) -> Trouble:
    lines = _BREAK.split(str(grid.columns[column][at]))
    shown = next(filter(str.strip, lines[1:]), "")[:_LONGEST_SHOWN]
    taken = _lines_taken(grid, at, column)
    return Trouble(
        grid.place(grid.rows[at], column + 1),
        f'a quotation mark took {taken} into this cell ("{shown}"); nothing of that was read',
        f"{_REMEDY}; where several lines are meant, write them as one",
    )
