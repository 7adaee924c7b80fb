"""One sheet of a workbook, changed as text: formats of single cells, a column of marks, links.

A sheet can have a million cells, so it is not read as a tree. Only the rows that carry marks are
taken apart; everything between them is copied as it is.
"""

import re
from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass, field
from functools import lru_cache
from typing import NamedTuple
from xml.sax.saxutils import escape, quoteattr

from joinmatrix.place import column_letters
from joinmatrix.reports.package import RELATION, RefusedError

_ATTRIBUTES = r"""((?:[^<>"']++|"[^"]*+"|'[^']*+')*+)"""
_REFERENCE = re.compile(r"\$?([A-Z]{1,3})\$?(\d+)")
# What stands after the cells of a sheet, in the order that the format asks for.
_TAIL = (
    "sheetCalcPr", "sheetProtection", "protectedRanges", "scenarios", "autoFilter", "sortState",
    "dataConsolidate", "customSheetViews", "mergeCells", "phoneticPr", "conditionalFormatting",
    "dataValidations", "hyperlinks", "printOptions", "pageMargins", "pageSetup", "headerFooter",
    "rowBreaks", "colBreaks", "customProperties", "cellWatches", "ignoredErrors", "smartTags",
    "drawing", "legacyDrawing", "legacyDrawingHF", "drawingHF", "picture", "oleObjects",
    "controls", "webPublishItems", "tableParts", "extLst",
)  # fmt: skip
_TEXT_TYPES = {"s", "str", "inlineStr"}
LONGEST_TEXT = 32_000  # a cell takes 32,767 characters

# From the format that a cell has, and whether it holds text, to the format it gets.
Restyle = Callable[[int, bool], int]


class Added(NamedTuple):
    """A cell of text in the column of marks."""

    text: str
    style: int


@dataclass(slots=True)
class Changes:
    """What is to be done to a sheet.

    restyle  (row, column) -> how its format changes
    added    row -> the cell in the column of marks
    """

    restyle: dict[tuple[int, int], Restyle] = field(default_factory=dict)
    added: dict[int, Added] = field(default_factory=dict)


class SheetText:
    """The text of one sheet part, in three pieces: before the cells, the cells, after them."""

    def __init__(self, text: str) -> None:
        """Take a sheet apart; RefusedError when it is written in a way that cannot be changed."""
        root = re.search(r"<(?:([\w.-]+):)?worksheet[\s>]", text)
        if root is None or "<!" in text:
            raise RefusedError("a sheet of it is written in an unusual way")
        self.prefix = f"{root.group(1)}:" if root.group(1) else ""
        found = re.search(rf"<{self.prefix}sheetData(?=[\s/>]){_ATTRIBUTES}>", text)
        if found is None:
            raise RefusedError("a sheet of it has no cells part")
        self.head = text[: found.start()]
        if found.group(1).endswith("/"):
            self._data, self.tail = "", text[found.end() :]
        else:
            close = f"</{self.prefix}sheetData>"
            end = text.index(close, found.end())
            self._data, self.tail = text[found.end() : end], text[end + len(close) :]
        self._row = re.compile(rf"<{self.prefix}row(?=[\s/>]){_ATTRIBUTES}>")
        self._cell = re.compile(rf"<{self.prefix}c(?=[\s/>]){_ATTRIBUTES}>")

    def text(self) -> str:
        """The whole again."""
        name = f"{self.prefix}sheetData"
        return f"{self.head}<{name}>{self._data}</{name}>{self.tail}"

    # --- before the cells ---

    def deselect(self) -> None:
        """Not among the selected sheets: typing in one would otherwise change them all."""
        self.head = re.sub(r"""\s+tabSelected\s*=\s*(["'])(?:1|true)\1""", "", self.head)

    def set_width(self, column: int, width: int) -> None:
        """Give a column a width, unless the sheet says something about it already."""
        made = f'<{self.prefix}col min="{column}" max="{column}" width="{width}" customWidth="1"/>'
        for each in re.finditer(rf"<{self.prefix}col(?=\s){_ATTRIBUTES}>", self.head):
            low, high = _number(each.group(1), "min"), _number(each.group(1), "max")
            if low <= column <= high:
                return
            if low > column:
                self.head = self.head[: each.start()] + made + self.head[each.start() :]
                return
        close = f"</{self.prefix}cols>"
        if close in self.head:
            self.head = self.head.replace(close, made + close)
        else:
            self.head += f"<{self.prefix}cols>{made}{close}"

    def widen_to(self, column: int, row: int) -> None:
        """Let the sheet's own word about its size cover a cell."""
        found = re.search(rf"<{self.prefix}dimension(?=\s){_ATTRIBUTES}>", self.head)
        if found is None:
            return
        corners = [_cell_of(each) for each in _REFERENCE.finditer(found.group(1))]
        corners.append((row, column))
        rows, columns = [each[0] for each in corners], [each[1] for each in corners]
        reference = (
            f"{column_letters(min(columns))}{min(rows)}:{column_letters(max(columns))}{max(rows)}"
        )
        made = f'<{self.prefix}dimension ref="{reference}"/>'
        self.head = self.head[: found.start()] + made + self.head[found.end() :]

    # --- the cells ---

    def last_column(self) -> int:
        """The last column that has a cell."""
        return max(map(self._last_column_of, self._rows()), default=0)

    def _last_column_of(self, row: "_Span") -> int:
        """The last cell says its place, as a rule; only where it does not are cells counted."""
        start = row.content.rfind(f"<{self.prefix}c ")
        found = self._cell.match(row.content, start) if start >= 0 else None
        reference = _REFERENCE.search(_value(found.group(1), "r")) if found else None
        if reference:
            return _column(reference.group(1))
        return max((cell.column for cell in self._cells(row)), default=0)

    def change(self, changes: Changes, mark_column: int) -> None:
        """Carry the changes out, row by row; what lies between the rows is copied."""
        columns: dict[int, dict[int, Restyle]] = {row: {} for row in changes.added}
        for (row, column), restyle in changes.restyle.items():
            columns.setdefault(row, {})[column] = restyle
        waiting = sorted(columns, reverse=True)
        pieces: list[str] = []
        copied = 0
        for span in self._rows():
            if not waiting:
                break
            if waiting[-1] > span.number:
                continue
            pieces.append(self._data[copied : span.start])
            while waiting and waiting[-1] < span.number:
                row = waiting.pop()
                pieces.append(self._row_text(_no_row(row), columns[row], changes, mark_column))
            copied = span.start
            if waiting and waiting[-1] == span.number:
                row = waiting.pop()
                pieces.append(self._row_text(span, columns[row], changes, mark_column))
                copied = span.end
        pieces.append(self._data[copied:])
        pieces += [
            self._row_text(_no_row(row), columns[row], changes, mark_column)
            for row in reversed(waiting)
        ]
        self._data = "".join(pieces)

    def _rows(self) -> Iterator["_Span"]:
        """The rows; one that does not say its number is the next one."""
        number, close = 0, f"</{self.prefix}row>"
        for found in self._row.finditer(self._data):
            attributes = found.group(1)
            number = _number(attributes, "r") or number + 1
            if attributes.endswith("/"):
                yield _Span(number, attributes[:-1], found.start(), found.end(), "")
            else:
                inner = self._data.index(close, found.end())
                content = self._data[found.end() : inner]
                yield _Span(number, attributes, found.start(), inner + len(close), content)

    def _cells(self, row: "_Span") -> Iterator["_Span"]:
        """The cells of a row; one that does not say its place is the next one."""
        column, close = 0, f"</{self.prefix}c>"
        for found in self._cell.finditer(row.content):
            attributes = found.group(1)
            reference = _REFERENCE.search(_value(attributes, "r"))
            column = _column(reference.group(1)) if reference else column + 1
            if attributes.endswith("/"):
                yield _Span(column, attributes[:-1], found.start(), found.end(), "")
            else:
                inner = row.content.index(close, found.end())
                content = row.content[found.end() : inner]
                yield _Span(column, attributes, found.start(), inner + len(close), content)

    def _row_text(
        self, row: "_Span", restyles: Mapping[int, Restyle], changes: Changes, mark_column: int
    ) -> str:
        """A row with its changes carried out."""
        known = {cell.column: cell for cell in self._cells(row)}
        cells = {column: row.content[cell.start : cell.end] for column, cell in known.items()}
        for column, restyle in restyles.items():
            cells[column] = self._restyled(row, column, known.get(column), restyle)
        added = changes.added.get(row.number)
        if added is not None:
            cells[mark_column] = self.text_cell(mark_column, row.number, added)
        attributes = _without(row.attributes, "spans")
        if not _value(attributes, "r"):
            attributes += f' r="{row.number}"'
        content = "".join(cells[column] for column in sorted(cells))
        return f"<{self.prefix}row{attributes}>{content}</{self.prefix}row>"

    def _restyled(self, row: "_Span", column: int, cell: "_Span | None", restyle: Restyle) -> str:
        reference = f"{column_letters(column)}{row.number}"
        if cell is None:
            style = restyle(self._style_of_blank(row, column), False)
            return f'<{self.prefix}c r="{reference}" s="{style}"/>'
        is_text = _value(cell.attributes, "t") in _TEXT_TYPES
        style = restyle(_number(cell.attributes, "s"), is_text)
        attributes = _without(_without(cell.attributes, "s"), "r")
        opening = f'<{self.prefix}c r="{reference}"{attributes} s="{style}"'
        return f"{opening}>{cell.content}</{self.prefix}c>" if cell.content else f"{opening}/>"

    def _style_of_blank(self, row: "_Span", column: int) -> int:
        """The format that a cell shows without being there: that of its row, or its column."""
        if _value(row.attributes, "customFormat") in ("1", "true"):
            return _number(row.attributes, "s")
        for each in re.finditer(rf"<{self.prefix}col(?=\s){_ATTRIBUTES}>", self.head):
            if _number(each.group(1), "min") <= column <= _number(each.group(1), "max"):
                return _number(each.group(1), "style")
        return 0

    def text_cell(self, column: int, row: int, added: "Added") -> str:
        """A cell with text in it that is never taken for anything else."""
        p = self.prefix
        return (
            f'<{p}c r="{column_letters(column)}{row}" s="{added.style}" t="inlineStr"><{p}is>'
            f'<{p}t xml:space="preserve">{cell_text(added.text)}</{p}t></{p}is></{p}c>'
        )

    # --- after the cells ---

    def merged(self) -> dict[tuple[int, int], tuple[int, int]]:
        """Every covered cell of a merged range -> the cell that is seen; (row, column)."""
        seen: dict[tuple[int, int], tuple[int, int]] = {}
        for each in re.finditer(rf"<{self.prefix}mergeCell(?=\s){_ATTRIBUTES}>", self.tail):
            corners = [_cell_of(corner) for corner in _REFERENCE.finditer(each.group(1))]
            if len(corners) == 2 and _area(*corners) <= _LARGEST_MERGE:
                (top, left), (bottom, right) = corners
                seen |= {
                    (row, column): (top, left)
                    for row in range(top, bottom + 1)
                    for column in range(left, right + 1)
                }
        return seen

    def add_links(self, links: Mapping[str, str]) -> None:
        """Links from cells ("R14") to places inside the workbook ("'Findings'!A5")."""
        if not links:
            return
        made = "".join(
            f"<{self.prefix}hyperlink ref={quoteattr(cell)} location={quoteattr(location)}/>"
            for cell, location in links.items()
        )
        self._add_to_tail("hyperlinks", made)

    def drawing_of_notes(self) -> str:
        """The id of the relation to the drawing that shows the notes, "" when there is none."""
        found = re.search(rf"<{self.prefix}legacyDrawing(?=\s){_ATTRIBUTES}>", self.tail)
        relation = (
            re.search(r"""[\w.-]+:id\s*=\s*(["'])(.*?)\1""", found.group(1)) if found else None
        )
        return relation.group(2) if relation else ""

    def set_drawing_of_notes(self, relation: str) -> None:
        """Name the drawing that shows the notes, by the id of its relation."""
        made = f'<{self.prefix}legacyDrawing xmlns:jm="{RELATION}" jm:id={quoteattr(relation)}/>'
        self._insert("legacyDrawing", made)

    def _add_to_tail(self, name: str, content: str) -> None:
        close = f"</{self.prefix}{name}>"
        empty = re.search(rf"<{self.prefix}{name}\s*/>", self.tail)
        if close in self.tail:
            self.tail = self.tail.replace(close, content + close, 1)
        elif empty:
            whole = f"<{self.prefix}{name}>{content}{close}"
            self.tail = self.tail[: empty.start()] + whole + self.tail[empty.end() :]
        else:
            self._insert(name, f"<{self.prefix}{name}>{content}{close}")

    def _insert(self, name: str, text: str) -> None:
        """Put an element where the format wants it: before the first that comes later."""
        later = set(_TAIL[_TAIL.index(name) + 1 :])
        where = next((start for start, each in self._tail_elements() if each in later), None)
        if where is None:
            where = self.tail.rindex(f"</{self.prefix}worksheet>")
        self.tail = self.tail[:where] + text + self.tail[where:]

    def _tail_elements(self) -> Iterator[tuple[int, str]]:
        """Start and local name of the elements right below the sheet."""
        depth = 0
        for found in re.finditer(rf"<(/?)([\w.:-]+){_ATTRIBUTES}>", self.tail):
            closing, name, attributes = found.groups()
            if closing:
                depth -= 1
                continue
            if depth == 0:
                yield found.start(), name.rpartition(":")[2]
            if not attributes.endswith("/"):
                depth += 1


class _Span(NamedTuple):
    """A row or a cell: its number, its attributes, where it stands, what is in it."""

    number: int
    attributes: str
    start: int
    end: int
    content: str

    @property
    def column(self) -> int:
        """The number of a cell."""
        return self.number


_LARGEST_MERGE = 100_000


def _no_row(number: int) -> _Span:
    return _Span(number, "", 0, 0, "")


def cell_text(text: str) -> str:
    """Text as it can stand in a cell of a workbook, with markup escaped.

    Control characters cannot be written in such a file; what looks like the escape of one is
    taken for it, so its underscore is written as an escape itself.
    """
    if len(text) > LONGEST_TEXT:
        text = f"{text[:LONGEST_TEXT]}… and {len(text) - LONGEST_TEXT:,} more characters"
    text = re.sub(r"_(?=x[0-9A-Fa-f]{4}_)", "_x005F_", text)
    text = re.sub(
        "[\x00-\x08\x0b-\x1f\x7f-\x9f\ud800-\udfff\ufffe\uffff\u202a-\u202e\u2066-\u2069]",
        lambda found: f"<U+{ord(found.group()):04X}>",
        text,
    )
    return escape(text)


def _value(attributes: str, name: str) -> str:
    found = _attribute(name).search(attributes)
    return found.group(2) if found else ""


@lru_cache(maxsize=32)
def _attribute(name: str) -> re.Pattern[str]:
    return re.compile(rf"""(?:^|\s){name}\s*=\s*(["'])(.*?)\1""")


def _number(attributes: str, name: str) -> int:
    value = _value(attributes, name)
    return int(value) if value.isdigit() else 0


def _without(attributes: str, name: str) -> str:
    return re.sub(rf"""\s+{name}\s*=\s*(["']).*?\1""", "", attributes).rstrip()


def _column(letters: str) -> int:
    number = 0
    for letter in letters:
        number = number * 26 + ord(letter) - ord("A") + 1
    return number


def _cell_of(found: re.Match[str]) -> tuple[int, int]:
    return int(found.group(2)), _column(found.group(1))


def _area(one: tuple[int, int], other: tuple[int, int]) -> int:
    return (other[0] - one[0] + 1) * (other[1] - one[1] + 1)
