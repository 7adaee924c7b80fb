"""The first sheet of a marked workbook: its findings, worst first, with links to the cells."""

from collections.abc import Mapping, Sequence
from typing import NamedTuple
from xml.sax.saxutils import quoteattr

from joinmatrix.findings import Severity
from joinmatrix.place import Place, column_letters
from joinmatrix.report import Report
from joinmatrix.reports.matrix import Numbered
from joinmatrix.reports.package import MAIN, RELATION
from joinmatrix.reports.package_sheet import cell_text
from joinmatrix.reports.package_styles import Styles
from joinmatrix.reports.phrases import MARKS, about, where
from joinmatrix.reports.text import counted

MOST_CELLS = 12  # with a link of their own; the others stand in one last cell
MOST_ROWS = 1_048_000  # a sheet has 1,048,576
# None of these words may be a heading of a list: a marked workbook can be read again.
_HEADINGS = ("mark", "finding", "where", "about", "what is wrong", "what clears it")
_WIDTHS = (12, 18, 20, 26, 60, 44)
_CELL_WIDTH = 26
_LINE_HEIGHT = 15
_HEADING_ROW = 6
FIRST_ROW = _HEADING_ROW + 1


class Link(NamedTuple):
    """Where a cell leads: a place in this workbook, or in another by the id of its relation."""

    text: str
    location: str
    relation: str = ""


class Written(NamedTuple):
    """A text and its format."""

    text: str
    style: int


def findings_sheet(
    report: Report,
    file: str,
    findings: Sequence[Numbered],
    links: Mapping[Place, Link],
    remarks: Sequence[str],
    styles: Styles,
) -> str:
    """The sheet as the text of a part.

    findings  in the order in which they stand, from row `FIRST_ROW` on
    links     where each place leads; a place without one is only named
    remarks   what the reader has to know about this copy
    """
    most = min(max((len(each.finding.places) for each in findings), default=1), MOST_CELLS)
    sheet = _Sheet(styles, links)
    sheet.write(1, [Written(_title(report), styles.plain(bold=True))])
    sheet.write(2, [Written(_which(file, findings, report), sheet.plain)])
    for row, remark in enumerate(remarks[: _HEADING_ROW - 3], 3):
        sheet.write(row, [Written(remark, sheet.plain)])
    headings = [*_HEADINGS, *("cell" if not n else f"cell {n + 1}" for n in range(most)), "further"]
    bold = styles.plain(bold=True)
    sheet.write(_HEADING_ROW, [Written(each, bold) for each in headings])
    for row, each in enumerate(findings[:MOST_ROWS], FIRST_ROW):
        sheet.finding(row, each, most)
    return sheet.text(len(headings), min(len(findings), MOST_ROWS))


def _title(report: Report) -> str:
    counts = ", ".join(f"{report.count(each):,} {each.value}" for each in Severity)
    plan = " of the plan (nothing is recorded)" if report.assembly.plan_only else ""
    return f"Joint check: {report.verdict.value.upper()}{plan}. In all: {counts}."


def _which(file: str, findings: Sequence[Numbered], report: Report) -> str:
    left_out = len(findings) - MOST_ROWS
    more = (
        f" The last {left_out:,} have no room here: --format csv has all." if left_out > 0 else ""
    )
    return (
        f"{counted(len(findings), 'finding')} of {len(report.findings):,} "
        f"{'has' if len(findings) == 1 else 'have'} to do with {file} or with no file.{more}"
    )


def _lines(text: str, width: int) -> int:
    """Lines that a text takes in a column; not every program finds the height by itself."""
    return sum(1 + len(line) // (width - 2) for line in text.split("\n"))


class _Sheet:
    """Gathers the cells and the links of the sheet."""

    def __init__(self, styles: Styles, links: Mapping[Place, Link]) -> None:
        self._links = links
        self._rows: list[str] = []
        self._hyperlinks: list[str] = []
        self.plain = styles.plain()
        self._wrapped = styles.plain(wrap=True)
        self._link = styles.plain(link=True)
        self._marks = {each: styles.plain(bold=True, severity=each) for each in Severity}

    def write(self, row: int, cells: Sequence[Written]) -> None:
        """A row of texts, from column A on."""
        made = "".join(
            f'<c r="{column_letters(column)}{row}" s="{each.style}" t="inlineStr"><is>'
            f'<t xml:space="preserve">{cell_text(each.text)}</t></is></c>'
            for column, each in enumerate(cells, 1)
            if each.text
        )
        lines = max((_lines(each.text, width) for each, width in zip(cells, _WIDTHS, strict=False)))
        height = (
            f' ht="{min(lines * _LINE_HEIGHT, 400)}" customHeight="1"' if row >= FIRST_ROW else ""
        )
        self._rows.append(f'<row r="{row}"{height}>{made}</row>')

    def finding(self, row: int, each: Numbered, most: int) -> None:
        """A row that tells one finding, with links to its cells."""
        finding = each.finding
        mark = f"{MARKS[finding.severity]}{each.number} {finding.severity.value}"
        cells = [
            Written(mark, self._marks[finding.severity]),
            Written(finding.kind.value, self._wrapped),
            Written(where(finding), self._wrapped),
            Written(about(finding), self._wrapped),
            Written(finding.message, self._wrapped),
            Written(finding.clears, self._wrapped),
        ]
        for column, place in enumerate(finding.places[:most], len(cells) + 1):
            link = self._links.get(place)
            text = str(place) if link is None else link.text
            cells.append(Written(text, self._link if link else self.plain))
            if link:
                self._add_link(f"{column_letters(column)}{row}", link)
        cells += [Written("", self.plain)] * (len(_HEADINGS) + most - len(cells))
        further = "; ".join(map(str, finding.places[most:]))
        self.write(row, [*cells, Written(further, self.plain)])

    def _add_link(self, cell: str, link: Link) -> None:
        relation = f' r:id="{link.relation}"' if link.relation else ""
        location = f" location={quoteattr(link.location)}" if link.location else ""
        self._hyperlinks.append(f'<hyperlink ref="{cell}"{relation}{location}/>')

    def text(self, columns: int, count: int) -> str:
        """The sheet: headings that stay in view, a filter, the rows, the links."""
        widths = [*_WIDTHS, *[_CELL_WIDTH] * (columns - len(_WIDTHS))]
        cols = "".join(
            f'<col min="{column}" max="{column}" width="{width}" customWidth="1"/>'
            for column, width in enumerate(widths, 1)
        )
        last = f"{column_letters(columns)}{_HEADING_ROW + count}"
        links = f"<hyperlinks>{''.join(self._hyperlinks)}</hyperlinks>" if self._hyperlinks else ""
        return (
            f'<?xml version="1.0" encoding="UTF-8" standalone="yes"?>\n<worksheet xmlns="{MAIN}" '
            f'xmlns:r="{RELATION}"><sheetPr><pageSetUpPr fitToPage="1"/></sheetPr>'
            f'<dimension ref="A1:{last}"/><sheetViews><sheetView tabSelected="1" '
            f'workbookViewId="0"><pane ySplit="{_HEADING_ROW}" topLeftCell="A{FIRST_ROW}" '
            'activePane="bottomLeft" state="frozen"/></sheetView></sheetViews>'
            f"<cols>{cols}</cols><sheetData>{''.join(self._rows)}</sheetData>"
            f'<autoFilter ref="A{_HEADING_ROW}:{last}"/>{links}'
            '<pageSetup orientation="landscape" fitToHeight="0"/></worksheet>'
        )
