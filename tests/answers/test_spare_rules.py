"""Rules that go without saying."""

import pytest

from joinmatrix.answers.spare_rules import spare_rules
from tests.builders import assembly_of, table

LIST = "connection|joint|side|type|timing|closed by\n"
STAGES = "stage|side|after\nA||\nB||A\nC||B"


@pytest.mark.parametrize(
    ("rows", "expected"),
    [
        pytest.param(["H|fin|L|line|after B|C"], [], id="all-needed"),
        pytest.param(
            ["H|fin|L|line|after A and B|"], [('"H"', 'after "A" is done')], id="an-earlier-stage"
        ),
        pytest.param(
            ["H|fin|L|line|before C|C"], [('"H"', 'before "C" starts')], id="closed-by-it-anyway"
        ),
        pytest.param(
            ["H|fin|L|line|after K and A|", "K|fin|L|line|after B|"],
            [('"H"', 'after "A" is done')],
            id="through-a-connection",
        ),
        pytest.param(
            ["H|fin|L|line|after A; at least 2 h after A|"],
            [('"H"', 'after "A" is done')],
            id="the-longer-time",
        ),
        pytest.param(["H|fin|L|line|after A|A"], [], id="contradictions-are-another-matter"),
    ],
)
def test_spare_rules(rows, expected):
    tables = [table("connections", LIST + "\n".join(rows)), table("stages", STAGES)]
    found = spare_rules(assembly_of(*tables))
    assert [(each.who[0].name, each.demand) for each in found] == expected


def test_cells():
    tables = [
        table("connections", LIST + "H|fin|L|line|after A and B|\nK|fin|L|line|after A and B|"),
        table("stages", STAGES),
    ]
    (spare,) = spare_rules(assembly_of(*tables))
    assert [place.cell for place in spare.cells] == ["E2", "E3"]
    assert spare.rule == "after A and B"
