"""Rows of several lists to one connection for each identifier and side."""

import pytest

from joinmatrix.assembly.connections import is_flight_control
from tests.builders import assembly_of, table


def keys(assembly) -> list[str]:
    return [f"{each.id} {each.side}" for each in assembly.connections]


@pytest.mark.parametrize(
    ("side", "expected"),
    [
        pytest.param("L", ["H-1 L"], id="one-side"),
        pytest.param("LH", ["H-1 L"], id="usual-word"),
        pytest.param("centre", ["H-1 C"], id="centre-line"),
        pytest.param("both", ["H-1 L", "H-1 R"], id="both-is-the-alike-sides"),
        pytest.param("LH & RH", ["H-1 L", "H-1 R"], id="both-spelt-out"),
        pytest.param("Q", [], id="no-such-side"),
        pytest.param("", [], id="blank"),
        pytest.param("1", [], id="label-that-no-list-declares"),
    ],
)
def test_side_words_make_connections(side, expected):
    assembly = assembly_of(
        table("connections", f"connection|joint|side|type\nH-1|outer wing|{side}|bolt")
    )
    assert keys(assembly) == expected
    assert len(assembly.aside) == (0 if expected else 1)
    assert [trouble.place.cell for trouble in assembly.troubles] == ([] if expected else ["C2"])


def test_both_means_the_sides_that_the_joints_list_declares():
    assembly = assembly_of(
        table("connections", "connection|joint|side|type\nB-1|hub|all|bolt\nB-2|hub|2|bolt"),
        table("joints", "joint|alike sides\nHub|1, 2, 3"),
    )
    assert keys(assembly) == ["B-1 1", "B-1 2", "B-1 3", "B-2 2"]


def test_left_is_unknown_at_a_joint_whose_sides_are_numbers():
    assembly = assembly_of(
        table("connections", "connection|joint|side|type\nB-1|hub|L|bolt\nB-2|hub|1|bolt"),
        table("joints", "joint|alike sides\nhub|1, 2, 3"),
    )
    assert keys(assembly) == ["B-2 1"]
    assert '"1", "2", "3", "C" or "both"' in assembly.troubles[0].remedy


@pytest.mark.parametrize(
    ("heading", "cell", "column"),
    [
        pytest.param("connection", "A2", "connection", id="no-identifier"),
        pytest.param("joint", "B2", "joint", id="no-joint"),
    ],
)
def test_a_row_without_what_it_needs_is_set_aside_with_its_cell(heading, cell, column):
    values = {"connection": "H-1", "joint": "fin", "side": "L", "type": "bolt"} | {heading: ""}
    text = "|".join(values) + "\n" + "|".join(values.values())
    assembly = assembly_of(table("connections", text))
    assert assembly.connections == ()
    assert [trouble.place.cell for trouble in assembly.troubles] == [cell]
    assert column in assembly.troubles[0].found


HULL = "connection|joint|side|type|service|from|size\nH-1|fin|L|line|brake|A1|-6"
WING = "connection|joint|side|type|service|to|size\nh-1 |Fin|left|line||B1|-8"


def test_a_blank_is_filled_from_the_other_list():
    assembly = assembly_of(
        table("connections", HULL, file="hull.xlsx"), table("connections", WING, file="wing.xlsx")
    )
    (connection,) = assembly.connections
    assert (connection.from_port, connection.to_port) == ("A1", "B1")
    assert connection.service == "brake"
    assert assembly.conflicts == ()


def test_a_plain_size_is_the_size_of_the_half_that_the_list_describes():
    assembly = assembly_of(
        table("connections", HULL, file="hull.xlsx"), table("connections", WING, file="wing.xlsx")
    )
    (connection,) = assembly.connections
    assert (connection.from_size, connection.to_size) == ("-6", "-8")
    assert [str(place) for place in connection.cells("to size")] == ["wing.xlsx: Sheet!G2"]


def test_a_plain_size_is_that_of_both_ends_in_a_list_of_both_halves():
    assembly = assembly_of(
        table("connections", "connection|joint|side|type|from|to|size\nH-1|fin|L|line|A1|B1|-6")
    )
    assert assembly.connections[0][8:10] == ("-6", "-6")


def test_a_conflict_names_both_cells_and_disputes_the_column():
    assembly = assembly_of(
        table("connections", HULL, file="hull.xlsx"),
        table("connections", WING.replace("line", "hose"), file="wing.xlsx"),
    )
    (conflict,) = assembly.conflicts
    assert (conflict.id, conflict.column, conflict.sides) == ("H-1", "type", ("L",))
    assert [(value, str(place)) for value, place in conflict.values] == [
        ("line", "hull.xlsx: Sheet!D2"),
        ("hose", "wing.xlsx: Sheet!D2"),
    ]
    assert assembly.connections[0].disputed == {"type"}


def test_a_conflict_of_rows_for_both_sides_is_one():
    rows = "connection|joint|side|type\nH-1|fin|both|"
    assembly = assembly_of(
        table("connections", rows + "line", file="one.xlsx"),
        table("connections", rows + "hose", file="two.xlsx"),
    )
    (conflict,) = assembly.conflicts
    assert conflict.sides == ("L", "R")


@pytest.mark.parametrize(
    ("first", "second"),
    [
        pytest.param("Hydraulic  line", "hydraulic line", id="case-and-spaces"),
        pytest.param("line", "", id="blank"),
    ],
)
def test_values_that_agree_are_no_conflict(first, second):
    rows = "connection|joint|side|type\nH-1|fin|L|"
    assembly = assembly_of(
        table("connections", rows + first, file="one.xlsx"),
        table("connections", rows + second, file="two.xlsx"),
    )
    assert assembly.conflicts == ()


def test_yes_in_two_spellings_is_no_conflict():
    rows = "connection|joint|side|type|critical\nH-1|fin|L|line|"
    assembly = assembly_of(
        table("connections", rows + "yes", file="one.xlsx"),
        table("connections", rows + "Y", file="two.xlsx"),
    )
    assert assembly.conflicts == ()
    assert assembly.connections[0].critical is True


def test_remarks_of_two_lists_are_both_kept():
    rows = "connection|joint|side|type|remarks\nH-1|fin|L|line|"
    assembly = assembly_of(
        table("connections", rows + "stiff", file="one.xlsx"),
        table("connections", rows + "new seal", file="two.xlsx"),
    )
    assert assembly.conflicts == ()
    assert assembly.connections[0].remarks == "new seal | stiff"


def test_the_same_connection_twice_in_one_list_is_a_repeat():
    assembly = assembly_of(
        table("connections", "connection|joint|side|type\nH-1|fin|both|line\nH-1|fin|L|hose")
    )
    (repeat,) = assembly.repeats
    assert repeat.sides == ("L",)
    assert [place.cell for place in repeat.places] == ["A2", "A3"]
    assert assembly.conflicts == ()


@pytest.mark.parametrize(
    ("kind", "service", "expected"),
    [
        pytest.param("hydraulic line", "brake pressure", False, id="hydraulic-line"),
        pytest.param("electrical connector", "trim motor supply", False, id="connector-of-a-trim"),
        pytest.param("electrical cable", "control panel lights", False, id="control-panel"),
        pytest.param("control rod", "aileron", True, id="control-rod"),
        pytest.param("trim cable", "", True, id="trim-cable"),
        pytest.param("cable", "elevator trim", True, id="named-by-type-and-service-together"),
        pytest.param("push-pull control tube", "", True, id="control-tube"),
        pytest.param("control push-pull rod", "", True, id="word-between"),
        pytest.param("cable, elevator control", "", True, id="parts-list-order"),
        pytest.param("line", "rudder control linkage", True, id="named-by-service"),
    ],
)
def test_flight_control_types(kind, service, expected):
    assert is_flight_control(kind, service) is expected


@pytest.mark.parametrize(
    ("written", "critical", "cells"),
    [
        pytest.param("", True, [], id="blank-on-a-flight-control"),
        pytest.param("no", False, [], id="said-no"),
        pytest.param("maybe", True, ["E2"], id="neither-yes-nor-no"),
    ],
)
def test_critical(written, critical, cells):
    assembly = assembly_of(
        table("connections", f"connection|joint|side|type|critical\nC-1|fin|L|trim rod|{written}")
    )
    assert assembly.connections[0].critical is critical
    assert [trouble.place.cell for trouble in assembly.troubles] == cells
