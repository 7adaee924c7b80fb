"""A sheet as it was read, before anybody asks what its headings mean."""

from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, field
from datetime import date, datetime, time, timedelta
from itertools import islice
from typing import NamedTuple

from joinmatrix.place import HiddenPlace, Place

# Blank is "". Yes/no never gets this far: it is "TRUE" or "FALSE" from the start, because True
# equals 1.0 wherever values are looked up.
Value = str | float | int | date | datetime | time | timedelta

# What spreadsheets write where a formula has failed, in the languages that they speak. In a .csv,
# and in what was made of one, it is a text like any other.
_ERRORS = (
    *("#REF!", "#BEZUG!", "#RIF!", "#VERW!", "#¡REF!"),
    *("#VALUE!", "#WERT!", "#VALEUR!", "#VALORE!", "#WAARDE!", "#¡VALOR!", "#VALOR!"),
    *("#NAME?", "#NOM?", "#NOME?", "#NAAM?", "#¿NOMBRE?"),
    *("#DIV/0!", "#¡DIV/0!", "#DEEL/0!"),
    *("#NUM!", "#ZAHL!", "#NOMBRE!", "#GETAL!", "#¡NUM!"),
    *("#NULL!", "#NUL!", "#NULLO!", "#LEEG!", "#¡NULO!", "#NULO!"),
    *("#N/A", "#NV", "#N/D", "#N/B", "#N/A!"),
    *("#SPILL!", "#CALC!", "#FIELD!", "#BLOCKED!", "#UNKNOWN!", "#BUSY!", "#CONNECT!", "#ERROR!"),
    *("#GETTING_DATA", "#PYTHON!", "#EXTERNAL!"),
    *(
        f"{word}:{code}"
        for word in ("Err", "Error", "Fehler", "Erreur")
        for code in range(500, 541)
    ),
)
_BATCH = 2048  # rows turned into columns at a time; keeps the row lists out of memory


class Cell(NamedTuple):
    """Sheet row and column, 1-based."""

    row: int
    column: int


class Merge(NamedTuple):
    """A merged range, 1-based and inclusive; only its top left cell has a value."""

    top: int
    left: int
    bottom: int
    right: int


@dataclass(slots=True)
class Marks:
    """What a sheet says about its cells beside their values.

    errors          cell -> the error it shows ("#REF!"); its value reads as blank
    uncalculated    cells with a formula and no stored result; their values read as blank
    zero_formulas   column -> (formulas, those of them whose stored result is 0)
    hidden_rows     rows hidden, filtered out or of height 0
    hidden_columns  columns hidden
    filtered        the sheet has a filter set
    struck          cells with text that is struck out
    formats         cells whose format shows something else than is stored: how it looks
    merges          merged ranges
    filled          number of cells that have something in them, as far as they are spelt plainly
    """

    errors: dict[Cell, str] = field(default_factory=dict)
    uncalculated: set[Cell] = field(default_factory=set)
    zero_formulas: dict[int, tuple[int, int]] = field(default_factory=dict)
    hidden_rows: set[int] = field(default_factory=set)
    hidden_columns: set[int] = field(default_factory=set)
    filtered: bool = False
    struck: set[Cell] = field(default_factory=set)
    formats: dict[Cell, str] = field(default_factory=dict)
    merges: list[Merge] = field(default_factory=list)
    filled: int = 0


@dataclass(slots=True)
class Grid:
    """The filled rows of one sheet, by column.

    rows      sheet row of each row that has a value or a mark
    columns   all columns from A on; each aligned with `rows`
    distinct  for each column its different values
    marks     errors, formulas without a result, hidden rows, merged ranges
    hidden    the sheet is hidden
    separated  it is a .csv
    blank_because  why it has no rows, where it is no table at all
    separator  what stands between its cells (a .csv only)
    widths    number of cells of each row as written (a .csv only; blank ones at the end too)
    lines     sheet row -> its first and last line of the file, where it takes several (a .csv)
    notes     how it was read
    """

    file: str
    sheet: str
    rows: list[int] = field(default_factory=list)
    columns: list[list[Value]] = field(default_factory=list)
    distinct: list[Mapping[Value, Value]] = field(default_factory=list)
    marks: Marks = field(default_factory=Marks)
    hidden: bool = False
    separated: bool = False
    blank_because: str = "the sheet is empty"
    separator: str = ""
    widths: list[int] = field(default_factory=list)
    lines: dict[int, tuple[int, int]] = field(default_factory=dict)
    notes: list[tuple[Place, str]] = field(default_factory=list)

    def place(self, row: int = 0, column: int = 0) -> Place:
        """A cell of this sheet, a row, or all of it."""
        hidden = self.hidden or row in self.marks.hidden_rows
        return (HiddenPlace if hidden else Place)(self.file, self.sheet, row, column)

    @property
    def filled(self) -> int:
        """Number of cells that have a value."""
        return sum(len(column) - column.count("") for column in self.columns)

    def row(self, index: int) -> list[Value]:
        """The values of one filled row."""
        return [column[index] for column in self.columns]


def fill(grid: Grid, rows: Iterable[Sequence[Value]], *, left: int = 0) -> None:
    """Put the rows of a sheet into a grid that has its marks already, row 1 first.

    left  columns that the rows leave out on their left
    """
    marked = {cell.row for cell in (*grid.marks.errors, *grid.marks.uncalculated)}
    stream: Iterator[Sequence[Value]] = iter(rows)
    columns: list[list[Value]] = []
    distinct: list[dict[Value, Value]] = []
    number = 0
    while batch := list(islice(stream, _BATCH)):
        numbers: Sequence[int] = range(number + 1, number + 1 + len(batch))
        number += len(batch)
        # `any` is quick on a filled row, and takes 0 for blank, so a count has the last word.
        keep = [
            any(row) or row.count("") != len(row) or at in marked
            for at, row in zip(numbers, batch, strict=True)
        ]
        if not all(keep):
            batch = [row for row, kept in zip(batch, keep, strict=True) if kept]
            numbers = [at for at, kept in zip(numbers, keep, strict=True) if kept]
        _widen(columns, distinct, max(map(len, batch), default=0), len(grid.rows))
        grid.rows.extend(numbers)
        _append(columns, distinct, batch)
    for _ in range(left):
        columns.insert(0, [""] * len(grid.rows))
        distinct.insert(0, {"": ""})
    grid.columns.extend(columns)
    grid.distinct.extend(distinct)
    _mark_errors(grid, distinct)


def _mark_errors(grid: Grid, distinct: Sequence[dict[Value, Value]]) -> None:
    """Cells whose text is that of an error are marked as such, and read as blank."""
    for number, known in enumerate(distinct):
        for error in filter(known.__contains__, _ERRORS):
            del known[error]
            known[""] = ""
            _mark_error(grid, number, error)


def _mark_error(grid: Grid, number: int, error: str) -> None:
    column = grid.columns[number]
    at = -1
    for _ in range(column.count(error)):
        at = column.index(error, at + 1)
        column[at] = ""
        grid.marks.errors[Cell(grid.rows[at], number + 1)] = error


def _widen(
    columns: list[list[Value]], distinct: list[dict[Value, Value]], width: int, height: int
) -> None:
    """More columns, blank so far, for rows that are longer than those before."""
    while len(columns) < width:
        columns.append([""] * height)
        distinct.append({"": ""} if height else {})


def _append(
    columns: list[list[Value]],
    distinct: list[dict[Value, Value]],
    batch: list[Sequence[Value]],
) -> None:
    """Add rows to the columns; equal values are kept once, so a column of words costs little."""
    width = len(columns)
    if set(map(len, batch)) - {width}:
        batch = [[*row, *[""] * (width - len(row))] for row in batch]
    for column, known, values in zip(columns, distinct, zip(*batch, strict=True), strict=False):
        plain: Iterable[Value] = values
        if bool in set(map(type, values)):
            plain = values = tuple(
                ("TRUE" if value else "FALSE") if isinstance(value, bool) else value
                for value in values
            )
        column.extend(map(known.setdefault, plain, values))
