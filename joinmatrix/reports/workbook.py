"""The input workbooks again, with the findings at the cells.

Formats, formulas, widths and everything else stay as they are. A cell that a finding is about gets
a fill, a shape and letter in front of its text, and a note. Its row gets the number of the finding
in a column after the last one, which leads to the findings on a sheet before all others, and that
leads back to the cells. A .csv becomes a workbook of one sheet.
"""

import os
from collections import defaultdict
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from functools import partial
from pathlib import Path
from urllib.parse import quote

from joinmatrix.answers.safe_write import refuse_no_file
from joinmatrix.errors import CallError, InputError
from joinmatrix.findings import Finding, Severity
from joinmatrix.lists.separated import read_separated
from joinmatrix.place import Place, column_letters
from joinmatrix.report import Report
from joinmatrix.reports.matrix import Numbered, numbered
from joinmatrix.reports.package import RELATION, Package, RefusedError, children, element, root_of
from joinmatrix.reports.package_notes import add_notes
from joinmatrix.reports.package_sheet import Added, Changes, SheetText
from joinmatrix.reports.package_styles import Styles
from joinmatrix.reports.phrases import MARKS
from joinmatrix.reports.workbook_findings import FIRST_ROW, Link, findings_sheet

MOST_NOTES = 2_000  # of a sheet; with more, notes stand at holds only
MOST_IN_A_NOTE = 5
MOST_IN_A_MARK = 4
_MARK_WIDTH = 30
_SHEET_TYPE = "application/vnd.openxmlformats-officedocument.spreadsheetml.worksheet+xml"
_THREADS = "http://schemas.microsoft.com/office/2017/10/relationships/threadedComment"
_NO_LISTS = (".toml",)  # read by a run, and without a cell to mark
_ZIP = b"PK"


@dataclass(frozen=True, slots=True)
class Marked:
    """Marked copies.

    files    where each is to be written, and its bytes
    refused  the inputs that are not among them, and why
    """

    files: Mapping[Path, bytes]
    refused: tuple[tuple[str, str], ...]


def marked(report: Report, target: Path) -> Marked:
    """The marked copies of all inputs.

    target  the copy of the one input; with several inputs each gets its name after that of the
            target: "marked.xlsx" becomes "marked-hydraulics.xlsx"
    raises  CallError when a copy would take the place of an input
    """
    targets = targets_of(report, target)
    findings = numbered(report.findings)
    files: dict[Path, bytes] = {}
    refused: list[tuple[str, str]] = []
    for file, path in targets.items():
        try:
            files[path] = _Copy(report, file, targets, findings).to_bytes()
        except RefusedError as why:
            refused.append((file, str(why)))
    return Marked(files, tuple(refused))


def targets_of(report: Report, target: Path) -> dict[str, Path]:
    """Where the copy of each input goes; never to where an input is.

    raises  CallError when a copy would take the place of an input, or of what is no file
    """
    if target.suffix.lower() != ".xlsx":
        raise CallError(f'"{target}" is no name for a marked workbook', "It must end in .xlsx")
    inputs = [file for file in report.reading.files if Path(file).suffix.lower() not in _NO_LISTS]
    targets: dict[str, Path] = {}
    for file in inputs:
        suffix = ".xlsm" if Path(file).suffix.lower() == ".xlsm" else ".xlsx"
        stem = target.stem if len(inputs) == 1 else f"{target.stem}-{Path(file).stem}"
        path, number = target.with_name(f"{stem}{suffix}"), 2
        while path in targets.values():
            path, number = target.with_name(f"{stem}-{number}{suffix}"), number + 1
        targets[file] = path
    taken = {os.path.realpath(file) for file in report.reading.files}
    for path in targets.values():
        if os.path.realpath(path) in taken:
            raise CallError(f'"{path}" is one of the inputs', "Give the marked copy another name")
        refuse_no_file(path)
    return targets


class _Copy:
    """One input, as a marked workbook."""

    def __init__(
        self,
        report: Report,
        file: str,
        targets: Mapping[str, Path],
        findings: Sequence[Numbered],
    ) -> None:
        self.report = report
        self.file = file
        self.targets = targets
        content, is_separated = _content(file)
        self.package = Package(content)
        self.styles = Styles(self.package)
        self.parts = _sheet_parts(self.package)
        if is_separated:
            self.parts = {"": next(iter(self.parts.values()))}
        self.findings = sorted(
            (each for each in findings if _concerns(each.finding, file)),
            key=lambda each: each.rank,
        )
        self.rows = {each.label: row for row, each in enumerate(self.findings, FIRST_ROW)}
        self.remarks = [
            "A marked cell has its mark in front of its text and a note; its value is unchanged. "
            "The marks after the last column lead back here."
        ]

    def to_bytes(self) -> bytes:
        """The copy."""
        name = self._free_sheet_name()
        at_cells = _by_sheet_and_cell(self.findings, self.file)
        for sheet, part in self.parts.items():
            self._sheet(sheet, part, at_cells.get(sheet, {}), name)
        self._first_sheet(name)
        self.styles.save()
        return self.package.to_bytes()

    def _free_sheet_name(self) -> str:
        taken = {name.casefold() for name in _sheet_parts(self.package)}
        name, number = "Findings", 2
        while name.casefold() in taken:
            name, number = f"Findings {number}", number + 1
        return name

    # --- the sheets that are there ---

    def _sheet(
        self, sheet: str, part: str, found: Mapping[tuple[int, int], list[Numbered]], first: str
    ) -> None:
        text = SheetText(self.package.text(part))
        text.deselect()
        if found:
            self._mark(sheet, part, text, _seen(found, text.merged()), first)
        self.package.put(part, text.text())

    def _mark(
        self,
        sheet: str,
        part: str,
        text: SheetText,
        found: Mapping[tuple[int, int], list[Numbered]],
        first: str,
    ) -> None:
        """Fills, the column of marks with its links, notes."""
        mark_column = text.last_column() + 2
        in_rows: defaultdict[int, list[Numbered]] = defaultdict(list)
        changes = Changes()
        for (row, column), several in found.items():
            in_rows[row] += several
            if column:
                severity = min(several, key=lambda each: each.rank).finding.severity
                changes.restyle[row, column] = partial(self._restyle, severity)
        links: dict[str, str] = {}
        for row, several in in_rows.items():
            in_order = sorted(set(several), key=lambda each: each.rank)
            style = self.styles.plain(bold=True, severity=in_order[0].finding.severity)
            changes.added[row] = Added(_mark_text(in_order), style)
            links[f"{column_letters(mark_column)}{row}"] = _location(
                first, f"A{self.rows[in_order[0].label]}"
            )
        text.change(changes, mark_column)
        text.add_links(links)
        text.set_width(mark_column, _MARK_WIDTH)
        text.widen_to(mark_column, max(in_rows))
        self._notes(sheet, part, text, found, mark_column)

    def _restyle(self, severity: Severity, base: int, is_text: bool) -> int:
        return self.styles.marked(base, severity, is_text=is_text)

    def _notes(
        self,
        sheet: str,
        part: str,
        text: SheetText,
        found: Mapping[tuple[int, int], list[Numbered]],
        mark_column: int,
    ) -> None:
        cells = list(found)
        if len(cells) > MOST_NOTES:
            holds = [cell for cell in cells if found[cell][0].finding.severity is Severity.HOLD]
            cells = holds[:MOST_NOTES]
            self.remarks.append(
                f"{sheet or self.file} has {len(found):,} marked cells: notes stand at "
                f"{len(cells):,} holds only."
            )
        threads = self._threads(part)
        notes = {}
        for row, column in cells:
            reference = f"{column_letters(column or mark_column)}{row}"
            if reference not in threads:
                several = found[row, column]
                notes[row, column or mark_column] = (reference, _note_text(several))
        add_notes(self.package, part, text, notes)

    def _threads(self, part: str) -> set[str]:
        """Cells with a conversation, to which a note cannot be added without breaking it."""
        return {
            comment.getAttribute("ref")
            for relation in self.package.relations(part)
            if relation.kind == _THREADS
            for comment in self.package.document(relation.target).getElementsByTagNameNS(
                "*", "threadedComment"
            )
        }

    # --- the sheet that is added ---

    def _first_sheet(self, name: str) -> None:
        part = self.package.free_name("xl/worksheets/sheet{}.xml")
        self.package.put(part, "")  # takes the name
        self.package.declare(part, _SHEET_TYPE)
        links = self._links(part)
        text = findings_sheet(
            self.report, self.file, self.findings, links, self.remarks, self.styles
        )
        self.package.put(part, text)
        _insert_sheet(self.package, name, part)

    def _links(self, part: str) -> dict[Place, Link]:
        """Where each place of the findings leads: to a cell here, or in another marked copy."""
        relations: dict[str, str] = {}
        links: dict[Place, Link] = {}
        names = _sheet_parts(self.package)
        only = next(iter(names), "")
        for each in self.findings:
            for place in each.finding.places:
                cell = f"{column_letters(max(place.column, 1))}{max(place.row, 1)}"
                if place.file == self.file:
                    if (sheet := place.sheet or only) in names:
                        links[place] = Link(f"{sheet}!{place.in_sheet}", _location(sheet, cell))
                elif place.file in self.targets:
                    address = quote(self.targets[place.file].name)
                    if address not in relations:
                        relations[address] = self.package.relate(
                            part, "hyperlink", address, outside=True
                        )
                    sheet = place.sheet or _sheet_title(place.file)
                    text = str(place._replace(file=Path(place.file).name))
                    links[place] = Link(text, _location(sheet, cell), relations[address])
        return links


def _content(file: str) -> tuple[bytes, bool]:
    """The bytes of an input as a workbook, and whether they were a .csv."""
    try:
        raw = Path(file).read_bytes()
        return (raw, False) if raw.startswith(_ZIP) else (_as_workbook(file), True)
    except (OSError, InputError) as error:
        raise RefusedError(f"it cannot be read again ({error})") from None


def _as_workbook(file: str) -> bytes:
    """A .csv as a workbook: every cell a text, where the .csv has it."""
    import io

    import openpyxl
    from openpyxl.cell import WriteOnlyCell

    grid = read_separated(Path(file), file)
    book = openpyxl.Workbook(write_only=True)
    sheet = book.create_sheet(_sheet_title(file))
    last = 0
    for index, row in enumerate(grid.rows):
        for _ in range(row - last - 1):
            sheet.append([])
        cells = []
        for value in grid.row(index):
            cell = WriteOnlyCell(sheet, value=_printable(str(value)))
            cell.data_type = "s"  # never a formula, never a number that loses its zeros
            cells.append(cell if value != "" else None)
        sheet.append(cells)
        last = row
    out = io.BytesIO()
    book.save(out)
    return out.getvalue()


def _printable(text: str) -> str:
    """Text without the control characters that no workbook can hold."""
    return "".join(
        each if each.isprintable() or each in "\n\t" else f"<U+{ord(each):04X}>" for each in text
    )


def _sheet_title(file: str) -> str:
    """A sheet may not have every name, nor one longer than 31 characters."""
    title = "".join("-" if each in "[]:*?/\\'" else each for each in Path(file).stem)
    return title[:31] or "list"


def _sheet_parts(package: Package) -> dict[str, str]:
    """The worksheets by name, in order."""
    relations = {each.id: each for each in package.relations(package.workbook_part)}
    parts = {}
    workbook = package.document(package.workbook_part)
    for sheet in workbook.getElementsByTagNameNS("*", "sheet"):
        relation = relations.get(sheet.getAttributeNS(RELATION, "id"))
        if relation and relation.kind.endswith("/worksheet"):
            parts[sheet.getAttribute("name")] = relation.target
    return parts


def _insert_sheet(package: Package, name: str, part: str) -> None:
    """Make a part the first sheet, the one that is open; names bound to a sheet move along."""
    workbook = package.document(package.workbook_part)
    root = root_of(workbook)
    (sheets,) = children(root, "sheets")
    numbers = [int(each.getAttribute("sheetId") or 0) for each in children(sheets)]
    made = element(workbook, "sheet", name=name, sheetId=str(max(numbers, default=0) + 1))
    made.setAttribute("xmlns:jm", RELATION)
    made.setAttribute("jm:id", package.relate(package.workbook_part, "worksheet", part))
    sheets.insertBefore(made, sheets.firstChild)
    for defined in root.getElementsByTagNameNS("*", "definedName"):
        if local := defined.getAttribute("localSheetId"):
            defined.setAttribute("localSheetId", str(int(local) + 1))
    for view in root.getElementsByTagNameNS("*", "workbookView"):
        for attribute in ("activeTab", "firstSheet"):
            if view.hasAttribute(attribute):
                view.setAttribute(attribute, "0")
    package.put(package.workbook_part, workbook)


def _concerns(finding: Finding, file: str) -> bool:
    return not finding.places or any(place.file == file for place in finding.places)


def _by_sheet_and_cell(
    findings: Iterable[Numbered], file: str
) -> dict[str, dict[tuple[int, int], list[Numbered]]]:
    """Sheet -> (row, column) -> findings, worst first; column 0 is the row as a whole."""
    found: defaultdict[str, defaultdict[tuple[int, int], list[Numbered]]]
    found = defaultdict(lambda: defaultdict(list))
    for each in findings:
        for place in dict.fromkeys(each.finding.places):
            if place.file == file and place.row:
                found[place.sheet][place.row, place.column].append(each)
    return {sheet: dict(cells) for sheet, cells in found.items()}


def _seen(
    found: Mapping[tuple[int, int], list[Numbered]],
    merged: Mapping[tuple[int, int], tuple[int, int]],
) -> dict[tuple[int, int], list[Numbered]]:
    """The findings at the cells that are seen: a merged range shows only its first cell."""
    seen: defaultdict[tuple[int, int], list[Numbered]] = defaultdict(list)
    for cell, several in found.items():
        seen[merged.get(cell, cell)] += several
    return {
        cell: sorted(dict.fromkeys(several), key=lambda each: each.rank)
        for cell, several in sorted(seen.items())
    }


def _location(sheet: str, cell: str) -> str:
    escaped = sheet.replace("'", "''")
    return f"'{escaped}'!{cell}"


def _mark(each: Numbered) -> str:
    return f"{MARKS[each.finding.severity]}{each.number}"


def _mark_text(several: Sequence[Numbered]) -> str:
    """The numbers and kinds of the findings of a row: "■H3 unmade, ◊N5 lookalike"."""
    text = ", ".join(f"{_mark(each)} {each.finding.kind}" for each in several[:MOST_IN_A_MARK])
    more = len(several) - MOST_IN_A_MARK
    return f"{text} and {more} more" if more > 0 else text


def _note_text(several: Sequence[Numbered]) -> str:
    parts = [
        f"{_mark(each)} {each.finding.severity.value.upper()} {each.finding.kind}\n"
        f"{each.finding.message}\nTo clear: {each.finding.clears}"
        for each in several[:MOST_IN_A_NOTE]
    ]
    if len(several) > MOST_IN_A_NOTE:
        parts.append(f"and {len(several) - MOST_IN_A_NOTE} more: see the first sheet")
    return "\n\n".join(parts)
