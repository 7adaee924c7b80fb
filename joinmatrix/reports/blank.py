"""A blank workbook: every list on a sheet of its own, with drop-downs and one example row each.

What is filled in is what `check` reads; the example rows begin with the word that has them set
aside. Cells for names and sizes are text, so that no spreadsheet makes dates of "3-4" or loses the
zeros of "007".
"""

import io
from collections.abc import Mapping, Sequence
from pathlib import Path
from typing import TYPE_CHECKING, Any, NamedTuple

from joinmatrix.answers.safe_write import write_whole
from joinmatrix.assembly.small_lists import COMPARED, MAY
from joinmatrix.errors import CallError
from joinmatrix.lists.headings import COLUMNS, DATE_COLUMNS, NEEDS, NEVER, NUMBER_COLUMNS
from joinmatrix.lists.settings import NAME as SETTINGS
from joinmatrix.lists.table import ListKind
from joinmatrix.lists.words import ACT_WORDS, BOTH, EXAMPLE, NO, SIDE_WORDS, YES
from joinmatrix.place import column_letters
from joinmatrix.reference.ends import forms
from joinmatrix.reports.blank_text import CONNECTION_TYPES, ITEM_TYPES, SHEETS, TEXTS, Value
from joinmatrix.reports.workbook_text import write_text

if TYPE_CHECKING:
    from openpyxl.worksheet.worksheet import Worksheet

SUFFIX = ".xlsx"
_COMMENT_LINE = 42  # letters in a line of a comment
_LAST = 5000  # the last row that has drop-downs
_LONGEST_MESSAGE = 225  # that a spreadsheet takes
_SIDES = (*dict.fromkeys(SIDE_WORDS.values()), BOTH)
_WIDE = 12  # columns that a small sheet of paper takes
_LONG = frozenset(("place", "timing", "inspect", "limits", "remove", "remarks", "reason"))
_A3, _A4 = 8, 9
_FONT = "Calibri"  # that of the cells below


class _Choices(NamedTuple):
    """What the drop-down of a column offers.

    words    the words themselves; () when they are those of another list
    list_of  the list that they stand in, and its column
    only     other words are asked about, for few are understood
    """

    words: Sequence[str] = ()
    list_of: tuple[ListKind, str] | None = None
    only: bool = False


_PERSON = _Choices(list_of=(ListKind.PEOPLE, "person"))
_SIDE = _Choices(_SIDES, only=True)
_TICK = _Choices(("x",))
_CHOICES: Mapping[str, _Choices] = {
    "side": _SIDE,
    "from side": _SIDE,
    "to side": _SIDE,
    "act": _Choices(tuple(ACT_WORDS), only=True),
    "critical": _Choices((YES, NO), only=True),
    "may": _Choices(MAY, only=True),
    "column": _Choices(COMPARED, only=True),
    "from end": _Choices(tuple(forms())),
    "to end": _Choices(tuple(forms())),
    "made": _TICK,
    "inspected": _TICK,
    "joint": _Choices(list_of=(ListKind.JOINTS, "joint")),
    "connection": _Choices(list_of=(ListKind.CONNECTIONS, "connection")),
    "stage": _Choices(list_of=(ListKind.STAGES, "stage")),
    "closed by": _Choices(list_of=(ListKind.STAGES, "stage")),
    "item": _Choices(list_of=(ListKind.TEMPORARY, "temporary item")),
    "by": _PERSON,
    "made by": _PERSON,
    "inspected by": _PERSON,
    "tool": _Choices(list_of=(ListKind.TOOLS, "tool")),
}
_TYPES: Mapping[ListKind, _Choices] = {
    ListKind.CONNECTIONS: _Choices(CONNECTION_TYPES),
    ListKind.TEMPORARY: _Choices(ITEM_TYPES),
}
# Known to the reader so that it can tell lists apart or read what others keep; nothing to fill in.
_LEFT_OUT: Mapping[ListKind, Sequence[str]] = {**NEVER, ListKind.RECORD: ("time",)}


def write_blank(path: Path) -> None:
    """Write a blank workbook to a file that is not there yet.

    raises  CallError when there is such a file, or its name is not that of a workbook;
            InputError when the folder cannot be written to
    """
    if path.suffix.lower() != SUFFIX:
        raise CallError(f'"{path}" is no name of a workbook', f'End it in "{SUFFIX}"')
    if path.exists() or path.is_symlink():
        raise CallError(f'"{path}" is there already, and stays as it is', "Name a new file")
    write_whole(path, blank_workbook())


def headings_of(kind: ListKind) -> tuple[str, ...]:
    """The headings of a list, in the order in which the blank has them."""
    return tuple(name for name in COLUMNS[kind] if name not in _LEFT_OUT.get(kind, ()))


def blank_workbook() -> bytes:
    """A workbook with all lists, ready to be filled in."""
    from openpyxl import Workbook

    book = Workbook()
    book.remove(book.active)
    book.properties.creator = "joinmatrix"
    for kind in SHEETS:
        sheet = book.create_sheet(sheet_name(kind))
        headings = headings_of(kind)
        for number, name in enumerate(headings, 1):
            _write_column(sheet, kind, number, name)
        _add_drop_downs(sheet, kind, headings)
        _set_up(sheet, len(headings))
    stream = io.BytesIO()
    book.save(stream)
    return stream.getvalue()


def sheet_name(kind: ListKind) -> str:
    """The name of the sheet of a list."""
    return kind.capitalize()


# --- one column --------------------------------------------------------------------------------


def _write_column(sheet: "Worksheet", kind: ListKind, number: int, name: str) -> None:
    from openpyxl.comments import Comment
    from openpyxl.styles import Alignment, Border, Font, PatternFill, Side

    text = TEXTS[kind][name]
    needed = _is_needed(kind, name)
    heading = write_text(sheet.cell(1, number), name)
    heading.font = Font(_FONT, 11, bold=True, underline="single" if needed else None)
    heading.fill = PatternFill("solid", fgColor="D9D9D9" if needed else "F2F2F2")
    heading.border = Border(bottom=Side("medium"))
    heading.alignment = Alignment(wrap_text=True, vertical="center")
    said = " ".join(filter(None, (text.what, _needed_words(kind, name))))
    if number == 1:
        said = f"{SHEETS[kind]}\n\n{said}\n\n{_on_own_headings(name)}"
    lines = sum(len(line) // _COMMENT_LINE + 1 for line in said.splitlines())
    heading.comment = Comment(said, "joinmatrix", height=30 + 20 * lines, width=320)

    example = _write_value(sheet.cell(2, number), text.example)
    example.font = Font(_FONT, 11, italic=True, color="595959")
    example.alignment = Alignment(wrap_text=True, vertical="top")
    example.number_format = _format(name)

    column = sheet.column_dimensions[column_letters(number)]
    column.width = _width(name, text.example)
    column.number_format = _format(name)
    column.alignment = Alignment(wrap_text=True, vertical="top")


def _on_own_headings(name: str) -> str:
    return (
        "Usual spellings of the headings are understood, further columns are left alone. If yours "
        f"has another name, say so in a file {SETTINGS} beside this one:\n"
        f'[headings]\n"my heading" = "{name}"'
    )


def _write_value(cell: Any, value: Value) -> Any:
    if isinstance(value, str):
        return write_text(cell, value)
    cell.value = value
    return cell


def _format(name: str) -> str:
    if name in ("until", "calibrated until"):
        return "yyyy-mm-dd"
    if name in DATE_COLUMNS:
        return "yyyy-mm-dd hh:mm"
    return "General" if name in NUMBER_COLUMNS or name == "seq" else "@"


def _width(name: str, example: Value) -> float:
    """Wide enough for the heading, and for the example in two lines."""
    if name in DATE_COLUMNS:
        return 17
    if name in _LONG:
        return 32
    text = str(example)
    longest = max(len(word) for word in f"{name} {text}".split())
    whole = len(text) if text.startswith(EXAMPLE) else len(text) / 2
    return min(32, max(8, longest + 3, whole + 3))


def _is_needed(kind: ListKind, name: str) -> bool:
    return any(name in group for group in NEEDS[kind])


def _needed_words(kind: ListKind, name: str) -> str:
    group = next((each for each in NEEDS[kind] if name in each), ())
    if not group:
        return ""
    if len(group) == 1:
        return "The list needs this heading."
    return f"The list needs one of these headings: {', '.join(group)}."


# --- the sheet ---------------------------------------------------------------------------------


def _add_drop_downs(sheet: "Worksheet", kind: ListKind, headings: Sequence[str]) -> None:
    from openpyxl.worksheet.datavalidation import DataValidation

    for number, name in enumerate(headings, 1):
        choices = _choices(kind, name)
        if choices is None:
            continue
        validation = DataValidation("list", formula1=_formula(choices), allow_blank=True)
        if choices.only:
            validation.showErrorMessage = True
            validation.errorStyle = "warning"  # what the reader knows besides may be written too
            validation.errorTitle = name
            validation.error = f"Usual here: {', '.join(choices.words)}."[:_LONGEST_MESSAGE]
        letters = column_letters(number)
        validation.add(f"{letters}2:{letters}{_LAST}")
        sheet.add_data_validation(validation)


def _choices(kind: ListKind, name: str) -> _Choices | None:
    choices = _TYPES.get(kind) if name == "type" else _CHOICES.get(name)
    if choices is None or choices.list_of == (kind, name):
        return None
    return choices


def _formula(choices: _Choices) -> str:
    if choices.list_of is None:
        return f'"{",".join(choices.words)}"'
    kind, name = choices.list_of
    letters = column_letters(headings_of(kind).index(name) + 1)
    return f"{sheet_name(kind)}!${letters}$2:${letters}${_LAST}"


def _set_up(sheet: "Worksheet", columns: int) -> None:
    """Headings that stay in sight, on the screen and on every printed page."""
    sheet.freeze_panes = "B2"
    sheet.row_dimensions[1].height = sheet.row_dimensions[2].height = 32  # two lines
    sheet.print_title_rows = "1:1"
    sheet.page_setup.orientation = "landscape"
    sheet.page_setup.paperSize = _A3 if columns > _WIDE else _A4
    sheet.page_setup.fitToWidth = 1
    sheet.page_setup.fitToHeight = 0  # as many pages as it takes
    sheet.sheet_properties.pageSetUpPr.fitToPage = True
    sheet.print_options.gridLines = True
    sheet.oddHeader.left.text = "&A"
    sheet.oddFooter.left.text = "&F"
    sheet.oddFooter.right.text = "&P / &N"
