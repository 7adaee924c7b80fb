"""The findings as CSV, one row for each, for those who sort and filter in a spreadsheet."""

import csv
import io

from joinmatrix.findings import Finding
from joinmatrix.report import Report
from joinmatrix.reports.text import visible
from joinmatrix.reports.view import WHOLE, Lens, View

COLUMNS = (
    "kind", "severity", "joint", "sides", "connections", "stages", "items",
    "message", "clears", "file", "sheet", "cell", "cells",
)  # fmt: skip
# A spreadsheet runs text that starts so as a formula when it opens the file.
_FORMULA_STARTS = ("=", "+", "-", "@", "\t", "\r")


def to_csv(report: Report, view: View = WHOLE) -> str:
    """One row for each finding that the view shows.

    file, sheet and cell are those of the cell to look at first; `cells` has them all. Text that
    a spreadsheet would run as a formula gets a leading apostrophe, and characters that act on a
    terminal stand by their number.
    """
    text = io.StringIO()
    writer = csv.writer(text, lineterminator="\n")
    writer.writerow(COLUMNS)
    lens = Lens(report, view)
    for finding in filter(lens.finding, report.findings):
        writer.writerow(map(harmless, _row(finding)))
    return text.getvalue()


def harmless(text: str) -> str:
    """The text as nothing takes it for anything else: no spreadsheet, and no terminal."""
    return inert(visible(text))


def inert(text: str) -> str:
    """The text as a spreadsheet takes it for text."""
    return f"'{text}" if text.startswith(_FORMULA_STARTS) else text


def _row(finding: Finding) -> tuple[str, ...]:
    first = finding.places[0] if finding.places else None
    return (
        finding.kind.value,
        finding.severity.value,
        finding.joint,
        ", ".join(finding.sides),
        ", ".join(finding.connections),
        ", ".join(finding.stages),
        ", ".join(finding.items),
        finding.message,
        finding.clears,
        first.file if first else "",
        first.sheet if first else "",
        first.cell if first else "",
        "; ".join(map(str, finding.places)),
    )
