"""Spreadsheets in, tables out: the way from paths to lists with their cells."""

import gc
from collections.abc import Iterator, Sequence
from contextlib import contextmanager
from pathlib import Path

from joinmatrix.lists.bounds import DEFAULT_BOUNDS, Bounds
from joinmatrix.lists.files import Form, Input, locked, walk
from joinmatrix.lists.grid import Grid
from joinmatrix.lists.layout import NearMiss, find_lists
from joinmatrix.lists.rows import ListRead, read_list
from joinmatrix.lists.separated import read_separated
from joinmatrix.lists.table import NotUsed, Reading, Trouble
from joinmatrix.lists.workbook import read_workbook
from joinmatrix.place import Place


def read(
    paths: Sequence[str | Path],
    *,
    bounds: Bounds = DEFAULT_BOUNDS,
    skip_hidden: bool = False,
    encoding: str | None = None,
) -> Reading:
    """Every list on every sheet of the files, and what became of every row.

    paths        files, and folders that are looked through for .xlsx, .xlsm and .csv files
    skip_hidden  leave hidden rows and sheets out, and say so
    encoding     of the .csv files, when it is known
    raises       InputError for a file that cannot be used at all
    """
    gathered = _Gathered()
    with _without_garbage_collection():
        found = walk(paths, bounds)
        gathered.notes.extend(found.notes)
        for each in found.inputs:
            for grid in _grids(each, bounds, encoding):
                gathered.add(grid, skip_hidden=skip_hidden)
    return Reading(
        tuple(each.file for each in found.inputs),
        tuple(each.table for each in gathered.lists),
        tuple(each.account for each in gathered.lists),
        tuple(gathered.not_used),
        tuple(gathered.troubles),
        tuple(gathered.notes),
    )


@contextmanager
def _without_garbage_collection() -> Iterator[None]:
    """Reading makes millions of values and no circle among them; looking for one is lost time."""
    was_on = gc.isenabled()
    gc.disable()
    try:
        yield
    finally:
        if was_on:
            gc.enable()


def _grids(source: Input, bounds: Bounds, encoding: str | None) -> list[Grid]:
    try:
        if source.form is Form.WORKBOOK:
            return read_workbook(source.path, source.file, bounds)
        return [read_separated(source.path, source.file, encoding)]
    except PermissionError:
        raise locked(source.file) from None


class _Gathered:
    """What has been read so far."""

    def __init__(self) -> None:
        self.lists: list[ListRead] = []
        self.not_used: list[NotUsed] = []
        self.troubles: list[Trouble] = []
        self.notes: list[tuple[Place, str]] = []

    def add(self, grid: Grid, *, skip_hidden: bool) -> None:
        """Take in the lists of one sheet, or why it has none."""
        if grid.hidden and skip_hidden:
            self._leave_out(grid, "the sheet is hidden; left out, as asked")
            return
        self.notes.extend(grid.notes)
        found, near_miss = find_lists(grid)
        if not found:
            self._report_no_list(grid, near_miss)
            return
        if grid.hidden:
            self.notes.append((grid.place(), "the sheet is hidden, and was read like any other"))
        for each in found:
            read = read_list(grid, each, skip_hidden=skip_hidden)
            self.lists.append(read)
            self.troubles.extend(read.troubles)
            self.notes.extend(read.notes)

    def _leave_out(self, grid: Grid, why: str) -> None:
        self.not_used.append(NotUsed(grid.file, grid.sheet, why))

    def _report_no_list(self, grid: Grid, miss: NearMiss | None) -> None:
        if not grid.rows:
            self._leave_out(grid, "the sheet is empty")
        elif miss is None:
            self._leave_out(grid, "no row has the headings of a list")
        else:
            row = grid.rows[miss.heading]
            needs = f"row {row} has the headings of a {miss.kind} list but not {miss.missing_words}"
            self._leave_out(grid, needs)
            self.troubles.append(
                Trouble(
                    grid.place(row),
                    f"the headings {miss.seen_words} are those of a {miss.kind} list, but "
                    f"{miss.missing_words} is missing, so the sheet was not read",
                    f"add a column with the heading {miss.missing_words}",
                )
            )
