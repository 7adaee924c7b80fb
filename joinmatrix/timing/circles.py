"""Contradictions in a network: the smallest circles of rules that cannot all hold.

While little has to be looked through, every circle given is the smallest there is. Behind that,
where circles are long and points many, rules are added one by one to those that can be met
together, and each that closes a circle gives one, shortened as far as a bounded search finds a
shorter one. Either way no rule of a circle can be left out of it.
"""

from collections import defaultdict, deque
from collections.abc import Collection, Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from typing import NamedTuple

from joinmatrix.timing.network import ALWAYS, Edge, Network, Out, strong_components

# Edges to look at: in all before the search for the very smallest circles ends, in all for
# shortening circles behind that, and for shortening one of them.
_FOR_THE_SMALLEST, _FOR_SHORTER, _FOR_ONE = 300_000, 1_000_000, 50_000


class Circle(NamedTuple):
    """Edges, each beginning where the one before it ends, whose gaps add up to more than zero."""

    edges: tuple[Edge, ...]

    @property
    def rules(self) -> tuple[int, ...]:
        """The numbers of its rules, in the order of the circle."""
        return tuple(dict.fromkeys(edge.rule for edge in self.edges if edge.rule != ALWAYS))


def circles(network: Network, firm: Collection[int] = ()) -> tuple[list[Circle], frozenset[int]]:
    """One circle for each independent contradiction, and the rules dropped for it.

    After each circle its rules are dropped, save the `firm` ones as long as it has others, and the
    search goes on; so every circle has a rule that no circle before it has.

    firm    rules that others are measured by (those among stages)
    return  circles, those with the fewest rules first; what is left without the dropped rules can
            be met
    """
    found: list[Circle] = []
    dropped: set[int] = set()
    shorter = _Meter(_FOR_SHORTER)
    for component in network.components:
        alone = len(component) == 1
        if alone and all(edge.later != edge.earlier for edge in network.out[component[0]]):
            continue
        search = _Search(component, network, frozenset(firm), shorter)
        found += search.circles()
        dropped |= search.dropped
    found.sort(key=lambda circle: (len(circle.rules), circle.rules))
    return found, frozenset(dropped)


@dataclass(slots=True)
class _Meter:
    """Edges that may still be looked at."""

    left: int


class _Search:
    """The contradictions inside one group of points that reach each other."""

    def __init__(
        self, component: Sequence[int], network: Network, firm: frozenset[int], shorter: _Meter
    ) -> None:
        inside = network.place_of[component[0]]
        self.points = sorted(component)
        self.out = {
            point: [edge for edge in network.out[point] if network.place_of[edge.later] == inside]
            for point in self.points
        }
        self.edges_of_rule: defaultdict[int, list[Edge]] = defaultdict(list)
        for edges in self.out.values():
            for edge in edges:
                self.edges_of_rule[edge.rule].append(edge)
        self.firm = firm
        self.dropped: set[int] = set()
        self.shorter = shorter

    def circles(self) -> Iterator[Circle]:
        """Circles until what is left can be met; the smallest first as long as effort allows."""
        meter = _Meter(_FOR_THE_SMALLEST)
        most = 0
        while meter.left > 0 and _cannot_be_met(self.points, self.out):
            most += 1
            for start in self._starts():
                while (edges := _fewest(self.out, start, start, 0, most, meter)) is not None:
                    yield self._give(edges)
        if meter.left <= 0:
            yield from self._one_by_one()

    def _starts(self) -> list[int]:
        """Every circle of more than zero has a gap of more than zero in it: where those begin."""
        return [point for point in self.points if any(edge.gap > 0 for edge in self.out[point])]

    def _one_by_one(self) -> Iterator[Circle]:
        """Add edge by edge, what always holds first and firm rules next; circles that this closes.

        source  Cotton and Maler, "Fast and flexible difference constraint propagation", SAT 2006
        """
        edges = [edge for edges in self.out.values() for edge in edges]
        edges.sort(key=lambda edge: (self._rank(edge), edge.rule, edge))
        met = _Met(self.points)
        for edge in edges:
            if edge.rule in self.dropped:
                continue
            back = met.add(edge)
            if back is None:
                continue
            meter = _Meter(min(_FOR_ONE, self.shorter.left))
            self.shorter.left -= meter.left
            rules = sum(each.rule != ALWAYS for each in back)
            short = _fewest(met.out, edge.later, edge.earlier, -edge.gap, rules - 1, meter)
            self.shorter.left += max(meter.left, 0)
            circle = self._give([edge, *(short if short is not None else back)])
            met.drop(self.dropped, circle.edges)
            yield circle

    def _rank(self, edge: Edge) -> int:
        """What always holds before firm rules, those before the others."""
        if edge.rule == ALWAYS:
            return 0
        return 1 if edge.rule in self.firm else 2

    def _give(self, edges: list[Edge]) -> Circle:
        """Drop the rules of a circle and hand it out, beginning with its least rule."""
        edges = self._without_spare_rules(edges)
        rules = {edge.rule for edge in edges} - {ALWAYS}
        loose = (rules - self.firm) or rules
        self.dropped |= loose
        for point in {edge.earlier for rule in loose for edge in self.edges_of_rule[rule]}:
            self.out[point] = [edge for edge in self.out[point] if edge.rule not in loose]
        first = min((edge.rule, edge) for edge in edges if edge.rule != ALWAYS)[1]
        turn = edges.index(first)
        return Circle((*edges[turn:], *edges[:turn]))

    def _without_spare_rules(self, edges: list[Edge]) -> list[Edge]:
        """A rule with several edges can make another rule of the circle needless."""
        numbers = [edge.rule for edge in edges if edge.rule != ALWAYS]
        if all(len(self.edges_of_rule[number]) == 1 for number in numbers):
            return edges
        near = self._near({*numbers})
        for rule in sorted(set(numbers)):
            out = {
                point: [edge for edge in edges_there if edge.rule != rule]
                for point, edges_there in near.items()
            }
            smaller = _some_circle(sorted(out), out)
            if smaller is not None:
                return self._without_spare_rules(smaller)
        return edges

    def _near(self, rules: Collection[int]) -> dict[int, list[Edge]]:
        """The edges of some rules, and those without a rule that lead on from them."""
        found: dict[int, list[Edge]] = {}
        waiting = [edge for rule in rules for edge in self.edges_of_rule[rule]]
        while waiting:
            edge = waiting.pop()
            edges = found.setdefault(edge.earlier, [])
            if edge in edges:
                continue
            edges.append(edge)
            for point in (edge.earlier, edge.later):
                found.setdefault(point, [])
                waiting += [each for each in self.out[point] if each.rule == ALWAYS]
        return found


class _Met:
    """Edges that can be met together, and a time for each point that meets them."""

    def __init__(self, points: Iterable[int]) -> None:
        self.time = dict.fromkeys(points, 0)
        self.out: dict[int, list[Edge]] = {point: [] for point in self.time}

    def add(self, edge: Edge) -> list[Edge] | None:
        """Take an edge in; when it closes a circle leave it, and return the rest of the circle."""
        if edge.earlier == edge.later:
            return [] if edge.gap > 0 else None
        before: dict[int, int] = {}
        came: dict[int, Edge] = {}
        waiting = deque([edge])
        while waiting:
            step = waiting.popleft()
            time = self.time[step.earlier] + step.gap
            if time <= self.time[step.later]:
                continue
            came[step.later] = step
            if step.later == edge.earlier:
                self.time.update(before)
                return _back(came, edge)
            before.setdefault(step.later, self.time[step.later])
            self.time[step.later] = time
            waiting.extend(self.out[step.later])
        self.out[edge.earlier].append(edge)
        return None

    def drop(self, rules: Collection[int], edges: Iterable[Edge]) -> None:
        """Leave out the edges of rules, where they begin at the points of some edges."""
        for point in {edge.earlier for edge in edges} | {edge.later for edge in edges}:
            self.out[point] = [edge for edge in self.out[point] if edge.rule not in rules]


def _back(came: Mapping[int, Edge], edge: Edge) -> list[Edge]:
    """The way from the end of an edge to its beginning."""
    way = [came[edge.earlier]]
    while way[-1].earlier != edge.later:
        way.append(came[way[-1].earlier])
    return way[::-1]


class _Way(NamedTuple):
    """How a point was reached: the time it gives, the last edge, and the way before that."""

    point: int
    ticks: int
    edge: Edge | None
    before: "_Way | None"


def _fewest(
    out: Out, start: int, target: int, above: int, most: int, meter: _Meter
) -> list[Edge] | None:
    """A way of more than so many ticks with as few rules as can be, or None.

    Goes out rule by rule; a way to a point counts only when it gives the point a later time than
    every way with fewer rules.

    above  ticks that the way has to exceed
    most   rules that it may have
    """
    best: dict[int, int] = {start: 0}
    front: list[_Way] = [_Way(start, 0, None, None)]
    for rules in range(most + 1):
        closed, front = _without_rules(out, front, best, target, above)
        if closed is not None or rules == most or meter.left <= 0:
            return closed
        onward: list[_Way] = []
        for way in front:
            edges = out[way.point]
            meter.left -= len(edges)
            onward += [
                _Way(edge.later, way.ticks + edge.gap, edge, way)
                for edge in edges
                if edge.rule != ALWAYS
            ]
        front = onward
    return None


def _without_rules(
    out: Out, front: list[_Way], best: dict[int, int], target: int, above: int
) -> tuple[list[Edge] | None, list[_Way]]:
    """The way if one gets there; the ways that matter, followed as far as no rule is needed."""
    kept: dict[int, _Way] = {}
    waiting = front
    while waiting:
        next_ones: list[_Way] = []
        for way in waiting:
            if way.point == target and way.ticks > above and way.edge is not None:
                return _edges_of(way), []
            if way.edge is not None and way.ticks <= best.get(way.point, way.ticks - 1):
                continue
            best[way.point] = way.ticks
            kept[way.point] = way
            next_ones += [
                _Way(edge.later, way.ticks + edge.gap, edge, way)
                for edge in out[way.point]
                if edge.rule == ALWAYS
            ]
        waiting = next_ones
    return None, list(kept.values())


def _edges_of(way: _Way) -> list[Edge]:
    edges = []
    step: _Way | None = way
    while step is not None and step.edge is not None:
        edges.append(step.edge)
        step = step.before
    return edges[::-1]


def _cannot_be_met(points: Sequence[int], out: Out) -> bool:
    return _some_circle(points, out) is not None


def _some_circle(points: Sequence[int], out: Out) -> list[Edge] | None:
    """Any circle of more than zero, or None when there is none left."""
    gaps = [edge.gap for edges in out.values() for edge in edges]
    if not any(gap > 0 for gap in gaps):
        return None
    for component in strong_components(points, out):
        if len(component) == 1 and not any(
            edge.later == component[0] for edge in out[component[0]]
        ):
            continue
        found = _circle_in(component, out)
        if found is not None:
            return found
    return None


def _circle_in(component: list[int], out: Out) -> list[Edge] | None:
    """Longest ways by a queue; a circle shows when a point is on the way to itself."""
    members = set(component)
    best = dict.fromkeys(component, 0)
    came: dict[int, Edge] = {}
    waiting = deque(sorted(component))
    queued = set(component)
    steps = 0
    while waiting:
        point = waiting.popleft()
        queued.discard(point)
        for edge in out[point]:
            later = edge.later
            if later not in members or best[point] + edge.gap <= best[later]:
                continue
            best[later] = best[point] + edge.gap
            came[later] = edge
            steps += 1
            if steps % len(component) == 0 and (circle := _circle_of(came)) is not None:
                return circle
            if later not in queued:
                queued.add(later)
                waiting.append(later)
    return None


def _circle_of(came: Mapping[int, Edge]) -> list[Edge] | None:
    """The circle that the last edges to each point make, if they make one."""
    seen: dict[int, int] = {}
    for number, start in enumerate(came):
        point = start
        while point in came and point not in seen:
            seen[point] = number
            point = came[point].earlier
        if seen.get(point) == number and point in came:
            edges = [came[point]]
            while edges[-1].earlier != point:
                edges.append(came[edges[-1].earlier])
            return edges[::-1]
    return None
