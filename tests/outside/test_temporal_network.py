"""The published temporal network, and random ones against scipy's shortest paths."""

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy.sparse import csr_array
from scipy.sparse.csgraph import NegativeCycleError, bellman_ford

from joinmatrix.timing.circles import circles
from joinmatrix.timing.network import Edge, Network

# source: Dechter, Meiri and Pearl, "Temporal constraint networks", Artificial Intelligence 49
# (1991) 61-95, example 1.1, as restated in public example programs. Minutes after 7:00; X0 is
# 7:00. The first traveller leaves at X1 and arrives at X2, by car or bus; the second leaves at X3
# and arrives at X4, by car or in a carpool.
STORY = [(0, 1, 10, 20), (3, 2, 10, 20), (0, 4, 60, 70)]
FIRST = {"car": (1, 2, 30, 40), "bus": (1, 2, 60, None)}
SECOND = {"car": (3, 4, 20, 30), "carpool": (3, 4, 40, 50)}

# Worked out from those bounds by all-pairs shortest paths: greatest j - i, row i, column j.
MINIMAL = [
    [0, 20, 50, 30, 70],
    [-10, 0, 40, 20, 60],
    [-40, -30, 0, -10, 30],
    [-20, -10, 20, 0, 50],
    [-60, -50, -20, -40, 0],
]


def story(first, second):
    """The network of one choice of the travellers: every bound from both ends."""
    edges = []
    for rule, (i, j, least, most) in enumerate([*STORY, FIRST[first], SECOND[second]]):
        edges.append(Edge(i, j, least, rule))
        if most is not None:
            edges.append(Edge(j, i, -most, rule))
    return Network(5, edges)


@pytest.mark.parametrize(
    ("first", "second", "windows"),
    [
        pytest.param("car", "carpool", [(10, 20), (40, 50), (20, 30), (60, 70)], id="car-carpool"),
        pytest.param("car", "car", [(10, 20), (40, 60), (30, 50), (60, 70)], id="car-car"),
        pytest.param("bus", "car", [(10, 10), (70, 70), (50, 50), (70, 70)], id="bus-car"),
    ],
)
def test_earliest_and_latest(first, second, windows):
    network = story(first, second)
    assert circles(network) == ([], frozenset())
    earliest = network.longest({0: 0})
    latest = [None if gap is None else -gap for gap in network.gaps_to(0)]
    assert list(zip(earliest, latest, strict=True))[1:] == windows


def test_the_choice_that_cannot_be_met():
    network = story("bus", "carpool")
    (circle,), dropped = circles(network)
    assert circle.rules
    assert circles(network.without(dropped))[0] == []
    for rule in circle.rules:
        rest = network.without({*range(5)} - {*circle.rules} | {rule})
        assert circles(rest)[0] == []


def test_the_minimal_network():
    network = story("car", "carpool")
    greatest = [[-gap for gap in network.gaps_to(i)] for i in range(5)]
    assert greatest == MINIMAL


EDGE = st.tuples(st.integers(0, 39), st.integers(0, 39), st.integers(-6, 2))


@settings(max_examples=80)
@given(st.lists(EDGE, max_size=90))
def test_random_networks_against_scipy(edges):
    """Longest ways are shortest ones with the signs turned; scipy says when there are none."""
    widest = {}
    for earlier, later, gap in edges:
        if earlier != later:
            widest[earlier, later] = max(gap, widest.get((earlier, later), gap))
    network = Network(40, [Edge(*pair, gap, n) for n, (pair, gap) in enumerate(widest.items())])
    rows, columns = (np.array([pair[side] for pair in widest], dtype=int) for side in (0, 1))
    lengths = np.array([-float(gap) for gap in widest.values()])
    # A stored zero would be no edge to scipy, so every length is moved off zero by a hair; forty
    # of them are still far from one.
    graph = csr_array((lengths + 1e-6, (rows, columns)), shape=(40, 40))
    found, dropped = circles(network)
    try:
        shortest = bellman_ford(graph)
    except NegativeCycleError:
        assert found
        network.without(dropped).earliest()
        return
    assert not found
    for start in range(0, 40, 7):
        mine = network.longest({start: 0})
        assert [None if np.isinf(length) else -round(length) for length in shortest[start]] == mine
