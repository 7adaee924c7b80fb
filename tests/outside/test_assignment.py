"""The best way to pair off two sides, against published examples and another program.

Sources: the assignment examples of the test suites and documentation of scipy and scikit-learn
(`linear_sum_assignment`), of a public Hungarian-method program, and a widely reproduced 4 x 4
tutorial example; each optimum also found by trying every assignment. Where two assignments tie,
only their total is compared.
"""

from itertools import permutations

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy.optimize import linear_sum_assignment

from joinmatrix.pairing.assignment import best_pairs

PUBLISHED = [
    pytest.param([[400, 150, 400], [400, 450, 600], [300, 225, 300]], 850, id="square"),
    pytest.param([[400, 150, 400, 1], [400, 450, 600, 2], [300, 225, 300, 3]], 452, id="wide"),
    pytest.param([[10, 10, 8], [9, 8, 1], [9, 7, 4]], 18, id="small"),
    pytest.param([[10, 10, 8, 11], [9, 8, 1, 1], [9, 7, 4, 10]], 15, id="small-rectangular"),
    pytest.param(
        [[90, 75, 75, 80], [35, 85, 55, 65], [125, 95, 90, 105], [45, 110, 95, 115]], 275,
        id="hungarian-method-program",
    ),
    pytest.param([[4, 1, 3], [2, 0, 5], [3, 2, 2]], 5, id="documentation"),
    pytest.param(
        [[82, 83, 69, 92], [77, 37, 49, 92], [11, 69, 5, 86], [8, 9, 98, 23]], 140, id="tutorial"
    ),
]  # fmt: skip


def least_total(costs):
    """The least total cost of a full assignment, by `best_pairs`."""
    top = 1 + max(map(max, costs)) * (len(costs) + 1)  # so that leaving one out never pays
    gains = {
        (row, column): top - cost
        for row, line in enumerate(costs)
        for column, cost in enumerate(line)
    }
    pairs = best_pairs(gains)
    assert len(pairs) == min(len(costs), len(costs[0]))
    return sum(costs[row][column] for row, column in pairs)


@pytest.mark.parametrize(("costs", "total"), PUBLISHED)
def test_published(costs, total):
    assert least_total(costs) == total
    assert total == min(
        sum(costs[row][column] for row, column in enumerate(columns))
        for columns in permutations(range(len(costs[0])), len(costs))
    )


GAINS = st.dictionaries(
    st.tuples(st.integers(0, 7), st.integers(0, 7)), st.integers(1, 10**9), max_size=40
)


@settings(max_examples=80, deadline=None)
@given(GAINS)
def test_total_is_that_of_scipy(gains):
    """What may not be paired is worth nothing to scipy, and so never adds to its total."""
    matrix = np.zeros((8, 8), dtype=np.int64)
    for pair, gain in gains.items():
        matrix[pair] = gain
    rows, columns = linear_sum_assignment(matrix, maximize=True)
    pairs = best_pairs(gains)
    assert set(pairs) <= set(gains)
    assert len({row for row, _ in pairs}) == len({column for _, column in pairs}) == len(pairs)
    assert sum(gains[pair] for pair in pairs) == matrix[rows, columns].sum()
