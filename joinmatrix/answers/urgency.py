"""In which order stages come, and which stage closes on each act."""

from collections.abc import Mapping
from dataclasses import dataclass
from functools import lru_cache

from joinmatrix.assembly.model import Act, Assembly, Key
from joinmatrix.timing.constraints import Plan
from joinmatrix.timing.progress import progress_of

NEVER = 10**9  # the rank of an act on which no stage closes


@dataclass(frozen=True, eq=False)
class Urgency:
    """Ranks of stages and points.

    A stage of rank r starts at 2r and is done at 2r + 1.
    stages   in an order that the rules allow; in that of the lists where the rules leave it open
    rank_of  the rank of each stage
    closes   by point: where the first stage starts or ends that must come after it; NEVER for none
    follows  by point: where the last stage starts or ends that must come before it; -1 for none
    """

    stages: tuple[Key, ...]
    rank_of: Mapping[Key, int]
    closes: tuple[int, ...]
    follows: tuple[int, ...]

    def stage_at(self, rank: int) -> tuple[Key, Act]:
        """The stage that starts or ends at a rank."""
        return self.stages[rank // 2], Act.DONE if rank % 2 else Act.STARTED


@lru_cache(maxsize=8)
def urgency_of(assembly: Assembly) -> Urgency:
    """The ranks of an assembly's stages and acts."""
    progress = progress_of(assembly)
    plan = progress.plan
    earliest = plan.sound.earliest()
    stages = sorted(
        plan.rules_of.names.stages, key=lambda key: earliest[plan.stage_point(key, Act.STARTED)]
    )
    own: dict[int, int] = {}
    for rank, key in enumerate(stages):
        own[plan.stage_point(key, Act.STARTED)] = 2 * rank
        own[plan.stage_point(key, Act.DONE)] = 2 * rank + 1
    gone = {point for point in own if not progress.left[point]}
    return Urgency(
        tuple(stages),
        {key: rank for rank, key in enumerate(stages)},
        tuple(_closes(plan, {point: rank for point, rank in own.items() if point not in gone})),
        tuple(_follows(plan, own)),
    )


def _closes(plan: Plan, own: dict[int, int]) -> list[int]:
    """The least rank ahead of each point; a stage that is done already closes nothing any more."""
    graph = plan.precedence
    closes = [NEVER] * graph.points
    for component in reversed(graph.components):
        least = NEVER
        for point in component:
            for edge in graph.out[point]:
                least = min(least, own.get(edge.later, NEVER), closes[edge.later])
        for point in component:
            closes[point] = least
    return closes


def _follows(plan: Plan, own: dict[int, int]) -> list[int]:
    """The greatest rank behind each point."""
    graph = plan.precedence.reversed
    follows = [-1] * graph.points
    for component in reversed(graph.components):
        most = -1
        for point in component:
            for edge in graph.out[point]:
                most = max(most, own.get(edge.later, -1), follows[edge.later])
        for point in component:
            follows[point] = most
    return follows
