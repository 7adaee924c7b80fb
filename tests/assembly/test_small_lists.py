"""Stages, runs, differences, temporary items, people and tools."""

import pytest

from tests.builders import assembly_of, table

CONNECTIONS = table(
    "connections",
    "connection|joint|side|type|from|to\nH-1|wing|both|line|A1|B1\nH-2|tip|both|line|D1|E1\nH-3|fin|C|line|F1|G1",
)


def test_a_stage_stands_once_for_each_side_and_once_for_all_without_one():
    assembly = assembly_of(
        CONNECTIONS, table("stages", "stage|side|timing\nWing mate|both|after rig\nRig||")
    )
    assert [(each.name, each.key.side, each.timing) for each in assembly.stages] == [
        ("Wing mate", "L", "after rig"),
        ("Wing mate", "R", "after rig"),
        ("Rig", "", ""),
    ]


@pytest.mark.parametrize(
    ("row", "expected"),
    [
        pytest.param("B1|D1|both||", [("b1", "L", "d1", "L"), ("b1", "R", "d1", "R")], id="both"),
        pytest.param("B1|D1|L||", [("b1", "L", "d1", "L")], id="one-side"),
        pytest.param("B1|D1||L|R", [("b1", "L", "d1", "R")], id="across"),
        pytest.param("B1|D1|L||R", [("b1", "L", "d1", "R")], id="across-at-one-end"),
        pytest.param(
            "B1|D1|||", [("b1", "L", "d1", "L"), ("b1", "R", "d1", "R")], id="where-its-ports-are"
        ),
        pytest.param(
            "B1|F1|||", [("b1", "L", "f1", "C"), ("b1", "R", "f1", "C")], id="to-the-centre-line"
        ),
        pytest.param("B1|X|||", [("b1", "L", "x", "L"), ("b1", "R", "x", "R")], id="one-is-known"),
        pytest.param("X|Y|||", [("x", "C", "y", "C")], id="unknown-ports-are-on-the-centre-line"),
    ],
)
def test_runs(row, expected):
    assembly = assembly_of(CONNECTIONS, table("runs", f"from|to|side|from side|to side\n{row}"))
    assert [(*each.start, *each.end) for each in assembly.runs] == expected
    assert assembly.troubles == ()


@pytest.mark.parametrize(
    ("kind", "text", "cell"),
    [
        pytest.param("runs", "from|to|side\nA1||L", "B2", id="run-without-an-end"),
        pytest.param("runs", "from|to|side\nA1|B1|Q", "C2", id="run-on-no-side"),
        pytest.param("stages", "stage|side\nrig|Q", "B2", id="stage-on-no-side"),
        pytest.param("people", "person|may\nA. Berg|fly", "B2", id="may-do-what"),
        pytest.param(
            "differences", "connection|reason\n|none fitted", "A2", id="difference-of-what"
        ),
        pytest.param(
            "differences",
            "connection|column|reason\nH-1|colour|painted",
            "B2",
            id="difference-in-no-column",
        ),
    ],
)
def test_a_row_that_cannot_be_used_is_set_aside_with_its_cell(kind, text, cell):
    assembly = assembly_of(CONNECTIONS, table(kind, text))
    assert [trouble.place.cell for trouble in assembly.troubles] == [cell]
    assert len(assembly.aside) == 1


@pytest.mark.parametrize(
    ("may", "expected"),
    [
        pytest.param("make", ["make"], id="make"),
        pytest.param("Inspect", ["inspect"], id="inspect"),
        pytest.param("make, inspect", ["make", "inspect"], id="both-spelt-out"),
        pytest.param("both", ["make", "inspect"], id="both"),
    ],
)
def test_people(may, expected):
    assembly = assembly_of(CONNECTIONS, table("people", f"person|may\nA. Berg|{may}"))
    assert [person.may for person in assembly.people] == expected


def test_temporary_items_stand_on_each_side_of_their_joint():
    assembly = assembly_of(
        CONNECTIONS,
        table(
            "temporary", "temporary item|joint|side|remove\nred cap|wing|both|before H-1\npin|||"
        ),
    )
    assert [(item.name, item.key.side, item.remove) for item in assembly.temporary] == [
        ("red cap", "L", "before H-1"),
        ("red cap", "R", "before H-1"),
        ("pin", "", ""),
    ]


@pytest.mark.parametrize(
    ("alike", "expected"),
    [
        pytest.param("L, R", ("L", "R"), id="left-and-right"),
        pytest.param("LH / RH", ("L", "R"), id="usual-words"),
        pytest.param("1, 2, 3", ("1", "2", "3"), id="numbers"),
        pytest.param("fwd; aft", ("fwd", "aft"), id="words"),
        pytest.param("1;2;3;4", ("1", "2", "3", "4"), id="semicolons"),
        pytest.param("1 / 2 AND 3", ("1", "2", "3"), id="and-in-capitals"),
        pytest.param("1, 2, and 3", ("1", "2", "3"), id="comma-and-and"),
        pytest.param("fwd top & aft top", ("fwd top", "aft top"), id="labels-of-two-words"),
        pytest.param("1 2 3", ("1", "2", "3"), id="spaces"),
        pytest.param("", (), id="none"),
        pytest.param("none", (), id="none-said"),
    ],
)
def test_alike_sides(alike, expected):
    assembly = assembly_of(
        table("connections", "connection|joint|side|type\nH-1|wing|C|line"),
        table("joints", f"joint|alike sides\nWing|{alike}"),
    )
    assert assembly.alike["wing"] == expected


def test_a_joint_that_the_joints_list_lacks_is_a_note_with_the_nearest():
    joints = table("joints", "joint|alike sides\nwing|L, R\ntips|L, R\nfin|")
    assembly = assembly_of(CONNECTIONS, joints)
    (trouble,) = assembly.troubles
    assert (trouble.place.cell, trouble.holds) == ("B3", False)
    assert '"tips"' in trouble.remedy


@pytest.mark.parametrize(
    ("ids", "cells"),
    [
        pytest.param(["H-1", "H-2", "A10"], [], id="plainly-different"),
        pytest.param(["1001", "01001"], ["A2", "A3"], id="leading-zero"),
        pytest.param(["J1", "\u04081"], ["A2", "A3"], id="cyrillic"),
        pytest.param(["H\u20131", "H-1"], ["A2", "A3"], id="dash"),
        pytest.param(["P10", "P1O"], ["A2", "A3"], id="figure-and-letter"),
    ],
)
def test_names_that_only_look_alike_are_a_note_and_never_merged(ids, cells):
    rows = "\n".join(f"{name}|fin|L|line" for name in ids)
    assembly = assembly_of(table("connections", f"connection|joint|side|type\n{rows}"))
    assert len(assembly.connections) == len(ids)
    found = [trouble.place.cell for trouble in assembly.troubles]
    found += [place.cell for trouble in assembly.troubles for place in trouble.others]
    assert found == cells
    assert not any(trouble.holds for trouble in assembly.troubles)
