"""The stages nearest before and after a point of the network."""

from collections.abc import Iterator
from functools import lru_cache

from joinmatrix.assembly.model import Act, Key
from joinmatrix.timing.constraints import Plan
from joinmatrix.timing.network import Network

StageAct = tuple[Key, Act]  # a stage that starts or is done


def stages_before(plan: Plan, point: int) -> tuple[StageAct, ...]:
    """The last starts and ends of stages that must come before a point.

    One that must come before another of them is left out: it goes without saying.
    """
    return tuple(_nearest(plan, plan.precedence.reversed, point))


def stages_after(plan: Plan, point: int) -> tuple[StageAct, ...]:
    """The first starts and ends of stages that must come after a point."""
    return tuple(_nearest(plan, plan.precedence, point))


def _nearest(plan: Plan, graph: Network, point: int) -> Iterator[StageAct]:
    walk = _walk(plan, graph)
    met = walk.next_stages(point)
    behind: set[int] = set()
    waiting = list(met)
    while waiting:
        for each in walk.next_stages(waiting.pop()):
            if each not in behind:
                behind.add(each)
                waiting.append(each)
    for each in sorted(met - behind):
        owner, act = plan.points[each]
        yield owner.key, act


@lru_cache(maxsize=16)
def _walk(plan: Plan, graph: Network) -> "_Walk":
    return _Walk(plan, graph)


class _Walk:
    """Ways through a network from stage to stage."""

    def __init__(self, plan: Plan, graph: Network) -> None:
        self._is_stage = [owner.subject == "stage" for owner, _ in plan.points]
        self._out = graph.out
        self._next: dict[int, set[int]] = {}

    def next_stages(self, point: int) -> set[int]:
        """The starts and ends of stages that come up from a point before any other stage does."""
        found = self._next.get(point)
        if found is None:
            found = self._next[point] = set()
            seen, waiting = {point}, [point]
            while waiting:
                for edge in self._out[waiting.pop()]:
                    later = edge.later
                    if later in seen:
                        continue
                    seen.add(later)
                    if self._is_stage[later]:
                        found.add(later)
                    else:
                        waiting.append(later)
        return found
