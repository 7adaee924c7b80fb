"""One order of all that is left to do: on a terminal, as JSON, and as CSV."""

import csv
import io
import re
from collections.abc import Iterable, Iterator, Sequence

from joinmatrix.answers.not_understood import Part
from joinmatrix.answers.sequence import Sequence as Order
from joinmatrix.answers.sequence import Timed
from joinmatrix.answers.spare_rules import SpareRule
from joinmatrix.answers.stage_order import StageOrder
from joinmatrix.assembly.model import Assembly
from joinmatrix.findings import Severity, Verdict
from joinmatrix.reports.answer_head import hanging_lines, head_lines, heading_lines, stamp_lines
from joinmatrix.reports.csv_report import harmless
from joinmatrix.reports.json_report import finding_object
from joinmatrix.reports.json_text import cells_of, document, troubles_of
from joinmatrix.reports.lines import BOLD, PLAIN, Line, Paper
from joinmatrix.reports.matrix import numbered
from joinmatrix.reports.moment import moment_text
from joinmatrix.reports.steps_text import carries, step_object, subject, verb
from joinmatrix.reports.terminal_findings import finding_lines
from joinmatrix.reports.text import counted, encodable, padded, width, wrapped
from joinmatrix.reports.view import View

FORMAT = "joinmatrix-sequence/1"
RESTS_ON = (Part.ROWS, Part.RULES)
MOST_ACTS = 400
MOST_SPARE = 60
COLUMNS = (
    "number", "act", "connection", "item", "stage", "side", "joint", "carries",
    "earliest min", "latest min",
)  # fmt: skip
_BARS = re.compile(r"(?:\|  )*(?:\+- )?")
_ROOM_FOR_JOINT = 28
_HOUR, _DAY = 60, 24 * 60


def sequence_lines(
    found: Order,
    stages: StageOrder,
    assembly: Assembly,
    paper: Paper,
    *,
    spare: Sequence[SpareRule] | None = None,
    full: bool = False,
) -> Iterator[Line]:
    """The stages as a drawing, then every act in its turn, or why there is no order.

    spare  rules that go without saying, when they were asked for
    full   every act, however many
    """
    yield from head_lines("Sequence", assembly, RESTS_ON, paper)
    yield from stage_lines(stages, paper)
    if found.contradiction is not None:
        yield from _none(found, paper)
    else:
        yield from _order(found.order, assembly, paper, None if full else MOST_ACTS)
    if spare is not None:
        yield from _spare(spare, paper, None if full else MOST_SPARE)
    if found.contradiction is not None:
        numbers = f"{counted(len(found.impossible), 'act')} can never be done"
        yield from stamp_lines(Verdict.HOLD, "NO ORDER MEETS THE RULES", numbers, paper)
    elif found.order:
        numbers = counted(len(found.order), "act")
        yield from stamp_lines(Verdict.CLEAR, "THE RULES CAN BE MET", numbers, paper)
    else:
        yield from stamp_lines(Verdict.CLEAR, "NOTHING LEFT TO DO", "", paper)


def stage_lines(stages: StageOrder, paper: Paper) -> Iterator[Line]:
    """Which stage comes after which, and how far each is."""
    yield from heading_lines("The stages", paper)
    if not stages.stages:
        yield from paper.paragraph("no list names a stage", 2)
        return
    yield from paper.paragraph(
        "[x] done, [>] started, [ ] not started; each stands below what it follows.", 2
    )
    yield []
    drawn = encodable("├─│", paper.encoding)
    for line in stages.lines:
        bars = _BARS.match(line)
        lead, text = line[: bars.end()] if bars else "", line[bars.end() if bars else 0 :]
        hang = lead.replace("+- ", "|  ")
        if drawn:
            lead, hang = _drawn(lead), _drawn(hang)
        room = max(paper.width - 2 - len(lead), 20)
        for number, piece in enumerate(wrapped(paper.safe(text), room)):
            yield [(f"  {hang if number else lead}{'    ' if number else ''}{piece}", PLAIN)]


def _drawn(bars: str) -> str:
    return bars.replace("+- ", "├─ ").replace("|", "│")


# --- the order -----------------------------------------------------------------------------------


def _order(
    order: Sequence[Timed], assembly: Assembly, paper: Paper, most: int | None
) -> Iterator[Line]:
    yield from heading_lines(f"One order that meets every rule ({len(order):,})", paper)
    timed = any(each.earliest is not None for each in order)
    if timed:
        yield from paper.paragraph(
            f"Earliest and latest count from {_from(assembly)}; the latest is the one at which the "
            "whole can still end as early as it can.",
            2,
        )
    if not order:
        yield from paper.paragraph("nothing", 2)
        return
    yield []
    yield from _Turns(order[:most], assembly, paper, timed).lines()
    if most is not None and len(order) > most:
        rest = counted(len(order) - most, "more act")
        yield from paper.paragraph(
            f"and {rest}: add --full to see all of them, or --format csv to plan with them", 2
        )


def _from(assembly: Assembly) -> str:
    if assembly.plan_only or assembly.as_of is None:
        return "the start of the work"
    return moment_text(assembly.as_of)


class _Turns:
    """One line for each act; those of stages stand out."""

    def __init__(
        self, order: Sequence[Timed], assembly: Assembly, paper: Paper, timed: bool
    ) -> None:
        self.order = order
        self.assembly = assembly
        self.paper = paper
        self.number = len(f"{len(order):,}")
        self.time = 9 if timed else 0
        self.verb = max((len(verb(each.step)) for each in order), default=0)
        room = paper.width - 2 - self.number - 2 - 2 * self.time - self.verb - 2
        longest = max((width(paper.safe(subject(each.step))) for each in order), default=0)
        self.name = max(min(longest, room // 2), 8)
        self.with_joint = room - self.name >= _ROOM_FOR_JOINT

    def lines(self) -> Iterator[Line]:
        """Headings of the columns where there are times, then the acts."""
        if self.time:
            yield [
                (" " * (self.number + 4), PLAIN),
                (padded("earliest", self.time) + padded("latest", self.time), BOLD),
            ]
        for number, each in enumerate(self.order, 1):
            yield from self._line(number, each)

    def _line(self, number: int, each: Timed) -> Iterator[Line]:
        step = each.step
        name = self.paper.safe(subject(step))
        about = carries(step, self.assembly)
        where = f"at {step.joint}" if step.joint and self.with_joint else ""
        text = ", ".join(part for part in (about, where) if part)
        beside = text and width(name) <= self.name
        lead: Line = [
            (f"{number:>{self.number},}  ", PLAIN),
            (self._times(each), PLAIN),
            (f"{verb(step):{self.verb}}  ", BOLD if step.stage else PLAIN),
            (padded(name, self.name) + "  " if beside else name, BOLD),
        ]
        yield from hanging_lines(lead, text if beside else "", self.paper)
        if text and not beside:
            yield from self.paper.paragraph(text, 2 + self.number + 2)

    def _times(self, each: Timed) -> str:
        if not self.time:
            return ""
        return "".join(padded(time_text(minutes), self.time)
                       for minutes in (each.earliest, each.latest))  # fmt: skip


def time_text(minutes: int | None) -> str:
    """A time from the start as a planner says it: "0", "45 min", "2 h", "1 d 6 h"."""
    if minutes is None:
        return "-"
    days, rest = divmod(minutes, _DAY)
    hours, rest = divmod(rest, _HOUR)
    parts = [f"{days}d" if days else "", f"{hours}h" if hours else "", f"{rest}min" if rest else ""]
    return " ".join(part for part in parts if part) or "0"


def _none(found: Order, paper: Paper) -> Iterator[Line]:
    """Why there is no order, and what can never be done."""
    assert found.contradiction is not None
    title = "No order: a smallest circle of rules"
    yield from finding_lines(paper, View(), numbered([found.contradiction]), title)
    yield from heading_lines("What can never be done while they stand", paper)
    by_verb: dict[str, list[str]] = {}
    for step in found.impossible:
        by_verb.setdefault(verb(step), []).append(subject(step))
    for word, names in by_verb.items():
        yield from paper.paragraph(", ".join(names), 2, [(f"{word}  ", BOLD)])


def _spare(spare: Sequence[SpareRule], paper: Paper, most: int | None) -> Iterator[Line]:
    """Rules that could be struck, and nothing would change."""
    yield from heading_lines(f"Rules that go without saying ({len(spare):,})", paper)
    if not spare:
        yield from paper.paragraph("none", 2)
    for each in spare[:most]:
        who = ", ".join(f"{one.name} {one.side}".rstrip() for one in each.who)
        text = f'{who}: in "{each.rule}", {each.demand} goes without saying'
        yield from paper.paragraph(text, 2, [paper.severity(Severity.NOTE), ("  ", PLAIN)])
        yield from paper.places(each.cells, 6, "cells  ")
    if most is not None and len(spare) > most:
        yield from paper.paragraph(f"and {len(spare) - most:,} more: add --full", 2)


# --- JSON and CSV --------------------------------------------------------------------------------


def sequence_json(
    found: Order,
    stages: StageOrder,
    assembly: Assembly,
    spare: Iterable[SpareRule] | None = None,
) -> str:
    """The answer as JSON text; earliest and latest are minutes, null where no rule has a time."""
    contradiction = found.contradiction
    members: dict[str, object] = {
        "format": FORMAT,
        "feasible": found.feasible,
        "order": [
            {**step_object(each.step), "earliest": each.earliest, "latest": each.latest,
             "joint": each.step.joint}
            for each in found.order
        ],
        "contradiction": None if contradiction is None else finding_object(contradiction),
        "impossible": [step_object(step) for step in found.impossible],
        "counted from": "" if assembly.plan_only or assembly.as_of is None
        else moment_text(assembly.as_of),
        "stages": [
            {"stage": each.stage, "side": each.side, "state": each.state, "when": each.when,
             "after": each.after, "during": each.during}
            for each in stages.stages
        ],
        "not understood": troubles_of(assembly, RESTS_ON),
    }  # fmt: skip
    if spare is not None:
        members["spare rules"] = [
            {
                "who": [f"{one.name} {one.side}".rstrip() for one in each.who],
                "rule": each.rule,
                "demand": each.demand,
                "cells": cells_of(each.cells),
            }
            for each in spare
        ]
    return document(members)


def sequence_csv(found: Order, assembly: Assembly) -> str:
    """One row for each act in its turn; times in minutes, blank where no rule has one.

    Text that a spreadsheet would run as a formula gets a leading apostrophe.
    """
    text = io.StringIO()
    writer = csv.writer(text, lineterminator="\n")
    writer.writerow(COLUMNS)
    for number, each in enumerate(found.order, 1):
        step = each.step
        texts = (step.act, step.connection, step.item, step.stage, step.side, step.joint,
                 carries(step, assembly))  # fmt: skip
        times = ("" if minutes is None else minutes for minutes in (each.earliest, each.latest))
        writer.writerow((number, *map(harmless, texts), *times))
    return text.getvalue()
