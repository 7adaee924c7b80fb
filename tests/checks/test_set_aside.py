"""A row that could not be used is one finding: nothing more is said of who names it."""

import pytest

from tests.builders import cells, report_of, table

LINES = "connection|joint|side|type|timing|from|to\n"
STAGES = "stage|side|timing\nmate|both|\nrig||after mate"
RECORD = "when|connection|stage|side|act|by\n"


@pytest.mark.parametrize(
    ("lines", "stages", "record", "cell"),
    [
        pytest.param(
            "H-1|fin|C|line|after mate\nH-2|fin|C|line|before mate L",
            STAGES.replace("both", "Q"),
            "2031-03-04||mate|L|done|AB",
            "stages.xlsx!B2",
            id="stage-that-rules-and-record-name",
        ),
        pytest.param(
            "H-1|fin|Q|line\nH-2|fin|C|line|after H-1",
            STAGES,
            "2031-03-04|H-1||L|made|AB",
            "connections.xlsx!C2",
            id="connection-that-a-rule-and-the-record-name",
        ),
        pytest.param(
            "H-1|fin|L|line\nH-1|fin|Q|line", STAGES, "", "connections.xlsx!C3", id="counterpart"
        ),
        pytest.param(
            "H-1-LH|fin|L|line\nH-1-RH|fin|Q|line",
            STAGES,
            "",
            "connections.xlsx!C3",
            id="counterpart-by-side-word",
        ),
        pytest.param(
            "H-1|fin|C|line||A1|\nH-1|fin|Q|line|||B1",
            STAGES,
            "",
            "connections.xlsx!C3",
            id="other-half",
        ),
    ],
)
def test_one_finding(lines, stages, record, cell):
    report = report_of(
        table("connections", LINES + lines),
        table("stages", stages),
        table("record", RECORD + record),
    )
    holds = [each for each in report.findings if each.severity == "hold"]
    assert [(each.kind, cells(each)[0]) for each in holds] == [("unreadable", cell)]


def test_a_person_whose_rights_cannot_be_read():
    report = report_of(
        table("connections", LINES + "H-1|fin|C|line"),
        table("record", RECORD + "2031-03-04|H-1||C|made|AB"),
        table("people", "person|may\nAB|fly"),
    )
    holds = [each for each in report.findings if each.severity == "hold"]
    assert [(each.kind, cells(each)) for each in holds] == [("unreadable", ["people.xlsx!B2"])]
