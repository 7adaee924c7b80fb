"""One order of all that is left to do, which meets every rule."""

import heapq
from collections.abc import Iterator
from dataclasses import dataclass
from typing import NamedTuple

from joinmatrix.answers.steps import Step, step_of
from joinmatrix.answers.urgency import NEVER, urgency_of
from joinmatrix.assembly.model import Act, Assembly, Key
from joinmatrix.checks.contradiction import contradiction
from joinmatrix.findings import Finding
from joinmatrix.timing.bounds import STEPS
from joinmatrix.timing.judge import judge
from joinmatrix.timing.network import TICKS, Edge, Network
from joinmatrix.timing.progress import Progress, Task, progress_of


class Timed(NamedTuple):
    """An act in its turn.

    earliest  minutes from the start of a plan, or from the moment of the record that is looked
              at; None where no rule has a duration
    latest    minutes; the latest at which the whole can still end as early as it can
    """

    step: Step
    earliest: int | None
    latest: int | None


@dataclass(frozen=True, slots=True)
class Sequence:
    """One complete order of the acts that are left, or why there is none.

    order          stage by stage
    contradiction  the smallest circle of rules, when they cannot all be met
    impossible     the acts that no order allows: those of a circle, and all that must come after
    """

    feasible: bool
    order: tuple[Timed, ...]
    contradiction: Finding | None
    impossible: tuple[Step, ...]


def sequence(assembly: Assembly) -> Sequence:
    """One order of all that is left to do; in the order of the lists where the rules leave it open.

    With a record, what is done lies behind, and times count from the moment that the assembly is
    looked at.
    """
    progress = progress_of(assembly)
    if progress.plan.circles:
        found = next(contradiction(assembly))
        impossible = tuple(step_of(assembly, task) for task in _impossible(progress))
        return Sequence(False, (), found, impossible)
    return Sequence(True, tuple(_order(assembly, progress)), None, ())


def _impossible(progress: Progress) -> Iterator[Task]:
    """What is on a circle or must come after something on one."""
    plan = progress.plan
    waiting = [edge.earlier for circle in plan.circles for edge in circle.edges]
    seen = set(waiting)
    while waiting:
        for edge in plan.network.out[waiting.pop()]:
            if edge.gap >= 0 and edge.later not in seen:
                seen.add(edge.later)
                waiting.append(edge.later)
    for point in sorted(seen):
        yield from progress.left[point]


def _order(assembly: Assembly, progress: Progress) -> Iterator[Timed]:
    rest = _Rest(progress)
    for point in _in_turn(progress, rest, _turns(assembly, progress)):
        earliest, latest = rest.times(point)
        for task in progress.left[point]:
            yield Timed(step_of(assembly, task), earliest, latest)


class _Rest:
    """The network of what is left, with what is done as its past."""

    def __init__(self, progress: Progress) -> None:
        plan = progress.plan
        self.points = [point for point, tasks in enumerate(progress.left) if tasks]
        after, limits = dict.fromkeys(self.points, 0), dict[int, int]()
        edges: list[Edge] = []
        for edge in plan.network.edges:
            one, other = edge.earlier in after, edge.later in after
            if one and other:
                edges.append(edge)
            elif other and (ticks := _past(progress, edge.earlier)) is not None:
                after[edge.later] = max(after[edge.later], ticks + edge.gap)
            elif one and edge.gap <= -TICKS and (ticks := _past(progress, edge.later)) is not None:
                limit = ticks - edge.gap
                limits[edge.earlier] = min(limit, limits.get(edge.earlier, limit))
        self.network = Network(len(plan.points), edges)
        self.timed = any(abs(edge.gap) >= TICKS for edge in plan.network.edges)
        self._earliest = self.network.longest(after)
        end = max((ticks for ticks in self._earliest if ticks is not None), default=0)
        ends = {point: max(0, end - limits.get(point, end)) for point in self.points}
        behind = self.network.reversed.longest(ends)
        self._latest = [None if ticks is None else end - ticks for ticks in behind]

    def ticks(self, point: int) -> int:
        """The earliest time of a point."""
        return self._earliest[point] or 0

    def times(self, point: int) -> tuple[int | None, int | None]:
        """Earliest and latest in whole minutes; strict steps of one tick are lost in them."""
        latest = self._latest[point]
        if not self.timed or latest is None:
            return None, None
        earliest = _minutes(self.ticks(point))
        return earliest, max(earliest, _minutes(latest))


def _minutes(ticks: int) -> int:
    return (ticks + TICKS // 2) // TICKS


def _past(progress: Progress, point: int) -> int | None:
    """When what is done at a point was done, in ticks back from now; None when nothing is.

    Something without a time counts as done just now: so a time that counts from it is kept.
    """
    now = progress.now
    entries = [progress.entry(task) for task in progress.tasks[point]]
    minutes = [
        min(0, entry.when.high - now.high) if now is not None and entry.when.text else 0
        for entry in entries
        if entry is not None
    ]
    return max(minutes) * TICKS if minutes else None


# --- turns ---


def _turns(assembly: Assembly, progress: Progress) -> list[float]:
    """Where each point belongs between the stages.

    What is late comes first. Acts come before the stage that closes on them; those on which none
    closes right after the stage that lets them begin; those that no stage touches come last, and
    an inspection comes with its making.
    """
    urgency, passed = urgency_of(assembly), judge(assembly).passed
    turns: list[float] = []
    for point, (owner, act) in enumerate(progress.plan.points):
        closes, follows = urgency.closes[point], urgency.follows[point]
        late = [
            each
            for task in progress.left[point][:1]
            for each in passed.get((task.subject, task.key), ())
            if each.act is act
        ]
        if late:
            turns.append(-1.0)
        elif owner.subject == "stage":
            turns.append(2.0 * urgency.rank_of[owner.key] + (act is Act.DONE))
        elif closes != NEVER:
            turns.append(float(closes))
        elif follows >= 0:
            turns.append(follows + 0.5)
        else:
            turns.append(turns[-1] if act is Act.INSPECTED else float(NEVER))
    return turns


def _in_turn(progress: Progress, rest: _Rest, turns: list[float]) -> Iterator[int]:
    """The points that have acts left, each when all that must come before it is behind.

    Points of one time go by their turn. What happens together stands together.
    """
    plan, place_of = progress.plan, progress.plan.precedence.place_of
    members: dict[int, list[int]] = {}
    for point in rest.points:
        members.setdefault(place_of[point], []).append(point)
    before = dict.fromkeys(members, 0)
    after: dict[int, list[int]] = {group: [] for group in members}
    for edge in rest.network.edges:
        one, other = place_of[edge.earlier], place_of[edge.later]
        if edge.gap >= 0 and one != other:
            after[one].append(other)
            before[other] += 1

    def key(group: int) -> tuple[int, float, bool, int, int]:
        points = members[group]
        first = min(points)
        return (
            min(rest.ticks(point) // TICKS for point in points),
            min(turns[point] for point in points),
            any(plan.points[point].owner.subject == "stage" for point in points),
            min(progress.place[_subject(progress.left[point][0])] for point in points),
            first,
        )

    ready = [(key(group), group) for group, count in before.items() if not count]
    heapq.heapify(ready)
    while ready:
        _, group = heapq.heappop(ready)
        yield from sorted(members[group], key=lambda point: (_step(plan.points[point].act), point))
        for other in after[group]:
            before[other] -= 1
            if not before[other]:
                heapq.heappush(ready, (key(other), other))


def _step(act: Act) -> int:
    return STEPS.index(act) if act in STEPS else -1


def _subject(task: Task) -> tuple[str, Key]:
    return task.subject, task.key
