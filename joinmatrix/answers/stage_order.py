"""Which stages must come before which, how far each is, and a drawing of it."""

from collections import defaultdict
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from typing import NamedTuple

from joinmatrix.answers.nearest import stages_before
from joinmatrix.answers.urgency import urgency_of
from joinmatrix.assembly.model import Act, Assembly, Key
from joinmatrix.timing.progress import progress_of

_MARKS = {"done": "[x]", "started": "[>]", "not started": "[ ]"}


class StagePlace(NamedTuple):
    """A stage in the order.

    state   "not started", "started" or "done"
    when    of the entry that says so, "" for none
    after   the stages that must be done right before it, with their sides; those that come before
            these go without saying
    during  the stages that must have started, and need not be done
    """

    stage: str
    side: str
    state: str
    when: str
    after: tuple[str, ...]
    during: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class StageOrder:
    """The stages in an order that the rules allow.

    lines  the order as a drawing, in plain characters: what follows stands below what it follows,
           branches are set in
    """

    stages: tuple[StagePlace, ...]
    lines: tuple[str, ...]


def stage_order(assembly: Assembly) -> StageOrder:
    """The stages, directly and through connections: what is made after one and before another."""
    progress, urgency = progress_of(assembly), urgency_of(assembly)
    plan = progress.plan
    places: list[StagePlace] = []
    parents: dict[Key, list[Key]] = {}
    for key in urgency.stages:
        before = stages_before(plan, plan.stage_point(key, Act.STARTED))
        in_order = sorted(before, key=lambda each: urgency.rank_of[each[0]])
        parents[key] = [each for each, _ in in_order if each != key]
        stage = plan.rules_of.names.stages[key]
        started, done = (
            progress.entries.get((act, "stage", key)) for act in (Act.STARTED, Act.DONE)
        )
        state = "done" if done else "started" if started else "not started"
        entry = done or started
        written = [
            (str(plan.rules_of.names.stages[each]), act) for each, act in in_order if each != key
        ]
        places.append(
            StagePlace(
                stage.name,
                key.side,
                state,
                entry.when.text if entry else "",
                tuple(name for name, act in written if act is Act.DONE),
                tuple(name for name, act in written if act is Act.STARTED),
            )
        )
    lines = tuple(_drawing(urgency.stages, parents, places))
    return StageOrder(tuple(places), lines)


def _drawing(
    keys: Sequence[Key], parents: dict[Key, list[Key]], places: Sequence[StagePlace]
) -> Iterator[str]:
    """A tree: each stage below the last of those it follows, the others named behind it."""
    place_of = dict(zip(keys, places, strict=True))
    rank = {key: number for number, key in enumerate(keys)}
    below: defaultdict[Key | None, list[Key]] = defaultdict(list)
    for key in keys:
        below[parents[key][-1] if parents[key] else None].append(key)
    ahead = [(key, 0, False) for key in reversed(below[None])]
    while ahead:
        key, depth, branch = ahead.pop()
        yield _line(place_of[key], depth, branch, parents[key])
        onward = sorted(below[key], key=rank.__getitem__)
        inner = depth + branch
        if len(onward) == 1:
            ahead.append((onward[0], inner, False))
        else:
            ahead += [(each, inner, True) for each in reversed(onward)]


def _line(place: StagePlace, depth: int, branch: bool, parents: Sequence[Key]) -> str:
    name = f"{place.stage} {place.side}".rstrip()
    indent = "|  " * depth + ("+- " if branch else "")
    more = []
    others = place.after[:-1] if len(parents) == len(place.after) else place.after
    if others and len(parents) > 1:
        more.append("after " + ", ".join(others))
    if place.during:
        more.append("during " + ", ".join(place.during))
    note = f"  ({'; '.join(more)})" if more else ""
    when = f"  {place.when}" if place.when else ""
    return f"{indent}{_MARKS[place.state]} {name}{when}{note}"
