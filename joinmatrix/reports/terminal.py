"""The report on a terminal: what was read, each joint and its matrix, the findings, the verdict.

For someone at the joint with a torch: the joint and side stand first, what is done stands in
stamp boxes as on a work card, and every mark has a letter beside its shape.
"""

from collections import Counter
from collections.abc import Iterator, Mapping, Sequence

from rich.console import Console

from joinmatrix.findings import Severity
from joinmatrix.report import Report
from joinmatrix.reports.lines import BOLD, PLAIN, STYLES, Line, Paper, paper_of, write_lines
from joinmatrix.reports.matrix import Numbered, Sheet, numbered, sheets
from joinmatrix.reports.moment import moment_text
from joinmatrix.reports.terminal_findings import finding_lines
from joinmatrix.reports.terminal_matrix import joint_lines
from joinmatrix.reports.terminal_reading import reading_lines
from joinmatrix.reports.text import counted, width
from joinmatrix.reports.view import WHOLE, Lens, View


def write(report: Report, console: Console, view: View = WHOLE) -> None:
    """Write the report to a console, at its width and with the marks it can show."""
    write_lines(console, report_lines(report, paper_of(console), view))


def report_lines(report: Report, paper: Paper, view: View = WHOLE) -> Iterator[Line]:
    """The report in lines of at most the paper's width."""
    lens = Lens(report, view)
    every = numbered(report.findings)
    shown = [each for each in every if lens.finding(each.finding)]
    joints = [sheet for sheet in sheets(report) if any(map(lens.summary, sheet.summaries))]
    left_out = list(_left_out(report, view, every, shown, joints))

    yield from _head(report, paper)
    yield from _statement(paper, "NARROWED", left_out)
    yield from reading_lines(report, paper, view)
    yield from joint_lines(report, paper, lens, joints, shown)
    yield from _stopped(report, paper)
    yield from finding_lines(paper, view, shown)
    yield from _statement(paper, "NARROWED", left_out)
    yield []
    yield from _verdict(report, paper)


def _head(report: Report, paper: Paper) -> Iterator[Line]:
    assembly = report.assembly
    parts = ["Joint check"]
    if assembly.unit:
        parts.append(f"unit {assembly.unit}")
    if assembly.as_of is not None and not assembly.plan_only:
        parts.append(f"as of {moment_text(assembly.as_of)}")
    yield paper.plate("  ".join(parts))
    if assembly.plan_only:
        yield from _statement(
            paper,
            "PLAN ONLY",
            ["nothing is recorded or ticked, so only the plan is checked. "
             "Nothing is called unmade, and the verdict says nothing of the work."],
        )  # fmt: skip


def _statement(paper: Paper, word: str, sentences: Sequence[str]) -> Iterator[Line]:
    if sentences:
        yield []
    for sentence in sentences:
        yield from paper.paragraph(sentence, first=[(f"{word}  ", BOLD)])
        word = " " * len(word)


def _left_out(
    report: Report,
    view: View,
    every: Sequence[Numbered],
    shown: Sequence[Numbered],
    joints: Sequence[Sheet],
) -> Iterator[str]:
    """What a narrowed view shows and what it does not; nothing when it shows all."""
    if not view.narrowed:
        return
    asked = [f"joint {each}" for each in view.joints]
    asked += [f"side {each}" for each in view.sides] + [f"kind {each}" for each in view.kinds]
    all_joints = len({each.joint for each in report.joints})
    yield (
        f"to {', '.join(asked)}: {len(joints)} of {counted(all_joints, 'joint')} and "
        f"{len(shown):,} of {counted(len(every), 'finding')} are shown."
    )
    counts = Counter(each.finding.severity for each in every)
    counts.subtract(each.finding.severity for each in shown)
    if len(shown) < len(every):
        yield f"Left out: {_counts(counts)}. The verdict is that of the whole."


def _counts(counts: Mapping[Severity, int]) -> str:
    return (
        f"{counted(counts[Severity.HOLD], 'hold')}, {counts[Severity.OPEN]:,} open, "
        f"{counted(counts[Severity.NOTE], 'note')}"
    )


def _stopped(report: Report, paper: Paper) -> Iterator[Line]:
    """Checks that stopped on a fault of the program: the run is then never clear."""
    if not report.crashed:
        return
    yield []
    yield paper.heading("Checks that stopped: a fault of the program, not of the lists")
    for each in report.crashed:
        first: Line = [paper.severity(Severity.HOLD), (" ", PLAIN)]
        kinds = ", ".join(each.kinds)
        yield from paper.paragraph(f"{kinds} was not checked to its end: {each.why}", 2, first)


def _verdict(report: Report, paper: Paper) -> Iterator[Line]:
    """The one line that everything comes to."""
    verdict = report.verdict
    mark = f"{paper.marks.verdict[verdict]}{verdict.value[0].upper()} {verdict.value.upper()}"
    found = _counts({severity: report.count(severity) for severity in Severity})
    total = sum(each.connections for each in report.joints)
    if report.assembly.plan_only:
        word, done = " of the plan", f"{counted(total, 'connection')} listed"
    else:
        made = sum(each.made for each in report.joints)
        inspected = sum(each.inspected for each in report.joints)
        word, done = "", f"{made:,} of {total:,} made, {inspected:,} inspected"
    stamp: Line = [(f" {mark}{word} ", f"{STYLES[verdict]} reverse")]
    numbers = f"{found}; {done}"
    if sum(width(text) for text, _ in stamp) + 2 + width(numbers) <= paper.width:
        yield [*stamp, (f"  {numbers}", BOLD)]
    else:
        yield from paper.paragraph(numbers, 1)
        yield stamp
