"""The differences that are still to be agreed, as a differences list to be filled in."""

import io
from collections.abc import Iterator

from joinmatrix.answers.sides import DIFFERENCES_HEADINGS, Difference, Sides
from joinmatrix.names import folded
from joinmatrix.reports.workbook_text import write_text

_WHAT = "differs now"  # no heading of any list, so that it is kept and not read
_WIDTHS = (20, 22, 8, 14, 50, 22, 60)
_SHEET = "Agreed differences"


def differences_workbook(sides: Sides) -> bytes:
    """A workbook with one differences list, a row for each open difference.

    Reason and approval are blank. The last column says what differs and is not read back.
    """
    from openpyxl import Workbook
    from openpyxl.styles import Alignment, Font
    from openpyxl.utils import get_column_letter

    book = Workbook()
    sheet = book.active
    sheet.title = _SHEET
    said = dict(_said(sides))
    rows = [(*DIFFERENCES_HEADINGS, _WHAT)]
    rows += [
        (
            *proposed,
            said.get((folded(proposed.joint), folded(proposed.connection), proposed.column), ""),
        )
        for proposed in sides.proposal
    ]
    for number, row in enumerate(rows, 1):
        for column, text in enumerate(row, 1):
            cell = write_text(sheet.cell(number, column), text)
            cell.alignment = Alignment(wrap_text=True, vertical="top")
            if number == 1:
                cell.font = Font(bold=True)
    for column, cells in enumerate(_WIDTHS, 1):
        sheet.column_dimensions[get_column_letter(column)].width = cells
    sheet.freeze_panes = "A2"
    stream = io.BytesIO()
    book.save(stream)
    return stream.getvalue()


def _said(sides: Sides) -> Iterator[tuple[tuple[str, str, str], str]]:
    """What each open difference is, by joint, connection and column of its proposal."""
    for joint in sides.joints:
        key = folded(joint.joint)
        for pair in joint.pairs:
            for difference in pair.differences:
                for _, name in pair.members:
                    yield from _of(key, name, difference)
        for each in joint.unpaired:
            yield (key, folded(each.connection), ""), f"on {each.side} only"


def _of(
    joint: str, name: str, difference: Difference
) -> Iterator[tuple[tuple[str, str, str], str]]:
    column = "" if difference.column == "existence" else difference.column
    text = ", ".join(f"{side}: {value or 'blank'}" for side, value in difference.values)
    yield (joint, folded(name), column), text
