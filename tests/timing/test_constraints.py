"""The rules of an assembly as a network."""

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from joinmatrix.assembly.model import Act, Key
from joinmatrix.timing.constraints import plan_of
from joinmatrix.timing.network import TICKS
from tests.builders import assembly_of, table

HEAD = "connection|joint|side|type|place|timing|inspect|closed by\n"
STAGES = "stage|side|after\nA||\nB||A\nC|both|B"


def plan(*rows, items=""):
    tables = [table("connections", HEAD + "\n".join(rows)), table("stages", STAGES)]
    if items:
        tables.append(table("temporary", "temporary item|joint|side|connection|remove\n" + items))
    return plan_of(assembly_of(*tables))


def test_the_network_does_not_grow_with_the_connections():
    few, many = (
        plan(*(f"H-{n}|fin|{side}|line||after A||C" for n in range(count) for side in "LR"))
        for count in (3, 300)
    )
    assert few.network.points == many.network.points
    assert len(few.network.edges) == len(many.network.edges)


@pytest.mark.parametrize(
    ("rule", "act", "stage", "gap"),
    [
        pytest.param("after B||", Act.MADE, Act.DONE, 0, id="after"),
        pytest.param("at least 2 h after B||", Act.MADE, Act.DONE, 120 * TICKS, id="at-least"),
        pytest.param("after B||", Act.INSPECTED, Act.DONE, 0, id="inspecting-comes-later"),
        pytest.param("|after B|", Act.MADE, Act.DONE, None, id="only-the-inspection"),
    ],
)
def test_gaps_after_a_stage(rule, act, stage, gap):
    found = plan(f"H|fin|L|line||{rule}")
    point = found.step_point(Key("h", "L"), act)
    assert found.sound.gaps_to(point)[found.stage_point(Key("b", ""), stage)] == gap


@pytest.mark.parametrize(
    ("rule", "act", "gap"),
    [
        pytest.param("|||B", Act.PLACED, 0, id="closed-by-binds-all-three"),
        pytest.param("|||B", Act.INSPECTED, 0, id="closed-by-binds-the-last"),
        pytest.param("before B|||", Act.PLACED, 0, id="placing"),
        pytest.param("before B|||", Act.MADE, None, id="placing-only"),
        pytest.param("|||C", Act.MADE, None, id="a-later-stage"),
    ],
)
def test_gaps_before_a_stage(rule, act, gap):
    found = plan(f"H|fin|L|line|{rule}")
    gaps = found.sound.gaps_to(found.stage_point(Key("b", ""), Act.STARTED))
    assert gaps[found.step_point(Key("h", "L"), act)] == gap


def test_items_have_points_of_their_own():
    found = plan("H|fin|L|line||||", items="pin|fin|L||before B\ncap|fin|L||before B")
    (items,) = (owner for owner, act in found.points if act is Act.REMOVED)
    assert [item.name for item in found.items(items).members] == ["cap", "pin"]
    start = found.stage_point(Key("b", ""), Act.STARTED)
    assert found.sound.gaps_to(start)[found.owner_point(items, Act.REMOVED)] == 0


def test_points_are_found_by_what_they_are():
    found = plan("H|fin|L|line||after K||", "K|fin|L|line||||", items="pin|fin|L||before B")
    for number, (owner, act) in enumerate(found.points):
        assert found.owner_point(owner, act) == number


@settings(max_examples=25, deadline=None)
@given(st.permutations(range(6)))
def test_the_order_of_rows_changes_nothing(order):
    rows = [
        "H|fin|L|line||after K||B", "K|fin|both|line||after A||", "M|fin|C|line||after C||",
        "N|fin|L|line||after H; after M||", "O|fin|R|line||with K||", "P|fin|L|line||after B||A",
    ]  # fmt: skip
    here, there = plan(*rows), plan(*(rows[number] for number in order))
    assert here.points == there.points
    assert here.network.edges == there.network.edges
    assert here.circles == there.circles
