"""The report as one page: a file that needs nothing else, to be opened, sent and printed.

Without its script it is a whole report; the script adds the filter, the selection and the keys of
the drawing. Everything that a list says is escaped, and the page may load nothing from anywhere.
"""

from joinmatrix.report import Report
from joinmatrix.reports.markup import asset, name, policy, shown, tag
from joinmatrix.reports.matrix import LETTERS, WORST_FIRST, numbered, touches
from joinmatrix.reports.moment import moment_text
from joinmatrix.reports.page_drawing import drawing
from joinmatrix.reports.page_findings import findings_section
from joinmatrix.reports.page_matrix import Indexed, index_of, joints_section
from joinmatrix.reports.page_reading import reading_section
from joinmatrix.reports.page_stages import stages_section
from joinmatrix.reports.phrases import MARKS, SEVERITY_MEANS, VERDICT_MEANS
from joinmatrix.reports.text import counted

_SAFETY = (
    "This report supports the people who release an assembly. It replaces neither the maintenance "
    "manual, nor the approved data, nor the licensed person who signs."
)


def to_page(report: Report) -> str:
    """The report as a page of HTML."""
    every = numbered(report.findings)
    touched = touches(every, report)
    indexed = index_of(report, touched)
    body = (
        _head(report)
        + _ways(report)
        + _filter(report, indexed)
        + tag(
            "main",
            drawing(indexed),
            joints_section(report, indexed),
            findings_section(every, indexed, report.crashed),
            stages_section(report, every),
            reading_section(report),
            id="top",
        )
        + tag("footer", tag("p", shown(_SAFETY)))
        + _selection_bar()
    )
    return _document(_title(report), body)


def _document(title: str, body: str) -> str:
    style, script = asset("page.css"), asset("page.js")
    return (
        '<!doctype html>\n<html lang="en">\n<head>\n<meta charset="utf-8">\n'
        f"{policy(style, script)}\n"
        '<meta name="viewport" content="width=device-width, initial-scale=1">\n'
        f'<meta name="referrer" content="no-referrer">\n<title>{title}</title>\n'
        f"<style>{style}</style>\n</head>\n<body>\n{body}\n<script>{script}</script>\n"
        "</body>\n</html>\n"
    )


def _title(report: Report) -> str:
    unit = f", unit {shown(report.assembly.unit)}" if report.assembly.unit else ""
    return f"Joint check{unit}: {report.verdict.value}"


def _head(report: Report) -> str:
    verdict = report.verdict
    total = sum(each.connections for each in report.joints)
    made = sum(each.made for each in report.joints)
    inspected = sum(each.inspected for each in report.joints)
    plan = report.assembly.plan_only
    counts = "".join(
        tag(
            "li",
            tag("b", f"{MARKS[each.value]} {report.count(each):,} {each.value}", class_=each.value),
            f" {SEVERITY_MEANS[each]}",
        )
        for each in WORST_FIRST
    )
    done = (
        "Plan only: nothing is recorded, so nothing is called unmade, and the verdict says "
        "nothing of the work."
        if plan
        else f"{made:,} of {counted(total, 'connection')} made, {inspected:,} inspected."
    )
    return tag(
        "header",
        tag(
            "div",
            tag("h1", "Joint check"),
            tag("p", _about(report), class_="about"),
        ),
        tag(
            "div",
            tag(
                "p",
                f"{MARKS[verdict.value]} {verdict.value.upper()}{' of the plan' if plan else ''}",
                class_=f"verdict {verdict.value}",
            ),
            tag("p", f"{VERDICT_MEANS[verdict].capitalize()}. {done}"),
            tag("ul", counts, class_="counts"),
        ),
    )


def _about(report: Report) -> str:
    assembly = report.assembly
    parts = [f"Unit {name(assembly.unit)}"] if assembly.unit else []
    if assembly.as_of is not None and not assembly.plan_only:
        parts.append(f"as of {moment_text(assembly.as_of)}")
    parts.append(counted(len(report.reading.files), "file") + " read")
    return ", ".join(parts)


def _ways(report: Report) -> str:
    targets = (
        ("drawing", "Drawing"),
        ("joints", "Joints"),
        ("findings", f"Findings ({len(report.findings):,})"),
        ("stages", "Stages"),
        ("reading", "What was read"),
    )
    links = "".join(tag("li", tag("a", word, href=f"#{id_}")) for id_, word in targets)
    return tag("nav", tag("ul", links), aria_label="Parts of this report")


def _filter(report: Report, indexed: Indexed) -> str:
    """Hidden until the script shows it: without the script it could do nothing."""
    sides = dict.fromkeys(each.side for each in report.joints)
    kinds = dict.fromkeys(each.kind.value for each in report.findings)
    joints = [(str(number), sheet.joint) for number, sheet in enumerate(indexed.sheets)]
    states = [
        ("0", "nothing done"), ("1", "placed, not made"), ("2", "made, not inspected"),
        ("3", "inspected"), ("u", "not made"), ("t", "not inspected"),
    ]  # fmt: skip
    boxes = "".join(
        tag(
            "label",
            f'<input type="checkbox" name="weight" value="{LETTERS[each]}">',
            tag("span", f"{MARKS[each.value]} {each.value}", class_=each.value),
        )
        for each in WORST_FIRST
    )
    return tag(
        "form",
        tag("label", "Search", '<input type="search" name="text" autocomplete="off">'),
        _select("joint", "Joint", joints),
        _select("side", "Side", [(each, each) for each in sides]),
        _select("state", "State", states),
        _select("kind", "Finding", [(each, each) for each in sorted(kinds)]),
        tag("fieldset", tag("legend", "Only with"), boxes),
        '<button type="reset">Show all</button>',
        tag("p", "", id="shown", role="status"),
        id="filter", role="search", aria_label="Filter", hidden="",
    )  # fmt: skip


def _select(name_: str, label: str, options: list[tuple[str, str]]) -> str:
    choices = "".join(
        f'<option value="{shown(value)}">{shown(word)}</option>' for value, word in options
    )
    return tag(
        "label", label, f'<select name="{name_}"><option value="">any</option>{choices}</select>'
    )


def _selection_bar() -> str:
    return tag(
        "div",
        tag("p", "", id="selected", role="status"),
        '<button type="button" id="unselect">Close</button>',
        id="bar", hidden="",
    )  # fmt: skip
