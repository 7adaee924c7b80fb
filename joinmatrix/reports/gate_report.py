"""Whether a stage may start: on a terminal, and as JSON."""

from collections.abc import Iterator, Sequence
from itertools import groupby

from joinmatrix.answers.gate import Gate, LastChance, Missing
from joinmatrix.assembly.model import Act, Assembly
from joinmatrix.findings import Severity, Verdict
from joinmatrix.lists.table import Trouble
from joinmatrix.reports.answer_head import hanging_lines, head_lines, heading_lines, stamp_lines
from joinmatrix.reports.json_report import finding_object
from joinmatrix.reports.json_text import cells_of, document, trouble_object
from joinmatrix.reports.lines import BOLD, PLAIN, Line, Paper
from joinmatrix.reports.matrix import numbered
from joinmatrix.reports.steps_text import bare_name, step_object, subject, verbs
from joinmatrix.reports.terminal_findings import finding_lines
from joinmatrix.reports.text import counted
from joinmatrix.reports.view import View

FORMAT = "joinmatrix-gate/1"
MOST_ACTS = 200
_BY = (
    "By these lists and this record. The word is given by whoever is responsible for the stage, "
    "after a look at the assembly itself."
)


def gate_lines(
    gate: Gate, assembly: Assembly, paper: Paper, *, full: bool = False
) -> Iterator[Line]:
    """Go or hold, with what must be done first and what the stage will close off.

    full  every act, however many
    """
    on = f" {', '.join(gate.sides)}".rstrip()
    yield from head_lines(f"Gate  {gate.stage}{on}", assembly, (), paper)
    if gate.state != "not started":
        yield []
        has = "has started" if gate.state == "started" else "is done"
        late = "" if gate.go else "; what follows should have been done before it"
        yield from paper.paragraph(
            f"this stage {has} already{late}.",
            first=[("ALREADY  " if gate.go else "TOO LATE  ", BOLD)],
        )
    yield from _missing(gate, paper, None if full else MOST_ACTS)
    if gate.breaks:
        title = "Wrong before it, or in its rules"
        yield from finding_lines(paper, View(full=full), numbered(gate.breaks), title)
    yield from _unclear(gate.unclear, paper)
    yield from _last_chance(gate.last_chance, paper)
    yield from _verdict(gate, paper)


def _missing(gate: Gate, paper: Paper, most: int | None) -> Iterator[Line]:
    yield from heading_lines(f"Must be done first ({len(gate.missing):,})", paper)
    if not gate.missing:
        yield from paper.paragraph("nothing more", 2)
    entries = [list(same) for _, same in groupby(gate.missing, key=_likeness)]
    for same in entries[:most]:
        step = same[0].step
        waits = step.act == Act.STARTED and step.stage == gate.stage
        what = "wait" if waits else verbs(each.step for each in same)
        lead: Line = [
            (f"[ ] {what}  ", PLAIN),
            (paper.safe(subject(step)), BOLD),
        ]
        yield []
        yield from hanging_lines(lead, f"  {step.joint}" if step.joint else "", paper)
        yield from paper.paragraph(same[0].why, 6)
        cells = dict.fromkeys(cell for each in same for cell in each.cells)
        yield from paper.places(cells, 6, "cells  ")
    if most is not None and len(entries) > most:
        yield []
        rest = sum(map(len, entries[most:]))
        yield from paper.paragraph(f"and {counted(rest, 'act')} more: add --full to see them all",
                                   2)  # fmt: skip


def _likeness(each: Missing) -> tuple[str, str, str]:
    """Acts on one thing that one reason asks for are told together."""
    step = each.step
    return (step.connection or step.item or step.stage, step.side, each.why)


def _unclear(unclear: Sequence[Trouble], paper: Paper) -> Iterator[Line]:
    """What could not be understood: while it stands, something could be missing."""
    if not unclear:
        return
    yield from heading_lines("Not understood: it may hide something", paper)
    for each in unclear:
        yield from paper.paragraph(each.found, 2, [paper.severity(Severity.HOLD), ("  ", PLAIN)])
        yield from paper.places((each.place, *each.others), 6, "cells     ")
        yield from paper.paragraph(each.remedy, 6, [("to clear  ", PLAIN)])


def _last_chance(chances: Sequence[LastChance], paper: Paper) -> Iterator[Line]:
    """What cannot be done any more once the stage has started, whether it is done or not."""
    yield from heading_lines("Last chance: out of reach once it has started", paper)
    if not chances:
        yield from paper.paragraph("it closes over nothing", 2)
    acts: dict[tuple[str, str], list[LastChance]] = {}
    for each in chances:
        acts.setdefault((subject(each.step), each.step.side), []).append(each)
    shape = paper.severity(Severity.HOLD)
    done: dict[tuple[str, str], list[str]] = {}
    for (name, side), several in acts.items():
        left = [each.step for each in several if not each.done]
        if left:
            lead: Line = [shape, ("  ", PLAIN), (f"{paper.safe(name)}  ", BOLD)]
            yield from hanging_lines(lead, f"not done: {verbs(left)}", paper)
        else:
            words = ", ".join(each.step.act for each in several)
            done.setdefault((words, side), []).append(bare_name(several[0].step))
    for (words, side), names in done.items():
        on = f" on {side}" if side else ""
        yield from paper.paragraph(f"{words}{on} already:", 2)
        yield from paper.paragraph(", ".join(names), 6)


def _verdict(gate: Gate, paper: Paper) -> Iterator[Line]:
    yield []
    yield from paper.paragraph(_BY, 2)
    if gate.go:
        closes = sum(not each.done for each in gate.last_chance)
        numbers = f"{counted(closes, 'act')} out of reach then" if closes else ""
        yield from stamp_lines(Verdict.CLEAR, "GO", numbers, paper)
        return
    found = [f"{counted(len(gate.missing), 'act')} missing"] if gate.missing else []
    found += [f"{len(gate.breaks):,} wrong"] if gate.breaks else []
    found += [f"{len(gate.unclear):,} not understood"] if gate.unclear else []
    yield from stamp_lines(Verdict.HOLD, "HOLD", ", ".join(found), paper)


# --- JSON ----------------------------------------------------------------------------------------


def gate_json(gate: Gate) -> str:
    """The answer as JSON text."""
    return document(
        {
            "format": FORMAT,
            "stage": gate.stage,
            "side": gate.side,
            "answer": gate.answer,
            "missing": [
                {**step_object(each.step), "why": each.why, "cells": cells_of(each.cells)}
                for each in gate.missing
            ],
            "last chance": [
                {**step_object(each.step), "done": each.done} for each in gate.last_chance
            ],
            "sides": list(gate.sides),
            "state": gate.state,
            "wrong": [finding_object(each) for each in gate.breaks],
            "not understood": [trouble_object(each) for each in gate.unclear],
        }
    )
