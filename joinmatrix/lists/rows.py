"""From a list on a sheet to its table: typed columns, and an account of every row."""

from bisect import bisect_left, bisect_right
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, field
from datetime import date, datetime
from itertools import compress
from typing import NamedTuple

from joinmatrix.lists.grid import Cell, Grid, Value
from joinmatrix.lists.headings import (
    DATE_COLUMNS,
    DATES_ALLOWED,
    FILLED_DOWN,
    ROW_NEEDS,
    heading_key,
)
from joinmatrix.lists.layout import Found, Seen, unknown_headings
from joinmatrix.lists.table import ListKind, RowAccount, Table, Trouble
from joinmatrix.lists.values import clock_texts, dates_of, texts
from joinmatrix.names import folded, quoted_list
from joinmatrix.place import Place, column_letters

_MOST_TROUBLES = 50  # of one sort in one column; one more says how many there are
_EXAMPLE_ROWS = 3  # rows below the headings among which an example row is looked for
_TOTALS = frozenset(("total", "totals", "subtotal", "sub-total", "sum", "grand total", "count"))
# A row whose cell in one of these cannot be read is not used: it would be taken for another.
_DECISIVE = FILLED_DOWN | {"act", "item"}


@dataclass(slots=True)
class ListRead:
    """What came of one list on one sheet."""

    table: Table
    account: RowAccount
    troubles: list[Trouble] = field(default_factory=list)
    notes: list[tuple[Place, str]] = field(default_factory=list)


def read_list(grid: Grid, found: Found, *, skip_hidden: bool = False) -> ListRead:
    """The table of a list, and what became of each of its rows."""
    work = _Work(grid, found)
    work.note_headings()
    work.type_columns()
    work.fill_down()
    work.report_marks()
    work.join_date_and_time()
    work.set_rows_aside(skip_hidden=skip_hidden)
    work.report_unreadable()
    work.report_widths()
    return work.result()


class _Unreadable(NamedTuple):
    """Cells of one column that could not be read for one sort of reason."""

    meaning: str
    cells: dict[int, str]
    remedy: str


class _Work:
    """One list while it is read. The steps stand in the order in which `read_list` takes them."""

    def __init__(self, grid: Grid, found: Found) -> None:
        self.grid = grid
        self.found = found
        self.start = found.heading + 1
        self.rows = grid.rows[self.start : found.end]
        self.columns = dict(found.columns)
        self.cells: dict[str, list[str]] = {}
        self.unreadable: list[_Unreadable] = []
        self.aside: dict[int, str] = {}
        self.harmless: set[int] = set()  # rows set aside that nobody meant as entries
        self.blank: set[int] = set()
        self.troubles: list[Trouble] = []
        self.notes: list[tuple[Place, str]] = []

    # --- small helpers

    def raw(self, column: int) -> Sequence[Value]:
        """The values of a sheet column below the headings."""
        values = self.grid.columns[column]
        if self.start == 0 and self.found.end == len(values):
            return values
        return values[self.start : self.found.end]

    def cell(self, index: int, meaning: str) -> Place:
        """The cell of a column in the row with that index."""
        return self.grid.place(self.rows[index], self.columns[meaning] + 1)

    def heading_cell(self, column: int) -> Place:
        """The cell of a heading."""
        return self.grid.place(self.grid.rows[self.found.heading], column + 1)

    def note(self, place: Place, words: str) -> None:
        """Say how something was read."""
        self.notes.append((place, words))

    def report(self, meaning: str, bad: Mapping[int, str], remedy: str) -> None:
        """Cells of a column, by index, each with what is wrong; said once the rows are judged."""
        if bad:
            self.unreadable.append(_Unreadable(meaning, dict(bad), remedy))

    def where(self, column: int, bad: Mapping[Value, str]) -> dict[int, str]:
        """Indices of the cells that hold one of the bad values."""
        if not bad:
            return {}
        return {at: bad[each] for at, each in enumerate(self.raw(column)) if each in bad}

    # --- the steps

    def note_headings(self) -> None:
        """Say where the headings are, which were not read, and which mean the same."""
        first = self.grid.rows[self.found.heading]
        if self.found.heading:
            self.note(self.grid.place(first), f"the headings are in row {first}")
        if not self.rows:
            self.note(self.grid.place(first), f"has the headings of a {self.found.kind} list only")
        unknown = [
            f'{column_letters(each.column + 1)} "{each.text}"'
            for each in unknown_headings(self.found)
        ]
        if unknown:
            self.note(self.grid.place(first), f"columns not read: {', '.join(unknown)}")
        headed = {each.column for each in self.found.seen}
        for column, known in enumerate(self.grid.distinct):
            if column not in headed and (len(known) > 1 or "" not in known):
                self._note_without_heading(column)
        for meaning, rivals in self.found.rivals.items():
            for rival in rivals:
                self._report_rival(meaning, rival)
        self._note_hidden()

    def _note_without_heading(self, column: int) -> None:
        filled = next((at for at, each in enumerate(self.raw(column)) if each != ""), None)
        if filled is not None:
            place = self.grid.place(self.rows[filled], column + 1)
            letters = column_letters(column + 1)
            self.note(place, f"column {letters} has values and no heading; it was not read")

    def _report_rival(self, meaning: str, rival: Seen) -> None:
        """Two headings that mean the same: of no concern where the cells say the same."""
        taken = self.columns[meaning]
        names = [
            f'{column_letters(each + 1)} "{self.found.heading_of(each)}"'
            for each in (taken, rival.column)
        ]
        place = self.heading_cell(rival.column)
        sure = {each.column for each in self.found.seen if each.sure}
        if taken in sure and not rival.sure:
            self.note(place, f"column {names[1]} was not read: column {names[0]} is the {meaning}")
        elif self.raw(taken) == self.raw(rival.column):
            self.note(place, f"columns {names[0]} and {names[1]} both are the {meaning}, and agree")
        else:
            self.troubles.append(
                Trouble(
                    place,
                    f"columns {names[0]} and {names[1]} both mean {meaning}; the first was read",
                    "give the one that is not meant another heading, or delete it",
                )
            )

    def _note_hidden(self) -> None:
        marks = self.grid.marks
        if marks.hidden_columns:
            hidden = [name for name, at in self.columns.items() if at + 1 in marks.hidden_columns]
            if hidden:
                words = f"hidden columns were read: {quoted_list(hidden, 'and')}"
                self.note(self.grid.place(), words)

    def type_columns(self) -> None:
        """Give every known column its texts; dates in date columns are ISO."""
        for meaning, column in self.columns.items():
            if meaning in DATE_COLUMNS:
                self._type_dates(meaning, column)
            elif meaning == "time":
                clocks, bad = clock_texts(self.grid.distinct[column])
                self._put(meaning, column, clocks)
                self.report(meaning, self.where(column, bad), "write it as 10:30")
            else:
                self._type_texts(meaning, column)

    def _put(self, meaning: str, column: int, known: Mapping[Value, str]) -> None:
        self.cells[meaning] = [known[value] for value in self.raw(column)]

    def _type_dates(self, meaning: str, column: int) -> None:
        # Only what stands below the headings may decide, so the heading itself is left out.
        dates = dates_of(dict.fromkeys(self.raw(column)))
        self._put(meaning, column, dates.iso)
        self.report(
            meaning,
            self.where(column, dates.bad),
            "write the date as 2026-03-04, or 2026-03-04 10:30 with a time",
        )
        if dates.order:
            because = dates.because
            shown = because if because.startswith("dates") else f'"{because}"'
            self.note(
                self.heading_cell(column),
                f"{meaning}: dates such as 4/3/2026 were read {dates.order}, because of {shown}",
            )

    def _type_texts(self, meaning: str, column: int) -> None:
        values = self.grid.distinct[column]
        self._put(meaning, column, texts(values))
        if meaning in DATES_ALLOWED:
            return
        odd: dict[Value, str] = {}
        for value in values:
            if isinstance(value, str):
                continue
            if isinstance(value, date):
                shown = value.date() if isinstance(value, datetime) else value
                odd[value] = f"{shown} is a date; a spreadsheet makes dates of texts such as 3-4"
            elif isinstance(value, float) and abs(value) >= 1e15:
                odd[value] = f"{value:.0f} is a number of more than 15 digits, and was rounded"
        self.report(
            meaning,
            self.where(column, odd),
            "format the cell as text and type it again as it should read",
        )

    def fill_down(self) -> None:
        """Merged cells hold one value for all their rows, in columns where that is meant."""
        by_column = {self.columns[name]: name for name in FILLED_DOWN if name in self.columns}
        for merge in self.grid.marks.merges:
            meaning = by_column.get(merge.left - 1)
            if meaning is None or merge.bottom == merge.top:
                continue
            first = bisect_left(self.rows, merge.top)
            last = bisect_right(self.rows, merge.bottom)
            if first == last or self.rows[first] != merge.top:
                continue
            cells = self.cells[meaning]
            text = cells[first]
            empty = [at for at in range(first + 1, last) if not cells[at]]
            for at in empty:
                cells[at] = text
            if text and empty:
                words = f'{meaning} "{text}" is merged down to row {merge.bottom} and read for each'
                self.note(self.cell(first, meaning), words)

    def report_marks(self) -> None:
        """Error cells and formulas without a result, of the columns that are read."""
        marks = self.grid.marks
        if not marks.errors and not marks.uncalculated:
            return
        by_column = {at + 1: name for name, at in self.columns.items()}
        errors: dict[str, dict[int, str]] = {}
        for cell, shown in marks.errors.items():
            self._mark(errors, by_column, cell, f"the cell shows the error {shown}")
        for meaning, bad in errors.items():
            self.report(meaning, bad, "mend the formula or type the value, and save")
        formulas: dict[str, dict[int, str]] = {}
        for cell in marks.uncalculated:
            self._mark(formulas, by_column, cell, "the cell has a formula without a result")
        for meaning, bad in formulas.items():
            remedy = (
                "open the workbook in a spreadsheet program and save it, so that it is worked out"
            )
            self.report(meaning, bad, remedy)

    def _mark(
        self,
        marked: dict[str, dict[int, str]],
        by_column: Mapping[int, str],
        cell: Cell,
        words: str,
    ) -> None:
        at = bisect_left(self.rows, cell.row)
        meaning = by_column.get(cell.column)
        if meaning and at < len(self.rows) and self.rows[at] == cell.row:
            marked.setdefault(meaning, {})[at] = words

    def join_date_and_time(self) -> None:
        """A record with the time of day in a column of its own."""
        clocks = self.cells.pop("time", None)
        if clocks is None:
            return
        if "when" not in self.cells:
            # The only column of time there is: it holds dates, whatever it is called.
            self.columns["when"] = self.columns["time"]
            self._drop_reports("time")
            self._type_dates("when", self.columns["when"])
        else:
            self.cells["when"] = [
                f"{day}T{clock}" if day and clock and "T" not in day else day
                for day, clock in zip(self.cells["when"], clocks, strict=True)
            ]

    def _drop_reports(self, meaning: str) -> None:
        self.unreadable = [each for each in self.unreadable if each.meaning != meaning]

    # --- rows

    def set_rows_aside(self, *, skip_hidden: bool) -> None:
        """Find the rows that are not used, and say why of each."""
        self._set_hidden_aside(skip=skip_hidden)
        self._set_headings_aside()
        self._set_example_aside()
        self._set_unreadable_aside()
        for index in sorted(self._rows_without_needs()):
            if index not in self.aside:
                self._judge_incomplete(index)
        if self.found.kind is ListKind.CONNECTIONS:
            self._set_bare_ids_aside()

    def _set_hidden_aside(self, *, skip: bool) -> None:
        hidden = self.grid.marks.hidden_rows
        found = [at for at, row in enumerate(self.rows) if row in hidden] if hidden else []
        if not found:
            return
        numbers = _some([self.rows[at] for at in found])
        what = "filtered out" if self.grid.marks.filtered else "hidden"
        done = "left out, as asked" if skip else "read like any other"
        self.note(
            self.grid.place(self.rows[found[0]]),
            f"{len(found)} {what} row{'s were' if len(found) > 1 else ' was'} {done} ({numbers})",
        )
        if skip:
            self._put_aside(found, f"{what}; left out, as asked")

    def _pass_over(self, index: int, why: str) -> None:
        """Set a row aside that is no entry: whatever cannot be read in it does not matter."""
        self.aside.setdefault(index, why)
        self.harmless.add(index)

    def _put_aside(self, indices: Iterable[int], why: str) -> None:
        for index in indices:
            self.aside.setdefault(index, why)

    def _set_headings_aside(self) -> None:
        """Headings repeated further down, as printed lists have them at the top of each page."""
        if not self.cells:
            return
        keys = {
            name: heading_key(self.found.heading_of(column))
            for name, column in self.columns.items()
        }
        # The column with the fewest different words costs least to look through.
        name = min(keys, key=lambda each: len(self.grid.distinct[self.columns[each]]))
        values = self.grid.distinct[self.columns[name]]
        same = {
            each for each in values if isinstance(each, str) and heading_key(each) == keys[name]
        }
        for at, value in enumerate(self.raw(self.columns[name])) if same else ():
            if value in same and self._is_heading_row(at, keys):
                self._pass_over(at, "the headings again")

    def _is_heading_row(self, at: int, keys: Mapping[str, str]) -> bool:
        equal = sum(heading_key(self._shown(at, name)) == key for name, key in keys.items())
        return equal * 2 > len(keys)

    def _shown(self, at: int, name: str) -> str:
        value = self.grid.columns[self.columns[name]][self.start + at]
        return value if isinstance(value, str) else ""

    def _set_example_aside(self) -> None:
        """The row that a blank workbook comes with, to show what a row looks like."""
        name = ROW_NEEDS[self.found.kind][0][0]
        first = self.cells.get(name, [])[:_EXAMPLE_ROWS]
        for at, text in enumerate(first):
            if folded(text).split(" ")[0] in ("example", "example:"):
                self._pass_over(at, "the example row")

    def _set_unreadable_aside(self) -> None:
        """Rows that cannot be placed because a cell that decides shows an error; reported above."""
        for meaning, bad, _ in self.unreadable:
            if meaning in _DECISIVE:
                cells = self.cells[meaning]
                blank = (at for at in bad if not cells[at])
                self._put_aside(blank, f"its {meaning} cannot be read")

    def _rows_without_needs(self) -> set[int]:
        lacking: set[int] = set()
        for group in ROW_NEEDS[self.found.kind]:
            blank = [
                {at for at, text in enumerate(self.cells[name]) if not text}
                for name in group
                if name in self.cells
            ]
            lacking |= set.intersection(*blank) if blank else set()
        return lacking

    def _filled(self, index: int) -> list[tuple[int, str]]:
        """Columns (0-based) and texts of the filled cells of a row, in the span of the list."""
        columns = [each.column for each in self.found.seen]
        at = self.start + index
        row = range(min(columns), max(columns) + 1)
        values = {each: self.grid.columns[each][at] for each in row}
        known = texts(values.values())
        return [(each, known[value]) for each, value in values.items() if known[value]]

    def _judge_incomplete(self, index: int) -> None:
        """A row without what every row of the list must have."""
        filled = self._filled(index)
        if not filled:
            if not self._has_mark(index):
                self.blank.add(index)
                return
            self.aside[index] = "nothing in it can be read"
            return
        first = filled[0][1]
        if folded(first).rstrip(":") in _TOTALS:
            self._pass_over(index, f'a totals row ("{first}")')
            return
        lacking = self._lacking(index)
        self.aside[index] = f"has no {lacking}"
        if not self._could_be_meant(filled):
            self.harmless.add(index)
            return
        shown = ", ".join(text for _, text in filled[:4])
        self.troubles.append(
            Trouble(
                self.grid.place(self.rows[index], self._need_column(index) + 1),
                f"the row ({shown[:80]}) has no {lacking}, so it was not used",
                f"fill in the {lacking}, or delete the row",
            )
        )

    def _has_mark(self, index: int) -> bool:
        row = self.rows[index]
        marks = self.grid.marks
        return any(cell.row == row for cell in (*marks.errors, *marks.uncalculated))

    def _lacking(self, index: int) -> str:
        for group in ROW_NEEDS[self.found.kind]:
            if not any(self.cells[name][index] for name in group if name in self.cells):
                return " or ".join(group)
        return ""

    def _need_column(self, index: int) -> int:
        for group in ROW_NEEDS[self.found.kind]:
            names = [name for name in group if name in self.cells]
            if not any(self.cells[name][index] for name in names):
                return self.columns[names[0]]
        return min(self.columns.values())

    def _could_be_meant(self, filled: Sequence[tuple[int, str]]) -> bool:
        """Whether a row without its id could still stand for something that must not be missed.

        A single filled cell is a heading of a section or a remark below the table, and a number
        alone is a form that was numbered ahead.
        """
        known = {column: name for name, column in self.columns.items()}
        telling = [each for each, _ in filled if known.get(each) not in (None, "seq", "remarks")]
        return len(filled) > 1 and bool(telling)

    def _set_bare_ids_aside(self) -> None:
        """Titles of sections stand in the first column, with nothing beside them."""
        ids = self.cells["connection"]
        blank = [
            {at for at, text in enumerate(self.cells[name]) if not text}
            for name in ("joint", "side", "type")
            if name in self.cells
        ]
        bare = set.intersection(*blank) - self.aside.keys() - self.blank if blank else set()
        if not bare:
            return
        others = [ids[at] for at in range(len(ids)) if at not in self.aside and at not in bare]
        with_digit = sum(any(map(str.isdigit, text)) for text in others)
        ids_have_digits = with_digit * 2 > len(others)
        for at in sorted(bare):
            text = ids[at]
            if folded(text).rstrip(":") in _TOTALS:
                self._pass_over(at, f'a totals row ("{text}")')
            elif len(self._filled(at)) == 1 and self._is_title(at, text, ids_have_digits):
                self._pass_over(at, f'a title between the rows ("{text}")')

    def _is_title(self, at: int, text: str, ids_have_digits: bool) -> bool:
        row = self.rows[at]
        wide = any(
            merge.top <= row <= merge.bottom and merge.right > merge.left
            for merge in self.grid.marks.merges
        )
        return wide or (ids_have_digits and not any(map(str.isdigit, text)))

    def report_widths(self) -> None:
        """Rows of a .csv that are longer or shorter than the headings: cells may have moved."""
        widths = self.grid.widths
        if not widths:
            return
        wanted = widths[self.found.heading]
        tail = [at for at in range(len(self.rows)) if widths[self.start + at] > wanted]
        longer = [at for at in tail if self._filled_beyond(at, wanted)]
        if longer:
            numbers = _some([self.rows[at] for at in longer])
            self.troubles.append(
                Trouble(
                    self.grid.place(self.rows[longer[0]]),
                    f"{len(longer)} row{'s have' if len(longer) > 1 else ' has'} more cells than "
                    f"the {wanted} headings ({numbers}): cells may have moved to the right",
                    "put texts that hold the separator, and decimal commas, in quotes",
                )
            )
        shorter = [
            at
            for at in range(len(self.rows))
            if widths[self.start + at] < wanted and at not in self.aside
        ]
        if shorter:
            numbers = _some([self.rows[at] for at in shorter])
            have = "rows have" if len(shorter) > 1 else "row has"
            words = (
                f"{len(shorter)} {have} fewer cells than headings; the rest is blank ({numbers})"
            )
            self.note(self.grid.place(self.rows[shorter[0]]), words)

    def _filled_beyond(self, at: int, wanted: int) -> bool:
        row = self.start + at
        return any(column[row] != "" for column in self.grid.columns[wanted:])

    # --- the result

    def report_unreadable(self) -> None:
        """A trouble for each cell that could not be read; the first fifty of a sort singly."""
        for meaning, bad, remedy in self.unreadable:
            ordered = sorted((at, why) for at, why in bad.items() if at not in self.harmless)
            for at, why in ordered[:_MOST_TROUBLES]:
                found = f"{meaning}: {why}"
                self.troubles.append(Trouble(self.cell(at, meaning), found, remedy))
            if rest := ordered[_MOST_TROUBLES:]:
                more = f"{meaning}: {len(rest):,} more cells like those above, down to row "
                last = self.rows[rest[-1][0]]
                place = self.cell(rest[0][0], meaning)
                self.troubles.append(Trouble(place, f"{more}{last}", remedy))

    def result(self) -> ListRead:
        """The table of the rows that are used, and the account of all."""
        kind, grid = self.found.kind, self.grid
        gone = self.aside.keys() | self.blank
        numbers = {name: self.columns[name] + 1 for name in self.cells}
        used, cells = self.rows, self.cells
        if gone:
            kept = [at not in gone for at in range(len(self.rows))]
            used = list(compress(self.rows, kept))
            cells = {name: list(compress(column, kept)) for name, column in self.cells.items()}
        table = Table(kind, grid.file, grid.sheet, numbers, used, cells)
        aside = tuple((self.rows[at], why) for at, why in sorted(self.aside.items()))
        read = len(self.rows) - len(self.blank)
        account = RowAccount(grid.file, grid.sheet, kind, read, len(used), aside)
        return ListRead(table, account, self.troubles, self.notes)


def _some(rows: Sequence[int]) -> str:
    """Row numbers as a note lists them: "rows 12, 13, 40 and 5 more"."""
    shown = ", ".join(map(str, rows[:10]))
    more = f" and {len(rows) - 10} more" if len(rows) > 10 else ""
    return f"row{'s' if len(rows) > 1 else ''} {shown}{more}"
