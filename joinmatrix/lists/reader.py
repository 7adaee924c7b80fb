"""Spreadsheets in, tables out: the way from paths to lists with their cells."""

import gc
from collections.abc import Iterable, Iterator, Sequence
from contextlib import contextmanager
from dataclasses import dataclass, field
from pathlib import Path

from joinmatrix.lists.bounds import DEFAULT_BOUNDS, Bounds
from joinmatrix.lists.files import Form, Input, locked, walk
from joinmatrix.lists.found import Found, Layout, NearMiss
from joinmatrix.lists.grid import Grid
from joinmatrix.lists.layout import find_lists
from joinmatrix.lists.opendocument import read_open_document
from joinmatrix.lists.outcome import ListRead, read_list
from joinmatrix.lists.separated import read_separated
from joinmatrix.lists.settings import Settings
from joinmatrix.lists.supplied import Known
from joinmatrix.lists.swallowed import swallowed_outside
from joinmatrix.lists.table import (
    ListKind,
    NotUsed,
    Reading,
    RowAccount,
    SeenHeading,
    Trouble,
    Understanding,
)
from joinmatrix.lists.values import text_of
from joinmatrix.lists.work import some
from joinmatrix.lists.workbook import read_workbook
from joinmatrix.names import folded, quoted_list
from joinmatrix.place import Place, column_letters

_FAR = 1000  # blank rows between a value and the table above it that are worth a word


def read(
    paths: Sequence[str | Path],
    *,
    bounds: Bounds = DEFAULT_BOUNDS,
    skip_hidden: bool = False,
    encoding: str | None = None,
) -> Reading:
    """Every list on every sheet of the files, and what became of every row.

    paths        files, and folders that are looked through for spreadsheets
    skip_hidden  leave hidden rows and sheets out, and say so
    encoding     of the .csv files, when it is known
    raises       InputError for a file that cannot be used at all
    """
    with _without_garbage_collection():
        found = walk(paths, bounds)
        sheets = [
            sheet
            for each in found.inputs
            for sheet in _sheets(each, bounds, encoding, skip_hidden=skip_hidden)
        ]
        _finish_open_sheets(sheets, skip_hidden=skip_hidden)
    lists = [each for sheet in sheets for each in sheet.lists]
    files = dict.fromkeys(
        name for each in found.inputs for name in (each.settings.file, each.file) if name
    )
    return Reading(
        tuple(files),
        tuple(table for each in lists for table in each.tables),
        tuple(_together(each.account for each in lists)),
        tuple(each for sheet in sheets for each in sheet.not_used),
        tuple(each for sheet in sheets for each in sheet.all_troubles()),
        (*found.notes, *(each for sheet in sheets for each in sheet.all_notes())),
        tuple(each for sheet in sheets for each in sheet.all_understood()),
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


def _grids(source: Input, bounds: Bounds, encoding: str | None) -> Iterable[Grid]:
    try:
        if source.form is Form.WORKBOOK:
            return read_workbook(source.path, source.file, bounds)
        if source.form is Form.OPEN_DOCUMENT:
            return read_open_document(source.path, source.file, bounds)
        return [read_separated(source.path, source.file, encoding, source.settings)]
    except PermissionError:
        raise locked(source.file) from None


@dataclass(slots=True)
class _Sheet:
    """What came of one sheet.

    grid  kept only while the sheet waits for what the other lists say
    """

    settings: Settings
    grid: Grid | None = None
    joints: list[str] = field(default_factory=list)
    lists: list[ListRead] = field(default_factory=list)
    not_used: list[NotUsed] = field(default_factory=list)
    troubles: list[Trouble] = field(default_factory=list)
    notes: list[tuple[Place, str]] = field(default_factory=list)
    understood: list[Understanding] = field(default_factory=list)

    def all_troubles(self) -> Iterator[Trouble]:
        """Those of the sheet, then those of its lists."""
        yield from self.troubles
        for each in self.lists:
            yield from each.troubles

    def all_notes(self) -> Iterator[tuple[Place, str]]:
        """Those of the sheet, then those of its lists."""
        yield from self.notes
        for each in self.lists:
            yield from each.notes

    def all_understood(self) -> Iterator[Understanding]:
        """Those of its lists, then what was nearly a list."""
        for each in self.lists:
            yield each.understanding
        yield from self.understood


def _sheets(
    source: Input, bounds: Bounds, encoding: str | None, *, skip_hidden: bool
) -> Iterator[_Sheet]:
    for grid in _grids(source, bounds, encoding):
        sheet = _Sheet(source.settings)
        yield sheet
        if not source.settings.sheet(grid.sheet).read:
            why = f"left out, as {source.settings.file} says"
            sheet.not_used.append(NotUsed(grid.file, grid.sheet, why))
        elif grid.hidden and skip_hidden:
            why = "the sheet is hidden; left out, as asked"
            sheet.not_used.append(NotUsed(grid.file, grid.sheet, why))
        else:
            sheet.notes.extend(grid.notes)
            _read_sheet(sheet, grid, None, skip_hidden=skip_hidden)


def _read_sheet(sheet: _Sheet, grid: Grid, known: Known | None, *, skip_hidden: bool) -> None:
    """Read the lists of a sheet, or keep it until it is known what the others say."""
    layout = find_lists(grid, sheet.settings, known)
    if layout.open and known is None:
        sheet.grid = grid
        sheet.joints = [text for found in layout.lists for text in _joint_texts(grid, found)]
        return
    sheet.grid = None
    _note_sheet(sheet, grid, layout)
    for found in layout.lists:
        nothing = Known({}, {})
        sheet.lists.append(
            read_list(
                grid,
                found,
                settings=sheet.settings,
                known=known or nothing,
                skip_hidden=skip_hidden,
            )
        )
    for miss in layout.near_misses:
        _report_near_miss(sheet, grid, miss)
    sheet.troubles.extend(swallowed_outside(grid, layout.lists, sheet.settings))
    if not layout.lists and not layout.near_misses:
        why = "no row has the headings of a list" if grid.rows else grid.blank_because
        sheet.not_used.append(NotUsed(grid.file, grid.sheet, why))


def _joint_texts(grid: Grid, found: Found) -> Iterator[str]:
    at = found.columns.get("joint")
    if at is not None:
        yield from map(text_of, set(grid.columns[at][found.heading + 1 : found.end]))


def _finish_open_sheets(sheets: Sequence[_Sheet], *, skip_hidden: bool) -> None:
    """Read the sheets that needed to know the joints and sides of the other lists."""
    if not any(sheet.grid for sheet in sheets):
        return
    known = _known(sheets)
    for sheet in sheets:
        if sheet.grid is not None:
            taught = _with_words(known, sheet.settings)
            _read_sheet(sheet, sheet.grid, taught, skip_hidden=skip_hidden)


def _with_words(known: Known, settings: Settings) -> Known:
    """What the other lists say, and the words that the settings give for it."""
    words = settings.words
    return Known(
        {**known.joints, **words.get("joint", {})}, {**known.sides, **words.get("side", {})}
    )


def _known(sheets: Iterable[_Sheet]) -> Known:
    """The joints that all lists name, and the sides that joints lists declare."""
    joints: dict[str, str] = {}
    sides: dict[str, str] = {}
    for sheet in sheets:
        texts = set(sheet.joints)
        for table in (table for each in sheet.lists for table in each.tables):
            texts.update(table.column("joint"))
            if table.kind is ListKind.JOINTS:
                for text in set(table.column("alike sides")):
                    labels = text.replace(";", ",").replace("/", ",").split(",")
                    sides.update({folded(label): label.strip() for label in labels})
        for text in sorted(texts - {""}):
            joints.setdefault(folded(text), text)
    sides.pop("", None)
    return Known(joints, sides)


def _together(accounts: Iterable[RowAccount]) -> Iterator[RowAccount]:
    """One account for each kind of list on each sheet, in reading order."""
    groups: dict[tuple[str, str, ListKind], list[RowAccount]] = {}
    for each in accounts:
        groups.setdefault((each.file, each.sheet, each.kind), []).append(each)
    for (file, sheet, kind), group in groups.items():
        read, used = sum(each.read for each in group), sum(each.used for each in group)
        aside = tuple(sorted(row for each in group for row in each.aside))
        yield RowAccount(file, sheet, kind, read, used, aside)


# --- what is said of a sheet as a whole --------------------------------------------------------


def _note_sheet(sheet: _Sheet, grid: Grid, layout: Layout) -> None:
    if not layout.lists:
        return
    if grid.hidden:
        sheet.notes.append((grid.place(), "the sheet is hidden, and was read like any other"))
    if len(layout.lists) > 1:
        kinds = quoted_list([found.kind for found in layout.lists], "and")
        sheet.notes.append((grid.place(), f"several lists are on the sheet: {kinds}"))
    _note_columns_outside(sheet, grid, layout)
    _note_rows_outside(sheet, grid, layout)
    _note_far_values(sheet, grid, layout.lists)


def _note_columns_outside(sheet: _Sheet, grid: Grid, layout: Layout) -> None:
    """Values beside the lists; those of what is nearly a list are reported with it."""
    lists = layout.lists
    spans = [found.span for found in lists]
    spans += [(miss.seen[0].column, miss.seen[-1].column) for miss in layout.near_misses]
    top = min(found.top for found in lists)
    for column, known in enumerate(grid.distinct):
        if any(left <= column <= right for left, right in spans) or set(known) <= {""}:
            continue
        values = grid.columns[column]
        filled = next((at for at in range(top, len(values)) if values[at] != ""), None)
        if filled is not None:
            heading = next(
                (text for found in lists if (text := text_of(values[found.heading]))), ""
            )
            what = f'"{heading}" stands apart from the list' if heading else "has no heading"
            words = f"column {column_letters(column + 1)} {what}; its values were not read"
            sheet.notes.append((grid.place(grid.rows[filled], column + 1), words))


def _note_rows_outside(sheet: _Sheet, grid: Grid, layout: Layout) -> None:
    """Rows that have values beside the lists only, so that no account has them."""
    lists = layout.lists
    outside = sorted({at for found in lists for at in _rows_beside(grid, found, lists)})
    if outside:
        rows = [grid.rows[at] for at in outside]
        hold = "hold" if len(rows) > 1 else "holds"
        words = f"{some(rows)} {hold} values beside the lists only, which were not read"
        sheet.notes.append((grid.place(rows[0]), words))


def _rows_beside(grid: Grid, found: Found, lists: Sequence[Found]) -> Iterator[int]:
    """Rows beside a list in which neither it nor one that stands next to it has a value."""
    left, right = found.span
    filled = [
        values
        for column, values in enumerate(grid.columns)
        if not left <= column <= right and set(grid.distinct[column]) - {""}
    ]
    if not filled:
        return
    level = [each for each in lists if each.top < found.end and found.top < each.end]
    for at in range(found.top, found.end):
        if any(values[at] != "" for values in filled) and not any(
            text_of(grid.columns[column][at])
            for each in level
            for column in range(each.span[0], each.span[1] + 1)
        ):
            yield at


def _note_far_values(sheet: _Sheet, grid: Grid, lists: Sequence[Found]) -> None:
    """A value far below the table it seems to belong to."""
    first = min(found.heading for found in lists)
    rows = grid.rows
    if rows[-1] - rows[first] - (len(rows) - 1 - first) <= _FAR:
        return
    for at in range(first + 1, len(rows)):
        if rows[at] - rows[at - 1] > _FAR:
            column = next((n for n, each in enumerate(grid.columns) if each[at] != ""), 0)
            words = f"a value in {column_letters(column + 1)}{grid.rows[at]} is far from the table"
            sheet.notes.append((grid.place(grid.rows[at], column + 1), words))


def _report_near_miss(sheet: _Sheet, grid: Grid, miss: NearMiss) -> None:
    row = grid.rows[miss.heading]
    missing = quoted_list(miss.missing, "and")
    are = "are" if len(miss.missing) > 1 else "is"
    why = f"row {row} has the headings of a {miss.kind} list but not {missing}"
    sheet.not_used.append(NotUsed(grid.file, grid.sheet, why))
    columns = "columns with the headings" if len(miss.missing) > 1 else "a column with the heading"
    title = ", or a title above them" if {*miss.missing} <= {"joint", "side"} else ""
    sheet.troubles.append(
        Trouble(
            grid.place(row),
            f"the headings {miss.seen_words} are those of a {miss.kind} list, but {missing} "
            f"{are} missing, so it was not read",
            f"add {columns} {missing}{title}, or say in joinmatrix.toml which heading is meant",
        )
    )
    headings = tuple(
        SeenHeading(column_letters(each.column + 1), each.text, each.meaning) for each in miss.seen
    )
    sheet.understood.append(
        Understanding(grid.file, grid.sheet, None, row, headings, missing=miss.missing)
    )
