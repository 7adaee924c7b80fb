"""Longest paths and spare rules, against an independent answer."""

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from joinmatrix.timing.circles import circles
from joinmatrix.timing.network import Edge, Network
from tests.timing.brute import can_be_met, longest

POINT = st.integers(0, 11)
EDGE = st.tuples(POINT, POINT, st.integers(-4, 3))


def network_of(edges, points=12):
    return Network(points, [Edge(*edge, number) for number, edge in enumerate(edges)])


@settings(max_examples=150)
@given(st.lists(EDGE, max_size=18))
def test_windows_agree_with_all_pairs(edges):
    network = network_of(edges)
    network = network.without(circles(network)[1])
    table = longest(12, network.edges)
    column = lambda point: [row[point] for row in table if row[point] is not None]  # noqa: E731
    assert network.earliest() == [max(column(point)) for point in range(12)]
    end = max(network.earliest())
    rows = [[gap for gap in row if gap is not None] for row in table]
    assert network.latest(end) == [end - max(row) for row in rows]
    assert network.gaps_to(3) == [row[3] for row in table]
    assert network.longest({3: 0}) == table[3]


@settings(max_examples=60)
@given(st.lists(EDGE, max_size=14))
def test_a_network_that_cannot_be_met_says_so(edges):
    network = network_of(edges)
    if can_be_met(12, network.edges):
        network.earliest()
    else:
        with pytest.raises(ValueError, match="cannot be met"):
            network.earliest()


@settings(max_examples=100)
@given(st.lists(EDGE, max_size=16))
def test_without_spare_rules_nothing_is_lost(edges):
    network = network_of(edges)
    network = network.without(circles(network)[1])
    order = sorted({edge.rule for edge in network.edges}, reverse=True)
    left = network.without(network.implied(order))
    assert longest(12, left.edges) == longest(12, network.edges)
    for rule in {edge.rule for edge in left.edges}:
        assert longest(12, left.without({rule}).edges) != longest(12, network.edges)


def test_of_two_equal_rules_the_first_tried_is_spare():
    network = network_of([(0, 1, 5), (0, 1, 5), (1, 2, 1), (0, 2, 6)])
    assert network.implied([3, 1, 0, 2]) == [3, 1]


def test_a_long_chain_takes_no_stack():
    network = Network(20_000, [Edge(n, n + 1, 1, n) for n in range(19_999)])
    assert network.earliest()[-1] == 19_999
    assert circles(network) == ([], frozenset())
