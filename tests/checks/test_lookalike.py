"""What can be swapped by hand."""

import pytest

from joinmatrix.checks.lookalike import lookalike
from joinmatrix.findings import Kind, Severity
from joinmatrix.verify import report_on
from tests.builders import assembly_of, cells, reading_of, table

HEADINGS = "connection|joint|side|type|service|size|from end|from key|part|remarks\n"
ONE = "H1|fin|L|line|pressure|-6|flare 37|N||\n"


def found_in(rows: str) -> list:
    return list(lookalike(assembly_of(table("connections", HEADINGS + rows))))


@pytest.mark.parametrize(
    ("row", "expected"),
    [
        pytest.param("H2|fin|L|line|pressure|-6|flare 37|N", [], id="same-service"),
        pytest.param("H2|fin|L|line||-6|flare 37|N", [], id="no-service"),
        pytest.param("H2|fin|R|line|return|-6|flare 37|N", [], id="another-side"),
        pytest.param("H2|tail|L|line|return|-6|flare 37|N", [], id="another-joint"),
        pytest.param("H2|fin|L|hose|return|-6|flare 37|N", [], id="another-type"),
        pytest.param("H2|fin|L|line|return|-8|flare 37|N", [], id="another-size"),
        pytest.param("H2|fin|L|line|return|-6|flare 45|N", [], id="another-end"),
        pytest.param("H2|fin|L|line|return|-6|flare 37|A", [], id="another-key"),
        pytest.param("H2|fin|L|line|return|-6|flare 37|N", [("H1", "H2")], id="alike"),
        pytest.param("H2|fin|L|Line|return|3/8|37° flare|key N", [("H1", "H2")], id="respelt"),
        pytest.param("H2|fin|L|line|return|⅜”|flare 37|N", [("H1", "H2")], id="typeset"),
    ],
)
def test_alike(row, expected):
    found = found_in(ONE + row)
    assert [each.connections for each in found] == expected
    assert all(each.severity is Severity.NOTE for each in found)


def test_the_worst_come_first():
    found = found_in(
        "E1|fin|L|plug|lamp\nE2|fin|L|plug|radio\n"
        "H1|fin|L|hydraulic line|pressure\nH2|fin|L|hydraulic line|return\n"
        "R1|fin|L|control rod|elevator up\nR2|fin|L|control rod|elevator down\n"
    )
    assert [each.connections[0] for each in found] == ["R1", "H1", "E1"]
    assert found[0].message.startswith("flight controls: ")


def test_the_report_keeps_the_worst_first_whatever_the_rows_and_sides():
    rows = (
        "E1|fin|L|plug|lamp\nE2|fin|L|plug|radio\n"
        "H1|fin|both|hydraulic line|pressure\nH2|fin|both|hydraulic line|return\n"
        "R1|fin|R|control rod|elevator up\nR2|fin|R|control rod|elevator down\n"
    )
    report = report_on(reading_of(table("connections", HEADINGS + rows)))
    shown = [each.connections[0] for each in report.findings if each.kind is Kind.LOOKALIKE]
    assert shown == ["R1", "H1", "E1"]


def test_a_group_is_one_note_with_its_cells():
    (found,) = found_in(
        "H1|fin|both|line|pressure\nH2|fin|both|line|return\nH3|fin|both|line|drain"
    )
    assert found.sides == ("L", "R")
    assert cells(found) == [f"connections.xlsx!A{row}" for row in (2, 3, 4)]
    assert '"H1" (pressure), "H2" (return), "H3" (drain)' in found.message


@pytest.mark.parametrize(
    ("marks", "said"),
    [
        pytest.param(("|", "|"), "nothing in the lists tells them apart", id="nothing"),
        pytest.param(("P1|", "P1|"), "nothing in the lists tells them apart", id="same-part"),
        pytest.param(("P1|", "P2|"), "the part tag", id="part"),
        pytest.param(("|red band", "|blue band"), "the colour band", id="colour"),
    ],
)
def test_what_tells_them_apart(marks, said):
    (found,) = found_in(
        f"H1|fin|L|line|pressure|-6|||{marks[0]}\nH2|fin|L|line|return|-6|||{marks[1]}"
    )
    assert said in found.message
