"""What may be done now and what waits: on a terminal, and as JSON."""

from collections.abc import Iterable, Iterator, Sequence
from itertools import groupby

from joinmatrix.answers.next_acts import Next, Now, Waiting
from joinmatrix.answers.not_understood import Part
from joinmatrix.answers.steps import Step
from joinmatrix.answers.window import Limit, Window
from joinmatrix.assembly.model import Assembly
from joinmatrix.findings import Severity, Verdict
from joinmatrix.reports.answer_head import head_lines, heading_lines, stamp_lines
from joinmatrix.reports.json_text import document, troubles_of
from joinmatrix.reports.lines import BOLD, PLAIN, STYLES, Line, Paper
from joinmatrix.reports.steps_text import StepTable, bare_name, step_object, subject, verb
from joinmatrix.reports.text import counted

FORMAT = "joinmatrix-next/1"
WINDOW_FORMAT = "joinmatrix-window/1"
RESTS_ON = (Part.ROWS, Part.RULES)
MOST_ACTS = 200
MOST_GROUPS = 60
_MOST_REASONS = 8
_OWN = {"placed": "its own placing", "made": "its own making", "inspected": "its own inspection"}


def next_lines(
    found: Next, assembly: Assembly, paper: Paper, *, narrowed: str = "", full: bool = False
) -> Iterator[Line]:
    """The acts that may be done now by the stage that closes on them, then those that wait.

    narrowed  what it is narrowed to, "" for everything
    full      every act, however many
    """
    title = f"Next  {narrowed}" if narrowed else "Next"
    yield from head_lines(title, assembly, RESTS_ON, paper)
    steps = [each.step for each in found.now] + [each.step for each in found.waiting]
    table = StepTable(steps, assembly, paper)
    yield from _now(found.now, table, paper, None if full else MOST_ACTS)
    yield from _waiting(found, table, paper, None if full else MOST_GROUPS)
    late = sum(each.late for each in found.now)
    numbers = f"{len(found.now):,} now, {len(found.waiting):,} waiting"
    if late:
        yield from stamp_lines(Verdict.HOLD, f"{late:,} LATE", numbers, paper)
    elif found.now or found.waiting:
        yield from stamp_lines(Verdict.OPEN, "WORK TO DO", numbers, paper)
    else:
        yield from stamp_lines(Verdict.CLEAR, "NOTHING LEFT TO DO", "", paper)


def _now(now: Sequence[Now], table: StepTable, paper: Paper, most: int | None) -> Iterator[Line]:
    yield from heading_lines(f"May be done now ({len(now):,}), most urgent first", paper)
    if not now:
        yield from paper.paragraph("nothing", 2)
    for (late, before), same in groupby(now[:most], key=lambda each: (each.late, each.before)):
        yield []
        yield from _closing(late, before, paper)
        for each in same:
            yield from table.row(each.step)
    if most is not None and len(now) > most:
        yield []
        rest = counted(len(now) - most, "more act")
        yield from paper.paragraph(f"and {rest}: add --full to see all of them", 2)


def _closing(late: bool, before: str, paper: Paper) -> Iterator[Line]:
    """The stage that closes on the acts below."""
    if late:
        words = f"LATE: should have been done before {before}" if before else "LATE"
        mark, style = paper.severity(Severity.HOLD)
        for line in paper.paragraph(words, 2, [(f"{mark} ", style)]):
            yield [(text, STYLES[Severity.HOLD]) for text, _ in line]
    else:
        words = f"before {before}" if before else "no stage closes on these"
        yield from ([(text, BOLD) for text, _ in line] for line in paper.paragraph(words, 2))


def _waiting(found: Next, table: StepTable, paper: Paper, most: int | None) -> Iterator[Line]:
    """The acts that wait, those that wait for the same together."""
    yield from heading_lines(f"Waiting ({len(found.waiting):,})", paper)
    if not found.waiting:
        yield from paper.paragraph("nothing", 2)
    groups: dict[tuple[str, ...], list[Step]] = {}
    for each in found.waiting:
        groups.setdefault(_reasons_of(each), []).append(each.step)
    for reasons, steps in list(groups.items())[:most]:
        yield []
        yield from _reasons(reasons, paper)
        yield from _steps(steps, table, paper, most)
    if most is not None and len(groups) > most:
        yield []
        rest = sum(len(steps) for steps in list(groups.values())[most:])
        yield from paper.paragraph(f"and {counted(rest, 'more act')}: add --full to see them", 2)


def _reasons_of(waiting: Waiting) -> tuple[str, ...]:
    """What an act waits for, in words that fit others that wait for the like."""
    own = f'"{bare_name(waiting.step)}" is '
    return tuple(
        _OWN.get(text.removeprefix(own), text) if text.startswith(own) else text
        for text in waiting.waits_for
    )


def _reasons(reasons: Sequence[str], paper: Paper) -> Iterator[Line]:
    shown = [*reasons[:_MOST_REASONS]]
    if len(reasons) > _MOST_REASONS:
        shown.append(f"{len(reasons) - _MOST_REASONS} more")
    for line in paper.paragraph("; ".join(shown), 2, [("waits for  ", PLAIN)]):
        *lead, (text, _) = line
        yield [*lead, (text, BOLD)]


def _steps(
    steps: Sequence[Step], table: StepTable, paper: Paper, most: int | None
) -> Iterator[Line]:
    """A few acts with a line each; many of one kind as names only."""
    if most is None or len(steps) <= _MOST_REASONS:
        for step in steps:
            yield from table.row(step)
        return
    by_verb: dict[str, list[str]] = {}
    for step in steps:
        by_verb.setdefault(verb(step), []).append(subject(step))
    for word, names in by_verb.items():
        yield from paper.paragraph(", ".join(names), 4, [(f"[ ] {word}  ", PLAIN)])


def next_json(found: Next, assembly: Assembly) -> str:
    """The answer as JSON text."""
    return document(
        {
            "format": FORMAT,
            "now": [
                {**step_object(each.step), "before": each.before, "late": each.late,
                 "joint": each.step.joint}
                for each in found.now
            ],
            "waiting": [
                {**step_object(each.step), "for": list(each.waits_for), "joint": each.step.joint}
                for each in found.waiting
            ],
            "not understood": troubles_of(assembly, RESTS_ON),
        }
    )  # fmt: skip


# --- the window of one connection ----------------------------------------------------------------


def window_lines(found: Sequence[Window], assembly: Assembly, paper: Paper) -> Iterator[Line]:
    """From which stage to which stage each act of a connection may happen."""
    name = found[0].step.connection if found else ""
    yield from head_lines(f"Window of {name}", assembly, RESTS_ON, paper)
    for side, same in groupby(found, key=lambda each: each.step.side):
        several = list(same)
        yield from heading_lines(f"{name} {side}  {several[0].step.joint}", paper)
        for each in several:
            yield from _window(each, paper)


def _window(each: Window, paper: Paper) -> Iterator[Line]:
    box = "[x]" if each.done else "[ ]"
    lead: Line = [(f"{box} ", PLAIN), (f"{verb(each.step):8} ", BOLD)]
    if each.impossible:
        severity = Severity.HOLD
        yield from paper.paragraph(
            "never: its rules cannot all be met", 2, [*lead, paper.severity(severity), (" ", PLAIN)]
        )
        return
    parts = [f"after {limit}" for limit in each.after]
    parts += [f"before {limit}" for limit in each.before]
    for text in (*parts, *each.rules) or ("at any time",):
        yield from paper.paragraph(text, 2, lead)
        lead = [(" " * sum(len(part) for part, _ in lead), PLAIN)]


def window_json(found: Iterable[Window], assembly: Assembly) -> str:
    """The windows as JSON text."""
    return document(
        {
            "format": WINDOW_FORMAT,
            "windows": [
                {
                    "act": each.step.act,
                    "connection": each.step.connection,
                    "side": each.step.side,
                    "done": each.done,
                    "after": [_limit(limit) for limit in each.after],
                    "before": [_limit(limit) for limit in each.before],
                    "rules": each.rules,
                    "impossible": each.impossible,
                    "joint": each.step.joint,
                }
                for each in found
            ],
            "not understood": troubles_of(assembly, RESTS_ON),
        }
    )


def _limit(limit: Limit) -> dict[str, object]:
    return {"stage": limit.stage, "side": limit.side, "act": limit.act}
