"""The sign-off: the statement or why there is none, and the recheck of a statement."""

from collections.abc import Iterable, Iterator, Sequence
from pathlib import Path

from joinmatrix.answers.seals import Change
from joinmatrix.answers.sign_off import Recheck, SignOff
from joinmatrix.answers.statement import (
    FORMAT,
    REFUSAL,
    SAFETY,
    Agreed,
    Count,
    Statement,
    Unchecked,
    program_version,
    statement_bytes,
)
from joinmatrix.findings import Severity, Verdict
from joinmatrix.report import JointSummary, Report
from joinmatrix.reports.answer_head import (
    hanging_lines,
    heading_lines,
    label_lines,
    stamp_lines,
    title_lines,
)
from joinmatrix.reports.json_report import finding_object
from joinmatrix.reports.json_text import document
from joinmatrix.reports.lines import BOLD, PLAIN, Line, Paper
from joinmatrix.reports.matrix import numbered
from joinmatrix.reports.terminal_findings import finding_lines
from joinmatrix.reports.text import counted, padded, row_ranges, width
from joinmatrix.reports.view import View

RECHECK_FORMAT = "joinmatrix-recheck/1"
_NUMBERS = (("connections", 12), ("made", 8), ("inspected", 10))
_MOST_CHANGES = 200


def sign_off_lines(
    answer: SignOff, paper: Paper, *, written: Sequence[Path] = (), brief: bool = False
) -> Iterator[Line]:
    """The statement, or what keeps it from being made.

    written  the files that the statement is in
    brief    one line for each finding that holds
    """
    if answer.statement is None:
        yield from _refused(answer, paper, View(brief=brief))
    else:
        yield from _signed(answer.statement, written, paper)


def _signed(statement: Statement, written: Sequence[Path], paper: Paper) -> Iterator[Line]:
    yield from title_lines("Sign-off statement", paper)
    yield from _about(statement, paper)
    yield from _body(statement, paper)
    yield from _safety(SAFETY, paper)
    made = sum(each.made for each in statement.counts)
    inspected = sum(each.inspected for each in statement.counts)
    numbers = f"{made:,} of {statement.connections:,} made, {inspected:,} inspected"
    yield from stamp_lines(Verdict.CLEAR, "CLEAR", numbers, paper)
    yield []
    if written:
        files = " and ".join(map(str, written))
        text = f"The statement is in {files}. --recheck holds lists against the .json file."
    else:
        text = (
            'Not kept anywhere: add --by "NAME" --output FILE.json to write the sealed statement.'
        )
    yield from paper.paragraph(text, 2)


def _about(statement: Statement, paper: Paper) -> Iterator[Line]:
    facts = (
        ("unit", statement.unit or "none named in the record"),
        ("date", statement.date),
        ("by", statement.by or "nobody is named"),
        ("program", statement.program),
        ("as of", statement.as_of or "the latest time in the record"),
    )
    yield []
    for name, text in facts:
        yield from label_lines(paper, f"{name:9}", text)


def _body(statement: Statement, paper: Paper) -> Iterator[Line]:
    yield from heading_lines("Connections", paper)
    yield from _counts(statement.counts, paper)
    yield from heading_lines("Agreed differences that it relies on", paper)
    yield from _agreed(statement.agreed, paper)
    yield from heading_lines("Not checked", paper)
    yield from _unchecked(statement.unchecked, paper)
    if statement.notes:
        yield from heading_lines("Notes, which hold nothing", paper)
        said = ", ".join(f"{number:,} {kind}" for kind, number in statement.notes.items())
        yield from paper.paragraph(said, 2)
    yield from heading_lines("Exactly these files (SHA-256)", paper)
    for each in statement.inputs.files:
        yield from paper.paragraph(f"{each.file}, {counted(each.size, 'byte')}", 2)
        yield from paper.paragraph(each.sha256, 4)


def _counts(counts: Sequence[Count], paper: Paper) -> Iterator[Line]:
    """One line for each side of each joint."""
    names = [paper.safe(f"{each.joint} {each.side}") for each in counts]
    numbers = sum(cells for _, cells in _NUMBERS)
    most = max(paper.width - 2 - numbers, 8)
    cells = min(max(map(width, names), default=0), most)
    yield [(" " * (cells + 2), PLAIN), *((f"{word:>{room}}", BOLD) for word, room in _NUMBERS)]
    for name, each in zip(names, counts, strict=True):
        values = (each.connections, each.made, each.inspected)
        said = "".join(
            f"{value:>{room},}" for value, (_, room) in zip(values, _NUMBERS, strict=True)
        )
        if width(name) <= cells:
            yield [("  " + padded(name, cells), PLAIN), (said, PLAIN)]
        else:
            yield from paper.paragraph(name, 2)
            yield [(" " * (cells + 2), PLAIN), (said, PLAIN)]


def _agreed(agreed: Iterable[Agreed], paper: Paper) -> Iterator[Line]:
    none = True
    for each in agreed:
        none = False
        name = each.connection or each.service
        where = f"{each.joint} {each.side}" if each.joint else each.side or "every joint"
        what = f"{each.column} differs" if each.column else "not on every side"
        by = f" ({each.approved_by})" if each.approved_by else ""
        sheet = f"{each.file}: {each.sheet}" if each.sheet else each.file
        text = f"{where.strip()}, {what}: {each.reason}{by}; {sheet}, row {each.row}"
        yield from hanging_lines([(f"{paper.safe(name)}  ", BOLD)], text, paper)
    if none:
        yield from paper.paragraph("none", 2)


def _unchecked(unchecked: Sequence[Unchecked], paper: Paper) -> Iterator[Line]:
    for each in unchecked:
        yield from paper.paragraph(f"{', '.join(each.kinds)}: {each.why}", 2)
    if not unchecked:
        yield from paper.paragraph("nothing: every check ran", 2)


def _safety(text: str, paper: Paper) -> Iterator[Line]:
    yield from heading_lines("What this is", paper)
    yield from paper.paragraph(text, 2)


def _refused(answer: SignOff, paper: Paper, view: View) -> Iterator[Line]:
    report = answer.report
    unit = f"  unit {report.assembly.unit}" if report.assembly.unit else ""
    yield from title_lines(f"Sign-off refused{unit}", paper)
    yield []
    for why in answer.refused:
        yield from paper.paragraph(why, 2, [paper.severity(Severity.HOLD), ("  ", PLAIN)])
    yield from heading_lines("Connections", paper)
    yield from _counts([_count(each) for each in report.joints], paper)
    yield from heading_lines("Not checked", paper)
    not_run = [Unchecked(tuple(each.kinds), each.why) for each in report.not_run]
    yield from _unchecked(not_run, paper)
    holds = [each for each in numbered(report.findings) if each.finding.severity is Severity.HOLD]
    yield from finding_lines(paper, view, holds, "What holds, as sign-off weighs it")
    yield from _safety(REFUSAL, paper)
    yield from stamp_lines(Verdict.HOLD, "NOT SIGNED OFF", counted(len(holds), "hold"), paper)


def _count(each: JointSummary) -> Count:
    return Count(each.joint, each.side, each.connections, each.made, each.inspected)


def sign_off_json(answer: SignOff) -> str:
    """The statement as its file has it, or the refusal in the same format without a seal."""
    if answer.statement is not None:
        return statement_bytes(answer.statement).decode("utf-8")
    report = answer.report
    holds = [each for each in report.findings if each.severity is Severity.HOLD]
    return document(
        {
            "format": FORMAT,
            "statement": REFUSAL,
            "verdict": _refusal_verdict(report),
            "plan only": report.assembly.plan_only,
            "unit": report.assembly.unit,
            "program": program_version(),
            "refused": list(answer.refused),
            "findings": [finding_object(each) for each in holds],
        }
    )


def _refusal_verdict(report: Report) -> str:
    """Never "clear", which a plan can be; a refusal holds."""
    return Verdict.HOLD.value if report.verdict is Verdict.CLEAR else report.verdict.value


# --- the recheck ---------------------------------------------------------------------------------


def recheck_lines(answer: Recheck, paper: Paper) -> Iterator[Line]:
    """Whether the lists still are what the statement says, and what has changed."""
    yield from title_lines("Recheck of a sign-off statement", paper)
    yield from _about(answer.statement, paper)
    if answer.program:
        yield from label_lines(paper, "now      ", program_version())
    yield from heading_lines("The lists", paper)
    yield from _changes(answer.changes, paper)
    yield from heading_lines("The answer", paper)
    for text in answer.answer:
        yield from paper.paragraph(text, 2, [paper.severity(Severity.HOLD), ("  ", PLAIN)])
    if not answer.answer:
        yield from paper.paragraph("the same: clear, with the same counts", 2)
    yield from _safety(SAFETY, paper)
    if answer.holds:
        yield from stamp_lines(Verdict.CLEAR, "HOLDS", "the same lists, the same answer", paper)
    else:
        found = f"{counted(len(answer.changes), 'change')} in the lists"
        yield from stamp_lines(Verdict.HOLD, "DOES NOT HOLD", found, paper)


def _changes(changes: Sequence[Change], paper: Paper) -> Iterator[Line]:
    """Changes of one sheet that say the same of several rows stand in one line."""
    if not changes:
        yield from paper.paragraph("the same, to the byte", 2)
    told = list(_together(changes))
    for text in told[:_MOST_CHANGES]:
        yield from paper.paragraph(text, 2, [paper.severity(Severity.HOLD), ("  ", PLAIN)])
    if len(told) > _MOST_CHANGES:
        yield from paper.paragraph(
            f"and {len(told) - _MOST_CHANGES:,} more: --format json has them all", 2
        )


def _together(changes: Iterable[Change]) -> Iterator[str]:
    rows: dict[tuple[str, str, str], list[Change]] = {}
    for each in changes:
        what = each.what.replace(f"row {each.row} ", "row ", 1) if each.row else each.what
        rows.setdefault((each.file, each.sheet, what), []).append(each)
    for (file, sheet, what), several in rows.items():
        where = f"{file}: {sheet}" if sheet else file
        if len(several) == 1:
            yield f"{where}: {several[0].what}"
        else:
            ranges = row_ranges(each.row for each in several)
            plural = what.replace("row ", f"rows {ranges} ", 1).replace(" is ", " are ", 1)
            plural = plural.replace("what was", "what were", 1).replace("as it was", "as they were")
            yield f"{where}: {plural}"


def recheck_json(answer: Recheck) -> str:
    """The recheck as JSON text."""
    statement = answer.statement
    return document(
        {
            "format": RECHECK_FORMAT,
            "holds": answer.holds,
            "statement": {
                "unit": statement.unit,
                "date": statement.date,
                "by": statement.by,
                "program": statement.program,
            },
            "changes": [
                {"file": each.file, "sheet": each.sheet, "row": each.row, "what": each.what}
                for each in answer.changes
            ],
            "answer": list(answer.answer),
            "program": program_version(),
        }
    )
