"""Services and routes that are joined."""

import pytest

from joinmatrix.checks.joined_routes import joined_routes
from joinmatrix.findings import Severity
from tests.builders import assembly_of, cells, table

LINES = """connection|joint|side|type|service|from|to
H1|outer|both|line|brake pressure|A|b
H2|outer|both|line|brake return|C|d
H3|outer|both|line||E|f
H4|tip|both|line|Brake Pressure|W1|t1
H5|tip|both|line|brake return|W2|t2"""
RUNS = "from|to|side|service\n"


def found_in(runs: str, record: str = "", lines: str = LINES) -> list:
    tables = [table("connections", lines)]
    if runs:
        tables.append(table("runs", RUNS + runs))
    if record:
        tables.append(table("record", "connection|side|act|when|mated to\n" + record))
    return list(joined_routes(assembly_of(*tables)))


@pytest.mark.parametrize(
    ("runs", "expected"),
    [
        pytest.param("", [], id="no-runs"),
        pytest.param("b|W1|both\nd|W2|both", [], id="right-runs"),
        pytest.param("b|W1|both|brake pressure", [], id="run-of-the-same-service"),
        pytest.param("b|f|both", [], id="with-a-line-of-no-service"),
        pytest.param("b|W2|L", [("L", ["A2", "B2", "E2", "E6"])], id="wrong-run"),
        pytest.param("b|W2|both", [("L/R", ["A2", "B2", "E2", "E6"])], id="wrong-run-both-sides"),
        pytest.param(
            "b|f|L\nE|W2|L",
            [("L", ["A2", "B2", "A3", "B3", "F4", "G4", "E2", "E6"])],
            id="through-a-line-of-no-service",
        ),
        pytest.param("b|W1|L|fuel", [("L", ["A2", "B2", "E2", "D2"])], id="run-of-another-service"),
        pytest.param(
            "b|W2|L\nd|W1|L",
            [("L", ["A2", "B2", "E2", "E6", "A3", "B3", "E3", "E5"])],
            id="crossed-runs-are-one-case",
        ),
    ],
)
def test_services_in_the_lists(runs, expected):
    found = found_in(runs)
    assert [("/".join(each.sides), [place.cell for place in each.places]) for each in found] == (
        expected
    )
    assert all(each.severity is Severity.HOLD for each in found)


def test_the_run_where_they_meet_is_named():
    (found,) = found_in("b|W2|L")
    assert found.message == (
        '"brake pressure" and "brake return" are joined in the lists: the run "b" to "W2" leads '
        'from "H1" to "H5"'
    )
    assert found.connections == ("H1", "H5")


def test_two_runs_that_meet_name_the_connections_beside_them():
    lines = "connection|joint|side|type|from|to\nH1|fin|C|plug|A|b\nH2|fin|C|plug|C|d"
    (found,) = found_in("b|unit|C|antenna\nd|unit|C|lamp", lines=lines)
    assert '"antenna" and "lamp" are joined in the lists: the run "b" to "unit"' in found.message
    assert (found.joint, found.connections) == ("fin", ("H1", "H2"))
    assert [place.cell for place in found.places] == ["A2", "B2", "A3", "B3", "D2", "D3"]


@pytest.mark.parametrize(
    ("one", "other", "joined"),
    [
        pytest.param("brake", "brake left", False, id="one-names-the-side"),
        pytest.param("brake left", "brake right", True, id="left-and-right"),
        pytest.param("brake left", "LH brake", False, id="other-words-for-the-side"),
        pytest.param("system 1", "system 2", True, id="numbers"),
    ],
)
def test_services_that_name_a_side(one, other, joined):
    lines = LINES.splitlines()[0] + f"\nH1|a|C|line|{one}|A|b\nH2|b|C|line|{other}|c|d"
    assert bool(found_in("b|c|C", lines=lines)) is joined


def test_a_port_taken_twice_is_no_second_finding():
    assert found_in("", lines=LINES.replace("|C|d", "|C|b")) == []


def test_a_connection_in_dispute_joins_nothing():
    lines = "connection|joint|side|type|service|from|to\nH1|outer|both|line|brake pressure|A|W2"
    assembly = assembly_of(table("connections", LINES), table("connections", lines, file="two"))
    assert list(joined_routes(assembly)) == []


def test_a_service_in_dispute_meets_none():
    lines = "connection|joint|side|type|service\nH1|outer|both|line|air"
    tables = [table("connections", LINES), table("runs", RUNS + "b|W1|both\nd|W2|both")]
    assert not list(joined_routes(assembly_of(*tables)))
    assert not list(joined_routes(assembly_of(*tables, table("connections", lines, file="two"))))


def test_a_list_that_gives_a_port_twice_is_not_also_joined():
    lines = LINES.replace("|C|d", "|C|b")
    record = "H1|L|made|2026-03-04|b\nH2|L|made|2026-03-04|{}"
    assert found_in("d|W2|both", record.format("d"), lines=lines) == []
    assert found_in("d|W2|both", record.format("W1"), lines=lines) != []


def test_routes_joined_as_made():
    (found,) = found_in("b|W1|both\nd|W2|both", "H1|L|made|2026-03-04|d")
    assert found.message == (
        'the route of "brake pressure" through "H1" and the route of "brake return" through "H2" '
        'are joined as made: "H1" is mated to "d", not to "b"'
    )
    assert cells(found) == ["record.xlsx!E2", "connections.xlsx!G2"]
    assert (found.joint, found.sides, found.connections) == ("outer", ("L",), ("H1",))


@pytest.mark.parametrize(
    "record",
    [
        pytest.param("H1|L|made|2026-03-04|\nH2|L|made|2026-03-04|d", id="as-listed"),
        pytest.param("H1|L|made|2026-03-04|d\nH2|L|made|2026-03-04|b", id="a-swap-is-crossed"),
        pytest.param(
            "H1|L|made|2026-03-04|d\nH2|L|made|2026-03-04|", id="taken-twice-is-duplicate"
        ),
    ],
)
def test_what_another_check_tells(record):
    assert found_in("b|W1|both\nd|W2|both", record) == []
