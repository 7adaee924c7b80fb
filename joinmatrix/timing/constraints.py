"""The rules of an assembly as one network of points in time.

Points are the start and the end of each stage, the steps of each group of connections, and the
removal of each group of temporary items. Every bound is a gap between two of them; beside the
bounds it always holds that a stage takes time and that a connection is placed, made and inspected
in this order.
"""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, replace
from functools import cached_property, lru_cache
from typing import NamedTuple

from joinmatrix.assembly.model import Act, Assembly, Key
from joinmatrix.timing.bounds import (
    CLOSED_BY,
    STEPS,
    Bound,
    Group,
    Items,
    Ref,
    Rules,
    RuleText,
    rules_of,
)
from joinmatrix.timing.circles import Circle, circles
from joinmatrix.timing.faults import faults
from joinmatrix.timing.network import ALWAYS, TICKS, Edge, Network

__all__ = ["Owner", "Plan", "Point", "RuleOf", "faults", "plan_of"]


_STEP = {act: number for number, act in enumerate(STEPS)}


class Owner(NamedTuple):
    """What carries a rule.

    subject  "stage", "connection" or "item"
    number   of the group, for connections and items
    key      of the stage
    """

    subject: str
    number: int = 0
    key: Key = Key("", "")


class Point(NamedTuple):
    """A moment of the network."""

    owner: Owner
    act: Act


class RuleOf(NamedTuple):
    """A rule of the network: the bounds that one name in one cell makes for its owner."""

    owner: Owner
    bounds: tuple[Bound, ...]


@dataclass(frozen=True, eq=False)
class Plan:
    """The network of an assembly's rules, and what its numbers mean.

    points    by number: starts and ends of stages, then the steps of the groups of connections,
              then the removals of the groups of items
    rules     by rule number; those of stages come first
    stage_at  the point at which each stage starts; it is done at the next one
    group_of  key of a connection -> number of its group
    bound_of  the bound behind each edge that comes from a rule
    """

    rules_of: Rules
    points: tuple[Point, ...]
    stage_at: Mapping[Key, int]
    group_of: Mapping[Key, int]
    rules: tuple[RuleOf, ...]
    bound_of: Mapping[Edge, Bound]
    network: Network

    @cached_property
    def _circles(self) -> tuple[list[Circle], frozenset[int]]:
        firm = {number for number, rule in enumerate(self.rules) if rule.owner.subject == "stage"}
        return circles(self.network, firm)

    @property
    def circles(self) -> list[Circle]:
        """One smallest circle for each independent contradiction."""
        return self._circles[0]

    @cached_property
    def sound(self) -> Network:
        """The network without the rules that make it impossible; itself when it can be met."""
        dropped = self._circles[1]
        return self.network.without(dropped) if dropped else self.network

    @cached_property
    def precedence(self) -> Network:
        """What must come before what, whatever the times: the gaps of zero and more.

        Its components are acts that happen together ("with").
        """
        return Network(len(self.points), (edge for edge in self.sound.edges if edge.gap >= 0))

    def stage_point(self, key: Key, act: Act) -> int:
        """The point at which a stage starts or is done."""
        return self.stage_at[key] + (act is Act.DONE)

    def step_point(self, key: Key, act: Act) -> int:
        """The point at which a connection is placed, made or inspected."""
        return self.owner_point(Owner("connection", self.group_of[key]), act)

    def owner_point(self, owner: Owner, act: Act) -> int:
        """The point of an act of whatever carries rules."""
        if owner.subject == "stage":
            return self.stage_point(owner.key, act)
        first = 2 * len(self.stage_at)
        if owner.subject == "connection":
            return first + len(STEPS) * owner.number + _STEP[act]
        return first + len(STEPS) * len(self.rules_of.groups) + owner.number

    def ref_point(self, ref: Ref, act: Act) -> int:
        """The point of an act of what a rule names."""
        if ref.subject == "stage":
            return self.stage_point(ref.key, act)
        return self.step_point(ref.key, act)

    def group(self, owner: Owner) -> Group:
        """The connections behind an owner."""
        return self.rules_of.groups[owner.number]

    def items(self, owner: Owner) -> Items:
        """The temporary items behind an owner."""
        return self.rules_of.items[owner.number]


@lru_cache(maxsize=8)
def plan_of(assembly: Assembly) -> Plan:
    """The network of all rules of an assembly."""
    rules = rules_of(assembly)
    points = tuple(_points(rules))
    stage_at = {key: 2 * number for number, key in enumerate(rules.stages)}
    group_of = {
        member.key: number for number, group in enumerate(rules.groups) for member in group.members
    }
    numbered = tuple(_rules(rules))
    bound_of: dict[Edge, Bound] = {}
    edges = [*_always(points)]
    plan = Plan(rules, points, stage_at, group_of, numbered, bound_of, Network(len(points), edges))
    for number, rule in enumerate(numbered):
        for bound in rule.bounds:
            if bound.rule.column == CLOSED_BY and bound.act is not STEPS[-1]:
                continue  # the earlier steps come before the last one in any case
            own = plan.owner_point(rule.owner, bound.act)
            other = plan.ref_point(bound.ref, bound.at)
            bound_of[_edge(bound, own, other, number)] = bound
    return replace(plan, network=Network(len(points), [*edges, *bound_of]))


def _points(rules: Rules) -> Iterator[Point]:
    for key in rules.stages:
        owner = Owner("stage", key=key)
        yield from (Point(owner, Act.STARTED), Point(owner, Act.DONE))
    for number in range(len(rules.groups)):
        owner = Owner("connection", number)
        yield from (Point(owner, act) for act in STEPS)
    for number in range(len(rules.items)):
        yield Point(Owner("item", number), Act.REMOVED)


def _rules(rules: Rules) -> Iterator[RuleOf]:
    for key, bounds in rules.stages.items():
        yield from _rules_of_owner(Owner("stage", key=key), bounds)
    for number, group in enumerate(rules.groups):
        yield from _rules_of_owner(Owner("connection", number), group.bounds)
    for number, items in enumerate(rules.items):
        yield from _rules_of_owner(Owner("item", number), items.bounds)


def _rules_of_owner(owner: Owner, bounds: tuple[Bound, ...]) -> Iterator[RuleOf]:
    together: dict[tuple[RuleText, Ref], list[Bound]] = {}
    for bound in bounds:
        together.setdefault((bound.rule, bound.ref), []).append(bound)
    for same in together.values():
        yield RuleOf(owner, tuple(same))


def _always(points: tuple[Point, ...]) -> Iterator[Edge]:
    """A stage takes time; a connection is placed, made and inspected in this order."""
    for number, (owner, act) in enumerate(points):
        if act is Act.STARTED:
            yield Edge(number, number + 1, 1, ALWAYS)
        elif owner.subject == "connection" and act is not STEPS[-1]:
            yield Edge(number, number + 1, 0, ALWAYS)


def _edge(bound: Bound, own: int, other: int, rule: int) -> Edge:
    ticks = bound.gap * TICKS
    if bound.after:
        return Edge(other, own, ticks + bound.strict, rule)
    return Edge(own, other, bound.strict - ticks, rule)
