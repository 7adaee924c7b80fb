"""Cells merged down over several rows: read for every row where that is plainly meant, else told.

Only the top cell of a merge has a value. What says what the rows are, or what rule they obey,
holds for all of them. A limit, a date, a tick or a signature may do so or not: the rows below have
none until somebody writes it in each.
"""

from bisect import bisect_left, bisect_right
from collections import defaultdict
from collections.abc import Collection, Iterator, Sequence
from dataclasses import replace
from typing import NamedTuple

from joinmatrix.lists.headings import FILLED_DOWN, KEPT_AT_THE_TOP
from joinmatrix.lists.table import Trouble
from joinmatrix.lists.values import text_of
from joinmatrix.lists.work import MOST_TROUBLES, ListWork
from joinmatrix.place import column_letters

_MOST_NOTES = 10  # merged cells of a column that are noted singly
_UNMERGE = "unmerge the cells, and write it in each row that it is meant for"
_ACT = "act"  # a row without one is not used at all, so each row is told


class _Merged(NamedTuple):
    """A merge that begins in a row of the list.

    column  0-based
    top     index of its first row
    below   indices of its further rows that have nothing of their own in the column
    bottom  sheet row of its last row
    text    what stands in it
    """

    column: int
    top: int
    below: Sequence[int]
    bottom: int
    text: str


def fill_down(work: ListWork) -> None:
    """Give every row what is merged down over it, in columns where that is meant."""
    filled = _filled_columns(work)
    told: defaultdict[str, list[_Merged]] = defaultdict(list)
    for merged in _merged_down(work, filled):
        meaning = filled[merged.column]
        cells = work.cells[meaning]
        for at in merged.below:
            cells[at] = cells[merged.top]
        told[meaning].append(merged)
    for meaning, all_merged in told.items():
        _note_filled(work, meaning, all_merged)
    _report_rows_without_act(work)


def report_merged(work: ListWork) -> None:
    """Columns where a merge does not mean every row, once it is known which rows are used."""
    filled = _filled_columns(work)
    rivals = {each.column for others in work.found.rivals.values() for each in others}
    names = {
        each.column: each.meaning
        for each in work.found.seen
        if each.known and each.column not in rivals and each.column not in filled
    }
    unused = work.aside.keys() | work.blank
    told: defaultdict[int, list[_Merged]] = defaultdict(list)
    for merged in _merged_down(work, names):
        below = [at for at in merged.below if at not in unused]
        if below:
            told[merged.column].append(merged._replace(below=below))
    for column, all_merged in sorted(told.items()):
        if names[column] in KEPT_AT_THE_TOP:
            _note_kept(work, names[column], all_merged)
        else:
            _report_not_filled(work, names[column], all_merged)


def _filled_columns(work: ListWork) -> dict[int, str]:
    return {
        at: name for name, at in work.columns.items() if name in FILLED_DOWN and name in work.cells
    }


def _merged_down(work: ListWork, columns: Collection[int]) -> Iterator[_Merged]:
    """Merges with a value that reach down over rows without one, in some columns."""
    for merge in work.grid.marks.merges:
        column = merge.left - 1
        if merge.bottom == merge.top or column not in columns:
            continue
        first = bisect_left(work.rows, merge.top)
        last = bisect_right(work.rows, merge.bottom)
        if first == last or work.rows[first] != merge.top:
            continue
        values = work.raw(column)[first:last]
        below = [first + at for at, value in enumerate(values) if value == "" and at]
        if below and (text := text_of(values[0])):
            yield _Merged(column, first, below, merge.bottom, text)


def _note_filled(work: ListWork, meaning: str, all_merged: Sequence[_Merged]) -> None:
    for each in all_merged[:_MOST_NOTES]:
        words = f'{meaning} "{each.text}" is merged down to row {each.bottom} and read for each'
        work.note(work.place(each.top, each.column), words)
    if more := all_merged[_MOST_NOTES:]:
        words = f"{meaning}: {len(more):,} more merged cells were read for each of their rows"
        work.note(work.place(more[0].top, more[0].column), words)


def _note_kept(work: ListWork, meaning: str, all_merged: Sequence[_Merged]) -> None:
    first = all_merged[0]
    many = f", as are {len(all_merged) - 1:,} more below" if len(all_merged) > 1 else ""
    words = (
        f"{meaning}: the cell is merged down to row {first.bottom}, and kept with row "
        f"{work.rows[first.top]} alone{many}"
    )
    work.note(work.place(first.top, first.column), words)


def _report_rows_without_act(work: ListWork) -> None:
    """Rows of a record that are not used, because their act is merged from a row above."""
    at = work.columns.get(_ACT)
    if at is None or _ACT not in work.cells:
        return
    bad: dict[int, str] = {}
    for merged in _merged_down(work, {at}):
        words = f'the cell is merged into "{merged.text}" above it ({_cells(work, merged)}), so '
        bad.update(dict.fromkeys(merged.below, f"{words}the row has no {_ACT}"))
    if bad:
        work.report(_ACT, bad, _UNMERGE, column=at)


def _report_not_filled(work: ListWork, meaning: str, all_merged: Sequence[_Merged]) -> None:
    for each in all_merged[:MOST_TROUBLES]:
        work.troubles.append(_not_filled(work, meaning, each))
    if more := all_merged[MOST_TROUBLES:]:
        found = f"{meaning}: {len(more):,} more merged cells like those above"
        place = work.place(more[0].top, more[0].column)
        work.troubles.append(Trouble(place, found, _UNMERGE))


def _not_filled(work: ListWork, meaning: str, merged: _Merged) -> Trouble:
    """One trouble for a merge, about the rows that have nothing by it."""
    top = work.rows[merged.top]
    found = (
        f'{meaning}: "{merged.text}" is merged down ({_cells(work, merged)}); it was read for row '
        f"{top} alone, for nothing tells whether each row has it"
    )
    place = work.place(merged.top, merged.column)
    others = tuple(work.place(at, merged.column) for at in merged.below)
    trouble = Trouble(place, found, _UNMERGE, others=others)
    about = [work.about(at, trouble) for at in merged.below]
    joints = {each.joint for each in about}
    return replace(
        trouble,
        joint=joints.pop() if len(joints) == 1 else "",
        connections=_once(each.connections for each in about),
        stages=_once(each.stages for each in about),
        items=_once(each.items for each in about),
    )


def _once(groups: Iterator[tuple[str, ...]]) -> tuple[str, ...]:
    return tuple(dict.fromkeys(name for group in groups for name in group))


def _cells(work: ListWork, merged: _Merged) -> str:
    letters = column_letters(merged.column + 1)
    return f"{letters}{work.rows[merged.top]}:{letters}{merged.bottom}"
