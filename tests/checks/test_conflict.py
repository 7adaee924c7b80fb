"""Two lists that disagree."""

from itertools import permutations

import pytest

from joinmatrix.checks.conflict import conflict
from tests.builders import assembly_of, cells, table

ONE = "connection|joint|side|type|size\nH-1|fin|{side}|line|-6"
OTHER = "connection|joint|side|type|size\nH-1|fin|{side}|line|{size}"


@pytest.mark.parametrize(
    ("side", "size", "expected"),
    [
        pytest.param("L", "-6", [], id="they-agree"),
        pytest.param("L", "", [], id="one-is-blank"),
        pytest.param("L", "-8", [("L",)], id="they-disagree"),
        pytest.param("both", "-8", [("L", "R")], id="on-both-sides-at-once"),
    ],
)
def test_conflict(side, size, expected):
    assembly = assembly_of(
        table("connections", ONE.format(side=side), file="one.xlsx"),
        table("connections", OTHER.format(side=side, size=size), file="two.xlsx"),
    )
    found = list(conflict(assembly))
    assert [each.sides for each in found] == expected
    for each in found:
        assert cells(each) == ["one.xlsx!E2", "two.xlsx!E2"]
        assert '"-6"' in each.message
        assert '"-8"' in each.message
        assert each.connections == ("H-1",)


@pytest.mark.parametrize(
    ("column", "said", "conflicts"),
    [
        pytest.param("size", ("-8", '1/2"', "12.7 mm"), 0, id="one-size"),
        pytest.param("size", ("1½”", "1.5 in"), 0, id="one-size-typeset"),
        pytest.param("from end", ("37° flare", "flare 37", "JIC"), 0, id="one-end"),
        pytest.param("to key", ("A", "key A", "pos. a"), 0, id="one-key"),
        pytest.param("size", ("-8", "1/2 in", "-6"), 1, id="one-of-three"),
        pytest.param("size", ("AN-8", "-8"), 1, id="a-size-that-no-table-has"),
        pytest.param("part", ("-8", "-08"), 1, id="a-part-number"),
    ],
)
def test_another_spelling_is_no_conflict(column, said, conflicts):
    lists = [
        table(
            "connections", f"connection|joint|side|type|{column}\nH-1|fin|L|line|{text}", file=text
        )
        for text in said
    ]
    told = set()
    for order in permutations(lists):
        assembly = assembly_of(*order)
        found = list(conflict(assembly))
        assert len(found) == conflicts
        told.add(
            (assembly.connections[0][3:-2], frozenset(p for each in found for p in each.places))
        )
    assert len(told) == 1


def test_alike_sides_of_a_joint_declared_twice():
    assembly = assembly_of(
        table("connections", "connection|joint|side|type\nH-1|fin|C|line"),
        table("joints", "joint|alike sides\nfin|L, R", file="one.xlsx"),
        table("joints", "joint|alike sides\nfin|1, 2", file="two.xlsx"),
    )
    (found,) = conflict(assembly)
    assert found.joint == "fin"
    assert cells(found) == ["one.xlsx!B2", "two.xlsx!B2"]
    assert found.connections == ()


def test_a_stage_with_two_timings():
    assembly = assembly_of(
        table("connections", "connection|joint|side|type\nH-1|fin|C|line"),
        table("stages", "stage|timing\nrig|after lift", file="one.xlsx"),
        table("stages", "stage|timing\nrig|after land", file="two.xlsx"),
    )
    (found,) = conflict(assembly)
    assert found.stages == ("rig",)
    assert found.connections == ()


@pytest.mark.parametrize(
    ("tick", "said"),
    [
        pytest.param("2031-03-05|AB", "the lists disagree on when H-1 L was made: ", id="when"),
        pytest.param("2031-03-04|CD", "the lists disagree on who made H-1 L: ", id="who"),
    ],
)
def test_a_tick_and_the_record(tick, said):
    assembly = assembly_of(
        table("connections", f"connection|joint|side|type|made on|made by\nH-1|fin|L|line|{tick}"),
        table("record", "when|connection|side|act|by\n2031-03-04|H-1|L|made|AB"),
    )
    (found,) = conflict(assembly)
    assert found.message.startswith(said)
