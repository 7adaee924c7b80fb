"""Persons who did what they may not do."""

import pytest

from joinmatrix.checks.not_authorised import not_authorised
from joinmatrix.findings import Kind, Severity
from tests.builders import assembly_of, cells, report_of, table

LIST = table("connections", "connection|joint|side|type\nH-1|fin|L|line\nH-2|fin|L|line")
RECORD = "when|connection|side|act|by\n"
PEOPLE = "person|may|until\n"


def found(record, people):
    return list(
        not_authorised(
            assembly_of(LIST, table("record", RECORD + record), table("people", PEOPLE + people))
        )
    )


@pytest.mark.parametrize(
    ("record", "people", "severity"),
    [
        pytest.param("2026-03-04|H-1|L|made|a", "a|make|", None, id="may"),
        pytest.param("2026-03-04|H-1|L|placed|a", "a|make|", None, id="placing-is-making"),
        pytest.param("2026-03-04|H-1|L|opened|a", "a|make|", None, id="opening-is-making"),
        pytest.param("2026-03-04|H-1|L|made|a", "a|make|2026-03-04", None, id="on-the-last-day"),
        pytest.param("2026-03-04T23:59|H-1|L|made|a", "a|make|2026-03-04", None, id="last-minute"),
        pytest.param("2026-03-04|H-1|L|made|a", "a|make, inspect|", None, id="both"),
        pytest.param("2026-03-04|H-1|L|made|a", "a|inspect|\na|make|", None, id="in-another-row"),
        pytest.param(
            "2026-03-04|H-1|L|made|a", "a|make|2026-01-01\na|make|2027-01-01", None, id="renewed"
        ),
        pytest.param("2026-03-04|H-1|L|made|b", "a|make|", None, id="unlisted-instead"),
        pytest.param("2026-03-04|H-1|L|made|", "a|make|", None, id="nobody-signed"),
        pytest.param("2026-03-04|H-1|L|made|a", "a|inspect|", Severity.HOLD, id="may-not"),
        pytest.param("2026-03-04|H-1|L|measured|a", "a|make|", None, id="measured-not-made"),
        pytest.param("2026-03-04|H-1|L|opened|a", "a|inspect|", Severity.HOLD, id="opened"),
        pytest.param(
            "2026-03-05|H-1|L|made|a", "a|make|2026-03-04", Severity.HOLD, id="a-day-late"
        ),
        pytest.param("|H-1|L|made|a", "a|make|2026-03-04", Severity.NOTE, id="day-unknown"),
    ],
)
def test_not_authorised(record, people, severity):
    findings = found(record, people)
    assert [each.severity for each in findings] == ([severity] if severity else [])
    for each in findings:
        assert cells(each)[0] == "record.xlsx!E2"
        assert cells(each)[1].startswith("people.xlsx!")
        assert (each.joint, each.sides, each.connections) == ("fin", ("L",), ("H-1",))
        assert each.items == ("a",)


def test_inspecting_needs_its_own_authority():
    (finding,) = found("2026-03-04|H-1|L|made|a\n2026-03-05|H-1|L|inspected|a", "a|make|")
    assert finding.message == '"a" may make, not inspect, and inspected "H-1" on 2026-03-05'
    assert cells(finding) == ["record.xlsx!E3", "people.xlsx!B2"]


def test_measuring_since_the_making_is_looked_at():
    (finding,) = found(
        "2026-03-04|H-1|L|made|a\n2026-03-05|H-1|L|measured|b", "a|make|\nb|inspect|"
    )
    assert finding.items == ("b",)


def test_one_finding_for_all_that_a_person_did_without_authority():
    (finding,) = found(
        "2026-03-05|H-1|L|placed|a\n2026-03-06|H-1|L|made|a\n2026-03-06|H-2|L|made|a",
        "a|make|2026-03-04",
    )
    assert finding.connections == ("H-1", "H-2")
    assert finding.message == (
        '"a" may make until 2026-03-04, and placed and made "H-1" and "H-2" from 2026-03-05 on'
    )


def test_what_was_undone_since_is_not_looked_at():
    findings = found(
        "2026-03-04|H-1|L|made|a\n2026-03-05|H-1|L|opened|b\n2026-03-06|H-1|L|made|b",
        "a|inspect|\nb|make|",
    )
    assert findings == []


def test_without_a_people_list_it_says_that_it_did_not_run():
    report = report_of(LIST, table("record", RECORD + "2026-03-04|H-1|L|made|a"))
    off = [each.why for each in report.not_run if Kind.NOT_AUTHORISED in each.kinds]
    assert off == ["no people list was given"]
