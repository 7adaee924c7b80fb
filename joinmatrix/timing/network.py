"""A simple temporal network: points in time, and least gaps between them.

Every rule comes down to "later >= earlier + gap". A gap below zero is a greatest distance: "at
most D after" is `earlier >= later - D`. Gaps are whole ticks, far smaller than a minute, so that
"strictly later" is a gap of one tick and all answers are exact.

The network can be met exactly when no circle of gaps adds up to more than zero.
source  Dechter, Meiri, Pearl, "Temporal constraint networks", Artificial Intelligence 49 (1991):
        consistency and the minimal network by shortest paths; here with the signs turned, so that
        paths are longest and earliest times come out directly.
"""

from collections import deque
from collections.abc import Collection, Iterable, Iterator, Mapping, Sequence
from functools import cached_property
from typing import NamedTuple

TICKS = 1 << 20  # in a minute; a chain of a million strict steps still takes less than a minute
ALWAYS = -1  # the rule number of what holds without any rule


class Edge(NamedTuple):
    """later >= earlier + gap.

    gap   ticks
    rule  number of the rule behind it; one rule can make several edges
    """

    earlier: int
    later: int
    gap: int
    rule: int = ALWAYS


Out = Mapping[int, Sequence[Edge]]


class Network:
    """Points 0..n-1 and the gaps between them.

    Consistency, longest paths and windows take time in proportion to points and edges on real
    shapes; only a group of points that bind each other both ways (`within`, `with`) is gone
    through more than once.
    """

    def __init__(self, points: int, edges: Iterable[Edge]) -> None:
        self.points = points
        self.edges = tuple(edges)
        self.out: list[list[Edge]] = [[] for _ in range(points)]
        for edge in self.edges:
            self.out[edge.earlier].append(edge)

    # --- structure ---

    @cached_property
    def components(self) -> list[list[int]]:
        """Points that reach each other, in such an order that no edge leads to an earlier group."""
        found = list(strong_components(range(self.points), dict(enumerate(self.out))))
        found.reverse()
        return found

    @cached_property
    def place_of(self) -> list[int]:
        """The number of each point's component."""
        place = [0] * self.points
        for number, component in enumerate(self.components):
            for point in component:
                place[point] = number
        return place

    @cached_property
    def reversed(self) -> "Network":
        """The same gaps seen from the end; longest paths from a point become paths to it."""
        turned = Network(
            self.points, (Edge(edge.later, edge.earlier, *edge[2:]) for edge in self.edges)
        )
        turned.components = [*reversed(self.components)]
        return turned

    def without(self, rules: Collection[int]) -> "Network":
        """The network that is left when rules are dropped."""
        return Network(self.points, (edge for edge in self.edges if edge.rule not in rules))

    # --- windows ---

    def longest(
        self, start: Mapping[int, int], last: int | None = None, but: Collection[int] = ()
    ) -> list[int | None]:
        """The least time of every point when some are given theirs; None where nothing binds.

        start   point -> ticks
        last    a point; what lies behind it need not be worked out
        but     rules to leave out
        raises  ValueError when the network cannot be met
        """
        best: list[int | None] = [None] * self.points
        for point, ticks in start.items():
            best[point] = ticks
        first = min((self.place_of[point] for point in start), default=0)
        stop = len(self.components) if last is None else self.place_of[last] + 1
        for component in self.components[first:stop]:
            if len(component) > 1:
                self._settle(component, best, but)
            for point in component:
                ticks_here = best[point]
                if ticks_here is None:
                    continue
                for edge in self.out[point]:
                    ticks = ticks_here + edge.gap
                    known = best[edge.later]
                    if (known is None or ticks > known) and edge.rule not in but:
                        if self.place_of[edge.later] == self.place_of[point]:
                            raise ValueError("the network cannot be met")
                        best[edge.later] = ticks
        return best

    def _settle(self, component: list[int], best: list[int | None], but: Collection[int]) -> None:
        """Bring the points of one component to their least times among each other."""
        inside = self.place_of[component[0]]
        waiting = deque(point for point in component if best[point] is not None)
        queued = set(waiting)
        rounds = 0
        while waiting:
            point = waiting.popleft()
            queued.discard(point)
            rounds += 1
            if rounds > len(component) ** 2 + 1:
                raise ValueError("the network cannot be met")
            here = best[point]
            assert here is not None
            for edge in self.out[point]:
                later = edge.later
                if self.place_of[later] != inside or edge.rule in but:
                    continue
                known = best[later]
                if known is None or here + edge.gap > known:
                    best[later] = here + edge.gap
                    if later not in queued:
                        queued.add(later)
                        waiting.append(later)

    def earliest(self) -> list[int]:
        """The least time of each point when nothing happens before 0; ticks."""
        return [ticks or 0 for ticks in self.longest(dict.fromkeys(range(self.points), 0))]

    def latest(self, end: int) -> list[int]:
        """The greatest time of each point when everything happens by `end`; ticks."""
        return [end - ticks for ticks in self.reversed.earliest()]

    def gaps_to(self, target: int) -> list[int | None]:
        """By how much each point must be before the target at the least; None where it is free."""
        return self.reversed.longest({target: 0})

    # --- spare rules ---

    def implied(self, order: Sequence[int]) -> list[int]:
        """The rules that say nothing that the others do not say already.

        order   the rules to try, the first to be given up first; a rule that is given up does not
                count for those behind it, so all that are returned can be left out together
        """
        edges_of: dict[int, list[Edge]] = {}
        for edge in self.edges:
            edges_of.setdefault(edge.rule, []).append(edge)
        spare: set[int] = set()
        for rule in order:
            spare.add(rule)
            if not all(self._holds_without(spare, edge) for edge in edges_of.get(rule, ())):
                spare.discard(rule)
        return [rule for rule in order if rule in spare]

    def _holds_without(self, rules: Collection[int], edge: Edge) -> bool:
        if edge.earlier == edge.later:
            return edge.gap <= 0
        ticks = self.longest({edge.earlier: 0}, edge.later, rules)[edge.later]
        return ticks is not None and ticks >= edge.gap


def strong_components(points: Iterable[int], out: Out) -> Iterator[list[int]]:
    """Groups of points that reach each other, a group after all those that it leads to.

    source  Tarjan, "Depth-first search and linear graph algorithms", SIAM J. Comput. 1 (1972),
            with its own stack, because chains are longer than Python's.
    """
    number: dict[int, int] = {}
    low: dict[int, int] = {}
    open_points: list[int] = []
    is_open: set[int] = set()
    for root in points:
        if root in number:
            continue
        work: list[tuple[int, Iterator[Edge]]] = [(root, iter(out[root]))]
        number[root] = low[root] = len(number)
        open_points.append(root)
        is_open.add(root)
        while work:
            point, edges = work[-1]
            for edge in edges:
                later = edge.later
                if later not in number:
                    number[later] = low[later] = len(number)
                    open_points.append(later)
                    is_open.add(later)
                    work.append((later, iter(out[later])))
                    break
                if later in is_open and number[later] < low[point]:
                    low[point] = number[later]
            else:
                work.pop()
                if work and low[point] < low[work[-1][0]]:
                    low[work[-1][0]] = low[point]
                if low[point] == number[point]:
                    group = []
                    while True:
                        member = open_points.pop()
                        is_open.discard(member)
                        group.append(member)
                        if member == point:
                            break
                    yield group
