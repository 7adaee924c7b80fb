"""An .ods in, its sheets out as grids, in one pass through its content.

The reader of workbooks reads .ods too, but gives no merged cells, hidden rows or errors there, and
sets room aside for repeated cells before anybody has counted them. So this is read here.
"""

import zipfile
from collections.abc import Callable, Mapping
from contextlib import suppress
from datetime import date, datetime, timedelta
from math import isfinite
from pathlib import Path
from typing import IO
from xml.parsers import expat

from joinmatrix.errors import InputError
from joinmatrix.lists.archive import opened
from joinmatrix.lists.bounds import Bounds
from joinmatrix.lists.grid import Cell, Grid, Merge, Value, fill
from joinmatrix.lists.openstyles import CELL, PARAGRAPH, SPAN, OpenStyles, Style
from joinmatrix.place import column_letters

_CHUNK = 1 << 16
_LAST_COLUMN = 16_384
_CONTENT = "content.xml"
_STYLES = "styles.xml"
_CELLS = frozenset(("table:table-cell", "table:covered-table-cell"))
_NUMBERS = frozenset(("float", "currency", "percentage"))
_HIDDEN = frozenset(("collapse", "filter"))
_FAMILIES = {"text:p": PARAGRAPH, "text:h": PARAGRAPH, "text:span": SPAN, "text:a": SPAN}
_PARAGRAPHS = frozenset(("text:p", "text:h"))
# What stands in a cell beside its text: remarks and footnotes; shapes and pictures are draw:*.
_BESIDE = frozenset(("office:annotation", "text:note", "text:ruby-text"))
_MOST_FORMATS = 100_000  # cells of a sheet whose odd format is remembered; one is told as any


def read_open_document(path: Path, file: str, bounds: Bounds) -> list[Grid]:
    """All sheets of an .ods, in order.

    file    the name to report it by
    raises  InputError when it is damaged, a trap, over a bound, or protected by a password
    """
    with opened(path, file, bounds) as archive:
        _refuse_others(file, archive)
        styles = OpenStyles()
        if _STYLES in archive.namelist():
            # What common styles look like is no reason to refuse the values.
            with archive.open(_STYLES) as stream, suppress(expat.ExpatError):
                _parse(file, stream, styles.start, styles.end)
        with archive.open(_CONTENT) as stream:
            return _Content(file, bounds, styles).read(stream)


def _refuse_others(file: str, archive: zipfile.ZipFile) -> None:
    with archive.open("mimetype") as stream:
        kind = stream.read(200)
    if b"spreadsheet" not in kind:
        raise InputError(file, "is a document without sheets", "Give spreadsheets only")
    manifest = "META-INF/manifest.xml"
    if manifest in archive.namelist():
        with archive.open(manifest) as stream:
            if b"encryption-data" in stream.read(1 << 20):
                raise InputError(
                    file, "is protected by a password", "Save a copy without one and give that"
                )


def _parse(
    file: str,
    stream: IO[bytes],
    start: Callable[[str, dict[str, str]], None],
    end: Callable[[str], None] | None = None,
    characters: Callable[[str], None] | None = None,
) -> None:
    """Read a part piece by piece.

    raises  InputError for a document type
    """

    def refuse_document_type(*_: object) -> None:
        raise InputError(
            file,
            "has a document type (DOCTYPE), which no spreadsheet program writes",
            "Do not trust this file; ask who made it for a copy saved by a spreadsheet program",
        )

    parser = expat.ParserCreate()
    parser.buffer_text = True
    parser.StartElementHandler = start
    parser.EndElementHandler = end
    parser.CharacterDataHandler = characters
    parser.StartDoctypeDeclHandler = refuse_document_type
    while chunk := stream.read(_CHUNK):
        parser.Parse(chunk, False)
    parser.Parse(b"", True)


class _Content:
    """The content part, read element by element."""

    def __init__(self, file: str, bounds: Bounds, styles: OpenStyles) -> None:
        self.file = file
        self.bounds = bounds
        self.styles = styles
        self.grids: list[Grid] = []
        self.hidden_styles: set[str] = set()
        self.struck: frozenset[Style] = frozenset()
        self.struck_columns: set[int] = set()  # where no cell or row says otherwise
        self.depth = 0  # of tables: one inside a cell is no sheet
        self.rows: list[list[Value]] = []
        self.number = 0  # of the row that is read, 1-based
        self.column = 0
        self.repeat_rows = 1
        self.row: list[Value] = []
        self.errors: dict[int, str] = {}  # column -> what it shows, of the row that is read
        self.uncalculated: list[int] = []
        self.struck_cells: list[int] = []
        self.cell: Mapping[str, str] | None = None
        self.text: list[str] = []
        self.in_paragraph = False
        self.text_is_struck = False
        self.beside = 0  # depth of remarks and shapes attached to a cell, which are no part of it
        self.column_looks: dict[int, str] = {}
        self.row_style = ""
        self.formats: dict[int, str] = {}  # column -> how it looks, of the row that is read

    def read(self, stream: IO[bytes]) -> list[Grid]:
        """All sheets."""
        _parse(self.file, stream, self._start, self._end, self._characters)
        if not self.grids:
            raise InputError(self.file, "has no sheets that can be read", "Save it as .xlsx")
        return self.grids

    # --- elements

    def _start(self, name: str, attributes: dict[str, str]) -> None:
        if _is_beside(name):
            self.beside += 1
        elif self.beside:
            return
        elif not self.depth:
            self._start_outside(name, attributes)
        elif name == "table:table":
            self.depth += 1
        elif self.depth == 1:
            self._start_in_table(name, attributes)

    def _start_outside(self, name: str, attributes: dict[str, str]) -> None:
        self.styles.start(name, attributes)
        style = self.styles.style
        if (
            name == "style:table-properties"
            and attributes.get("table:display") == "false"
            and style
        ):
            self.hidden_styles.add(style.name)
        elif name == "table:table":
            self.depth = 1
            self.struck = self.struck or self.styles.struck()
            self._start_table(attributes)

    def _start_in_table(self, name: str, attributes: dict[str, str]) -> None:
        if name == "table:table-column":
            self._take_column(attributes)
        elif name == "table:table-row":
            self._start_row(attributes)
        elif name in _CELLS:
            self.cell = attributes if name == "table:table-cell" else {**attributes, "covered": "1"}
            self.text = []
            self.text_is_struck = False
        elif name in _PARAGRAPHS:
            if self.text:
                self.text.append("\n")
            self.in_paragraph = True
        elif name == "text:s":
            count = _count(attributes.get("text:c", "1"))
            self.text.append(" " * min(count, 1000))
        elif name == "text:tab":
            self.text.append("\t")
        elif name == "text:line-break":
            self.text.append("\n")
        if self.struck and name in _FAMILIES:
            style = Style(_FAMILIES[name], attributes.get("text:style-name", ""))
            self.text_is_struck = self.text_is_struck or style in self.struck

    def _end(self, name: str) -> None:
        if _is_beside(name):
            self.beside -= 1
        elif self.beside:
            return
        elif name == "table:table":
            self.depth -= 1
            if self.depth == 0:
                fill(self.grids[-1], self.rows)
        elif not self.depth:
            self.styles.end(name)
        elif self.depth != 1:
            return
        elif name in _PARAGRAPHS:
            self.in_paragraph = False
        elif name in _CELLS:
            self._end_cell()
        elif name == "table:table-row":
            self._end_row()

    def _characters(self, data: str) -> None:
        if self.in_paragraph and not self.beside and self.depth == 1:
            self.text.append(data)

    # --- tables, rows, cells

    def _start_table(self, attributes: Mapping[str, str]) -> None:
        grid = Grid(self.file, attributes.get("table:name", ""))
        grid.hidden = attributes.get("table:style-name", "") in self.hidden_styles
        self.grids.append(grid)
        self.rows = []
        self.number = 1
        self.column = 1
        self.column_looks = {}
        self.struck_columns = set()

    def _take_column(self, attributes: Mapping[str, str]) -> None:
        count = _count(attributes.get("table:number-columns-repeated", "1"))
        if attributes.get("table:visibility") in _HIDDEN and count < _LAST_COLUMN:
            self.grids[-1].marks.hidden_columns.update(range(self.column, self.column + count))
        style = attributes.get("table:default-cell-style-name", "")
        columns = range(self.column, min(self.column + count, _LAST_COLUMN + 1))
        if look := self.styles.look(style):
            self.column_looks.update(dict.fromkeys(columns, look))
        if Style(CELL, style) in self.struck:
            self.struck_columns.update(columns)
        self.column += count

    def _start_row(self, attributes: Mapping[str, str]) -> None:
        self.repeat_rows = _count(attributes.get("table:number-rows-repeated", "1"))
        self.row = []
        self.errors = {}
        self.uncalculated = []
        self.formats = {}
        self.struck_cells = []
        self.row_style = attributes.get("table:default-cell-style-name", "")
        self.column = 1
        if attributes.get("table:visibility") == "filter":
            self.grids[-1].marks.filtered = True
        if attributes.get("table:visibility") in _HIDDEN and self.repeat_rows < 100_000:
            rows = range(self.number, self.number + self.repeat_rows)
            self.grids[-1].marks.hidden_rows.update(rows)

    def _end_row(self) -> None:
        if self.row or self.errors or self.uncalculated:
            last = self.number + self.repeat_rows - 1
            farthest = max([len(self.row), *self.errors, *self.uncalculated])
            self._check_room(last, farthest)
            self.row.extend([""] * (farthest - len(self.row)))
            self.rows.extend([] for _ in range(self.number - 1 - len(self.rows)))
            self.rows.extend(self.row for _ in range(self.repeat_rows))
            marks = self.grids[-1].marks
            for row in range(self.number, last + 1):
                marks.errors.update({Cell(row, at): why for at, why in self.errors.items()})
                marks.uncalculated.update(Cell(row, at) for at in self.uncalculated)
                marks.struck.update(Cell(row, at) for at in self.struck_cells)
                if len(marks.formats) < _MOST_FORMATS:
                    marks.formats.update({Cell(row, at): look for at, look in self.formats.items()})
        self.number += self.repeat_rows

    def _check_room(self, row: int, column: int) -> None:
        """Refuse a sheet that reaches too far, before room is taken for it."""
        if row * column > self.bounds.cells:
            raise InputError(
                f"{self.file}: {self.grids[-1].sheet}",
                f"reaches to {column_letters(min(column, _LAST_COLUMN))}{row}: {row:,} rows by "
                f"{column:,} columns, more than {self.bounds.cells:,} cells",
                "Delete the stray cells far from the table and save, or raise the bound on cells",
            )

    def _end_cell(self) -> None:
        assert self.cell is not None
        cell, self.cell = self.cell, None
        count = _count(cell.get("table:number-columns-repeated", "1"))
        value = self._value(cell) if "covered" not in cell else ""
        self._take_merge(cell)
        if value != "":
            self._check_room(self.number, self.column + count - 1)
            self.row.extend([""] * (self.column - 1 - len(self.row)))
            self.row.extend([value] * count)
            if self.struck and self._is_struck(cell):
                self.struck_cells.extend(range(self.column, self.column + count))
            if isinstance(value, float) and (look := self._look(cell)):
                self.formats.update(dict.fromkeys(range(self.column, self.column + count), look))
        self.column += count

    def _is_struck(self, cell: Mapping[str, str]) -> bool:
        """Whether text in a cell is struck out, in part or by the style of all of it."""
        name = cell.get("table:style-name") or self.row_style
        whole = Style(CELL, name) in self.struck if name else self.column in self.struck_columns
        return whole or self.text_is_struck

    def _take_merge(self, cell: Mapping[str, str]) -> None:
        down = _count(cell.get("table:number-rows-spanned", "1"))
        across = _count(cell.get("table:number-columns-spanned", "1"))
        if down > 1 or across > 1:
            self.grids[-1].marks.merges.append(
                Merge(self.number, self.column, self.number + down - 1, self.column + across - 1)
            )

    def _look(self, cell: Mapping[str, str]) -> str:
        """How a number looks by its style, or by that of its row or column."""
        if cell.get("office:value-type") == "percentage":
            return "a percentage"
        style = cell.get("table:style-name") or self.row_style
        return self.styles.look(style) if style else self.column_looks.get(self.column, "")

    def _value(self, cell: Mapping[str, str]) -> Value:
        """The value of a cell; errors and formulas without a result are marked, and blank."""
        kind = cell.get("office:value-type", "")
        shown = "".join(self.text)
        if cell.get("calcext:value-type") == "error":
            self.errors[self.column] = shown or "an error"
            return ""
        if kind in _NUMBERS:
            number = float(cell.get("office:value", "nan"))
            return number if isfinite(number) else shown
        if kind == "date":
            return _date(cell.get("office:date-value", ""))
        if kind == "time":
            return _time(cell.get("office:time-value", ""))
        if kind == "boolean":
            return "TRUE" if cell.get("office:boolean-value") == "true" else "FALSE"
        if not kind and "table:formula" in cell and not shown:
            self.uncalculated.append(self.column)
        return cell.get("office:string-value", shown) if kind == "string" else shown


def _is_beside(name: str) -> bool:
    return name in _BESIDE or name.startswith("draw:")


def _count(text: str) -> int:
    """How often something is repeated; a count that no sheet can have is cut to one past it."""
    return min(int(text), 1 << 24) if text.isdecimal() and len(text) < 12 else 1 << 24


def _date(text: str) -> Value:
    """A date, or a date and time; as it stands where the calendar has no such day."""
    try:
        moment = datetime.fromisoformat(text)
    except ValueError:
        return text
    if moment.tzinfo is None and moment == datetime(moment.year, moment.month, moment.day):
        return date(moment.year, moment.month, moment.day)
    return moment


def _time(text: str) -> Value:
    """A time of day, "PT10H30M00S", or a longer stretch."""
    amounts: dict[str, float] = {}
    digits = ""
    for each in text.removeprefix("PT"):
        if each.isdigit() or each in ".,":
            digits += each.replace(",", ".")
        else:
            try:
                amounts[each] = float(digits or 0)
            except ValueError:
                return text
            digits = ""
    stretch = timedelta(
        hours=min(amounts.get("H", 0), 1e6),
        minutes=min(amounts.get("M", 0), 1e6),
        seconds=min(amounts.get("S", 0), 1e6),
    )
    if stretch < timedelta(days=1):
        return (datetime.min + stretch).time()
    return stretch
