"""What may be done now, the most urgent first, and what everything else waits for."""

from collections import defaultdict
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from enum import StrEnum
from typing import NamedTuple

from joinmatrix.answers.gate import gate
from joinmatrix.answers.steps import Step, done_text, step_of
from joinmatrix.answers.urgency import NEVER, Urgency, urgency_of
from joinmatrix.assembly.model import Act, Assembly, Key
from joinmatrix.assembly.moments import minutes_text
from joinmatrix.names import folded
from joinmatrix.timing.faults import faults
from joinmatrix.timing.judge import Passed, judge
from joinmatrix.timing.network import TICKS, Edge
from joinmatrix.timing.progress import Progress, Task, progress_of
from joinmatrix.timing.wording import duration_text, on_text

_FEW = 3  # acts that are named one by one where something waits for them


class Doer(StrEnum):
    """Whose acts to show."""

    MECHANIC = "mechanic"
    INSPECTOR = "inspector"


class Now(NamedTuple):
    """An act that may be done now.

    before  the nearest stage that closes on it, with its side; "" when none does
    late    it should have been done before something that has happened already
    """

    step: Step
    before: str
    late: bool


class Waiting(NamedTuple):
    """An act that may not be done yet, and what it waits for."""

    step: Step
    waits_for: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Next:
    """Everything that is left to do.

    now      most urgent first: what is late, then what the nearest stage closes on
    waiting  in the order of the stages that close on them
    """

    now: tuple[Now, ...]
    waiting: tuple[Waiting, ...]


def next_acts(
    assembly: Assembly, *, joint: str = "", side: str = "", doer: Doer | None = None
) -> Next:
    """What may be done now and what waits.

    joint, side  only the acts there; acts without one are shown as well, they concern all
    doer         only the acts of mechanics (all but inspecting), or only those of inspectors
    """
    work = _Work(assembly)
    now: list[tuple[tuple[object, ...], Now]] = []
    waiting: list[tuple[tuple[object, ...], Waiting]] = []
    for task in work.left():
        step = step_of(assembly, task)
        if not _wanted(step, joint, side, doer):
            continue
        late = work.late(task)
        rank = work.urgency.closes[task.point]
        order = (late is None, rank, work.progress.place[task.subject, task.key], task.point)
        waits_for = work.waits_for(task)
        if waits_for:
            waiting.append((order, Waiting(step, waits_for)))
        else:
            now.append((order, Now(step, work.before(task, late), late is not None)))
    now.sort(key=lambda each: each[0])
    waiting.sort(key=lambda each: each[0][1:])
    return Next(tuple(each for _, each in now), tuple(each for _, each in waiting))


def _wanted(step: Step, joint: str, side: str, doer: Doer | None) -> bool:
    if joint and step.joint and folded(step.joint) != folded(joint):
        return False
    if side and step.side and folded(step.side) != folded(side):
        return False
    inspecting = step.act == Act.INSPECTED
    return doer is None or inspecting == (doer is Doer.INSPECTOR)


class _Work:
    """What is left, looked at once for each point of the network."""

    def __init__(self, assembly: Assembly) -> None:
        self._assembly = assembly
        self.progress: Progress = progress_of(assembly)
        self.urgency: Urgency = urgency_of(assembly)
        self._plan = self.progress.plan
        self._passed = judge(assembly).passed
        self._together = self._plan.precedence.place_of
        self._shared: dict[tuple[int, str], tuple[str, ...]] = {}
        self._unread = _unread_rules(assembly)
        self._at_odds = self._in_contradictions()

    def left(self) -> Iterator[Task]:
        """Every act that is not done; of a stage that has not started, only its start."""
        for point, tasks in enumerate(self.progress.left):
            owner, act = self._plan.points[point]
            if owner.subject == "stage" and act is Act.DONE and self.progress.left[point - 1]:
                continue
            yield from tasks

    def late(self, task: Task) -> Passed | None:
        """What ended the time of an act that is not done, if its time is over."""
        passed = self._passed.get((task.subject, task.key), ())
        return next((each for each in passed if each.act is task.act), None)

    def before(self, task: Task, late: Passed | None) -> str:
        """The stage that closes on an act, or has closed on it."""
        if late is not None and late.bound.ref.subject == "stage":
            return self._stage_text(late.bound.ref.key)
        rank = self.urgency.closes[task.point]
        return "" if rank == NEVER else self._stage_text(self.urgency.stage_at(rank)[0])

    def _stage_text(self, key: Key) -> str:
        return str(self._plan.rules_of.names.stages[key])

    def waits_for(self, task: Task) -> tuple[str, ...]:
        """What must be done first, or has to go by; () when nothing stands in the way."""
        own = [
            done_text(self._assembly, before, task.key.side) for before in self._steps_before(task)
        ]
        key = (task.point, task.key.side)
        if key not in self._shared:
            self._shared[key] = tuple(dict.fromkeys(self._rules_before(task)))
        found = (*own, *self._shared[key], *self._in_the_way(task))
        return found or tuple(self._at_its_gate(task))

    def _steps_before(self, task: Task) -> Iterator[Task]:
        """The step of the same connection, or the start of the same stage, that comes first."""
        for edge in self.progress.into[task.point]:
            if edge not in self._plan.bound_of:
                for before in self.progress.left[edge.earlier]:
                    if before.key == task.key:
                        yield before

    def _rules_before(self, task: Task) -> Iterator[str]:
        """What the rules of an act ask for first, and of those that are done together with it."""
        here = self._together[task.point]
        for point in self._plan.precedence.components[here]:
            for edge in self.progress.into[point]:
                if point == task.point and edge not in self._plan.bound_of:
                    continue  # its own steps, told for each connection by itself
                if self._together[edge.earlier] == here:
                    continue
                left = self.progress.left[edge.earlier]
                if left:
                    yield from self._named(left, task.key.side, edge)
                else:
                    yield from self._time(edge)

    def _named(self, left: Sequence[Task], side: str, edge: Edge) -> Iterator[str]:
        lag = f"{duration_text(edge.gap // TICKS)} after " if edge.gap >= TICKS else ""
        for task in left[:_FEW]:
            yield lag + done_text(self._assembly, task, side)
        if len(left) > _FEW:
            yield f"{len(left) - _FEW} more"

    def _time(self, edge: Edge) -> Iterator[str]:
        wait = self.progress.waits_until(edge)
        if wait is None:
            return
        entry, minute = wait
        after = f'{duration_text(edge.gap // TICKS)} after "{entry.name}" was {entry.act}'
        if entry.when.text:
            yield f"{minutes_text(minute)}: {after}{on_text(entry.when)}"
        else:
            yield f"{after}{on_text(entry.when)}"

    def _at_its_gate(self, task: Task) -> Iterator[str]:
        """What holds the start of a stage, though all that comes right before it is done."""
        if task.subject != "stage" or task.act is not Act.STARTED:
            return
        stage = self._plan.rules_of.names.stages[task.key]
        held = gate(self._assembly, stage.name, task.key.side or None)
        texts = [
            *(f"{missing.step}, skipped before" for missing in held.missing),
            *(finding.clears for finding in held.breaks),
            *(f"what can be read: {trouble.found}" for trouble in held.unclear),
        ]
        yield from texts[:_FEW]
        if len(texts) > _FEW:
            yield f"{len(texts) - _FEW} more"

    def _in_the_way(self, task: Task) -> Iterator[str]:
        for text in self._unread.get(_subject(task), ()):
            yield f"a rule that can be read: {text}"
        if task.point in self._at_odds:
            yield "rules that can all be met"

    def _in_contradictions(self) -> set[int]:
        return {edge.earlier for circle in self._plan.circles for edge in circle.edges}


def _subject(task: Task) -> tuple[str, Key]:
    return task.subject, task.key


def _unread_rules(assembly: Assembly) -> dict[tuple[str, Key], list[str]]:
    """The rules of each connection, stage and item that cannot be read."""
    found: defaultdict[tuple[str, Key], list[str]] = defaultdict(list)
    for trouble in faults(assembly):
        if trouble.holds:
            named = (
                *(("connection", name) for name in trouble.connections),
                *(("stage", name) for name in trouble.stages),
                *(("item", name) for name in trouble.items),
            )
            for subject, name in named:
                for side in trouble.sides or ("",):
                    found[subject, Key(folded(name), side)].append(trouble.found)
    return found
