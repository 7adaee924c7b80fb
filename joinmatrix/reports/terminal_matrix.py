"""The part of the terminal report that shows the joints: how far each side is, and its matrix."""

from collections.abc import Iterator, Mapping, Sequence
from typing import NamedTuple

from joinmatrix.assembly.standing import Standing
from joinmatrix.findings import Verdict
from joinmatrix.report import JointSummary, Report
from joinmatrix.reports.lines import BOLD, PLAIN, Line, Paper, Span
from joinmatrix.reports.matrix import (
    NOT_TOUCHED,
    Block,
    Cell,
    Numbered,
    Row,
    Sheet,
    blocks,
    touches,
)
from joinmatrix.reports.text import counted, padded, width, wrapped
from joinmatrix.reports.view import Lens

# A joint with more rows than this shows those that need a look first; so does a report with more
# than this in all. `--full` shows every row.
MOST_ROWS_OF_A_JOINT = 60
MOST_ROWS = 600
MOST_JOINTS = 200

_VERDICTS = tuple(Verdict)
_RULES = (
    ("place", "place"),
    ("timing", "make"),
    ("inspect", "inspect"),
    ("closed_by", "closed by"),
)
_STAMPS = 5  # "[PMI]"
_NARROWEST_RULES = 22
_NARROWEST_NAME = 16
_WIDE = 120
_SHORTEST_BAR = 8
_NONE = "none"


def joint_lines(
    report: Report,
    paper: Paper,
    lens: Lens,
    joints: Sequence[Sheet],
    findings: Sequence[Numbered],
) -> Iterator[Line]:
    """Every joint: its sides in numbers, then its matrix, with the findings that touch it."""
    if not lens.view.brief:
        yield from _legend(paper)
    allotted = _allotted(joints, lens)
    shown = joints if lens.view.full else joints[:MOST_JOINTS]
    in_rows = (each for sheet in shown if allotted[sheet.joint_key] for each in sheet.connections)
    touched = {} if lens.view.brief else touches(findings, report, in_rows)
    for sheet in shown:
        yield from _joint(sheet, report, paper, lens)
        if not lens.view.brief and allotted[sheet.joint_key]:
            laid_out = blocks(sheet, report, touched)
            yield from _matrix(laid_out, paper, lens, allotted[sheet.joint_key])
        elif not lens.view.brief:
            yield from _rest(len(sheet.connections), 0, paper)
    if len(shown) < len(joints):
        yield []
        rest = counted(len(joints) - len(shown), "more joint")
        yield from paper.paragraph(
            f"{rest}: add --full to see all of them, or --joint NAME to see one.", 2
        )


def _allotted(joints: Sequence[Sheet], lens: Lens) -> dict[str, int]:
    """How many rows each joint may show: the joints that hold come first when not all can."""
    if lens.view.full:
        return {sheet.joint_key: len(sheet.connections) for sheet in joints}
    left = MOST_ROWS
    allotted = {}
    for sheet in sorted(joints, key=lambda sheet: _worst(sheet.summaries)):
        allotted[sheet.joint_key] = min(MOST_ROWS_OF_A_JOINT, len(sheet.connections), left)
        left -= allotted[sheet.joint_key]
    return allotted


def _worst(summaries: Sequence[JointSummary]) -> int:
    return min(_VERDICTS.index(each.verdict) for each in summaries)


def _legend(paper: Paper) -> Iterator[Line]:
    yield []
    yield paper.heading("The joints")
    marks = paper.marks
    blank = marks.blank
    hold, still_open, note = marks.severity.values()
    yield from paper.paragraph(
        f"[PMI] placed, made, inspected; [PM{blank}] not inspected yet; [P{blank}{blank}] placed; "
        f"x undone since. {_NONE}: not listed on that side. "
        f"{hold}H hold, {still_open}O open, {note}N note: the number is that of the finding "
        "below, + when there are more.",
        2,
    )


def _joint(sheet: Sheet, report: Report, paper: Paper, lens: Lens) -> Iterator[Line]:
    yield []
    yield paper.plate(f"JOINT  {sheet.joint}")
    summaries = [each for each in sheet.summaries if lens.summary(each)]
    label_cells = max(width(paper.safe(each.side)) for each in summaries)
    for summary in summaries:
        lead: Line = [
            (padded(paper.safe(summary.side), label_cells) + "  ", BOLD),
            paper.verdict(summary.verdict),
            (" " * (8 - len(summary.verdict.value)), PLAIN),
        ]
        if report.assembly.plan_only:
            yield from paper.paragraph(counted(summary.connections, "connection"), 2, lead)
        else:
            lead.append((_bar(summary, paper), PLAIN))
            yield from paper.paragraph(_how_far(summary), 2, lead)


def _how_far(summary: JointSummary) -> str:
    text = f"{summary.made:,} of {summary.connections:,} made, {summary.inspected:,} inspected"
    placed = summary.placed - summary.made
    return f"{text}, {placed:,} more placed" if placed > 0 else text


def _bar(summary: JointSummary, paper: Paper) -> str:
    """How far a side is, in shades; the numbers beside it say the same."""
    cells = min(paper.width - 58, 30) if paper.width < _WIDE else 30
    if cells < _SHORTEST_BAR:
        return ""
    marks = paper.marks
    done = (summary.inspected, summary.made, max(summary.placed, summary.made))
    ends = [_share(number, summary.connections, cells) for number in done]
    return (
        marks.inspected * ends[0]
        + marks.made * max(ends[1] - ends[0], 0)
        + marks.placed * max(ends[2] - ends[1], 0)
        + marks.to_do * (cells - max(ends))
        + "  "
    )


def _share(number: int, of: int, cells: int) -> int:
    """Cells for a part of a whole: full only when all is done, none only when nothing is."""
    if number <= 0 or of <= 0:
        return 0
    return cells if number >= of else min(max(round(cells * number / of), 1), cells - 1)


def _matrix(laid_out: Sequence[Block], paper: Paper, lens: Lens, allotted: int) -> Iterator[Line]:
    left = allotted
    for block in laid_out:
        sides = [side for side in block.sides if lens.side(side)]
        rows = [row for row in block.rows if _is_shown(row, sides, lens)]
        if not sides or not rows:
            continue
        chosen = rows if len(rows) <= left else sorted(rows, key=lambda row: row.rank)[:left]
        left -= len(chosen)
        for layout in _layouts(chosen, sides, paper) if chosen else ():
            yield []
            yield layout.heading()
            for row in chosen:
                yield from layout.row(row)
        yield from _rest(len(rows) - len(chosen), len(chosen), paper)


def _is_shown(row: Row, sides: Sequence[str], lens: Lens) -> bool:
    if lens.view.sides and not any(each.key.side in sides for each in row.connections):
        return False
    return not lens.view.kinds or row.rank < NOT_TOUCHED


def _rest(more: int, shown: int, paper: Paper) -> Iterator[Line]:
    if more > 0:
        first = "those with findings stand first; " if shown else ""
        yield from paper.paragraph(
            f"{counted(more, 'more row')} not shown: {first}add --full to see all of them.", 2
        )


class _Layout(NamedTuple):
    """Widths of one matrix in cells; `rules` is 0 where the rules go below the row."""

    paper: Paper
    sides: Sequence[str]
    name: int
    column: int
    rules: int

    def heading(self) -> Line:
        """Names of the columns."""
        line: Line = [(padded("  connection", self.name + 4), BOLD)]
        line += [(padded(self.paper.safe(side), self.column + 2), BOLD) for side in self.sides]
        return [*line, ("rules", BOLD)] if self.rules else line

    def row(self, row: Row) -> Iterator[Line]:
        """One row in as many lines as its longest part takes."""
        names = self._names(row)
        rules = _rules(row, self.paper, self.rules or self.paper.width - 6)
        beside = rules if self.rules else []
        for number in range(max(len(names), len(beside), 1)):
            line: Line = [("  ", PLAIN)]
            line += names[number] if number < len(names) else [(" " * (self.name + 2), PLAIN)]
            for side in self.sides:
                line += self._cell(row, side) if not number else [(" " * (self.column + 2), PLAIN)]
            yield [*line, (beside[number] if number < len(beside) else "", PLAIN)]
        if not self.rules:
            yield from ([("      " + rule, PLAIN)] for rule in rules)

    def _names(self, row: Row) -> list[Line]:
        """The identifier, and what it carries: beside it where there is room, else below."""
        ids = wrapped(self.paper.safe(" / ".join(row.ids)), self.name)
        about = self.paper.safe(_about(row, self.paper.width >= _WIDE))
        lines: list[Line] = [[(each, BOLD)] for each in ids]
        if about and len(ids) == 1 and width(ids[0]) + 2 + width(about) <= self.name:
            lines[0].append(("  " + about, PLAIN))
        elif about:
            lines += [[("  " + each, PLAIN)] for each in wrapped(about, self.name - 2)]
        for line in lines:
            line.append((" " * (self.name + 2 - sum(width(text) for text, _ in line)), PLAIN))
        return lines

    def _cell(self, row: Row, side: str) -> Line:
        cell = row.cells.get(side)
        if cell is None:
            return [(padded(_NONE, self.column + 2), PLAIN)]
        line: Line = [(stamps(cell.standing, self.paper), PLAIN)]
        if cell.findings:
            line += [(" ", PLAIN), _mark(cell, self.paper)]
        used = sum(width(text) for text, _ in line)
        return [*line, (" " * (self.column + 2 - used), PLAIN)]


def stamps(standing: Standing, paper: Paper) -> str:
    """Three stamp boxes: placed, made, inspected; a mark where one is empty, x where undone."""
    blank = paper.marks.blank
    made = "M" if standing.made else "x" if standing.opened else blank
    placed = "P" if standing.placed or standing.made else blank
    inspected = "I" if standing.inspected else "x" if standing.lapsed else blank
    return f"[{placed}{made}{inspected}]"


def _mark(cell: Cell, paper: Paper) -> Span:
    worst = cell.findings[0]
    more = "+" if len(cell.findings) > 1 else ""
    return paper.severity(worst.finding.severity, worst.label + more)


def _layouts(rows: Sequence[Row], sides: Sequence[str], paper: Paper) -> Iterator[_Layout]:
    """One layout, or several one below the other when the sides do not fit beside each other."""
    column = max(_column_cells(rows, sides, paper), *(width(paper.safe(side)) for side in sides))
    room = paper.width - 4
    taken = len(sides) * (column + 2)
    beside = taken + _NARROWEST_NAME + _NARROWEST_RULES <= room
    at_once = len(sides) if beside else max((room - _NARROWEST_NAME) // (column + 2), 1)
    longest = max(_name_cells(row, paper) for row in rows)
    for start in range(0, len(sides), at_once):
        some = sides[start : start + at_once]
        left = room - len(some) * (column + 2)
        name = max(min(longest, left * 2 // 5 if beside else left), _NARROWEST_NAME)
        yield _Layout(paper, some, name, column, left - name if beside else 0)


def _column_cells(rows: Sequence[Row], sides: Sequence[str], paper: Paper) -> int:
    marks = (
        1 + width(_mark(row.cells[side], paper)[0])
        for row in rows
        for side in sides
        if side in row.cells and row.cells[side].findings
    )
    return _STAMPS + max(marks, default=0)


def _name_cells(row: Row, paper: Paper) -> int:
    ids, about = " / ".join(row.ids), _about(row, paper.width >= _WIDE)
    return width(paper.safe(ids)) + (2 + width(paper.safe(about)) if about else 0)


def _about(row: Row, with_type: bool) -> str:
    """What it carries; its type where there is room for both, or where it says nothing else."""
    service, kind = _said(row.texts("service")), _said(row.texts("type"))
    if with_type and service and kind:
        return f"{kind}: {service}"
    return service or kind


def _said(texts: Mapping[str, str]) -> str:
    return "; ".join(f"{side}: {text or 'blank'}" if side else text for side, text in texts.items())


def _rules(row: Row, paper: Paper, cells: int) -> list[str]:
    """The timing rules of a row: in one line where they fit, else a line or more for each."""
    rules = [paper.safe(rule) for column, word in _RULES for rule in _rule(row, column, word)]
    together = "; ".join(rules) or "any time"
    if width(together) <= cells:
        return [together]
    hanging = []
    for rule in rules:
        first, *further = wrapped(rule, cells - 2)
        hanging += [first, *("  " + line for line in further)]
    return hanging


def _rule(row: Row, column: str, word: str) -> Iterator[str]:
    for side, text in row.texts(column).items():
        on = f" on {side}" if side else ""
        if text or column != "closed_by":
            yield f"{word}{on} {text or 'any time'}"
        else:
            yield f"closed by nothing{on}"
