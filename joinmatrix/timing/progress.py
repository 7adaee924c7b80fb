"""What is done and what is left, point by point of the network of rules."""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from functools import lru_cache
from typing import NamedTuple

from joinmatrix.assembly.model import Act, Assembly, Entry, Key, Moment
from joinmatrix.assembly.standing import NOTHING_DONE, Standing, standings
from joinmatrix.timing.constraints import Owner, Plan, plan_of
from joinmatrix.timing.judge import removals
from joinmatrix.timing.network import TICKS, Edge
from joinmatrix.timing.order import Episode, Order, episodes, order


class Task(NamedTuple):
    """One act to do.

    subject  "connection", "stage" or "item"
    point    of the network; connections with the same rules share their points
    """

    act: Act
    subject: str
    key: Key
    point: int


@dataclass(frozen=True, eq=False)
class Progress:
    """How far the acts of an assembly are.

    tasks    by point: every act that is asked for there, in reading order
    left     by point: those of them that are not done
    entries  the record of each act that is done and counts
    into     by point: the edges of rules and of the natural order that end there, with a gap of
             zero or more; those of rules that contradict each other as well
    place    where each connection, stage and item stands in the lists, for a stable order
    now      the moment at which it is judged; None when nothing in the record has a time
    """

    plan: Plan
    tasks: tuple[tuple[Task, ...], ...]
    left: tuple[tuple[Task, ...], ...]
    entries: Mapping[tuple[Act, str, Key], Entry]
    into: tuple[tuple[Edge, ...], ...]
    place: Mapping[tuple[str, Key], int]
    now: Moment | None

    def entry(self, task: Task) -> Entry | None:
        """The record of an act, None when it is not done."""
        return self.entries.get((task.act, task.subject, task.key))

    def ready_since(self, edge: Edge) -> bool:
        """Whether all that an edge begins at is done, and its time has gone by."""
        if self.left[edge.earlier]:
            return False
        return self.waits_until(edge) is None

    def waits_until(self, edge: Edge) -> tuple[Entry, int] | None:
        """The done act that an edge counts from and the first minute it allows, while it waits."""
        minutes = -(-edge.gap // TICKS) if edge.gap >= TICKS else 0
        if not minutes:
            return None
        for task in self.tasks[edge.earlier]:
            entry = self.entry(task)
            if entry is None:
                continue
            if self.now is None or order(entry.when, self.now, minutes) is not Order.SHOWN:
                return entry, entry.when.high + minutes
        return None


@lru_cache(maxsize=8)
def progress_of(assembly: Assembly) -> Progress:
    """How far the acts of an assembly are."""
    plan = plan_of(assembly)
    place = _places(assembly, plan)
    tasks = tuple(tuple(_tasks(plan, number, place)) for number in range(len(plan.points)))
    entries = dict(_entries(assembly, tasks))
    left = tuple(
        tuple(task for task in same if (task.act, task.subject, task.key) not in entries)
        for same in tasks
    )
    into: list[list[Edge]] = [[] for _ in plan.points]
    for edge in plan.network.edges:
        if edge.gap >= 0:
            into[edge.later].append(edge)
    now = assembly.as_of
    return Progress(
        plan,
        tasks,
        left,
        entries,
        tuple(map(tuple, into)),
        place,
        Moment(now, now, None, "") if now is not None else None,
    )


def _places(assembly: Assembly, plan: Plan) -> dict[tuple[str, Key], int]:
    found: dict[tuple[str, Key], int] = {}
    for number, connection in enumerate(assembly.connections):
        found["connection", connection.key] = number
    for number, key in enumerate(plan.rules_of.names.stages):
        found["stage", key] = number
    for number, item in enumerate(assembly.temporary):
        found["item", item.key] = number
    return found


def _tasks(plan: Plan, point: int, place: Mapping[tuple[str, Key], int]) -> Iterator[Task]:
    owner, act = plan.points[point]
    if owner.subject == "stage":
        yield Task(act, "stage", owner.key, point)
    elif owner.subject == "item":
        for item in sorted(plan.items(owner).members, key=lambda item: place["item", item.key]):
            yield Task(act, "item", item.key, point)
    elif act is not Act.PLACED or asks_for_placing(plan, owner):
        for member in plan.group(owner).members:
            yield Task(act, "connection", member.key, point)


def asks_for_placing(plan: Plan, owner: Owner) -> bool:
    """Whether connections have a rule of their own for placing; else it is part of the making."""
    return any(bound.rule.column == "place" for bound in plan.group(owner).bounds)


def _entries(
    assembly: Assembly, tasks: tuple[tuple[Task, ...], ...]
) -> Iterator[tuple[tuple[Act, str, Key], Entry]]:
    stand, runs, off = standings(assembly), episodes(assembly), removals(assembly)
    for same in tasks:
        for task in same:
            if task.subject == "connection":
                entry = _of_connection(stand.get(task.key, NOTHING_DONE), task.act)
            elif task.subject == "stage":
                entry = _of_stage(runs.get(task.key, ()), task.act)
            else:
                entry = off.get(task.key)
            if entry is not None:
                yield (task.act, task.subject, task.key), entry


def _of_connection(standing: Standing, act: Act) -> Entry | None:
    if act is Act.PLACED:
        return standing.placed or standing.made
    return standing.made if act is Act.MADE else standing.inspected


def _of_stage(runs: tuple[Episode, ...], act: Act) -> Entry | None:
    if not runs:
        return None
    return runs[-1].entry if act is Act.STARTED else runs[-1].done
