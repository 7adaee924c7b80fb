"""A workbook in, its sheets out as grids; nothing in it is run, followed or trusted."""

import posixpath
import re
import xml.etree.ElementTree as ET
import zipfile
from collections.abc import Iterator, Sequence
from concurrent.futures import ThreadPoolExecutor
from contextlib import closing, suppress
from datetime import datetime
from pathlib import Path
from typing import NamedTuple

from python_calamine import CalamineError, CalamineSheet, CalamineWorkbook

from joinmatrix.errors import InputError
from joinmatrix.lists.archive import attribute, local_name, opened, reason_of, small_part
from joinmatrix.lists.bounds import Bounds
from joinmatrix.lists.grid import Grid, Marks, Merge, Value, fill
from joinmatrix.lists.scan import Part, check_order, check_reach, look_for_marks, look_for_reach
from joinmatrix.lists.sharedtexts import SharedTexts
from joinmatrix.lists.styles import NOTHING_ODD, OddStyles, odd_styles
from joinmatrix.place import Place

_SHARED = "sharedStrings.xml"
_LAST_ROW = 1_048_576


class _Sheet(NamedTuple):
    """A sheet by name, the part that holds it ("" for a chart), and whether it is hidden."""

    name: str
    part: str
    hidden: bool


def read_workbook(path: Path, file: str, bounds: Bounds) -> list[Grid]:
    """All sheets of an .xlsx or .xlsm, in workbook order.

    file    the name to report it by
    raises  InputError when it is damaged, a trap, over a bound, or protected by a password
    """
    with opened(path, file, bounds) as archive:
        return _read(path, file, archive, bounds)


def _read(path: Path, file: str, archive: zipfile.ZipFile, bounds: Bounds) -> list[Grid]:
    main = _workbook_part(file, archive)
    sheets = _sheets(file, archive, main)
    shared = SharedTexts(file, archive, posixpath.join(posixpath.dirname(main), _SHARED))
    _check_sheets(file, archive, sheets, shared, bounds)
    odd = _odd_styles(file, archive, main)._replace(texts=shared.struck)
    grids = []
    book: CalamineWorkbook | None = None
    # The reader lets other threads run while it reads; the marks are looked for meanwhile.
    with ThreadPoolExecutor(max_workers=1) as beside:
        for sheet in sheets:
            if not sheet.part:
                grids.append(_chart(file, sheet))
                continue
            if book is None:
                book = CalamineWorkbook.from_path(path)
            marks = beside.submit(_marks, file, archive, sheet, odd)
            table = _table(book, sheet)
            grids.append(_grid(path, file, table, sheet, marks.result()))
            _check_order(file, archive, sheet, grids[-1])
    _note_workbook(file, archive, main, grids)
    return grids


def _odd_styles(file: str, archive: zipfile.ZipFile, main: str) -> OddStyles:
    """The styles that are worth a word; none where the style sheet is odd itself."""
    name = posixpath.join(posixpath.dirname(main), "styles.xml")
    if name not in archive.namelist():
        return NOTHING_ODD
    try:
        return odd_styles(small_part(file, archive, name))
    except ET.ParseError:
        return NOTHING_ODD


def _chart(file: str, sheet: _Sheet) -> Grid:
    return Grid(file, sheet.name, hidden=sheet.hidden, blank_because="it is a chart, not a table")


# --- its sheets --------------------------------------------------------------------------------


def _workbook_part(file: str, archive: zipfile.ZipFile) -> str:
    """The path of the part that lists the sheets.

    raises  InputError when the archive is something else
    """
    if "_rels/.rels" in archive.namelist():
        for relation in small_part(file, archive, "_rels/.rels"):
            if attribute(relation, "Type").endswith("/officeDocument"):
                return _checked_main(file, posixpath.normpath(attribute(relation, "Target")))
    raise InputError(file, "is an archive (.zip) and no workbook", "Give the .xlsx or .csv in it")


def _checked_main(file: str, main: str) -> str:
    if main.endswith(".bin"):
        remedy = "Open it in a spreadsheet program and save it as .xlsx or .csv"
        raise InputError(file, "is a binary workbook (.xlsb)", remedy)
    return main.lstrip("/")


def _sheets(file: str, archive: zipfile.ZipFile, main: str) -> list[_Sheet]:
    """The sheets in workbook order, each with its part.

    raises  InputError when there is none, or two have one name
    """
    folder, name = posixpath.split(main)
    relations = {
        attribute(each, "Id"): each
        for each in small_part(file, archive, posixpath.join(folder, "_rels", f"{name}.rels"))
    }
    found = []
    for each in small_part(file, archive, main).iter():
        if local_name(each) != "sheet":
            continue
        relation = relations.get(_relation_id(each))
        part = ""
        if relation is not None and attribute(relation, "Type").endswith("/worksheet"):
            target = attribute(relation, "Target")
            part = posixpath.normpath(posixpath.join("/" + folder, target)).lstrip("/")
        hidden = attribute(each, "state") in ("hidden", "veryHidden")
        found.append(_Sheet(attribute(each, "name"), part, hidden))
    if not found:
        raise InputError(file, "is a document without sheets", "Give .xlsx or .csv files")
    names = [sheet.name for sheet in found]
    for name in names:
        if names.count(name) > 1:
            raise InputError(file, f'has two sheets named "{name}"', "Rename one of them, and save")
    return found


def _relation_id(sheet: ET.Element) -> str:
    """`r:id`, which has a namespace; `id` without one is something else."""
    for key, value in sheet.attrib.items():
        if key.endswith("}id"):
            return value
    return ""


def _note_workbook(file: str, archive: zipfile.ZipFile, main: str, grids: Sequence[Grid]) -> None:
    """Links to other workbooks and macros: nothing is followed, nothing is run; say so."""
    if not grids:
        return
    names = [info.filename.lower() for info in archive.infolist()]
    notes = grids[0].notes
    if any(name.startswith("xl/externallinks/") for name in names):
        words = "links to other workbooks are not followed; the values last saved are read"
        notes.append((Place(file), words))
    if any(name.endswith("vbaproject.bin") for name in names):
        notes.append((Place(file), "has macros; they are not run"))
    book = small_part(file, archive, main)
    if any(local_name(each) == "workbookPr" and _is_1904(each) for each in book):
        notes.append((Place(file), "counts its dates from 1904; they were read so"))


def _is_1904(properties: ET.Element) -> bool:
    return attribute(properties, "date1904").lower() in ("1", "true", "on")


# --- a sheet -----------------------------------------------------------------------------------


def _check_sheets(
    file: str,
    archive: zipfile.ZipFile,
    sheets: Sequence[_Sheet],
    shared: SharedTexts,
    bounds: Bounds,
) -> None:
    """Refuse sheets that ask for more room than there may be, before any is read.

    Parts that no sheet names are looked at as well: the reader finds parts in its own way.
    """
    parts = {sheet.part: sheet.name for sheet in sheets if sheet.part}
    for info in archive.infolist():
        if "worksheets/" in info.filename.lower() and info.filename.lower().endswith(".xml"):
            parts.setdefault(info.filename, "")
    for name, sheet in parts.items():
        info = archive.getinfo(name)
        _check_sheet(file, archive, info, sheet, bounds)
        shared.check(info, Part(f"{file}: {sheet or name}", info.file_size), bounds)


def _check_sheet(
    file: str, archive: zipfile.ZipFile, info: zipfile.ZipInfo, sheet: str, bounds: Bounds
) -> None:
    part = Part(f"{file}: {sheet or info.filename}", info.file_size)
    with archive.open(info) as stream:
        reach = look_for_reach(stream, part)
    if reach.cells > bounds.cells:
        with archive.open(info) as stream:
            check_reach(look_for_reach(stream, part, exactly=True), part, bounds)


def _check_order(file: str, archive: zipfile.ZipFile, sheet: _Sheet, grid: Grid) -> None:
    """Look closely where the values read are not as many as the sheet has cells for.

    Of two cells in one place the reader gives the later alone.
    """
    marks = grid.marks
    if grid.filled == marks.filled - len(marks.errors) - len(marks.uncalculated):
        return
    info = archive.getinfo(sheet.part)
    with archive.open(info) as stream:
        check_order(stream, Part(f"{file}: {sheet.name}", info.file_size))


def _marks(file: str, archive: zipfile.ZipFile, sheet: _Sheet, odd: OddStyles) -> Marks:
    info = archive.getinfo(sheet.part)
    with archive.open(info) as stream:
        marks = look_for_marks(stream, Part(f"{file}: {sheet.name}", info.file_size), odd)
    if marks.hidden_rows and not marks.filtered:
        with suppress(ET.ParseError, KeyError):
            marks.filtered = _has_filtered_table(file, archive, sheet)
    return marks


def _has_filtered_table(file: str, archive: zipfile.ZipFile, sheet: _Sheet) -> bool:
    """Whether a filter is set on a range of the sheet that is formatted as a table."""
    folder, name = posixpath.split(sheet.part)
    for relation in small_part(file, archive, posixpath.join(folder, "_rels", f"{name}.rels")):
        if attribute(relation, "Type").endswith("/table"):
            target = posixpath.join("/" + folder, attribute(relation, "Target"))
            table = small_part(file, archive, posixpath.normpath(target).lstrip("/"))
            if any(local_name(each) == "filterColumn" for each in table.iter()):
                return True
    return False


def _table(book: CalamineWorkbook, sheet: _Sheet) -> CalamineSheet | CalamineError:
    """The sheet as the first reader sees it, or why it does not."""
    try:
        return book.get_sheet_by_name(sheet.name)
    except CalamineError as error:
        return error


def _grid(
    path: Path, file: str, table: CalamineSheet | CalamineError, sheet: _Sheet, marks: Marks
) -> Grid:
    grid = Grid(file, sheet.name, marks=marks, hidden=sheet.hidden)
    if isinstance(table, CalamineError):
        fill(grid, _second_opinion(path, sheet.name, marks))
        words = f"read by the second reader, because of: {reason_of(table)}"
        grid.notes.append((grid.place(), words))
        return grid
    marks.merges = [
        Merge(top + 1, left + 1, bottom + 1, right + 1)
        for (top, left), (bottom, right) in table.merged_cell_ranges or ()
    ]
    # `iter_rows` leaves out blank columns on the left, but not blank rows at the top.
    left = table.start[1] if table.start else 0
    fill(grid, table.iter_rows() if table.start else (), left=left)
    return grid


def _second_opinion(path: Path, sheet: str, marks: Marks) -> Iterator[list[Value]]:
    """The rows by openpyxl, which reads some sheets that the first reader refuses.

    Row by row and without its trust in the size that the file states, which can be wrong.

    raises  ValueError when it cannot read the sheet either
    """
    import openpyxl

    blank = {(cell.row, cell.column) for cell in marks.errors}
    # What it raises on broken files is anything, so anything means that it cannot read them.
    try:
        book = openpyxl.load_workbook(path, read_only=True, data_only=True, keep_links=False)
        with closing(book):
            table = book[sheet]
            table.reset_dimensions()
            for number, row in enumerate(table.iter_rows(values_only=True), 1):
                if number > _LAST_ROW:
                    raise ValueError(f"a row beyond {_LAST_ROW:,}")
                yield [
                    "" if value is None or (number, column) in blank else _plain(value)
                    for column, value in enumerate(row, 1)
                ]
    except Exception as error:
        raise ValueError(f"neither reader can read sheet {sheet}: {error}") from error


def _plain(value: Value) -> Value:
    """Midnight is a plain date; error texts are blank, the scan has them."""
    if isinstance(value, datetime) and value == datetime(value.year, value.month, value.day):
        return value.date()
    if isinstance(value, str) and re.fullmatch(r"#[A-Z0-9/_]+[!?]?", value):
        return ""
    return value
