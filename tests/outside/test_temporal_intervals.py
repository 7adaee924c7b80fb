"""Relations of intervals and points, composed by the network, against the published tables.

A stage is an interval and an act is a point, so the network must know what two relations say about
a third. Whether a triple of relations can hold together is asked of the network as a set of rules.

source  Allen, "Maintaining knowledge about temporal intervals", CACM 26 (1983) 832-843: thirteen
        relations and their composition (his table has the 12 x 12 entries without "equals"; the
        entries here were worked out over intervals with whole-number ends)
        Vilain and Kautz, "Constraint propagation algorithms for temporal reasoning", AAAI-86: the
        composition of points
"""

from collections import Counter
from itertools import product

import pytest

from joinmatrix.timing.circles import circles
from joinmatrix.timing.network import Edge, Network

# p before, m meets, o overlaps, F finished by, D contains, s starts, e equals, S started by,
# d during, f finishes, O overlapped by, M met by, P after. Each by the order of the starts, of
# the start of a and the end of b, of the end of a and the start of b, and of the ends.
RELATIONS = {
    "p": "<<<<", "m": "<<=<", "o": "<<><", "F": "<<>=", "D": "<<>>", "s": "=<><", "e": "=<>=",
    "S": "=<>>", "d": "><><", "f": "><>=", "O": "><>>", "M": ">=>>", "P": ">>>>",
}  # fmt: skip

# Row: relation of a to b; column: relation of b to c, both in the order above. * is all thirteen.
COMPOSED = """
p p p p p p p p pmosd pmosd pmosd pmosd *
p p p p p m m m osd osd osd Fef DSOMP
p p pmo pmo pmoFD o o oFD osd osd oFDseSdfO DSO DSOMP
p m o F D o F D osd Fef DSO DSO DSOMP
pmoFD oFD oFD D D oFD D D oFDseSdfO DSO DSO DSO DSOMP
p p pmo pmo pmoFD s s seS d d dfO M P
p m o F D s e S d f O M P
pmoFD oFD oFD D D seS S S dfO O O M P
p p pmosd pmosd * d d dfOMP d d dfOMP P P
p m osd Fef DSOMP d f OMP d f OMP P P
pmoFD oFD oFDseSdfO DSO DSOMP dfO O OMP dfO O OMP P P
pmoFD seS dfO M P dfO M P dfO M P P P
* dfOMP dfOMP P P dfOMP P P dfOMP P P P P
"""
ALL = "".join(RELATIONS)


def point_edges(one, sign, other):
    """The gaps that put one point before, with or behind another."""
    if sign == "<":
        return [(one, other, 1)]
    if sign == ">":
        return [(other, one, 1)]
    return [(one, other, 0), (other, one, 0)]


def interval_edges(one, relation, other):
    """An interval n has its start at point 2n and its end at 2n + 1."""
    a, b = (2 * one, 2 * one + 1), (2 * other, 2 * other + 1)
    pairs = ((a[0], b[0]), (a[0], b[1]), (a[1], b[0]), (a[1], b[1]))
    return [
        edge
        for (first, second), sign in zip(pairs, RELATIONS[relation], strict=True)
        for edge in point_edges(first, sign, second)
    ]


def can_hold(points, edges):
    return not circles(Network(points, [Edge(*edge, n) for n, edge in enumerate(edges)]))[0]


def composition(ab, bc):
    """The relations of a to c that can hold beside two others, in the order above."""
    stages = [(0, 1, 1), (2, 3, 1), (4, 5, 1)]
    given = stages + interval_edges(0, ab, 1) + interval_edges(1, bc, 2)
    return "".join(ac for ac in ALL if can_hold(6, given + interval_edges(0, ac, 2)))


TABLE = [line.split() for line in COMPOSED.strip().splitlines()]


@pytest.mark.parametrize("row", range(13), ids=list(ALL))
def test_composition_of_intervals(row):
    expected = [ALL if entry == "*" else entry for entry in TABLE[row]]
    assert [composition(ALL[row], relation) for relation in ALL] == expected


def test_the_table_has_the_published_counts():
    sizes = Counter(13 if entry == "*" else len(entry) for line in TABLE for entry in line)
    assert sizes == {1: 97, 3: 42, 5: 24, 9: 3, 13: 3}
    assert sum(size * times for size, times in sizes.items()) == 409


def test_two_intervals_can_lie_in_thirteen_ways():
    ways = [
        signs
        for signs in product("<=>", repeat=4)
        if can_hold(
            4,
            [(0, 1, 1), (2, 3, 1)]
            + [
                edge
                for (a, b), sign in zip(((0, 2), (0, 3), (1, 2), (1, 3)), signs, strict=True)
                for edge in point_edges(a, sign, b)
            ],
        )
    ]
    assert sorted("".join(signs) for signs in ways) == sorted(RELATIONS.values())


@pytest.mark.parametrize(
    ("ab", "bc", "ac"),
    [
        pytest.param("<", "<", "<", id="before-before"),
        pytest.param("<", "=", "<", id="before-with"),
        pytest.param("<", ">", "<=>", id="before-after"),
        pytest.param("=", "<", "<", id="with-before"),
        pytest.param("=", "=", "=", id="with-with"),
        pytest.param("=", ">", ">", id="with-after"),
        pytest.param(">", "<", "<=>", id="after-before"),
        pytest.param(">", "=", ">", id="after-with"),
        pytest.param(">", ">", ">", id="after-after"),
    ],
)
def test_composition_of_points(ab, bc, ac):
    given = point_edges(0, ab, 1) + point_edges(1, bc, 2)
    assert [sign for sign in "<=>" if can_hold(3, given + point_edges(0, sign, 2))] == list(ac)
