"""Routes that are not whole."""

import pytest

from joinmatrix.checks.broken_route import CHECK, broken_route
from joinmatrix.findings import Severity
from joinmatrix.lists.table import ListKind
from tests.builders import assembly_of, cells, table

HEADINGS = "connection|joint|side|type|service|from|to\n"
LINES = (
    HEADINGS
    + """H1|outer|both|line|brake pressure|A|b
H2|outer|both|line|brake return|C|d
H4|tip|both|line|Brake Pressure|W1|t1
H5|tip|both|line|brake return|W2|t2"""
)


def found_in(runs: str, record: str = "", lines: str = LINES) -> list:
    tables = [table("connections", lines), table("runs", "from|to|side\n" + runs)]
    if record:
        tables.append(table("record", "connection|side|act|when|mated to\n" + record))
    return list(broken_route(assembly_of(*tables)))


@pytest.mark.parametrize(
    ("runs", "expected"),
    [
        pytest.param("b|W1|both\nd|W2|both", [], id="whole"),
        pytest.param("b|x|both\nx|W1|both\nd|W2|both", [], id="whole-by-two-runs"),
        pytest.param("b|W1|both", [("L/R", ("H2", "H5"))], id="a-run-is-missing"),
        pytest.param("b|W1|both\nd|W2|L", [("R", ("H2", "H5"))], id="missing-on-one-side"),
        pytest.param("b|W1|both\nd|X2|both", [("L/R", ("H2", "H5"))], id="a-wrong-port"),
        pytest.param("b|W2|both\nd|W1|both", [], id="crossed-runs-are-joined-routes"),
        pytest.param("b|W2|both", [], id="a-wrong-run-is-joined-routes"),
    ],
)
def test_services_in_the_lists(runs, expected):
    found = found_in(runs)
    assert [("/".join(each.sides), each.connections) for each in found] == expected
    assert all(each.severity is Severity.HOLD for each in found)


def test_what_is_in_pieces_is_said_with_its_cells():
    (found,) = found_in("b|W1|both\nd|X2|both")
    assert found.message.startswith(
        '"brake return" is in pieces: no run joins "H2" (outer) with "H5" (tip)'
    )
    assert '"X2"' in found.message
    assert cells(found) == ["connections.xlsx!E3", "connections.xlsx!E5", "runs.xlsx!B3"]


def test_whole_lines_side_by_side_are_not_broken():
    lines = HEADINGS + (
        "U1|a|L|cable|elevator|A1|b1\nD1|a|L|cable|elevator|A2|b2\n"
        "U2|b|L|cable|elevator|c1|d1\nD2|b|L|cable|elevator|c2|d2"
    )
    assert found_in("b1|c1|L\nb2|c2|L", lines=lines) == []
    (found,) = found_in("b1|c1|L", lines=lines)
    assert set(found.connections) == {"U1", "U2", "D1", "D2"}


@pytest.mark.parametrize(
    "lines",
    [
        pytest.param(HEADINGS + "H1|a|L|line|fuel|A|b\nH2|a|L|line|fuel|C|d", id="one-joint"),
        pytest.param(HEADINGS + "H1|a|L|line|fuel|A|b\nH2|b|R|line|fuel|C|d", id="two-sides"),
        pytest.param(HEADINGS + "H1|a|L|bolt|skin||\nH2|b|L|bolt|skin||", id="no-ports"),
        pytest.param(HEADINGS + "H1|a|L|line|fuel|A|b\nH2|b|L|line|fuel|C|", id="one-ended"),
        pytest.param(
            HEADINGS + "H1|a|L|line|fuel|A|b\nH2|b|L|line|fuel|C|d\nH3|b|L|line|oil|C|e",
            id="port-taken-twice",
        ),
    ],
)
def test_nothing_to_join_or_told_elsewhere(lines):
    assert found_in("p|q|C", lines=lines) == []


def test_a_service_in_dispute_is_in_no_pieces():
    other = table(
        "connections", "connection|joint|side|type|service\nH5|tip|both|line|oil", file="2"
    )
    tables = [table("connections", LINES), table("runs", "from|to|side\nb|W1|both")]
    assert list(broken_route(assembly_of(*tables)))
    assert not list(broken_route(assembly_of(*tables, other)))


def test_it_needs_the_runs():
    assert CHECK.needs is ListKind.RUNS


RUNS = "b|W1|both\nd|W2|both\nA|x|both"
ALL_MADE = "H2|L|made|2026-03-04|\nH4|L|made|2026-03-04|\nH5|L|made|2026-03-04|\n"


def test_open_as_made():
    (found,) = found_in(RUNS, ALL_MADE + "H1|L|made|2026-03-04|x")
    assert found.message == (
        'the route of "brake pressure" through "H1" is open, though every connection of it is '
        'made: "H1" is mated to "x", not to "b"'
    )
    assert cells(found) == ["record.xlsx!E5", "connections.xlsx!G2"]


@pytest.mark.parametrize(
    "record",
    [
        pytest.param(ALL_MADE, id="one-is-not-made-yet"),
        pytest.param(ALL_MADE + "H1|L|made|2026-03-04|b", id="as-listed"),
        pytest.param(ALL_MADE + "H1|L|made|2026-03-04|t2", id="joined-to-another-route"),
        pytest.param("H1|L|made|2026-03-04|x", id="route-not-made-throughout"),
    ],
)
def test_not_open_as_made(record):
    assert found_in(RUNS, record) == []
