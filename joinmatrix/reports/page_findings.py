"""The part of the page that tells the findings, worst first."""

from collections.abc import Sequence

from joinmatrix.findings import Finding, Severity
from joinmatrix.names import folded
from joinmatrix.report import NotRun
from joinmatrix.reports.grouping import of_each, together
from joinmatrix.reports.markup import name, shown, tag
from joinmatrix.reports.matrix import WORST_FIRST, Numbered
from joinmatrix.reports.page_matrix import Indexed
from joinmatrix.reports.phrases import KIND_MEANS, MARKS, SEVERITY_MEANS, SHAPES, where
from joinmatrix.reports.text import cells_text

# Entries told in full; the page would grow past what one opens, so later ones take one line.
MOST_ENTRIES = 1_500


def findings_section(every: Sequence[Numbered], indexed: Indexed, crashed: Sequence[NotRun]) -> str:
    """The findings by severity; within each in the order of the report."""
    parts = [tag("h2", "Findings"), *(_stopped(each) for each in crashed)]
    left = MOST_ENTRIES
    for severity in WORST_FIRST:
        here = [each for each in every if each.finding.severity is severity]
        if here:
            entries = together(here)
            parts.append(_severity(severity, entries, left, indexed))
            left = max(left - len(entries), 0)
    if not every:
        parts.append(tag("p", "None."))
    return tag("section", *parts, id="findings")


def _stopped(each: NotRun) -> str:
    kinds = ", ".join(kind.value for kind in each.kinds)
    return tag(
        "p",
        f"■H {kinds} was not checked to its end, by a fault of the program: {shown(each.why)}",
        class_="hold",
    )


def _severity(
    severity: Severity, entries: Sequence[Sequence[Numbered]], most: int, indexed: Indexed
) -> str:
    word = severity.value
    title = f"{MARKS[word]} {word.capitalize()}: {SEVERITY_MEANS[severity]}"
    count = sum(map(len, entries))
    further = "".join(_line(each, indexed) for several in entries[most:] for each in several)
    if further:
        further = (
            tag("p", "The rest in one line each; the list of findings as CSV tells all.") + further
        )
    return tag(
        "section",
        tag("h3", f"{title} ({count:,})", class_=word),
        *(_entry(several, indexed) for several in entries[:most]),
        further,
        class_="findings",
    )


def _line(each: Numbered, indexed: Indexed) -> str:
    finding = each.finding
    word = finding.severity.value
    text = f"{shown(where(finding))}: {_about(finding, indexed)} <i>{finding.kind}</i>"
    return (
        f'<article id="{each.label}" tabindex="-1" {_data(each, indexed)}><h4>'
        f'<b class="{word}">{SHAPES[word]}{each.label}</b> {text}</h4></article>'
    )


def _data(each: Numbered, indexed: Indexed) -> str:
    """What the filter looks at."""
    finding = each.finding
    joint = indexed.joint_numbers.get(folded(finding.joint), "")
    return (
        f'data-k="{finding.kind}" data-w="{each.label[0]}" data-j="{joint}" '
        f'data-s="{shown(" ".join(finding.sides))}"'
    )


def _entry(several: Sequence[Numbered], indexed: Indexed) -> str:
    first = several[0]
    finding = first.finding
    word = finding.severity.value
    mark = tag("b", f"{SHAPES[word]}{first.label}", class_=word)
    if len(several) == 1:
        about = _about(finding, indexed)
        title = f"{mark} {shown(where(finding))}: {about} <i>{finding.kind}</i>"
        said, clears, anchor = finding.message, finding.clears, first.label
    else:
        last = several[-1].label
        title = (
            f"{mark} to {last} {shown(where(finding))}: {len(several):,} "
            f"{KIND_MEANS[finding.kind]} <i>{finding.kind}</i>"
        )
        said = of_each(finding, finding.message)
        clears, anchor = of_each(finding, finding.clears), None
    members = "" if len(several) == 1 else _members(several, indexed)
    places = [place for each in several for place in each.finding.places]
    details = "".join(
        f"<dt>{term}</dt><dd>{shown(text)}</dd>"
        for term, text in (("cells", cells_text(places)), ("to clear", clears))
        if text
    )
    return (
        f'<article{f" id={anchor}" if anchor else ""} tabindex="-1" {_data(first, indexed)}>'
        f"<h4>{title}</h4>{members}<p>{shown(said)}</p><dl>{details}</dl></article>"
    )


def _members(several: Sequence[Numbered], indexed: Indexed) -> str:
    items = ", ".join(
        f'<span id="{each.label}" tabindex="-1">{_about(each.finding, indexed)}</span>'
        for each in several
    )
    return tag("p", items, class_="members")


def _about(finding: Finding, indexed: Indexed) -> str:
    """The connections, each leading to its cell in the matrix, else stages or items."""
    if not finding.connections:
        return ", ".join(map(name, finding.stages or finding.items)) or KIND_MEANS[finding.kind]
    return ", ".join(_connection(each, finding, indexed) for each in finding.connections)


def _connection(written: str, finding: Finding, indexed: Indexed) -> str:
    key = indexed.key_of(written, finding.sides)
    if key is None:
        return name(written)
    return f'<a href="#c{indexed.numbers[key]}">{name(written)}</a>'
