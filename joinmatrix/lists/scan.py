"""A look through the XML of a sheet before it is read: how far it reaches, and what cells hide.

The reader in use sets room aside for every cell up to the farthest one and ends the whole process
when that is too much, and it gives errors, uncalculated formulas and hidden rows no mark. So the
part is unpacked once more, in pieces, first. Each piece is tested for a short text before any
pattern is tried on it: that costs a quarter of a second where the patterns would cost ten.
"""

import re
from collections.abc import Container, Iterator
from typing import IO, NamedTuple

from joinmatrix.errors import InputError
from joinmatrix.lists.bounds import Bounds
from joinmatrix.lists.grid import Cell, Marks
from joinmatrix.lists.styles import NOTHING_ODD, OddStyles
from joinmatrix.place import column_letters

_PIECE = 1 << 18

# Cells as every common writer spells them, near enough to the corner to be of no concern.
_NOT_PLAIN_CELL = re.compile(rb'<c(?! r="A?[A-Z]\d{1,5}")')
_NEAR = (99_999, 52)  # farthest row and column that a plain cell can have

_NAME = rb"(?:[\w.-]+:)?"
_OTHER_PREFIX = re.compile(rb"<[\w.-]+:c[\s/>]")
_NOT_PLAIN_ROW = re.compile(rb'<row(?! r="\d+" ?>)')
_REFERENCE = re.compile(rb"""\br\s*=\s*["']([A-Za-z]+)(\d+)["']""")
_ROW_REFERENCE = re.compile(rb"""<""" + _NAME + rb"""row\b[^>]*?\br\s*=\s*["'](\d+)["']""")
_UNNUMBERED = re.compile(rb'<c(?! r="[A-Z]+\d+"|[a-zA-Z])|<row(?! r="\d|[A-Za-z])')
_PLAIN_NUMBER = re.compile(rb'<c r="[A-Z]+(\d+)"')
_PLAIN_LETTERS = re.compile(rb'<c r="([A-Z]+)\d')
_EMPTY_CELL = re.compile(rb'<c r="[A-Z]+\d+"(?: s="\d+")? ?/>')
_CELL_OR_ROW = re.compile(rb"<" + _NAME + rb'(c(?! r="[A-Z]+\d)|row)(?=[\s/>])')
_ROW_OR_CELL = re.compile(rb"<" + _NAME + rb"(row|c)(?=[\s/>])([^>]*)")
_OWN_NUMBER = re.compile(rb"""(?<![\w:.-])r\s*=\s*["'](\d+)["']""")
_ROW_WITHOUT_NUMBER = re.compile(rb"<" + _NAME + rb'row(?! r="\d)(?=[\s/>])')

_ATTRIBUTES = rb"\s([^>]*)"
_ERROR_CELL = re.compile(
    rb"<" + _NAME + rb"""c\s([^>]*\bt=["']e["'][^>]*)>(.*?)</""" + _NAME + rb"c>", re.DOTALL
)
_FORMULA_CELL = re.compile(
    rb"<" + _NAME + rb"c" + _ATTRIBUTES + rb">\s*<" + _NAME + rb"f\b"
    rb"(?:[^>]*/>|[^>]*>.*?</" + _NAME + rb"f\s*>)(.*?)</" + _NAME + rb"c\s*>",
    re.DOTALL,
)
_ANY_CELL = re.compile(
    rb"<" + _NAME + rb"c" + _ATTRIBUTES + rb"(?<!/)>(.*?)</" + _NAME + rb"c\s*>", re.DOTALL
)
_STYLE = re.compile(rb"""\bs=["'](\d+)["']""")
_RESULT = re.compile(rb"<" + _NAME + rb"(?:v|t)\b[^>]*>([^<]+)<")
_HIDDEN_ROW = re.compile(rb"<" + _NAME + rb"row" + _ATTRIBUTES + rb">")
_IS_HIDDEN = re.compile(rb"""\bhidden=["'](?:1|true)["']|\bht=["']0(?:\.0*)?["']""")
_NUMBER = re.compile(rb"""\br=["'](\d+)["']""")
_COLUMN = re.compile(rb"<" + _NAME + rb"col" + _ATTRIBUTES + rb">")
_SPAN = re.compile(rb"""\b(min|max)=["'](\d+)["']""")
_FILTER = re.compile(rb"<" + _NAME + rb"filterColumn\b")
STRUCK = re.compile(rb"<" + _NAME + rb"strike(?![^>]*val=[\"'](?:0|false))[^>]*>")


class Reach(NamedTuple):
    """The farthest row and column that a sheet can have a filled cell in, and a cell of each."""

    row: int
    column: int
    row_cell: str = ""
    column_cell: str = ""

    @property
    def cells(self) -> int:
        """Room that reading takes."""
        return self.row * self.column

    def and_(self, other: "Reach") -> "Reach":
        """The farther of both, each way."""
        row = max(self, other, key=lambda each: (each.row, each.row_cell))
        column = max(self, other, key=lambda each: (each.column, each.column_cell))
        return Reach(row.row, column.column, row.row_cell, column.column_cell)


class Part(NamedTuple):
    """A sheet part of a workbook and where it is from, for messages."""

    where: str
    size: int

    def refused(self, found: str, remedy: str) -> InputError:
        """The error that says so."""
        return InputError(self.where, found, remedy)


def pieces(stream: IO[bytes], part: Part, before: bytes = b"<c ") -> Iterator[bytes]:
    """The part in pieces that end between two cells; never more than its declared size.

    before  what the next piece begins with
    raises  InputError when the part is larger than it says, or one text in it has no end, as
            only in a trap
    """
    carry = b""
    total = 0
    while chunk := stream.read(_PIECE):
        total += len(chunk)
        if total > part.size:
            raise part.refused("unpacks to more than it says", "Save it again under a new name")
        buffer = carry + chunk
        cut = buffer.rfind(before)
        if cut <= 0 and len(buffer) > 8 * _PIECE:
            cut = buffer.rfind(b"<")
            if cut <= 0:
                raise part.refused(
                    f"has a stretch of {len(buffer) >> 20} MiB without a cell or a text in it",
                    "Do not trust this file; ask who made it for a copy without it",
                )
        cut = max(cut, 0)
        yield buffer[:cut]
        carry = buffer[cut:]
    yield carry


def look_for_reach(stream: IO[bytes], part: Part, *, exactly: bool = False) -> Reach:
    """How far the sheet reaches; never less than it does.

    exactly  count every filled cell; without it plain cells count as near, which is enough for
             most sheets, and formatted blank cells count as filled
    raises   InputError for a document type, which no spreadsheet program writes
    """
    reach = Reach(0, 0)
    unnumbered_rows = 0
    in_head = True
    for piece in pieces(stream, part):
        if in_head:
            _refuse_document_type(piece, part)
            in_head = not _has_rows(piece)
        prefixed = _is_prefixed(piece)
        if exactly or prefixed or _NOT_PLAIN_CELL.search(piece):
            found, unnumbered = _reach_of(piece, exactly=exactly, prefixed=prefixed)
            reach = reach.and_(found)
            unnumbered_rows += unnumbered
        elif b"<c" in piece:
            reach = reach.and_(Reach(*_NEAR))
    return reach._replace(row=reach.row + unnumbered_rows)


def look_for_marks(stream: IO[bytes], part: Part, odd: OddStyles = NOTHING_ODD) -> Marks:
    """What the sheet says about its cells beside their values.

    odd  styles and texts of the workbook whose cells are worth a word
    """
    marks = Marks()
    in_head = True
    prefixed = False
    last = b""
    for piece in pieces(stream, part):
        if in_head:
            _read_columns(piece, marks)
            prefixed = prefixed or _is_prefixed(piece)
            in_head = not _has_rows(piece)
        _read_marks(piece, marks, prefixed=prefixed)
        _read_odd_cells(piece, marks, odd)
        last = last[-4096:] + piece
    marks.filtered = _FILTER.search(last) is not None
    return marks


def check_order(stream: IO[bytes], part: Part) -> None:
    """Look at every row and cell: of two that say they stand in one place, one would be lost.

    raises  InputError for a row that does not stand below the one before, for two cells in one
            place, and for a cell that says it stands in another row
    """
    row = column = 0
    taken: set[int] = set()
    for piece in pieces(stream, part):
        for what, attributes in _ROW_OR_CELL.findall(piece):
            if what == b"row":
                number = _OWN_NUMBER.search(attributes)
                if number is None:
                    row += 1
                elif not attributes.endswith(b"/"):  # in an empty row nothing can be lost
                    row = _next_row(row, int(number[1]), part)
                column = 0
                taken = set()
                continue
            column += 1
            if cell := _cell_of(attributes):
                column = cell.column
                if cell.row != row:
                    raise _damaged(part, f"cell {_name(cell)} stands in row {row}")
            if column in taken:
                raise _damaged(part, f"cell {_name(Cell(row, column))} stands in it twice")
            taken.add(column)


def _next_row(before: int, number: int, part: Part) -> int:
    if number > before:
        return number
    if number == 0:
        raise _damaged(part, "it has a row 0")
    if number == before:
        raise _damaged(part, f"row {number} stands in it twice")
    raise _damaged(part, f"row {number} stands below row {before}")


def _damaged(part: Part, why: str) -> InputError:
    return part.refused(
        f"is damaged: {why}, so what is written in it could be lost",
        "Open the workbook in a spreadsheet program, look whether its rows are all there, and "
        "save it once",
    )


def _name(cell: Cell) -> str:
    return f"{column_letters(cell.column)}{cell.row}"


def _has_rows(piece: bytes) -> bool:
    return b"<row" in piece or b":row" in piece


def _is_prefixed(piece: bytes) -> bool:
    """Whether a piece has cells with a namespace prefix."""
    return _has(piece, b":c") and _OTHER_PREFIX.search(piece) is not None


def _has(piece: bytes, text: bytes) -> bool:
    """Whether a piece has a text. From its end, as that takes half the time of `in`."""
    return piece.rfind(text) >= 0


def check_reach(reach: Reach, part: Part, bounds: Bounds) -> None:
    """Refuse a sheet whose farthest cells (counted exactly) ask for more room than the bound.

    raises  InputError naming the cells
    """
    if reach.cells <= bounds.cells:
        return
    cells = " and ".join(dict.fromkeys(filter(None, (reach.row_cell, reach.column_cell))))
    reaches = f"reaches to {cells}: " if cells else "reaches to "
    raise part.refused(
        f"{reaches}{reach.row:,} rows by {reach.column:,} columns, more than "
        f"{bounds.cells:,} cells",
        "Delete the stray cells far from the table (delete the rows and columns, not only what "
        "they show) and save, or raise the bound on cells",
    )


def _refuse_document_type(piece: bytes, part: Part) -> None:
    if piece[:2] in (b"\xff\xfe", b"\xfe\xff") or b"\x00" in piece[:64]:
        raise part.refused("is not written in UTF-8", "Save it again in a spreadsheet program")
    if b"<!DOCTYPE" in piece:
        raise part.refused(
            "has a document type (DOCTYPE), which no spreadsheet program writes",
            "Do not trust this file; ask who made it for a copy saved by a spreadsheet program",
        )


def _reach_of(piece: bytes, *, exactly: bool, prefixed: bool) -> tuple[Reach, int]:
    """The reach of a piece, counted from above, and its rows without a number."""
    if exactly:
        piece = _EMPTY_CELL.sub(b"", piece)
    if not prefixed and not _UNNUMBERED.search(piece):
        numbers, letters = _PLAIN_NUMBER.findall(piece), _PLAIN_LETTERS.findall(piece)
        return _farthest(piece, numbers, letters, named=exactly), 0
    numbers = [number for _, number in _REFERENCE.findall(piece)]
    letters = [letter for letter, _ in _REFERENCE.findall(piece)]
    numbers += _ROW_REFERENCE.findall(piece)
    reach = _farthest(piece, numbers, letters, named=exactly)
    # Cells that do not say where they are stand to the right of the one before.
    widest = width = 0
    for what in _CELL_OR_ROW.findall(piece):
        width = 0 if what == b"row" else width + 1
        widest = max(widest, width)
    unnumbered = len(_ROW_WITHOUT_NUMBER.findall(piece))
    return reach._replace(column=reach.column + widest), unnumbered


def _farthest(piece: bytes, numbers: list[bytes], letters: list[bytes], *, named: bool) -> Reach:
    """The reach of row numbers and column letters, if asked with a cell to name for each."""
    if not numbers:
        return Reach(0, 0)
    row = max(map(int, set(numbers)))
    by_number = {_column_number(each): each for each in set(letters)}
    column = max(by_number, default=0)
    if not named:
        return Reach(row, column)
    row_cell = re.search(rb'r="([A-Za-z]+%d)"' % row, piece)
    column_cell = re.search(rb'r="(%s\d+)"' % by_number.get(column, b"-"), piece)
    names = [match[1].decode().upper() if match else "" for match in (row_cell, column_cell)]
    return Reach(row, column, *names)


def _column_number(letters: bytes) -> int:
    number = 0
    for each in letters.upper():
        number = number * 26 + each - 64
    return number


def _read_columns(piece: bytes, marks: Marks) -> None:
    """Hidden columns stand in the head of a sheet."""
    for match in _COLUMN.finditer(piece):
        if _IS_HIDDEN.search(match[1]):
            span = {name: int(number) for name, number in _SPAN.findall(match[1])}
            first, last = span.get(b"min", 0), span.get(b"max", 0)
            marks.hidden_columns.update(range(first, min(last, 16_384) + 1))


def _read_marks(piece: bytes, marks: Marks, *, prefixed: bool) -> None:
    marks.filled += piece.count(b"</c>")
    if _has(piece, b't="e"') or prefixed:
        _read_errors(piece, marks)
    if _has(piece, b"<f") or prefixed:
        _read_formulas(piece, marks)
    if prefixed or _NOT_PLAIN_ROW.search(piece):
        for match in _HIDDEN_ROW.finditer(piece):
            if _IS_HIDDEN.search(match[1]) and (number := _NUMBER.search(match[1])):
                marks.hidden_rows.add(int(number[1]))


def _read_errors(piece: bytes, marks: Marks) -> None:
    for match in _ERROR_CELL.finditer(piece):
        if cell := _cell_of(match[1]):
            shown = _RESULT.search(match[2])
            marks.errors[cell] = shown[1].decode("utf-8", "replace") if shown else "an error"


def _read_formulas(piece: bytes, marks: Marks) -> None:
    for match in _FORMULA_CELL.finditer(piece):
        cell = _cell_of(match[1])
        if cell is None:
            continue
        result = _RESULT.search(match[2])
        # A text result may be empty on purpose; a number without digits was never worked out.
        if result is None and b't="str"' not in match[1]:
            marks.uncalculated.add(cell)
        formulas, zeros = marks.zero_formulas.get(cell.column, (0, 0))
        zero = result is not None and result[1] == b"0"
        marks.zero_formulas[cell.column] = (formulas + 1, zeros + zero)


def _read_odd_cells(piece: bytes, marks: Marks, odd: OddStyles) -> None:
    """Cells that are struck out, or whose format shows something else than they hold."""
    styles = [style for style in (*odd.struck, *odd.formats) if b's="%d"' % style in piece]
    in_part = _has(piece, b"strike") and STRUCK.search(piece) is not None
    if not styles and not in_part and not (odd.texts and b't="s"' in piece):
        return
    for match in _ANY_CELL.finditer(piece):
        cell = _cell_of(match[1])
        style = _STYLE.search(match[1])
        number = int(style[1]) if style else 0
        if cell is None:
            continue
        if (
            number in odd.struck
            or (in_part and STRUCK.search(match[2]))
            or (odd.texts and _has_text(match, odd.texts))
        ):
            marks.struck.add(cell)
        if number in odd.formats:
            marks.formats[cell] = odd.formats[number]


def _has_text(match: "re.Match[bytes]", texts: Container[int]) -> bool:
    """Whether a cell shows one of the shared texts of these numbers."""
    shown = _RESULT.search(match[2])
    return b't="s"' in match[1] and shown is not None and int(shown[1]) in texts


def _cell_of(attributes: bytes) -> Cell | None:
    match = _REFERENCE.search(b" " + attributes)
    return Cell(int(match[2]), _column_number(match[1])) if match else None
