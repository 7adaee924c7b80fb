"""The timing rules cannot all be met, whatever the order.

One smallest circle of rules is shown: leave out any one of them and the others can be met. So one
of them is wrong, and it takes somebody who knows the work to say which. Until then there is no
right order, and whoever follows one rule breaks another.

Example: H-07 is made after "tail cone mate", and "tail cone mate" closes over it.

What clears it: correct or strike one of the rules of the circle.

What it cannot see: rules that can be met and are wrong.
"""

from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from functools import cached_property

from joinmatrix.assembly.model import Act, Assembly, Connection, Stage, Temporary
from joinmatrix.checks.check import Check
from joinmatrix.findings import Finding, Kind, Severity
from joinmatrix.place import Place
from joinmatrix.timing.bounds import CLOSED_BY, Bound, RuleText, rule_cells
from joinmatrix.timing.circles import Circle
from joinmatrix.timing.constraints import Owner, Plan, plan_of
from joinmatrix.timing.network import Edge
from joinmatrix.timing.wording import demand, named, ref_text, several


def contradiction(assembly: Assembly) -> Iterator[Finding]:
    """One finding for each independent contradiction; the same words on several sides are one."""
    plan = plan_of(assembly)
    alike: dict[object, dict[Circle, None]] = {}
    for circle in plan.circles:
        same = alike.setdefault(_words_of(plan, circle), {})
        same.update(dict.fromkeys((circle, *_on_other_sides(plan, circle))))
    for circles in map(list, alike.values()):
        for members in _members(plan, circles):
            yield _Told(assembly, plan, circles, members).finding()


def _steps(plan: Plan, circle: Circle) -> list[tuple[Owner, Bound]]:
    """The rules of a circle in its order, each with what carries it."""
    return [
        (plan.rules[edge.rule].owner, plan.bound_of[edge])
        for edge in circle.edges
        if edge in plan.bound_of
    ]


def _owners(plan: Plan, circle: Circle) -> list[Owner]:
    return list(dict.fromkeys(owner for owner, _ in _steps(plan, circle)))


def _on_other_sides(plan: Plan, circle: Circle) -> Iterator[Circle]:
    """The same circle on other sides, of one among stages: it falls with a rule that both share."""
    owners = [owner for edge in circle.edges for owner in _ends(plan, edge)]
    sides = {owner.key.side for owner in owners} - {""}
    if len(sides) != 1 or any(owner.subject != "stage" for owner in owners):
        return
    for side in sorted({key.side for key in plan.stage_at} - sides - {""}):
        edges = [_on_side(plan, edge, side) for edge in circle.edges]
        found = tuple(edge for edge in edges if edge is not None)
        if len(found) == len(edges):
            yield Circle(found)


def _ends(plan: Plan, edge: Edge) -> tuple[Owner, Owner]:
    return plan.points[edge.earlier].owner, plan.points[edge.later].owner


def _on_side(plan: Plan, edge: Edge, side: str) -> Edge | None:
    """The edge between the same stages on another side that says the same, if there is one."""
    keys = [owner.key._replace(side=owner.key.side and side) for owner in _ends(plan, edge)]
    if any(key not in plan.stage_at for key in keys):
        return None
    acts = (plan.points[edge.earlier].act, plan.points[edge.later].act)
    earlier, later = map(plan.stage_point, keys, acts)
    words = _rule_of(plan, edge)
    for each in plan.network.out[earlier]:
        if each.later == later and each.gap == edge.gap and _rule_of(plan, each) == words:
            return each
    return None


def _rule_of(plan: Plan, edge: Edge) -> RuleText | None:
    return plan.bound_of[edge].rule if edge in plan.bound_of else None


def _words_of(plan: Plan, circle: Circle) -> object:
    """What a circle says apart from its side: equal for the left and right of a "both" row."""
    groups = [owner for owner in _owners(plan, circle) if owner.subject == "connection"]
    carriers: dict[Owner, object] = {}
    for owner in _owners(plan, circle):
        if owner.subject == "stage":
            carriers[owner] = owner.key.name
        elif owner.subject == "item":
            carriers[owner] = tuple(item.key.name for item in plan.items(owner).members)
        else:
            group = plan.group(owner)
            names = group.members[0].key.name if len(groups) > 1 else ""
            carriers[owner] = (group.texts[1:], names)
    return tuple(
        (
            carriers[owner],
            bound._replace(ref=bound.ref._replace(key=bound.ref.key._replace(side=""))),
        )
        for owner, bound in _steps(plan, circle)
    )


def _members(
    plan: Plan, circles: Sequence[Circle]
) -> Iterator[Mapping[Owner, tuple[Connection, ...]]]:
    """The connections behind each group of the first circle, from all the circles like it.

    Where only one group is in it, each joint is a case of its own.
    """
    together: dict[Owner, list[Connection]] = {}
    first = _owners(plan, circles[0])
    for circle in circles:
        for place, owner in zip(first, _owners(plan, circle), strict=True):
            if owner.subject == "connection":
                together.setdefault(place, []).extend(plan.group(owner).members)
    sorted_ones = {
        owner: tuple(sorted(members, key=lambda member: member.key))
        for owner, members in together.items()
    }
    if len(sorted_ones) != 1:
        yield sorted_ones
        return
    ((owner, members),) = sorted_ones.items()
    for joint in dict.fromkeys(member.joint_key for member in members):
        yield {owner: tuple(member for member in members if member.joint_key == joint)}


@dataclass(frozen=True)
class _Told:
    """Circles that say the same on one side or on several, on their way to a finding.

    members  the connections behind each group of the first circle
    """

    assembly: Assembly
    plan: Plan
    circles: Sequence[Circle]
    members: Mapping[Owner, tuple[Connection, ...]]

    def finding(self) -> Finding:
        """The finding."""
        steps = _steps(self.plan, self.circles[0])
        sentences = dict.fromkeys(self._sentence(owner, bound) for owner, bound in steps)
        one = len(sentences) == 1
        connections = self._connections()
        joints = {connection.joint for connection in connections}
        return Finding(
            Kind.CONTRADICTION,
            Severity.HOLD,
            f"{'this rule cannot' if one else 'these rules cannot all'} be met: "
            f"{'; '.join(sentences)}{self._order_of_steps()}",
            "strike or correct this rule"
            if one
            else "correct or strike one of these rules; without any one of them the others can be "
            "met",
            tuple(dict.fromkeys(self._cells())),
            joint=joints.pop() if len(joints) == 1 else "",
            sides=self._sides,
            connections=tuple(dict.fromkeys(connection.id for connection in connections)),
            stages=tuple(dict.fromkeys(self._stage_names())),
            items=tuple(dict.fromkeys(item.name for item in self._items())),
        )

    # --- what it is about ---

    def _connections(self) -> list[Connection]:
        found = [member for members in self.members.values() for member in members]
        for circle in self.circles:
            for _, bound in _steps(self.plan, circle):
                if bound.ref.subject == "connection":
                    found.append(self.assembly.by_key[bound.ref.key])
        return found

    def _stage(self, owner: Owner) -> Stage:
        return self.plan.rules_of.names.stages[owner.key]

    def _stage_names(self) -> Iterator[str]:
        for owner, bound in _steps(self.plan, self.circles[0]):
            if owner.subject == "stage":
                yield self._stage(owner).name
            if bound.ref.subject == "stage":
                yield self.plan.rules_of.names.stages[bound.ref.key].name

    def _items(self) -> Iterator[Temporary]:
        for circle in self.circles:
            for owner in _owners(self.plan, circle):
                if owner.subject == "item":
                    yield from self.plan.items(owner).members

    def _sides_of(self, circle: Circle) -> set[str]:
        sides = {bound.ref.key.side for _, bound in _steps(self.plan, circle)}
        for owner in _owners(self.plan, circle):
            if owner.subject == "stage":
                sides.add(owner.key.side)
            elif owner.subject == "item":
                sides.update(item.key.side for item in self.plan.items(owner).members)
            else:
                sides.add(self.plan.group(owner).texts.side)
        return sides - {""}

    @cached_property
    def _sides(self) -> tuple[str, ...]:
        """Those of what it is about: of connections and items; of stages when there are no such."""
        sides = {connection.side for connection in self._connections()}
        sides |= {item.key.side for item in self._items()}
        if not sides:
            sides = {side for circle in self.circles for side in self._sides_of(circle)}
        return tuple(sorted(sides - {""}))

    @cached_property
    def _side(self) -> str | None:
        """The side that goes without saying in the sentences; None when there are several."""
        sides = self._sides_of(self.circles[0])
        return next(iter(sides)) if len(sides) == 1 else None

    # --- how it is said ---

    def _sentence(self, owner: Owner, bound: Bound) -> str:
        """One rule as a mechanic would say it."""
        ref = ref_text(self.assembly, bound.ref, self._side)
        if owner.subject == "stage":
            verb = "must start" if bound.act is Act.STARTED else "must be done"
            stage = named(self._stage(owner).name, owner.key, self._side)
            return f"{stage} {verb} {demand(bound, ref)}"
        name = self._name(owner)
        if bound.rule.column == CLOSED_BY:
            return f"{ref} closes over {name} when it starts"
        return f"{name} must be {bound.act} {demand(bound, ref)}"

    def _name(self, owner: Owner) -> str:
        if owner.subject == "item":
            items = self.plan.items(owner).members
            more = f" and {len(items) - 1} more" if len(items) > 1 else ""
            return named(items[0].name, items[0].key, self._side) + more
        members = self.members[owner]
        if len(members) == 1:
            return named(members[0].id, members[0].key, self._side)
        return several(members)

    def _order_of_steps(self) -> str:
        """That placing comes before making, when the circle goes that way.

        That inspecting comes last goes without saying: what closes, closes over all three.
        """
        placings = (
            edge
            for edge in self.circles[0].edges
            if edge not in self.plan.bound_of and self.plan.points[edge.earlier].act is Act.PLACED
        )
        return "; and placing comes before making" if any(placings) else ""

    def _cells(self) -> Iterator[Place]:
        """The cells of the rules, rule by rule in the order of the sentences."""
        steps = [_steps(self.plan, circle) for circle in self.circles]
        first = steps[0]
        for number, (place, _) in enumerate(first):
            for other in steps:
                owner, bound = other[number]
                yield from self._cells_of(place, owner, bound)

    def _cells_of(self, place: Owner, owner: Owner, bound: Bound) -> Iterable[Place]:
        if owner.subject == "stage":
            return rule_cells(self._stage(owner).rows, bound.rule)
        things: Sequence[Connection | Temporary]
        things = self.plan.items(owner).members if owner.subject == "item" else self.members[place]
        return (cell for thing in things for cell in rule_cells(thing.rows, bound.rule))


CHECK = Check(Kind.CONTRADICTION, contradiction)
