"""From a list on a sheet to its table, or to one table for each column of a matrix."""

from collections.abc import Collection, Mapping, Sequence
from dataclasses import dataclass
from itertools import compress

from joinmatrix.lists.cells import (
    join_date_and_time,
    note_headings,
    report_marks,
    type_columns,
    typed,
)
from joinmatrix.lists.crossings import (
    BARE,
    NOT_APPLICABLE,
    NOT_THERE,
    Marks,
    judge_marks,
    labels_of,
    says_what,
)
from joinmatrix.lists.found import Found
from joinmatrix.lists.grid import Grid
from joinmatrix.lists.headings import DATE_COLUMNS
from joinmatrix.lists.merged import fill_down, report_merged
from joinmatrix.lists.rows import judge_rows, report_widths
from joinmatrix.lists.settings import NO_SETTINGS, Settings
from joinmatrix.lists.supplied import Known
from joinmatrix.lists.swallowed import report_joined, report_swallowed, report_uncut
from joinmatrix.lists.table import (
    PartlyHiddenTable,
    RowAccount,
    SeenHeading,
    Table,
    Trouble,
    Understanding,
)
from joinmatrix.lists.ticks import tick
from joinmatrix.lists.unread_marks import report_unread_marks
from joinmatrix.lists.values import texts
from joinmatrix.lists.work import NOBODY_KNOWS, ListWork
from joinmatrix.names import folded, quoted_list
from joinmatrix.place import Place, column_letters

_Cells = Mapping[str, Sequence[str]]  # meaning -> text of each row


@dataclass(frozen=True, slots=True)
class ListRead:
    """What came of one list on one sheet; a matrix gives several tables."""

    tables: tuple[Table, ...]
    account: RowAccount
    understanding: Understanding
    troubles: tuple[Trouble, ...]
    notes: tuple[tuple[Place, str], ...]


def read_list(
    grid: Grid,
    found: Found,
    *,
    settings: Settings = NO_SETTINGS,
    known: Known = NOBODY_KNOWS,
    skip_hidden: bool = False,
) -> ListRead:
    """The table of a list, and what became of each of its rows."""
    work = ListWork(grid, found, settings, known)
    note_headings(work)
    type_columns(work)
    fill_down(work)
    report_marks(work)
    join_date_and_time(work)
    report_swallowed(work)
    report_joined(work)
    report_uncut(work)
    judge_rows(work, skip_hidden=skip_hidden)
    report_merged(work)
    report_widths(work)
    report_unread_marks(work)
    tables = _matrix(work) if found.crossings else (_table(work, set()),)
    _report_unreadable(work)
    return ListRead(
        tables,
        _account(work, tables),
        understanding(grid, found),
        tuple(work.troubles),
        tuple(work.notes),
    )


def _report_unreadable(work: ListWork) -> None:
    """A trouble for each cell that could not be read; the first fifty of a sort singly."""
    troubles: list[Trouble] = []
    for meaning, column, bad, remedy, holds in work.unreadable:
        told = sorted((at, why) for at, why in bad.items() if at not in work.harmless)
        troubles += work.troubles_at(
            column, told, remedy, what="cells", meaning=meaning, holds=holds
        )
    work.troubles.extend(sorted(troubles, key=lambda each: each.place))


def _table(
    work: ListWork,
    absent: set[int],
    cells: _Cells | None = None,
    columns: Mapping[str, int] | None = None,
) -> Table:
    """The table of the rows that are used, and of those not absent from one side of a matrix."""
    cells = {**work.cells, **(cells or {})}
    columns = {**work.columns, **(columns or {})}
    numbers = {name: columns[name] + 1 for name in cells if name in columns}
    gone = work.aside.keys() | work.blank | absent
    rows = work.rows
    if gone:
        kept = [at not in gone for at in range(len(rows))]
        rows = list(compress(rows, kept))
        cells = {name: list(compress(column, kept)) for name, column in cells.items()}
    grid = work.grid
    if not grid.hidden and not grid.marks.hidden_rows:
        return Table(work.found.kind, grid.file, grid.sheet, numbers, rows, cells)
    hidden = range(rows[-1] + 1) if grid.hidden and rows else grid.marks.hidden_rows & set(rows)
    return PartlyHiddenTable(work.found.kind, grid.file, grid.sheet, numbers, rows, cells, hidden)


def _account(work: ListWork, tables: Sequence[Table]) -> RowAccount:
    grid = work.grid
    aside = tuple((work.rows[at], why) for at, why in sorted(work.aside.items()))
    read = len(work.rows) - len(work.blank)
    used = len(tables[0].rows) if len(tables) == 1 else read - len(aside)
    return RowAccount(grid.file, grid.sheet, work.found.kind, read, used, aside)


# --- a matrix ----------------------------------------------------------------------------------


def _matrix(work: ListWork) -> tuple[Table, ...]:
    """One table for each side or joint of the matrix, of the connections that it has."""
    axis = work.found.axis
    columns = labels_of(work.found.crossings)
    cells = {
        label: {
            meaning: typed(work, meaning, at, beside=_columns_of(meaning, columns))
            for meaning, at in each.items()
        }
        for label, each in columns.items()
    }
    marks = _judged(work, cells)
    absent = {
        label: _absent(work, label, each, cells[label], marks) for label, each in columns.items()
    }
    nowhere = set.intersection(*absent.values())
    for at in sorted(nowhere - work.aside.keys() - work.blank):
        work.aside[at] = f"is at no {axis}"
    tables = []
    for label, each in cells.items():
        filled: dict[str, Sequence[str]] = {**each, axis: [label] * len(work.rows)}
        if marks.doubtful and axis == "joint":
            # Across joints a bare x says where a connection is, and nothing of its making.
            bare = _of(each["made"], BARE)
            filled["made"] = ["" if text in bare else text for text in each["made"]]
        first = min(columns[label].values())
        tables.append(_table(work, absent[label], filled, {**columns[label], axis: first}))
    return tuple(tables)


def _columns_of(meaning: str, columns: Mapping[str, Mapping[str, int]]) -> list[int]:
    """The columns of one meaning, under all sides or joints."""
    return [each[meaning] for each in columns.values() if meaning in each]


def _judged(work: ListWork, cells: Mapping[str, _Cells]) -> Marks:
    """What the marks mean, said where it is a guess."""
    found = work.found
    ticks = [column for each in cells.values() for name, column in each.items() if name == "made"]
    words = {text for column in ticks for text in column}
    named = any(says_what(each, work.known) for each in found.crossings)
    marks = judge_marks(found.axis, words, named=named)
    place = work.heading_place(found.crossings[0].column)
    names = quoted_list([each.text for each in found.crossings], "and")
    work.note(place, f"the columns {names} were read as {found.axis}s, with a mark for each row")
    if not marks.doubtful:
        return marks
    if found.axis == "joint":
        words_ = "a mark says at which joint a connection is; nothing was read as made"
    else:
        words_ = 'a bare mark was read as made, a blank as not made yet, "n/a" as no connection'
    remedy = 'write "n/a" where there is none, and a date or initials where it is made'
    work.troubles.append(Trouble(place, f"under {names} {words_}", remedy, holds=False))
    return marks


# In these a dash stands for no date and nobody, not for no connection.
_DATED_OR_SIGNED = frozenset(("made on", "made by"))
# What a side can have all the same where it has no such connection.
_ASIDES = frozenset(("remarks", "part"))


def _absent(
    work: ListWork, label: str, columns: Mapping[str, int], cells: _Cells, marks: Marks
) -> set[int]:
    """Rows that have no connection at a side or joint.

    Where another column of the side has something all the same, the connection stays, and the
    cell that says that there is none is reported.
    """
    said = {name: _as_written(work, name, at, cells[name]) for name, at in columns.items()}
    told = ["made"] if "made" in said else sorted(_DATED_OR_SIGNED & said.keys())
    absent: set[int] = set()
    for meaning in told or [next(iter(said))]:
        none = NOT_APPLICABLE if meaning in _DATED_OR_SIGNED else NOT_THERE
        rows = _rows_with(said[meaning], _of(said[meaning], none))
        against = _against(said, rows, meaning)
        bad = {
            at: f'"{said[meaning][at]}" says that {label} has no such connection, and '
            f'{work.heading_name(columns[name])} has "{said[name][at]}"'
            for at, name in against.items()
        }
        remedy = "correct the one that is wrong; leave the tick blank where it is not made yet"
        work.report(meaning, bad, remedy, column=columns[meaning])
        absent |= rows - against.keys()
    return absent if marks.blank_is_there else absent | _rows_with(said["made"], {""})


def _against(said: _Cells, rows: set[int], meaning: str) -> dict[int, str]:
    """Those of the rows in which another column of the side has something, and the first such."""
    against: dict[int, str] = {}
    for name in said if rows else ():
        if name != meaning and name not in _ASIDES:
            something = {text for text in set(said[name]) if _says_something(text)}
            for at in rows & _rows_with(said[name], something):
                against.setdefault(at, name)
    return against


def _as_written(work: ListWork, meaning: str, column: int, cells: Sequence[str]) -> Sequence[str]:
    """The texts of a column; those of a date column before they were read as dates."""
    if meaning not in DATE_COLUMNS:
        return cells
    raw = work.raw(column)
    known = texts(dict.fromkeys(raw))
    return [known[value] for value in raw]


def _of(cells: Sequence[str], words: Collection[str]) -> set[str]:
    """The different texts of a column that are one of the words."""
    return {text for text in set(cells) if folded(text) in words}


def _rows_with(cells: Sequence[str], wanted: set[str]) -> set[int]:
    """The rows whose cell is one of the texts."""
    return {at for at, text in enumerate(cells) if text in wanted} if wanted else set()


def _says_something(text: str) -> bool:
    """Whether a cell is neither blank nor a word such as "n/a" or "no"."""
    found = tick(text)
    return (found is None or found.done) and folded(text) not in NOT_THERE


# --- how it was understood ---------------------------------------------------------------------


def understanding(grid: Grid, found: Found) -> Understanding:
    """What the headings of a list were taken for."""
    rivals = {each.column for others in found.rivals.values() for each in others}
    headings = tuple(
        SeenHeading(
            column_letters(each.column + 1),
            each.text,
            "" if each.column in rivals else _meaning(each.meaning, each.measure, each.label),
        )
        for each in found.seen
    )
    given = [(name, f"{each.text}, {each.how}") for name, each in found.given.items()]
    given += [(name, "from the titles between the rows") for name in sorted(found.sections)]
    row = grid.rows[found.heading]
    return Understanding(grid.file, grid.sheet, found.kind, row, headings, tuple(given))


def _meaning(meaning: str, measure: str, label: str) -> str:
    return " ".join(filter(None, (meaning, measure, label)))
