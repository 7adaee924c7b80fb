"""One list on one sheet: columns of text, and the cell behind each of them."""

from collections.abc import Container, Mapping, Sequence
from dataclasses import dataclass, field
from enum import StrEnum
from typing import NamedTuple

from joinmatrix.place import HiddenPlace, Place


class ListKind(StrEnum):
    """What a list is. Where headings would fit several, the first of this order wins."""

    TEMPORARY = "temporary"
    RECORD = "record"
    DIFFERENCES = "differences"
    JOINTS = "joints"
    PEOPLE = "people"
    TOOLS = "tools"
    CONNECTIONS = "connections"
    RUNS = "runs"
    STAGES = "stages"


@dataclass(frozen=True, slots=True, eq=False)
class Table:
    """The used rows of one list on one sheet, by column.

    Kept by column and not by row: words repeat down a column, so they are understood once for
    each different word, and a row costs no object of its own.

    file     as given on the command line (a folder's files: joined to it)
    sheet    "" for a .csv
    numbers  column name (one of the names in headings.py, as "from size") -> 1-based sheet column
    rows     1-based sheet row of each used row
    cells    column name -> the text of each used row, aligned with `rows`; "" where blank.
             Whole numbers read "1001", dates "2026-03-04" or "2026-03-04T10:30", yes/no
             "TRUE"/"FALSE". Date columns hold only such dates or "".
    """

    kind: ListKind
    file: str
    sheet: str
    numbers: Mapping[str, int]
    rows: Sequence[int] = field(repr=False)
    cells: Mapping[str, Sequence[str]] = field(repr=False)

    def column(self, name: str) -> Sequence[str]:
        """The texts of a column; all blank when the list has no such column."""
        found = self.cells.get(name)
        return found if found is not None else ("",) * len(self.rows)

    def place(self, index: int, column: str) -> Place:
        """The cell of a column in a used row; the row's first known cell without that column."""
        number = self.numbers.get(column) or min(self.numbers.values())
        return Place(self.file, self.sheet, self.rows[index], number)


@dataclass(frozen=True, slots=True, eq=False)
class PartlyHiddenTable(Table):
    """A table with rows that nobody sees who opens the file.

    hidden  sheet rows of which that is true
    """

    hidden: Container[int] = field(repr=False)

    def place(self, index: int, column: str) -> Place:
        """The cell of a column in a used row, marked where it is hidden."""
        place = Table.place(self, index, column)
        return HiddenPlace(*place) if place.row in self.hidden else place


class Source(NamedTuple):
    """A row that a fact was read from."""

    table: Table
    index: int  # type: ignore[assignment]  # hides tuple.index, which nobody asks of a row

    def text(self, column: str) -> str:
        """The text of a column, "" when blank or not there."""
        cells = self.table.cells.get(column)
        return cells[self.index] if cells is not None else ""

    def place(self, column: str) -> Place:
        """The cell of a column."""
        return self.table.place(self.index, column)


@dataclass(frozen=True, slots=True)
class Trouble:
    """Something that could not be understood; becomes an `unreadable` finding.

    place   the cell
    found   what is there, a clause: `side "Q" is none that any list declares`
    remedy  what to do, an instruction, with the allowed or nearest words
    holds   False when it is only something to know
    others  further cells that belong to it
    joint, sides, connections, stages, items  what it is about, as a finding names them
    """

    place: Place
    found: str
    remedy: str
    holds: bool = True
    others: tuple[Place, ...] = ()
    joint: str = ""
    sides: tuple[str, ...] = ()
    connections: tuple[str, ...] = ()
    stages: tuple[str, ...] = ()
    items: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class RowAccount:
    """What became of the rows of one list: read = used + set aside.

    read    rows below the headings with at least one value
    aside   sheet row and the reason, for each row not used
    """

    file: str
    sheet: str
    kind: ListKind
    read: int
    used: int
    aside: tuple[tuple[int, str], ...] = ()


@dataclass(frozen=True, slots=True)
class NotUsed:
    """A sheet that fits no list, or holds nothing."""

    file: str
    sheet: str
    why: str


class SeenHeading(NamedTuple):
    """A heading as it stands on a sheet.

    column   its letter
    text     as written; both lines of a heading in two lines
    meaning  the column that it was taken for, with the side that it is about
             ("made L"); "" when it was not read
    """

    column: str
    text: str
    meaning: str


@dataclass(frozen=True, slots=True)
class Understanding:
    """How one list, or what was nearly one, was understood.

    kind      None when no list was made of it
    row       sheet row of the headings (of the lower line, where they have two)
    headings  every heading of it, from left to right
    given     what no column says: ("side", 'L, from the name of the sheet')
    missing   headings that it lacks to be a list; () for a list
    """

    file: str
    sheet: str
    kind: ListKind | None
    row: int
    headings: tuple[SeenHeading, ...]
    given: tuple[tuple[str, str], ...] = ()
    missing: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class Reading:
    """All that was read from the paths of one run.

    files       every file read, in reading order; a `joinmatrix.toml` that was used is one
    accounts    one for each kind of list on each sheet
    notes       how it was read: guesses, hidden rows, encodings; (place, sentence)
    understood  what the headings of each sheet were taken for
    """

    files: tuple[str, ...] = ()
    tables: tuple[Table, ...] = ()
    accounts: tuple[RowAccount, ...] = ()
    not_used: tuple[NotUsed, ...] = ()
    troubles: tuple[Trouble, ...] = ()
    notes: tuple[tuple[Place, str], ...] = field(default=())
    understood: tuple[Understanding, ...] = ()
