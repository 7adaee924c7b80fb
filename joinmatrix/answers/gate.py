"""May a stage start? What must still be done first, and what it will close off."""

from collections import deque
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from functools import lru_cache
from typing import NamedTuple

from joinmatrix.answers.steps import Step, stage_sides, step_of
from joinmatrix.assembly.model import Act, Assembly, Key
from joinmatrix.assembly.moments import minutes_text
from joinmatrix.assembly.standing import standings
from joinmatrix.checks.contradiction import contradiction
from joinmatrix.checks.mis_sequenced import by_subject
from joinmatrix.findings import Finding
from joinmatrix.lists.table import Trouble
from joinmatrix.names import folded
from joinmatrix.place import Place
from joinmatrix.timing.bounds import CLOSED_BY, Bound, rule_cells
from joinmatrix.timing.constraints import Plan
from joinmatrix.timing.faults import faults
from joinmatrix.timing.judge import Subject
from joinmatrix.timing.network import Edge
from joinmatrix.timing.progress import Progress, Task, asks_for_placing, progress_of
from joinmatrix.timing.stages import names_of
from joinmatrix.timing.wording import about, duration_text, on_text, ref_text, said

_LINKS = 3  # rules that are told on the way from an act to the stage


class Missing(NamedTuple):
    """An act that must be done before the stage starts, and is not.

    why    the rule behind it, and the stages through which it matters
    cells  the cells of those rules
    """

    step: Step
    why: str
    cells: tuple[Place, ...]


class LastChance(NamedTuple):
    """An act that cannot be done any more once the stage has started."""

    step: Step
    done: bool


@dataclass(frozen=True, slots=True)
class Gate:
    """Whether a stage may start.

    side         "" when it is once for all, or when all its sides were asked about
    sides        the sides that the answer is about
    state        "not started", "started" or "done"
    missing      what must be done first, in an order in which it can be done
    breaks       what is wrong with what has been done before it, or with its rules
    unclear      what could not be understood in the lists, and may hide something that is missing
    last_chance  what the stage will make unreachable, whether it is done or not
    """

    stage: str
    side: str
    sides: tuple[str, ...]
    state: str
    missing: tuple[Missing, ...]
    breaks: tuple[Finding, ...]
    unclear: tuple[Trouble, ...]
    last_chance: tuple[LastChance, ...]

    @property
    def go(self) -> bool:
        """Whether nothing stands in the way."""
        return not (self.missing or self.breaks or self.unclear)

    @property
    def answer(self) -> str:
        """The answer in a word: go or hold."""
        return "go" if self.go else "hold"


def gate(assembly: Assembly, stage: str, side: str | None = None) -> Gate:
    """Whether a stage may start.

    stage   its name, with or without its side: "wing mate", "wing mate L"
    side    None for all sides of it at once
    raises  CallError for an unknown stage (with the nearest names), or one not on that side
    """
    name, sides = stage_sides(assembly, stage, side)
    progress = progress_of(assembly)
    keys = [Key(name, each) for each in sides]
    starts = [progress.plan.stage_point(key, Act.STARTED) for key in keys]
    ahead = _Ahead(assembly, progress, starts, keys)
    return Gate(
        names_of(assembly).stages[keys[0]].name,
        sides[0] if len(sides) == 1 else "",
        sides,
        _state(progress, keys),
        tuple(ahead.missing()),
        tuple(_breaks(assembly, progress, ahead, keys)),
        tuple(unclear(assembly)),
        tuple(_last_chance(assembly, progress, keys)),
    )


def _state(progress: Progress, keys: list[Key]) -> str:
    """How far the stage is: as far as the side that is least far."""
    acts = [
        sum((act, "stage", key) in progress.entries for act in (Act.STARTED, Act.DONE))
        for key in keys
    ]
    return ("not started", "started", "done")[min(acts)]


class _Ahead:
    """Everything that must come before some starts of stages."""

    def __init__(
        self, assembly: Assembly, progress: Progress, starts: list[int], keys: list[Key]
    ) -> None:
        self._assembly = assembly
        self._progress = progress
        self._plan: Plan = progress.plan
        self._starts = starts
        own = {progress.plan.stage_point(key, Act.DONE) for key in keys}
        # Rules that contradict each other can put the stage before itself.
        self.next: Mapping[int, Edge | None] = {
            point: edge for point, edge in self._ways().items() if point not in own
        }

    def _ways(self) -> dict[int, Edge | None]:
        """Each point that must come before, and the next edge on a shortest way to the start.

        Goes back along the rules, those that contradict each other too. None stands for a point
        that only the times of several rules together put before it.
        """
        next_edge: dict[int, Edge | None] = {}
        waiting = deque(self._starts)
        seen = set(self._starts)
        while waiting:
            for edge in self._progress.into[waiting.popleft()]:
                if edge.earlier not in seen:
                    seen.add(edge.earlier)
                    next_edge[edge.earlier] = edge
                    waiting.append(edge.earlier)
        if any(edge.gap < -1 for edge in self._plan.sound.edges):
            for start in self._starts:
                for point, gap in enumerate(self._plan.sound.gaps_to(start)):
                    if gap is not None and gap >= 0 and point not in seen:
                        next_edge[point] = None
        return next_edge

    def missing(self) -> Iterator[Missing]:
        """What is not done of all that, first what can be first; then times that must go by."""
        place = self._plan.precedence.place_of
        for point in sorted(self.next, key=lambda point: (place[point], point)):
            owner, act = self._plan.points[point]
            if owner.subject == "stage" and act is Act.STARTED and point + 1 in self.next:
                continue  # its end is ahead of the stage as well, and tells more
            why, cells = self._why(point) if self._progress.left[point] else ("", ())
            for task in self._progress.left[point]:
                own = about(self._assembly, (task.subject, task.key)).rows
                first = self._first_rule(point)
                here = rule_cells(own, first.rule) if first is not None else ()
                yield Missing(
                    step_of(self._assembly, task), why, tuple(dict.fromkeys([*here, *cells]))
                )
        for start in self._starts:
            yield from self._waits(start)

    def _waits(self, start: int) -> Iterator[Missing]:
        """Times since something that have not gone by yet."""
        for edge in self._progress.into[start]:
            bound = self._plan.bound_of.get(edge)
            if bound is None or self._progress.left[edge.earlier]:
                continue
            wait = self._progress.waits_until(edge)
            if wait is None:
                continue
            entry, minute = wait
            key = self._plan.points[start].owner.key
            stage = about(self._assembly, ("stage", key))
            ref = ref_text(self._assembly, bound.ref, key.side)
            until = f"not before {minutes_text(minute)}" if entry.when.text else "not shown"
            yield Missing(
                step_of(self._assembly, Task(Act.STARTED, "stage", key, start)),
                f"at least {duration_text(bound.gap)} after {ref} was {entry.act}"
                f"{on_text(entry.when)}: {until}",
                (*rule_cells(stage.rows, bound.rule), entry.cell()),
            )

    def _rules_on_the_way(self, point: int) -> Iterator[tuple[int, Bound]]:
        """The rules between a point and the start, nearest to the point first."""
        edge = self.next.get(point)
        while edge is not None:
            bound = self._plan.bound_of.get(edge)
            if bound is not None:
                yield edge.rule, bound
            edge = self.next.get(edge.later)

    def _first_rule(self, point: int) -> Bound | None:
        """The rule on the way that the act's own rows say, if one does."""
        owner = self._plan.points[point].owner
        for number, bound in self._rules_on_the_way(point):
            return bound if self._plan.rules[number].owner == owner else None
        return None

    def _why(self, point: int) -> tuple[str, tuple[Place, ...]]:
        """The way from a point to the start in words, and the cells of its further rules."""
        rules = list(self._rules_on_the_way(point))
        if not rules:
            return "the times of the rules leave no other order", ()
        own = self._plan.points[point].owner
        parts: list[str] = []
        cells: list[Place] = []
        for number, bound in rules if len(rules) <= _LINKS else (*rules[:2], rules[-1]):
            if len(parts) == 2 and len(rules) > _LINKS:
                parts.append(f"{len(rules) - _LINKS} more rules behind that")
            if self._plan.rules[number].owner == own:
                parts.append(said(bound.rule))
                continue
            who = about(self._assembly, self._subject_of(number))
            name = f"{who.name} {who.side}".rstrip()
            cells += rule_cells(who.rows, bound.rule)
            if bound.rule.column == CLOSED_BY:
                parts.append(f'{name} is closed by "{bound.rule.text}"')
            else:
                parts.append(f'the rule of {name} says "{bound.rule.text}"')
        return ", and ".join(dict.fromkeys(parts)), tuple(cells)

    def _subject_of(self, number: int) -> tuple[str, Key]:
        """What carries a rule; of several alike, one that is not done yet."""
        owner = self._plan.rules[number].owner
        if owner.subject == "stage":
            return "stage", owner.key
        if owner.subject == "item":
            return "item", self._plan.items(owner).members[0].key
        members = self._plan.group(owner).members
        stand = standings(self._assembly)
        open_ones = (member for member in members if stand[member.key].made is None)
        return "connection", next(open_ones, members[0]).key


def _breaks(
    assembly: Assembly, progress: Progress, ahead: _Ahead, keys: list[Key]
) -> Iterator[Finding]:
    """Broken orders and contradictions among what comes before a stage, or of the stage itself."""
    concerned = {
        (task.subject, task.key) for point in ahead.next for task in progress.tasks[point]
    } | {("stage", key) for key in keys}
    for finding in contradiction(assembly):
        if not concerned.isdisjoint(_subjects(finding)):
            yield finding
    for subject, finding in _out_of_turn(assembly):
        if subject in concerned:
            yield finding


@lru_cache(maxsize=8)
def _out_of_turn(assembly: Assembly) -> tuple[tuple[Subject, Finding], ...]:
    return tuple(by_subject(assembly))


def _subjects(finding: Finding) -> Iterator[tuple[str, Key]]:
    """What a contradiction is about; a stage only where no connection or item is."""
    sides = (*finding.sides, "")
    for side in sides:
        for name in finding.connections:
            yield "connection", Key(folded(name), side)
        for name in finding.items:
            yield "item", Key(folded(name), side)
        if not finding.connections and not finding.items:
            for name in finding.stages:
                yield "stage", Key(folded(name), side)


def unclear(assembly: Assembly) -> Iterator[Trouble]:
    """Rows and rules that cannot be read, save rules of what is finished anyway."""
    yield from (trouble for trouble in assembly.troubles if trouble.holds)
    entries = progress_of(assembly).entries
    for trouble in faults(assembly):
        if not trouble.holds:
            continue
        ends = [
            *((Act.INSPECTED, "connection", name) for name in trouble.connections),
            *((Act.DONE, "stage", name) for name in trouble.stages),
            *((Act.REMOVED, "item", name) for name in trouble.items),
        ]
        done = (
            (act, subject, Key(folded(name), side)) in entries
            for act, subject, name in ends
            for side in trouble.sides or ("",)
        )
        if not all(done):
            yield trouble


def _last_chance(assembly: Assembly, progress: Progress, keys: list[Key]) -> Iterator[LastChance]:
    """What may not be done any more once the stage has started, by its own rule."""
    plan = progress.plan
    tasks: dict[Task, None] = {}
    for number, group in enumerate(plan.rules_of.groups):
        acts = {bound.act for bound in group.bounds if _closes(bound, keys)}
        if not acts:
            continue
        owner = plan.points[plan.step_point(group.members[0].key, Act.MADE)].owner
        assert owner.number == number
        for act in (Act.PLACED, Act.MADE, Act.INSPECTED):
            if act in acts and (act is not Act.PLACED or asks_for_placing(plan, owner)):
                tasks |= dict.fromkeys(progress.tasks[plan.step_point(group.members[0].key, act)])
    for point, (owner, act) in enumerate(plan.points):
        if act is Act.REMOVED and any(_closes(bound, keys) for bound in plan.items(owner).bounds):
            tasks |= dict.fromkeys(progress.tasks[point])

    def in_order(task: Task) -> tuple[bool, int, int]:
        return task.subject == "item", progress.place[task.subject, task.key], task.point

    for task in sorted(tasks, key=in_order):
        yield LastChance(step_of(assembly, task), progress.entry(task) is not None)


def _closes(bound: Bound, keys: list[Key]) -> bool:
    return (
        not bound.after
        and bound.at is Act.STARTED
        and bound.ref.subject == "stage"
        and bound.ref.key in keys
    )
