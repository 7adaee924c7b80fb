"""A .csv in, one grid out: its encoding, and row numbers as a spreadsheet's."""

import codecs
import csv
import io
from collections.abc import Iterator, Sequence
from itertools import islice
from pathlib import Path
from typing import NoReturn

from joinmatrix.errors import InputError
from joinmatrix.lists.grid import Grid, fill
from joinmatrix.lists.layout import find_lists
from joinmatrix.lists.separators import HEAD, Separator, rows_of, separator_of
from joinmatrix.lists.settings import NO_SETTINGS, Settings
from joinmatrix.place import Place

_LONGEST_CELL = 1 << 20

_MARKS = (
    (codecs.BOM_UTF8, "utf-8-sig"),
    (codecs.BOM_UTF32_LE, "utf-32"),
    (codecs.BOM_UTF32_BE, "utf-32"),
    (codecs.BOM_UTF16_LE, "utf-16"),
    (codecs.BOM_UTF16_BE, "utf-16"),
)
# Python calls these encodings, but they are no way to store a text in a file, or mean something
# else on each machine.
_NO_ENCODINGS = frozenset(
    (
        *("undefined", "charmap", "idna", "punycode", "unicode-escape", "raw-unicode-escape"),
        *("mbcs", "oem"),
    )
)


def read_separated(
    path: Path, file: str, encoding: str | None = None, settings: Settings = NO_SETTINGS
) -> Grid:
    """The rows of a .csv.

    file      the name to report it by
    encoding  what the user says it is; found out when not given
    settings  which headings there are beside the usual ones
    raises    InputError when it is no text, or a quote is never closed
    """
    raw = path.read_bytes()
    name, note = _encoding(raw, file, encoding)
    grid = Grid(file, "", separated=True)
    if note:
        grid.notes.append((Place(file), note))
    separator = separator_of(_opened(raw, name).read(HEAD), settings)
    if separator.note:
        grid.notes.append((grid.place(), separator.note))
    grid.separator = separator.mark
    fill(grid, _rows(raw, name, separator, grid))
    return grid


def begins_as_list(path: Path, settings: Settings = NO_SETTINGS) -> bool:
    """Whether a file of text has the headings of a list, or nearly, within its first lines."""
    try:
        if not path.is_file():
            return False
        with path.open("rb") as stream:
            raw = stream.read(HEAD)
    except OSError:
        return False
    name = next((name for mark, name in _MARKS if raw.startswith(mark)), "")
    text = raw.decode(name or _by_its_nulls(raw) or "utf-8", "replace")
    grid = Grid("", "", separated=True)
    fill(grid, rows_of(text, separator_of(text, settings).mark))
    layout = find_lists(grid, settings)
    return bool(layout.lists or layout.near_misses) or layout.open


def _opened(raw: bytes, encoding: str) -> io.TextIOWrapper:
    """The text, decoded as it is read: all of it at once would take several times its size."""
    return io.TextIOWrapper(io.BytesIO(raw), encoding, newline="")


# --- encoding ----------------------------------------------------------------------------------


def _encoding(raw: bytes, file: str, encoding: str | None) -> tuple[str, str]:
    """The encoding, tried on the whole file, and how it was found where that is a guess."""
    marked = next((name for mark, name in _MARKS if raw.startswith(mark)), "")
    if encoding is not None:
        return _said(raw, file, encoding, marked), ""
    if marked:
        return _checked(raw, file, marked), ""
    if b"\x00" in raw:
        return _without_mark(raw, file)
    try:
        raw.decode("utf-8")
    except UnicodeDecodeError as error:
        return _western(raw, file, error.start)
    return "utf-8", ""


def text_encoding(name: str) -> str:
    """What Python calls an encoding that files of text are written in; "" for any other name."""
    try:
        found = codecs.lookup(name).name
        io.TextIOWrapper(io.BytesIO(), found)  # refuses those that make no texts of bytes
    except (LookupError, ValueError):
        return ""
    return "" if found in _NO_ENCODINGS else found


def _said(raw: bytes, file: str, encoding: str, marked: str) -> str:
    """The encoding that the user says it is."""
    name = text_encoding(encoding)
    if not name:
        raise InputError(
            file, f'the encoding "{encoding}" is unknown', "Try utf-8, cp1252 or utf-16"
        )
    if name == "utf-8":
        return _checked(raw, file, "utf-8-sig")
    if name in ("utf-16", "utf-32") and name != marked:
        name = (_by_its_nulls(raw) if name == "utf-16" else "") or _without_order(file, name)
    return _checked(raw, file, name)


def _without_order(file: str, name: str) -> NoReturn:
    raise InputError(
        file,
        f"does not begin with the mark of {name}, which tells the order of its bytes",
        f"Say {name}-le or {name}-be, or save it as UTF-8",
    )


def _checked(raw: bytes, file: str, encoding: str) -> str:
    """The encoding, when all of the file is written in it."""
    try:
        raw.decode(encoding)
    except UnicodeDecodeError as error:
        line = raw.count(b"\n", 0, error.start) + 1
        raise InputError(
            f"{file}, line {line}",
            f"is not {encoding.removesuffix('-sig')}: byte {raw[error.start]:#04x} at position "
            f"{error.start}",
            "Save it as UTF-8, or say the encoding",
        ) from None
    return encoding


def _by_its_nulls(raw: bytes) -> str:
    """UTF-16 that does not say so has a NUL in every second byte; "" for anything else."""
    head = raw[:4096]
    for name, odd in (("utf-16-le", 1), ("utf-16-be", 0)):
        nulls = head[odd::2].count(0)
        if nulls * 3 > len(head) and not head[1 - odd :: 2].count(0):
            return name
    return ""


def _without_mark(raw: bytes, file: str) -> tuple[str, str]:
    if name := _by_its_nulls(raw):
        return _checked(raw, file, name), "read as UTF-16, which it does not say it is"
    line = raw.count(b"\n", 0, raw.index(b"\x00")) + 1
    raise InputError(
        f"{file}, line {line}",
        "holds a NUL byte, so it is no text file",
        "Give a .csv or a workbook; if it is one, export it again as UTF-8",
    )


def _western(raw: bytes, file: str, start: int) -> tuple[str, str]:
    """Windows western, the usual export of older programs; shown, because it is a guess."""
    try:
        text = raw.decode("cp1252")
    except UnicodeDecodeError as error:
        line = raw.count(b"\n", 0, error.start) + 1
        raise InputError(
            f"{file}, line {line}",
            f"is neither UTF-8 nor Windows western text: byte {raw[error.start]:#04x}",
            "Save it as UTF-8, or say the encoding",
        ) from None
    line = raw.count(b"\n", 0, start) + 1
    word = next((each for each in text[max(0, start - 40) :].split() if not each.isascii()), "")
    found = f'read as Windows western (cp1252), because it is not UTF-8: line {line}, "{word}"'
    return "cp1252", found


# --- rows --------------------------------------------------------------------------------------


def _rows(raw: bytes, encoding: str, separator: Separator, grid: Grid) -> Iterator[Sequence[str]]:
    """The rows, blank lines too; widths are noted in the grid for those that are kept."""
    csv.field_size_limit(_LONGEST_CELL)
    lines = csv.reader(_opened(raw, encoding), delimiter=separator.mark, strict=True)
    number = begins = 0
    try:
        for row in lines:
            number += 1
            begins, above = lines.line_num, begins
            if begins > above + 1:
                grid.lines[number] = (above + 1, begins)
            if number <= separator.skipped:
                yield ()
                continue
            if row.count("") != len(row):
                grid.widths.append(len(row))
            yield row
    except csv.Error as error:
        line = begins + 1  # the row that cannot be read begins below the last one that could
        shown = _line(raw, encoding, line)
        raise InputError(
            f"{grid.file}, line {line}",
            f"a quotation mark is not closed properly ({error}): {shown}",
            "An inch mark inside quotes must be doubled; write 3/4 in, or export the list again",
        ) from None


def _line(raw: bytes, encoding: str, number: int) -> str:
    """The beginning of a line of the file."""
    return next(islice(_opened(raw, encoding), number - 1, None), "").strip()[:80]
