"""The part of the page that shows the stages in their order."""

from collections import defaultdict
from collections.abc import Sequence

from joinmatrix.names import folded
from joinmatrix.report import Report
from joinmatrix.reports.markup import name, shown, tag
from joinmatrix.reports.matrix import Numbered
from joinmatrix.reports.page_matrix import mark_link
from joinmatrix.reports.stage_order import How, StageStand, stage_order

_SHAPES = {How.DONE: "●", How.STARTED: "◐", How.NOT_STARTED: "○"}
_MOST_MARKS = 12


def stages_section(report: Report, every: Sequence[Numbered]) -> str:
    """Every stage in an order that the rules allow, with what is done and what was found."""
    found: defaultdict[str, list[Numbered]] = defaultdict(list)
    for each in every:
        for stage in dict.fromkeys(map(folded, each.finding.stages)):
            found[stage].append(each)
    items = "".join(_stage(each, found, report) for each in stage_order(report))
    if not items:
        return tag("section", tag("h2", "Stages"), tag("p", "No stage is named."), id="stages")
    return tag(
        "section",
        tag("h2", "Stages"),
        tag("p", "In an order that the rules allow: ● done, ◐ started, ○ not started.",
            class_="legend"),
        tag("ol", items, class_="stages"),
        id="stages",
    )  # fmt: skip


def _stage(each: StageStand, found: dict[str, list[Numbered]], report: Report) -> str:
    stage = each.stage
    marks = [
        mark_link(numbered)
        for numbered in found.get(stage.key.name, ())
        if not stage.key.side or stage.key.side in (numbered.finding.sides or (stage.key.side,))
    ]
    more = f" +{len(marks) - _MOST_MARKS}" if len(marks) > _MOST_MARKS else ""
    rules = "; ".join(
        text for text in (stage.timing, stage.after and f"after {stage.after}") if text
    )
    how = "" if report.assembly.plan_only else f"{_SHAPES[each.how]} {each.how} {shown(each.when)}"
    side = f" {tag('b', name(stage.key.side))}" if stage.key.side else ""
    return tag(
        "li",
        f"{name(stage.name)}{side} ",
        tag("span", how.strip(), class_="how"),
        f" {' '.join(marks[:_MOST_MARKS])}{more}" if marks else "",
        tag("small", name(rules)) if rules else "",
    )
