"""The stages in an order that their rules allow, and how far each of them is."""

from collections.abc import Iterator
from enum import StrEnum
from typing import NamedTuple

from joinmatrix.assembly.model import Act, Stage
from joinmatrix.report import Report
from joinmatrix.timing.constraints import plan_of
from joinmatrix.timing.order import episodes
from joinmatrix.timing.stages import stages_of


class How(StrEnum):
    """How far a stage is."""

    DONE = "done"
    STARTED = "started"
    NOT_STARTED = "not started"


class StageStand(NamedTuple):
    """A stage, how far it is, and when that was recorded ("" when it is not)."""

    stage: Stage
    how: How
    when: str


def stage_order(report: Report) -> tuple[StageStand, ...]:
    """Every stage, those first that can be first; in the order of the lists where that is free."""
    assembly = report.assembly
    plan = plan_of(assembly)
    earliest = plan.sound.earliest()
    stages = sorted(
        stages_of(assembly), key=lambda stage: earliest[plan.stage_point(stage.key, Act.STARTED)]
    )
    return tuple(_stands(stages, report))


def _stands(stages: list[Stage], report: Report) -> Iterator[StageStand]:
    recorded = episodes(report.assembly)
    for stage in stages:
        runs = recorded.get(stage.key, ())
        if not runs:
            yield StageStand(stage, How.NOT_STARTED, "")
        elif runs[-1].done is not None:
            yield StageStand(stage, How.DONE, runs[-1].done.when.text)
        else:
            yield StageStand(stage, How.STARTED, runs[-1].entry.when.text)
