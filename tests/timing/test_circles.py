"""Contradictions, against every set of rules that cannot be met."""

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from joinmatrix.timing import circles as module
from joinmatrix.timing.circles import circles
from joinmatrix.timing.network import ALWAYS, Edge, Network
from tests.timing.brute import can_be_met, fewest_rules

POINT = st.integers(0, 11)
EDGE = st.tuples(POINT, POINT, st.integers(-3, 3))


@pytest.mark.parametrize(
    ("edges", "rules"),
    [
        pytest.param([(0, 1, 1), (1, 2, 0)], [], id="can-be-met"),
        pytest.param([(0, 1, 0), (1, 0, 0)], [], id="at-the-same-time"),
        pytest.param([(0, 1, 5), (1, 0, -5)], [], id="exactly-so-long"),
        pytest.param([(0, 0, 1)], [{0}], id="after-itself"),
        pytest.param([(0, 1, 1), (1, 0, 0)], [{0, 1}], id="two"),
        pytest.param([(0, 1, 5), (1, 0, -4)], [{0, 1}], id="too-long"),
        pytest.param([(0, 1, 1), (1, 2, 1), (2, 0, 0), (1, 0, 0)], [{0, 3}], id="the-smaller-one"),
        pytest.param(
            [(0, 1, 1), (1, 0, 0), (2, 3, 1), (3, 2, 0)], [{0, 1}, {2, 3}], id="two-of-them"
        ),
        pytest.param([(0, 1, 3), (1, 2, 0), (2, 1, 0), (2, 0, -2)], [{0, 1, 3}], id="round-a-pair"),
    ],
)
def test_circles(edges, rules):
    network = Network(4, [Edge(*edge, number) for number, edge in enumerate(edges)])
    found, dropped = circles(network)
    assert [set(circle.rules) for circle in found] == rules
    assert can_be_met(4, network.without(dropped).edges)


def check(points, edges, smallest):
    network = Network(points, edges)
    found, dropped = circles(network)
    assert bool(found) is not can_be_met(points, edges)
    assert can_be_met(points, network.without(dropped).edges)
    if found and smallest:
        assert len(found[0].rules) == fewest_rules(points, edges)
    for circle in found:
        assert sum(edge.gap for edge in circle.edges) > 0
        for edge, after in zip(circle.edges, circle.edges[1:] + circle.edges[:1], strict=True):
            assert edge.later == after.earlier
        some = [edge for edge in edges if edge.rule in circle.rules]
        assert not can_be_met(points, some)
        for rule in circle.rules:
            assert can_be_met(points, [edge for edge in some if edge.rule != rule])


@settings(max_examples=150)
@given(st.lists(EDGE, max_size=13))
def test_the_first_circle_is_the_smallest(edges):
    check(12, [Edge(*edge, number) for number, edge in enumerate(edges)], smallest=True)


@settings(max_examples=150)
@given(st.lists(EDGE, max_size=20), st.lists(st.integers(0, 19), max_size=6))
def test_rules_with_two_edges(edges, both_ways):
    made = [Edge(*edge, number) for number, edge in enumerate(edges)]
    made += [
        Edge(edge.later, edge.earlier, -edge.gap, edge.rule)
        for edge in made
        if edge.rule in both_ways and edge.earlier != edge.later
    ]
    check(12, made, smallest=False)


@settings(max_examples=150)
@given(st.lists(EDGE, max_size=20))
def test_when_there_is_too_much_to_look_through(edges):
    made = [Edge(*edge, number) for number, edge in enumerate(edges)]
    before = module._FOR_THE_SMALLEST
    module._FOR_THE_SMALLEST = 0
    try:
        check(12, made, smallest=False)
    finally:
        module._FOR_THE_SMALLEST = before


def test_what_always_holds_is_no_rule():
    edges = [Edge(0, 1, 1, ALWAYS), Edge(1, 2, 0, 0), Edge(2, 0, 0, 1)]
    ((circle,), dropped) = circles(Network(3, edges))
    assert circle.rules == (0, 1)
    assert dropped == {0, 1}


def test_firm_rules_stay_while_a_circle_has_others():
    # Both 1 and 2 go against the firm rule 0, and each is a contradiction of its own.
    edges = [Edge(0, 1, 1, 0), Edge(1, 0, 0, 1), Edge(1, 0, 0, 2)]
    found, dropped = circles(Network(2, edges), firm={0})
    assert [circle.rules for circle in found] == [(0, 1), (0, 2)]
    assert dropped == {1, 2}


def test_a_circle_of_ten_thousand_rules():
    size = 10_000
    found, _ = circles(Network(size, [Edge(n, (n + 1) % size, 1, n) for n in range(size)]))
    assert [len(circle.rules) for circle in found] == [size]
