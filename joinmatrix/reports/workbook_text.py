"""Text into a cell of a workbook, as text and nothing else."""

from typing import Any


def write_text(cell: Any, text: str) -> Any:
    """Put text into an openpyxl cell so that no spreadsheet runs it as a formula; gives the cell.

    Characters that a workbook cannot hold are left out.
    """
    from openpyxl.cell.cell import ILLEGAL_CHARACTERS_RE

    cell.value = ILLEGAL_CHARACTERS_RE.sub("", text) or None
    if cell.value is not None:
        cell.data_type = "s"  # a leading "=" would make it a formula
        cell.quotePrefix = True  # and stays text when somebody edits it
        cell.number_format = "@"
    return cell
