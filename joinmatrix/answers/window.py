"""From which stage to which stage each act of a connection may happen."""

from collections.abc import Iterator
from dataclasses import dataclass
from typing import NamedTuple

from joinmatrix.answers.nearest import StageAct, stages_after, stages_before
from joinmatrix.answers.steps import Step, step_of
from joinmatrix.assembly.model import Act, Assembly, Connection
from joinmatrix.errors import CallError
from joinmatrix.lists import words
from joinmatrix.names import folded, nearest, quoted_list
from joinmatrix.timing.bounds import STEPS
from joinmatrix.timing.constraints import Plan, plan_of
from joinmatrix.timing.progress import Task, progress_of
from joinmatrix.timing.stages import names_of
from joinmatrix.timing.wording import demand, ref_text


class Limit(NamedTuple):
    """A stage that limits a window.

    act  "started" or "done": the moment of the stage that counts
    """

    stage: str
    side: str
    act: str

    def __str__(self) -> str:
        verb = "starts" if self.act == Act.STARTED else "is done"
        return f'"{self.stage}" {self.side} {verb}' if self.side else f'"{self.stage}" {verb}'


@dataclass(frozen=True, slots=True)
class Window:
    """When one act of a connection may happen.

    after, before  the nearest stages on both sides, through other connections as well
    rules          what its own rules ask beside that: times, and other connections
    impossible     its rules cannot all be met, so that there is no such time
    """

    step: Step
    done: bool
    after: tuple[Limit, ...]
    before: tuple[Limit, ...]
    rules: tuple[str, ...]
    impossible: bool

    @property
    def text(self) -> str:
        """The window in one line."""
        if self.impossible:
            return "never: its rules cannot all be met"
        parts = []
        if self.after:
            parts.append("after " + " and ".join(map(str, self.after)))
        if self.before:
            parts.append("before " + " and ".join(map(str, self.before)))
        return "; ".join([*parts, *self.rules]) or "at any time"


def windows(assembly: Assembly, connection: str, side: str | None = None) -> tuple[Window, ...]:
    """The windows of placing, making and inspecting a connection, on each side that is meant.

    connection  its identifier, with or without its side behind it
    side        None for every side that it is on
    raises      CallError for an unknown connection (with the nearest), or one not on that side
    """
    return tuple(
        window
        for each in _connections(assembly, connection, side)
        for window in _windows(assembly, each)
    )


def _connections(assembly: Assembly, name: str, side: str | None) -> list[Connection]:
    key = folded(name)
    here = [each for each in assembly.connections if each.key.name == key]
    if not here:
        apart = names_of(assembly).reader.vocabulary.side_at_end(key)
        if apart is not None:
            here = [
                each
                for each in assembly.connections
                if each.key.name == apart[0] and each.side in apart[1]
            ]
    if not here:
        near = quoted_list(nearest(name, (each.id for each in assembly.connections)))
        wanted = f"Ask for {near}" if near else "Ask for one of the connections lists"
        raise CallError(f'there is no connection "{name}"', wanted)
    if side is None:
        return here
    labels = {folded(side), folded(words.side_word(side) or side)}
    on_side = [each for each in here if folded(each.side) in labels]
    if not on_side:
        there = quoted_list((each.side for each in here), "and")
        raise CallError(f'connection "{name}" is not on side "{side}"', f"It is on {there}")
    return on_side


def _windows(assembly: Assembly, connection: Connection) -> Iterator[Window]:
    plan, progress = plan_of(assembly), progress_of(assembly)
    at_odds = {edge.earlier for circle in plan.circles for edge in circle.edges}
    points = [plan.step_point(connection.key, act) for act in STEPS]
    for act, point in zip(STEPS, points, strict=True):
        task = Task(act, "connection", connection.key, point)
        if act is Act.PLACED and not progress.tasks[point]:
            continue  # no rule asks for its placing
        yield Window(
            step_of(assembly, task),
            progress.entry(task) is not None,
            _limits(plan, stages_before(plan, point)),
            _limits(plan, stages_after(plan, point)),
            tuple(_rules(assembly, connection, act)),
            not at_odds.isdisjoint(points),
        )


def _limits(plan: Plan, stages: tuple[StageAct, ...]) -> tuple[Limit, ...]:
    names = plan.rules_of.names.stages
    return tuple(Limit(names[key].name, key.side, act.value) for key, act in stages)


def _rules(assembly: Assembly, connection: Connection, act: Act) -> Iterator[str]:
    plan = plan_of(assembly)
    group = plan.rules_of.groups[plan.group_of[connection.key]]
    for bound in group.bounds:
        if bound.act is act and (bound.gap or bound.ref.subject == "connection"):
            yield demand(bound, ref_text(assembly, bound.ref, connection.side))
