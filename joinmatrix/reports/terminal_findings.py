"""The part of the terminal report that tells the findings, worst first."""

from collections import Counter
from collections.abc import Iterator, Sequence

from joinmatrix.findings import Finding, Severity
from joinmatrix.reports.grouping import of_each, together
from joinmatrix.reports.lines import BOLD, PLAIN, Line, Paper
from joinmatrix.reports.matrix import WORST_FIRST, Numbered
from joinmatrix.reports.phrases import KIND_MEANS, MOST_NAMES, SEVERITY_MEANS, about, where
from joinmatrix.reports.text import cells_text, some
from joinmatrix.reports.view import View

# Entries (findings or groups) of one severity that are told before the rest is counted.
MOST_ENTRIES = 200
MOST_CELLS = 40
_NAMES_IN_BRIEF = 3
_CELLS, _CLEAR = "cells     ", "to clear  "


def finding_lines(
    paper: Paper, view: View, shown: Sequence[Numbered], title: str = "Findings"
) -> Iterator[Line]:
    """The findings by severity; within each in the order of the report."""
    yield []
    yield paper.heading(title)
    if not shown:
        yield from paper.paragraph("none" if not view.narrowed else "none in this view", 2)
        return
    for severity in WORST_FIRST:
        here = [each for each in shown if each.finding.severity is severity]
        if here:
            yield from _severity(severity, here, paper, view)
    kind = shown[0].finding.kind
    yield []
    yield from paper.paragraph(
        f"joinmatrix explain KIND tells what a finding means, as in: joinmatrix explain {kind}", 2
    )


def _severity(
    severity: Severity, here: Sequence[Numbered], paper: Paper, view: View
) -> Iterator[Line]:
    yield []
    mark, style = paper.severity(severity)
    title = f"{mark} {severity.value.upper()}: {SEVERITY_MEANS[severity]} ({len(here):,})"
    yield [(title, style)]
    entries = [[each] for each in here] if view.full else together(here)
    most = len(entries) if view.full else MOST_ENTRIES
    for entry in entries[:most]:
        if view.brief:
            yield _brief(entry, paper)
        elif len(entry) == 1:
            yield []
            yield from _finding(entry[0], paper)
        else:
            yield []
            yield from _group(entry, paper)
    if len(entries) > most:
        yield []
        yield from _rest([each for entry in entries[most:] for each in entry], paper)


def _finding(each: Numbered, paper: Paper) -> Iterator[Line]:
    """Joint and side first, then one plain sentence, the cells, and what clears it."""
    finding = each.finding
    mark = paper.severity(finding.severity, each.label)
    yield from _title(mark, f"{where(finding)}: {about(finding)} ({finding.kind})", paper)
    yield from paper.paragraph(finding.message, 4)
    yield from _behind(finding, paper)


def _title(mark: tuple[str, str], text: str, paper: Paper) -> Iterator[Line]:
    for line in paper.paragraph(text, 0, [mark, ("  ", PLAIN)]):
        *lead, (words, _) = line
        yield [*lead, (words, BOLD)]


def _behind(finding: Finding, paper: Paper) -> Iterator[Line]:
    if finding.places:
        yield from paper.places(finding.places, 4, _CELLS)
    if finding.clears:
        yield from paper.paragraph(finding.clears, 4, [(_CLEAR, PLAIN)])


def _group(several: Sequence[Numbered], paper: Paper) -> Iterator[Line]:
    """Findings that say the same of several connections of one side of one joint."""
    first, last = several[0], several[-1]
    finding = first.finding
    mark, style = paper.severity(finding.severity, first.label)
    title = f"{where(finding)}: {len(several):,} {KIND_MEANS[finding.kind]} ({finding.kind})"
    yield from _title((f"{mark} to {last.label}", style), title, paper)
    names = list(dict.fromkeys(about(each.finding) for each in several))
    yield from paper.paragraph(some(names, MOST_NAMES), 4)
    yield from paper.paragraph(of_each(finding, finding.message), 4)
    places = list(dict.fromkeys(place for each in several for place in each.finding.places))
    more = f" and {len(places) - MOST_CELLS:,} more" if len(places) > MOST_CELLS else ""
    yield from paper.paragraph(cells_text(places[:MOST_CELLS]) + more, 4, [(_CELLS, PLAIN)])
    yield from paper.paragraph(of_each(finding, finding.clears), 4, [(_CLEAR, PLAIN)])


def _brief(entry: Sequence[Numbered], paper: Paper) -> Line:
    """One line; it may be longer than the paper is wide, so that it stays one line in a pipe."""
    first, last = entry[0], entry[-1]
    finding = first.finding
    mark, style = paper.severity(finding.severity, first.label)
    names = list(dict.fromkeys(about(each.finding, _NAMES_IN_BRIEF) for each in entry))
    text = f"{where(finding)}: {some(names, _NAMES_IN_BRIEF)}, {finding.kind}"
    if finding.places:
        text += f", {finding.places[0]}"
    label = mark if len(entry) == 1 else f"{mark} to {last.label}"
    return [(label, style), ("  " + paper.safe(text), PLAIN)]


def _rest(rest: Sequence[Numbered], paper: Paper) -> Iterator[Line]:
    kinds = Counter(each.finding.kind for each in rest)
    told = ", ".join(f"{number:,} {kind}" for kind, number in kinds.most_common())
    severity = rest[0].finding.severity
    yield from paper.paragraph(
        f"and {len(rest):,} more: {told}. To see them all: --full, or --format csv; "
        "to see fewer at once: --joint, --side or --kind.",
        0,
        [paper.severity(severity), ("  ", PLAIN)],
    )
