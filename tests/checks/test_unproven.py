"""Orders that the record does not show."""

import pytest

from joinmatrix.checks.unproven import unproven
from joinmatrix.findings import Severity
from tests.builders import assembly_of, cells, table

LIST = "connection|joint|side|type|place|timing|inspect|closed by|made on\n"
STAGES = "stage|side\ngear down|\nwing mate|both"
RECORD = "when|act|stage|connection|side|seq\n"


def found_in(rows, acts):
    tables = [table("connections", LIST + "\n".join(rows)), table("stages", STAGES)]
    if acts:
        tables.append(table("record", RECORD + "\n".join(acts)))
    return list(unproven(assembly_of(*tables)))


DONE = "2026-03-04|done|gear down|||"


@pytest.mark.parametrize(
    ("rule", "acts", "count"),
    [
        pytest.param("after gear down", [DONE, "2026-03-05|made||H|L"], 0, id="shown"),
        pytest.param("after gear down", [DONE, "2026-03-03|made||H|L"], 0, id="broken"),
        pytest.param("after gear down", [DONE, "2026-03-04|made||H|L"], 1, id="one-date"),
        pytest.param("after gear down", [DONE + "1", "2026-03-04|made||H|L|2"], 0, id="seq"),
        pytest.param("after gear down", [DONE, "2026-03-04 10:00|made||H|L"], 1, id="one-time"),
        pytest.param("after gear down", [DONE, "|made||H|L"], 1, id="no-date"),
        pytest.param("before gear down", ["2026-03-05|made||H|L"], 0, id="not-begun"),
        pytest.param("before gear down", [DONE, "2026-03-03|made||H|L"], 1, id="no-start"),
        pytest.param("before gear down", [DONE, "2026-03-05|made||H|L"], 0, id="broken-anyway"),
        pytest.param("at least 24 h after gear down", [DONE, "2026-03-05|made||H|L"], 1, id="lag"),
        pytest.param("any time", ["2026-03-04|made||H|L", "2026-03-04|inspected||H|L"], 0, id="no"),
    ],
)
def test_unproven(rule, acts, count):
    found = found_in([f"H|fin|L|line||{rule}|||"], acts)
    assert len(found) == count
    assert all(finding.severity is Severity.NOTE for finding in found)


def test_a_placing_that_nobody_recorded():
    row = "H|fin|L|line|before gear down||||"
    acts = ["2026-03-04|started|gear down|||", "2026-03-06|made||H|L"]
    (finding,) = found_in([row], acts)
    assert "its placing is not recorded" in finding.message
    assert found_in([row], [acts[0], "2026-03-03|made||H|L"]) == []


def test_a_start_that_is_missing_is_one_cause():
    rows = [f"H-{number}|fin|L|line||||gear down|2026-03-01" for number in range(5)]
    (finding,) = found_in(rows, [DONE])
    assert len(finding.connections) == 5
    assert cells(finding)[:2] == ["record.xlsx!B2", "connections.xlsx!H2"]


STARTS = "stage|side|after\ngear down||\nwing mate|both|gear down\ntail mate||wing mate"


def found_with_stages(rows, acts):
    tables = [
        table("connections", LIST + "\n".join(rows)),
        table("stages", STARTS),
        table("record", RECORD + "\n".join(acts)),
    ]
    return list(unproven(assembly_of(*tables)))


def test_a_start_that_is_missing_is_one_cause_over_joints_sides_and_stages():
    rows = [
        "H|fin|L|line||before tail mate|||2026-03-05",
        "K|hull|R|line||||tail mate|",
        "M|hull|R|line|before tail mate|||tail mate|2026-03-05",
    ]
    acts = [
        "2026-03-01|started|gear down", "2026-03-02|done|gear down",
        "2026-03-03|started|wing mate||both", "2026-03-04|done|wing mate||both",
        "2026-03-06|done|tail mate",
    ]  # fmt: skip
    (finding,) = found_with_stages(rows, acts)
    assert (finding.connections, finding.joint) == (("H", "M"), "")
    assert (finding.sides, finding.stages) == (("L", "R"), ("tail mate", "wing mate"))
    assert cells(finding) == [
        "record.xlsx!B6", "connections.xlsx!F2", "connections.xlsx!E4", "connections.xlsx!H4",
        "stages.xlsx!C4", "record.xlsx!B5",
    ]  # fmt: skip
    assert finding.message == (
        'the record has the end of "tail mate" and not its start, so nothing shows that "H", "M" '
        'and "wing mate" were done in order with it'
    )
    assert finding.clears == 'record when "tail mate" was started'


def test_a_start_that_is_missing_on_each_side_is_told_for_each():
    rows = ["H|fin|both|line||before wing mate|||2026-03-01"]
    acts = ["2026-03-05|done|wing mate||L", "2026-03-06|done|wing mate||R"]
    found = [each for each in found_in(rows, acts) if each.stages]
    assert [each.sides for each in found] == [("L",), ("R",)]


def test_a_start_without_a_date_has_a_noun():
    acts = [
        "2026-03-01|started|gear down", "2026-03-02|done|gear down",
        "|started|wing mate||L", "2026-03-04|done|wing mate||L",
    ]  # fmt: skip
    (finding,) = found_with_stages(["H|fin|L|line|||||"], acts)
    assert "its start has no date" in finding.message


def test_ticks_without_a_record_are_one_cause():
    rows = [f"H-{number}|fin|L|line||after gear down|||2026-03-01" for number in range(5)]
    (finding,) = found_in(rows, [])
    assert len(finding.connections) == 5
    assert finding.stages == ("gear down",)


def test_one_tick_stands_for_several_sides():
    rows = ["H|fin|both|line|||||2026-03-01", "K|fin|L|line|||||2026-03-01"]
    (finding,) = found_in(rows, [])
    assert (finding.connections, finding.sides) == (("H",), ("L", "R"))
    assert cells(finding) == ["connections.xlsx!I2"]


def test_cells_and_words():
    (finding,) = found_in(
        ["H|fin|L|line||after gear down|||"], [DONE, "2026-03-04 10:00|made||H|L"]
    )
    assert cells(finding) == ["record.xlsx!B3", "connections.xlsx!F2", "record.xlsx!B2"]
    assert finding.message == (
        'the record does not show that "H" was made after "gear down" is done: "H" is recorded on '
        '2026-03-04 10:00 and "gear down" on 2026-03-04; its timing says "after gear down"'
    )


@pytest.mark.parametrize(
    ("acts", "as_of", "count"),
    [
        pytest.param(["2026-03-05|made||H|L"], None, 0, id="as-of-the-latest-entry"),
        pytest.param(["2026-03-05|made||H|L"], "2026-03-06", 0, id="behind"),
        pytest.param(["2027-03-05|made||H|L"], "2026-03-06", 1, id="ahead"),
        pytest.param(["2027-03-05|done|wing mate||both"], "2026-03-06", 1, id="a-stage"),
        pytest.param(["2027-03-05|made||X|L"], "2026-03-06", 0, id="unlisted-is-another-kind"),
        pytest.param(["2026-03-01|made||H|L|2", "2026-03-02|made||K|L|1"], None, 1, id="first"),
        pytest.param(["2026-03-02|made||H|L|2", "2026-03-02|made||K|L|1"], None, 0, id="one-day"),
    ],
)
def test_dates_that_cannot_be(acts, as_of, count):
    rows = "H|fin|L|line|||||\nK|fin|L|line|||||"
    tables = [
        table("connections", LIST + rows),
        table("stages", STAGES),
        table("record", RECORD + "\n".join(acts)),
    ]
    found = list(unproven(assembly_of(*tables, **({"as_of": as_of} if as_of else {}))))
    assert len(found) == count
    assert all(cells(finding)[0] == "record.xlsx!A2" for finding in found)
