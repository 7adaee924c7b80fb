"""The same thing listed or joined twice."""

import pytest

from joinmatrix.checks.duplicate import duplicate
from joinmatrix.findings import Severity
from tests.builders import assembly_of, cells, table

HEADINGS = "connection|joint|side|type|from|to\n"
RECORD = "connection|side|act|when|mated to\n"


def found_in(connections: str, record: str = "") -> list:
    tables = [table("connections", HEADINGS + connections)]
    if record:
        tables.append(table("record", RECORD + record))
    return list(duplicate(assembly_of(*tables)))


@pytest.mark.parametrize(
    ("connections", "expected"),
    [
        pytest.param("H1|fin|L|line|A|b\nH2|fin|L|line|C|d", [], id="all-different"),
        pytest.param("H1|fin|L|line|A|b\nH2|fin|R|line|A|b", [], id="another-side"),
        pytest.param("H1|fin|L|bolt||\nH2|fin|L|bolt||", [], id="no-ports"),
        pytest.param(
            "H1|fin|L|line|A|b\nh1|fin|LH|line|A|b", [("L", ["A2", "A3"])], id="listed-twice"
        ),
        pytest.param(
            "H1|fin|both|line|A|b\nH1|fin|R|line|A|b", [("R", ["A2", "A3"])], id="on-one-of-both"
        ),
        pytest.param(
            "H1|fin|L|line|A|b\nH2|fin|L|line|A|b",
            [("L", ["E2", "F2", "E3", "F3"])],
            id="same-pair",
        ),
        pytest.param(
            "H1|fin|L|line|A|b\nH2|fin|L|line|b|A",
            [("L", ["E2", "F2", "E3", "F3"])],
            id="same-pair-the-other-way-round",
        ),
        pytest.param(
            "H1|fin|L|line|A|b\nH2|fin|L|line|C|B", [("L", ["F2", "F3"])], id="port-taken-twice"
        ),
        pytest.param(
            "H1|fin|L|line|A|b\nH2|fin|L|line|b|C",
            [("L", ["F2", "E3"])],
            id="taken-from-and-to",
        ),
        pytest.param(
            "H1|fin|both|line|A|b\nH2|fin|both|line|C|b",
            [("L/R", ["F2", "F3"])],
            id="on-both-sides-at-once",
        ),
        pytest.param(
            "H1|fin|L|line|A|\nH2|fin|L|line|A|", [("L", ["E2", "E3"])], id="other-ends-unknown"
        ),
        pytest.param(
            "H1|fin|L|line|A|b\nH2|fin|L|line|A|b\nH3|fin|L|line|A|c",
            [("L", ["E2", "F2", "E3", "F3"]), ("L", ["E2", "E3", "E4"])],
            id="a-pair-and-a-port",
        ),
    ],
)
def test_listed(connections, expected):
    found = found_in(connections)
    assert [("/".join(each.sides), [place.cell for place in each.places]) for each in found] == (
        expected
    )
    assert all(each.severity is Severity.HOLD for each in found)
    assert all(each.joint == "fin" for each in found)


def test_an_end_in_dispute_claims_no_port():
    assembly = assembly_of(
        table("connections", HEADINGS + "H1|fin|L|line|A|b\nH2|fin|L|line|C|d", file="one.xlsx"),
        table("connections", HEADINGS + "H2|fin|L|line|C|b", file="two.xlsx"),
        table("connections", HEADINGS + "H3|fin|L|line|E|d", file="three.xlsx"),
    )
    assert list(duplicate(assembly)) == []


@pytest.mark.parametrize(
    ("record", "expected"),
    [
        pytest.param("H1|L|made|2026-03-04|", [], id="made-once"),
        pytest.param(
            "H1|L|made|2026-03-04|\nH1|L|opened|2026-03-05|\nH1|L|made|2026-03-06|",
            [],
            id="opened-between",
        ),
        pytest.param(
            "H1|L|made|2026-03-04|\nH1|L|made|2026-03-06|", [["C2", "C3"]], id="made-twice"
        ),
        pytest.param(
            "H1|L|made|2026-03-04|\nH1|L|made|2026-03-06|\nH1|L|made|2026-03-07|",
            [["C2", "C3", "C4"]],
            id="made-three-times",
        ),
    ],
)
def test_made_twice_is_a_note(record, expected):
    found = found_in("H1|fin|L|line|A|b", record)
    assert [[place.cell for place in each.places] for each in found] == expected
    assert all(each.severity is Severity.NOTE for each in found)


LINES = "H1|fin|L|line|A|b\nH2|fin|L|line|C|d\nH3|fin|L|line|E|f"


@pytest.mark.parametrize(
    ("record", "connections", "at"),
    [
        pytest.param(
            "H1|L|made|2026-03-04|d\nH2|L|made|2026-03-04|", ("H1", "H2"), ["E2", "F2", "F3"],
            id="another-is-made-there",
        ),
        pytest.param(
            "H1|L|made|2026-03-04|d\nH2|L|made|2026-03-04|d", ("H1", "H2"),
            ["E2", "F2", "E3", "F3"], id="another-is-recorded-there",
        ),
        pytest.param(
            "H1|L|made|2026-03-04|f\nH2|L|made|2026-03-04|f", ("H1", "H2"),
            ["E2", "E3", "F2", "F3"], id="two-strangers",
        ),
        pytest.param(
            "H1|L|made|2026-03-04|d\nH1|L|inspected|2026-03-05|b", ("H1",), ["E2", "E3"],
            id="one-found-at-two-ports",
        ),
    ],
)  # fmt: skip
def test_a_port_mated_to_two(record, connections, at):
    (found,) = found_in(LINES, record)
    assert found.severity is Severity.HOLD
    assert found.connections == connections
    assert [place.cell for place in found.places] == at


def test_the_message_says_who_takes_what():
    (found,) = found_in("H1|fin|L|line|A|W12\nH2|fin|L|line|C|w12")
    assert found.message == (
        'port "W12" is taken by "H1" and "H2"; a port takes one connection, and another port stays '
        "open"
    )
    assert cells(found) == ["connections.xlsx!F2", "connections.xlsx!F3"]
