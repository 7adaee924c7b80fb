"""One list while it is read: what the steps in `cells`, `rows` and `outcome` share."""

from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import replace
from typing import NamedTuple

from joinmatrix.lists.found import Found
from joinmatrix.lists.grid import Grid, Value
from joinmatrix.lists.settings import NO_SETTINGS, Settings
from joinmatrix.lists.supplied import Known
from joinmatrix.lists.table import Trouble
from joinmatrix.lists.values import texts
from joinmatrix.place import Place, column_letters

MOST_TROUBLES = 50  # of one sort in one column; one more says how many there are
_ABOUT = ("joint", "connection", "stage", "item", "temporary item")
NOBODY_KNOWS = Known({}, {})


class Unreadable(NamedTuple):
    """Cells of one column, by row index, that could not be read for one sort of reason."""

    meaning: str
    column: int
    cells: dict[int, str]
    remedy: str
    holds: bool = True


class ListWork:
    """A list of a sheet, its columns as far as they are understood, and its rows so far.

    Rows are known by their index below the headings, columns by their 0-based sheet column.

    rows        sheet row of each row
    columns     meaning -> column it was read from
    cells       meaning -> text of each row
    unreadable  cells to report, unless their row turns out to be no entry
    aside       rows that are not used, with the reason
    harmless    those of them that nobody meant as entries
    blank       rows that have nothing in the span of the list
    """

    def __init__(
        self,
        grid: Grid,
        found: Found,
        settings: Settings = NO_SETTINGS,
        known: Known = NOBODY_KNOWS,
    ) -> None:
        self.grid = grid
        self.found = found
        self.settings = settings
        self.known = known
        self.start = found.heading + 1
        self.rows: Sequence[int] = grid.rows[self.start : found.end]
        self.columns = dict(found.columns)
        self.cells: dict[str, list[str]] = {}
        self.unreadable: list[Unreadable] = []
        self.aside: dict[int, str] = {}
        self.harmless: set[int] = set()
        self.blank: set[int] = set()
        self.troubles: list[Trouble] = []
        self.notes: list[tuple[Place, str]] = []

    # --- looking

    def raw(self, column: int) -> Sequence[Value]:
        """The values of a sheet column below the headings."""
        return self.grid.columns[column][self.start : self.found.end]

    def place(self, index: int, column: int) -> Place:
        """A cell."""
        return self.grid.place(self.rows[index], column + 1)

    def heading_place(self, column: int) -> Place:
        """The cell of a heading."""
        return self.grid.place(self.grid.rows[self.found.heading], column + 1)

    def heading_name(self, column: int) -> str:
        """A heading as a note names it: B "Tag"."""
        return f'{column_letters(column + 1)} "{self.found.heading_of(column)}"'

    def where(self, column: int, bad: Mapping[Value, str]) -> dict[int, str]:
        """Indices of the cells that hold one of the bad values."""
        if not bad:
            return {}
        return {at: bad[each] for at, each in enumerate(self.raw(column)) if each in bad}

    def filled(self, index: int) -> list[tuple[int, str]]:
        """Columns and texts of the filled cells of a row, in the span of the list."""
        left, right = self.found.span
        at = self.start + index
        values = {each: self.grid.columns[each][at] for each in range(left, right + 1)}
        known = texts(values.values())
        return [(each, known[value]) for each, value in values.items() if known[value]]

    def about(self, index: int, trouble: Trouble) -> Trouble:
        """The trouble with what its row is about, so that it counts for the right joint."""
        said = {name: cells[index] for name in _ABOUT if (cells := self.cells.get(name))}
        return replace(
            trouble,
            joint=said.get("joint", ""),
            connections=tuple(filter(None, (said.get("connection", ""),))),
            stages=tuple(filter(None, (said.get("stage", ""),))),
            items=tuple(filter(None, (said.get("item") or said.get("temporary item", ""),))),
        )

    def troubles_at(
        self,
        column: int,
        bad: Iterable[tuple[int, str]],
        remedy: str,
        *,
        what: str,
        meaning: str = "",
        holds: bool = True,
    ) -> Iterator[Trouble]:
        """A trouble for each of the first fifty cells, and one for all the rest.

        bad      row index and what is wrong, in row order
        what     "cells" or "rows"
        meaning  the column that is named in front, if any
        """
        named = f"{meaning}: " if meaning else ""
        ordered = list(bad)
        for at, why in ordered[:MOST_TROUBLES]:
            trouble = Trouble(self.place(at, column), f"{named}{why}", remedy, holds)
            yield self.about(at, trouble)
        if rest := [at for at, _ in ordered[MOST_TROUBLES:]]:
            last = self.rows[rest[-1]]
            more = f"{named}{len(rest):,} more {what} like those above, down to row {last}"
            yield Trouble(self.place(rest[0], column), more, remedy, holds)

    # --- saying

    def note(self, place: Place, words: str) -> None:
        """Say how something was read."""
        self.notes.append((place, words))

    def report(
        self,
        meaning: str,
        bad: Mapping[int, str],
        remedy: str,
        *,
        column: int | None = None,
        holds: bool = True,
    ) -> None:
        """Cells of a column, by index, each with what is wrong; said once the rows are judged."""
        if bad:
            at = self.columns[meaning] if column is None else column
            self.unreadable.append(Unreadable(meaning, at, dict(bad), remedy, holds))

    # --- setting aside

    def pass_over(self, index: int, why: str) -> None:
        """Set a row aside that is no entry: whatever cannot be read in it does not matter."""
        self.aside.setdefault(index, why)
        self.harmless.add(index)

    def put_aside(self, indices: Iterable[int], why: str) -> None:
        """Set rows aside, where they are not yet."""
        for index in indices:
            self.aside.setdefault(index, why)


def some(rows: Sequence[int]) -> str:
    """Row numbers as a note lists them: "rows 12, 13, 40 and 5 more"."""
    shown = ", ".join(map(str, rows[:10]))
    more = f" and {len(rows) - 10} more" if len(rows) > 10 else ""
    return f"row{'s' if len(rows) > 1 else ''} {shown}{more}"
