"""A .csv in, one grid out: its encoding, its separator, and row numbers as a spreadsheet's."""

import codecs
import csv
import io
import re
from collections.abc import Iterator, Sequence
from pathlib import Path

from joinmatrix.errors import InputError
from joinmatrix.lists.grid import Grid, fill
from joinmatrix.place import Place

_SEPARATORS = ",;\t|"
_SEPARATOR_NAMES = {",": "comma", ";": "semicolon", "\t": "tab", "|": "bar"}
_SEP_LINE = re.compile(r'"?sep=(.)"?\s*', re.IGNORECASE)
_LONGEST_CELL = 1 << 20

_MARKS = (
    (codecs.BOM_UTF8, "utf-8-sig"),
    (codecs.BOM_UTF32_LE, "utf-32"),
    (codecs.BOM_UTF32_BE, "utf-32"),
    (codecs.BOM_UTF16_LE, "utf-16"),
    (codecs.BOM_UTF16_BE, "utf-16"),
)


def read_separated(path: Path, file: str, encoding: str | None = None) -> Grid:
    """The rows of a .csv.

    file      the name to report it by
    encoding  what the user says it is; found out when not given
    raises    InputError when it is no text, or a quote is never closed
    """
    text, note = _decoded(path.read_bytes(), file, encoding)
    grid = Grid(file, "", separated=True)
    if note:
        grid.notes.append((Place(file), note))
    separator, skipped = _separator(text, grid)
    fill(grid, _rows(text, separator, skipped, grid))
    return grid


# --- encoding ----------------------------------------------------------------------------------


def _decoded(raw: bytes, file: str, encoding: str | None) -> tuple[str, str]:
    """The text, and how it was decoded where that is a guess."""
    if encoding is not None:
        return _decoded_as(raw, file, encoding), ""
    for mark, name in _MARKS:
        if raw.startswith(mark):
            return _decoded_as(raw, file, name), ""
    if b"\x00" in raw:
        return _without_mark(raw, file)
    try:
        return raw.decode("utf-8"), ""
    except UnicodeDecodeError as error:
        return _western(raw, file, error.start)


def _decoded_as(raw: bytes, file: str, encoding: str) -> str:
    try:
        text = raw.decode(encoding)
    except LookupError:
        raise InputError(
            file, f'the encoding "{encoding}" is unknown', "Try utf-8, cp1252 or utf-16"
        ) from None
    except UnicodeDecodeError as error:
        line = raw.count(b"\n", 0, error.start) + 1
        raise InputError(
            f"{file}, line {line}",
            f"is not {encoding}: byte {raw[error.start]:#04x} at position {error.start}",
            "Save it as UTF-8, or say the encoding",
        ) from None
    return text.removeprefix("\ufeff")


def _without_mark(raw: bytes, file: str) -> tuple[str, str]:
    """UTF-16 that does not say so has a NUL in every second byte."""
    head = raw[:4096]
    for name, odd in (("utf-16-le", 1), ("utf-16-be", 0)):
        nulls = head[odd::2].count(0)
        if nulls * 3 > len(head) and not head[1 - odd :: 2].count(0):
            return _decoded_as(raw, file, name), "read as UTF-16, which it does not say it is"
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
    return text, f'read as Windows western (cp1252), because it is not UTF-8: line {line}, "{word}"'


# --- separator ---------------------------------------------------------------------------------


def _separator(text: str, grid: Grid) -> tuple[str, int]:
    """The separator, and how many lines at the top say so and hold nothing else."""
    first = text[: text.find("\n") if "\n" in text else len(text)].strip("\r\n")
    if match := _SEP_LINE.fullmatch(first):
        return match[1], 1
    counts = _counted(text)
    best = max(_SEPARATORS, key=lambda each: (counts[each], -_SEPARATORS.index(each)))
    if not counts[best]:
        return ",", 0
    if best != ",":
        grid.notes.append((grid.place(), f"cells are separated by {_SEPARATOR_NAMES[best]}s"))
    return best, 0


def _counted(text: str) -> dict[str, int]:
    """How often each separator stands outside quotes in the first lines, most in one line."""
    most = dict.fromkeys(_SEPARATORS, 0)
    for line in re.split(r"\r\n|\r|\n", text[:65536])[:30]:
        outside = re.sub(r'"[^"]*"', "", line)
        for each in _SEPARATORS:
            most[each] = max(most[each], outside.count(each))
    return most


# --- rows --------------------------------------------------------------------------------------


def _rows(text: str, separator: str, skipped: int, grid: Grid) -> Iterator[Sequence[str]]:
    """The rows, blank lines too; widths are noted in the grid for those that are kept."""
    csv.field_size_limit(_LONGEST_CELL)
    lines = csv.reader(io.StringIO(text, newline=""), delimiter=separator, strict=True)
    number = 0
    try:
        for row in lines:
            number += 1
            if number <= skipped:
                yield ()
                continue
            if row.count("") != len(row):
                grid.widths.append(len(row))
            yield row
    except csv.Error as error:
        raise _unclosed(text, separator, number, lines.line_num, grid.file, error) from None


def _unclosed(
    text: str, separator: str, row: int, line: int, file: str, error: csv.Error
) -> InputError:
    """Where a quote opens that is never closed, or closes in mid-cell: mostly an inch mark."""
    opened = _line_of_open_quote(text, separator, row)
    where = f"{file}, line {opened or line}"
    shown = next(iter(re.split(r"\r\n|\r|\n", text)[(opened or line) - 1 :]), "")
    return InputError(
        where,
        f"a quotation mark is not closed properly ({error}): {shown[:80]}",
        "An inch mark inside quotes must be doubled; write 3/4 in, or export the list again",
    )


def _line_of_open_quote(text: str, separator: str, row: int) -> int:
    """The line on which the row begins that cannot be read; 0 when it cannot be told."""
    lines = csv.reader(io.StringIO(text, newline=""), delimiter=separator, strict=True)
    for _ in range(row):
        next(lines)
    return lines.line_num + 1
