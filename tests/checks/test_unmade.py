"""Connections that are not made."""

import pytest

from joinmatrix.checks.unmade import CHECK, unmade
from joinmatrix.findings import Severity
from tests.builders import assembly_of, cells, table

LIST = "connection|joint|side|type|place|timing|inspect|closed by\n"
STAGES = "stage|side\ngear down|\nwing mate|both"
RECORD = "when|act|stage|connection|side\n"
OTHER = "2026-03-01|made||K|L"
STARTED = "2026-03-05|started|gear down||"


def found_in(row, *acts, as_of=None):
    """Findings on the connection H of the first row, with K made, so that it is no bare plan."""
    tables = [
        table("connections", LIST + row + "\nK|fin|L|line||||"),
        table("stages", STAGES),
        table("record", RECORD + "\n".join([OTHER, *acts])),
    ]
    return list(unmade(assembly_of(*tables, **({"as_of": as_of} if as_of else {}))))


HOLD, OPEN = Severity.HOLD, Severity.OPEN


@pytest.mark.parametrize(
    ("row", "acts", "expected"),
    [
        pytest.param("H|fin|L|line||||", ["2026-03-02|made||H|L"], None, id="made"),
        pytest.param("H|fin|L|line||||", [], OPEN, id="not-made"),
        pytest.param("H|fin|L|line||||", ["2026-03-02|placed||H|L"], OPEN, id="placed-only"),
        pytest.param("H|fin|L|line||before gear down||", [], OPEN, id="its-time-has-not-passed"),
        pytest.param("H|fin|L|line||before gear down||", [STARTED], HOLD, id="its-time-has-passed"),
        pytest.param("H|fin|L|line||||gear down", [STARTED], HOLD, id="closed"),
        pytest.param("H|fin|L|line|before gear down|||", [STARTED], HOLD, id="not-placed-in-time"),
        pytest.param(
            "H|fin|L|line|before gear down|||",
            [STARTED, "2026-03-02|placed||H|L"],
            OPEN,
            id="placed-in-time",
        ),
        pytest.param("H|fin|L|line||after gear down||", [STARTED], OPEN, id="waits"),
        pytest.param(
            "H|fin|R|line||before wing mate||",
            ["2026-03-05|started|wing mate||L"],
            OPEN,
            id="the-other-side-has-started",
        ),
        pytest.param(
            "H|fin|C|line||before wing mate||",
            ["2026-03-05|started|wing mate||L"],
            HOLD,
            id="one-side-has-started-on-a-centre-row",
        ),
        pytest.param(
            "H|fin|L|line||before gear down||",
            ["2026-03-05|done|gear down||"],
            HOLD,
            id="only-its-end-is-recorded",
        ),
        pytest.param(
            "H|fin|L|line||during gear down||",
            [STARTED, "2026-03-06|done|gear down||"],
            HOLD,
            id="during-is-over",
        ),
        pytest.param("H|fin|L|line||during gear down||", [STARTED], OPEN, id="during-goes-on"),
        pytest.param("H|fin|L|line||before K||", [], HOLD, id="what-it-had-to-precede-is-made"),
        pytest.param(
            "H|fin|L|line||||",
            ["2026-03-02|made||H|L", "2026-03-03|opened||H|L"],
            OPEN,
            id="opened",
        ),
        pytest.param(
            "H|fin|L|line||||gear down",
            ["2026-03-02|made||H|L", "2026-03-03|opened||H|L", STARTED],
            HOLD,
            id="opened-and-closed-over",
        ),
        pytest.param("H|fin|L|line||||", ["2026-03-02|inspected||H|L"], HOLD, id="inspected-only"),
        pytest.param("H|fin|L|line||before gaer down||", [STARTED], OPEN, id="unreadable-rule"),
    ],
)
def test_unmade(row, acts, expected):
    found = found_in(row, *acts)
    assert [finding.severity for finding in found] == ([expected] if expected else [])
    assert all(finding.connections == ("H",) for finding in found)


@pytest.mark.parametrize(
    ("as_of", "expected"),
    [
        pytest.param("2026-03-05 11:00", OPEN, id="in-time"),
        pytest.param("2026-03-05 12:00", OPEN, id="to-the-minute"),
        pytest.param("2026-03-05 12:01", HOLD, id="run-out"),
        pytest.param(None, OPEN, id="as-of-the-latest-entry"),
    ],
)
def test_a_time_that_runs_out(as_of, expected):
    row, act = "H|fin|L|line||within 2 h of gear down||", "2026-03-05 10:00|done|gear down||"
    (finding,) = found_in(row, act, as_of=as_of)
    assert finding.severity is expected


def test_cells_and_words():
    row = "H|fin|L|line||before gear down||"
    (finding,) = found_in(row, STARTED)
    assert cells(finding) == ["connections.xlsx!A2", "connections.xlsx!F2", "record.xlsx!B3"]
    assert finding.sides == ("L",)
    assert finding.joint == "fin"
    assert finding.stages == ("gear down",)
    assert finding.message == (
        '"H" is not made; it had to be made before "gear down" starts (its timing says "before '
        'gear down"), and "gear down" was started on 2026-03-05'
    )


def test_each_side_is_work_of_its_own():
    found = found_in("H|fin|both|line||||")
    assert [finding.sides for finding in found] == [("L",), ("R",)]


def test_a_bare_plan_has_nothing_unmade():
    assembly = assembly_of(table("connections", LIST + "H|fin|L|line||||"))
    assert assembly.plan_only
    assert CHECK.acts  # so it is not run
