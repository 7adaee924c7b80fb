"""Two lists that disagree."""

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
