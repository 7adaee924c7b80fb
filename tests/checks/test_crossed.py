"""Connections at each other's ports."""

import pytest

from joinmatrix.checks.crossed import crossed
from joinmatrix.findings import Severity
from tests.builders import assembly_of, cells, table

LINES = """connection|joint|side|type|from|to
H1|fin|both|line|A|b
H2|fin|both|line|C|d
H3|fin|both|line|E|f
H4|tail|both|line|G|h"""


def found_in(record: str, runs: str = "") -> list:
    tables = [table("connections", LINES)]
    if record:
        tables.append(table("record", "connection|side|act|when|mated to\n" + record))
    if runs:
        tables.append(table("runs", "from|to|side\n" + runs))
    return list(crossed(assembly_of(*tables)))


@pytest.mark.parametrize(
    ("record", "expected"),
    [
        pytest.param("", [], id="plan"),
        pytest.param("H1|L|made|2026-03-04|\nH2|L|made|2026-03-04|", [], id="no-mates-recorded"),
        pytest.param("H1|L|made|2026-03-04|B\nH2|L|made|2026-03-04|d", [], id="as-listed"),
        pytest.param("H1|L|made|2026-03-04|d\nH2|L|made|2026-03-04|b", [("H1", "H2")], id="pair"),
        pytest.param(
            "H1|L|made|2026-03-04|d\nH2|L|made|2026-03-04|f\nH3|L|made|2026-03-04|b",
            [("H1", "H2", "H3")],
            id="ring-of-three",
        ),
        pytest.param(
            "H1|L|made|2026-03-04|h\nH4|L|made|2026-03-04|b", [("H1", "H4")], id="across-joints"
        ),
        pytest.param(
            "H1|L|made|2026-03-04|C\nH2|L|made|2026-03-04|A",
            [("H1", "H2")],
            id="seen-from-the-other-half",
        ),
        pytest.param(
            "H1|L|made|2026-03-04|d\nH2|L|made|2026-03-04|A",
            [("H1", "H2")],
            id="each-seen-from-its-own-half",
        ),
        pytest.param(
            "H1|L|made|2026-03-04|d\nH2|L|made|2026-03-04|b\nH3|L|made|2026-03-04|b",
            [("H1", "H2")],
            id="a-third-at-a-port-of-the-pair",
        ),
        pytest.param(
            "H1|L|made|2026-03-04|d\nH1|L|made|2026-03-05|b\nH2|L|made|2026-03-04|b\n"
            "H2|L|made|2026-03-05|d",
            [],
            id="put-right-since",
        ),
        pytest.param(
            "H1|L|made|2026-03-04|d\nH2|L|made|2026-03-04|b\nH2|L|opened|2026-03-05|",
            [],
            id="one-opened-since",
        ),
    ],
)
def test_swaps(record, expected):
    found = found_in(record)
    assert [each.connections for each in found] == expected
    assert all(each.severity is Severity.HOLD for each in found)


def test_the_whole_swap_is_named_with_its_cells():
    (found,) = found_in("H1|L|made|2026-03-04|d\nH2|L|made|2026-03-04|b")
    assert found.message == (
        '"H1" and "H2" are crossed: "A" to "d" instead of "b", "C" to "b" instead of "d"'
    )
    assert cells(found) == [
        "record.xlsx!E2", "record.xlsx!E3", "connections.xlsx!F2", "connections.xlsx!F3",
    ]  # fmt: skip
    assert (found.joint, found.sides) == ("fin", ("L",))


def test_left_and_right_taken_for_each_other():
    (found,) = found_in("H1|L|made|2026-03-04|b R\nH1|R|made|2026-03-04|LH b")
    assert found.sides == ("L", "R")
    assert found.connections == ("H1",)
    assert '"H1 L" and "H1 R" are crossed: "A" (L) to "b" (R)' in found.message


def test_one_entry_for_both_sides_is_one_finding():
    (found,) = found_in("H1|both|made|2026-03-04|d\nH2|both|made|2026-03-04|b")
    assert found.sides == ("L", "R")


def test_another_port_of_its_own_route_is_said_too():
    (found,) = found_in("H1|L|made|2026-03-04|x", runs="b|x|both")
    assert found.message == '"H1" is mated to "x", not to "b"'
