"""A workbook in, its sheets out as grids; nothing in it is run, followed or trusted."""

import posixpath
import re
import xml.etree.ElementTree as ET
import zipfile
import zlib
from collections.abc import Iterator, Mapping, Sequence
from datetime import datetime
from pathlib import Path
from typing import NamedTuple

from python_calamine import CalamineError, CalamineWorkbook, PasswordError, SheetVisibleEnum

from joinmatrix.errors import InputError
from joinmatrix.lists.bounds import Bounds
from joinmatrix.lists.grid import Grid, Marks, Merge, Value, fill
from joinmatrix.lists.scan import Part, check_reach, look_through
from joinmatrix.place import Place

_RATIO_FROM = 16 << 20  # smaller parts may be packed as tightly as they like
_SMALL_PART = 16 << 20  # the workbook's own list of sheets and such
_DAMAGED = "is damaged or only partly copied"
_COPY_AGAIN = "Copy it again, or open it in a spreadsheet program and save it"


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
    try:
        with zipfile.ZipFile(path) as archive:
            return _read(path, file, archive, bounds)
    except PasswordError:
        raise InputError(
            file, "is protected by a password", "Save a copy without one and give that"
        ) from None
    # A damaged archive shows itself in any of these, depending on where it is cut.
    except (
        *(zipfile.BadZipFile, zlib.error, ET.ParseError, CalamineError),
        *(EOFError, KeyError, ValueError, NotImplementedError, RuntimeError, OSError),
    ) as error:
        if isinstance(error, PermissionError):
            raise
        raise InputError(file, f"{_DAMAGED} ({_reason(error)})", _COPY_AGAIN) from error


def _reason(error: Exception) -> str:
    """The library's own words, on one line."""
    words = " ".join(str(error).split()) or type(error).__name__
    return words[:200]


def _read(path: Path, file: str, archive: zipfile.ZipFile, bounds: Bounds) -> list[Grid]:
    _check_directory(file, archive, bounds)
    sheets = _sheets(file, archive)
    grids = []
    book: CalamineWorkbook | None = None
    for sheet in sheets:
        if not sheet.part:
            grids.append(_chart(file, sheet))
            continue
        marks = _scan(file, archive, sheet, bounds)
        if book is None:
            book = CalamineWorkbook.from_path(path)
        grids.append(_grid(path, file, book, sheet, marks))
    _note_workbook(archive, file, grids)
    return grids


def _chart(file: str, sheet: _Sheet) -> Grid:
    grid = Grid(file, sheet.name, hidden=sheet.hidden)
    grid.notes.append((grid.place(), "is a chart, not a table"))
    return grid


# --- the archive -------------------------------------------------------------------------------


def _check_directory(file: str, archive: zipfile.ZipFile, bounds: Bounds) -> None:
    """Refuse a trap by its directory alone, before anything is unpacked."""
    parts = archive.infolist()
    if len(parts) > bounds.parts:
        raise InputError(
            file,
            f"holds {len(parts):,} parts, more than {bounds.parts:,}",
            "Save a copy with the lists alone, or raise the bound on parts",
        )
    total = sum(part.file_size for part in parts)
    if total > bounds.unpacked_bytes:
        raise InputError(
            file,
            f"unpacks to {_mib(total)}, more than {_mib(bounds.unpacked_bytes)}",
            "Split the workbook, or raise the bound on unpacked size",
        )
    for part in parts:
        _check_part(file, part, bounds)


def _check_part(file: str, part: zipfile.ZipInfo, bounds: Bounds) -> None:
    if part.flag_bits & 1:
        raise InputError(
            file, "is an encrypted archive", "Save a copy without a password and give that"
        )
    name = _printable(part.filename)
    if part.file_size > bounds.part_bytes:
        raise InputError(
            file,
            f"its part {name} unpacks to {_mib(part.file_size)}, more than "
            f"{_mib(bounds.part_bytes)}",
            "Split the sheet, or raise the bound on the size of one part",
        )
    packed = max(part.compress_size, 1)
    if part.file_size > _RATIO_FROM and part.file_size > packed * bounds.ratio:
        raise InputError(
            file,
            f"its part {name} unpacks to {part.file_size // packed} times its size "
            f"({_mib(part.file_size)}), as only a trap does",
            "Do not trust this file; ask who made it, or raise the bound on the ratio",
        )


def _mib(size: int) -> str:
    return f"{size / (1 << 20):,.0f} MiB"


def _printable(text: str) -> str:
    return "".join(each if each.isprintable() else "?" for each in text)[:100]


def _small(file: str, archive: zipfile.ZipFile, name: str) -> ET.Element:
    """A small part as XML."""
    info = archive.getinfo(name)
    if info.file_size > _SMALL_PART:
        raise InputError(file, f"its part {name} is far too large", _COPY_AGAIN)
    with archive.open(info) as stream:
        text = stream.read(_SMALL_PART + 1)
    if b"<!DOCTYPE" in text or "<!DOCTYPE".encode("utf-16-le") in text:
        raise InputError(
            file,
            f"its part {name} has a document type (DOCTYPE), which no spreadsheet program writes",
            "Do not trust this file; ask who made it for a copy saved by a spreadsheet program",
        )
    return ET.fromstring(text)


def _local(element: ET.Element) -> str:
    """The tag without its namespace: the strict variant of the format has others."""
    return element.tag.rpartition("}")[2]


def _attribute(element: ET.Element, name: str) -> str:
    """An attribute, whatever its namespace."""
    for key, value in element.attrib.items():
        if key.rpartition("}")[2] == name:
            return value
    return ""


def _workbook_part(file: str, archive: zipfile.ZipFile) -> str:
    """The path of the part that lists the sheets."""
    for relation in _small(file, archive, "_rels/.rels"):
        if _attribute(relation, "Type").endswith("/officeDocument"):
            return posixpath.normpath(_attribute(relation, "Target").lstrip("/"))
    raise KeyError("the archive names no workbook")


def _sheets(file: str, archive: zipfile.ZipFile) -> list[_Sheet]:
    """The sheets in workbook order, each with its part."""
    main = _workbook_part(file, archive)
    folder, name = posixpath.split(main)
    relations = {
        _attribute(each, "Id"): each
        for each in _small(file, archive, posixpath.join(folder, "_rels", f"{name}.rels"))
    }
    found = []
    for each in _small(file, archive, main).iter():
        if _local(each) != "sheet":
            continue
        relation = relations.get(_relation_id(each))
        part = ""
        if relation is not None and _attribute(relation, "Type").endswith("/worksheet"):
            target = _attribute(relation, "Target")
            part = posixpath.normpath(posixpath.join("/" + folder, target)).lstrip("/")
        hidden = _attribute(each, "state") in ("hidden", "veryHidden")
        found.append(_Sheet(_attribute(each, "name"), part, hidden))
    return found


def _relation_id(sheet: ET.Element) -> str:
    """`r:id`, which has a namespace; `id` without one is something else."""
    for key, value in sheet.attrib.items():
        if key.endswith("}id"):
            return value
    return ""


def _note_workbook(archive: zipfile.ZipFile, file: str, grids: Sequence[Grid]) -> None:
    """Links to other workbooks and macros: nothing is followed, nothing is run; say so."""
    names = [info.filename.lower() for info in archive.infolist()]
    if any(name.startswith("xl/externallinks/") for name in names):
        grids[0].notes.append(
            (Place(file), "links to other workbooks are not followed; last saved values are read")
        )
    if any(name.endswith("vbaproject.bin") for name in names):
        grids[0].notes.append((Place(file), "has macros; they are not run"))


# --- a sheet -----------------------------------------------------------------------------------


def _scan(file: str, archive: zipfile.ZipFile, sheet: _Sheet, bounds: Bounds) -> Marks:
    info = archive.getinfo(sheet.part)
    part = Part(f"{file}: {sheet.name}", info.file_size)
    with archive.open(info) as stream:
        reach, marks = look_through(stream, part)
    if reach.cells > bounds.cells:
        with archive.open(info) as stream:
            reach, _ = look_through(stream, part, exactly=True)
        check_reach(reach, part, bounds)
    return marks


def _grid(path: Path, file: str, book: CalamineWorkbook, sheet: _Sheet, marks: Marks) -> Grid:
    grid = Grid(file, sheet.name, marks=marks, hidden=sheet.hidden)
    if _metadata(book).get(sheet.name, False):
        grid.hidden = True
    try:
        table = book.get_sheet_by_name(sheet.name)
    except CalamineError as error:
        fill(grid, _second_opinion(path, sheet.name, marks))
        grid.notes.append(
            (grid.place(), f"read by the second reader, because of: {_reason(error)}")
        )
        return grid
    marks.merges = [
        Merge(top + 1, left + 1, bottom + 1, right + 1)
        for (top, left), (bottom, right) in table.merged_cell_ranges or ()
    ]
    # `iter_rows` leaves out blank columns on the left, but not blank rows at the top.
    left = table.start[1] if table.start else 0
    fill(grid, table.iter_rows() if table.start else (), left=left)
    return grid


def _metadata(book: CalamineWorkbook) -> Mapping[str, bool]:
    return {each.name: each.visible != SheetVisibleEnum.Visible for each in book.sheets_metadata}


def _second_opinion(path: Path, sheet: str, marks: Marks) -> Iterator[list[Value]]:
    """The rows by openpyxl, which reads some sheets that the first reader refuses.

    Row by row and without its trust in the size that the file states, which can be wrong.
    """
    import openpyxl

    book = openpyxl.load_workbook(path, read_only=True, data_only=True, keep_links=False)
    try:
        table = book[sheet]
        table.reset_dimensions()
        blank = {(cell.row, cell.column) for cell in marks.errors}
        for number, row in enumerate(table.iter_rows(values_only=True), 1):
            yield [
                "" if value is None or (number, column) in blank else _plain(value)
                for column, value in enumerate(row, 1)
            ]
    finally:
        book.close()


def _plain(value: Value) -> Value:
    """Midnight is a plain date; error texts are blank, the scan has them."""
    if isinstance(value, datetime) and value == datetime(value.year, value.month, value.day):
        return value.date()
    if isinstance(value, str) and re.fullmatch(r"#[A-Z0-9/_]+[!?]?", value):
        return ""
    return value
