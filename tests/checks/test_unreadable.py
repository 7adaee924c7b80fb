"""What cannot be understood is shown with its cell, and binds nothing."""

import pytest

from joinmatrix.checks.unreadable import unreadable
from tests.builders import assembly_of, cells, table

HEADINGS = "connection|joint|side|type|timing|limits|from|to\n"
STAGES = table("stages", "stage|timing\ngear down|\nwing mate|")


@pytest.mark.parametrize(
    ("row", "expected"),
    [
        pytest.param("H-1|fin|L|line|after gear down|torque 20..25 in-lbf", [], id="understood"),
        pytest.param("H-1|fin|Q|line", ["connections.xlsx!C2"], id="side"),
        pytest.param("H-1||L|line", ["connections.xlsx!B2"], id="no-joint"),
        pytest.param("H-1|fin|L|line|after gaer down", ["connections.xlsx!E2"], id="stage"),
        pytest.param("H-1|fin|L|line|when the gear is down", ["connections.xlsx!E2"], id="rule"),
        pytest.param("H-1|fin|L|line||torque about 20", ["connections.xlsx!F2"], id="limits"),
    ],
)
def test_unreadable(row, expected):
    found = list(unreadable(assembly_of(table("connections", HEADINGS + row), STAGES)))
    assert [cell for each in found for cell in cells(each)] == expected
    assert all(each.severity == "hold" for each in found)


def test_the_nearest_names_are_given():
    row = "H-1|fin|L|line|after gaer down"
    (found,) = unreadable(assembly_of(table("connections", HEADINGS + row), STAGES))
    assert '"gear down"' in found.clears
    assert found.connections == ("H-1",)
    assert found.joint == "fin"


def test_a_rule_of_both_sides_is_one_finding():
    row = "H-1|fin|both|line|after gaer down"
    (found,) = unreadable(assembly_of(table("connections", HEADINGS + row), STAGES))
    assert found.sides == ("L", "R")


def test_names_that_only_look_alike_are_a_note():
    rows = "1001|fin|L|line\n01001|fin|L|line"
    (found,) = unreadable(assembly_of(table("connections", HEADINGS + rows)))
    assert found.severity == "note"
    assert cells(found) == ["connections.xlsx!A2", "connections.xlsx!A3"]
