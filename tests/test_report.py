"""The tables of a report for notebooks."""

from joinmatrix.report import CONNECTION_COLUMNS, FINDING_COLUMNS
from tests.builders import report_of, table

LINES = table(
    "connections",
    """connection|joint|side|type|service|from|to
A|fin|both|control rod|trim|P|Q
B|fin|L|line||R|S""",
)
RECORD = table(
    "record",
    """when|connection|side|act|by
2031-01-01T10:30|A|L|made|Ann
2031-01-02|A|L|inspected|Bob
|A|R|made|Ann""",
)


def test_connections():
    frame = report_of(LINES, RECORD).connections_frame()
    assert tuple(frame.columns) == CONNECTION_COLUMNS
    assert list(zip(frame["connection"], frame["side"], frame["state"], strict=True)) == [
        ("A", "L", "inspected"),
        ("A", "R", "made"),
        ("B", "L", "listed"),
    ]
    assert list(frame["made"]) == ["2031-01-01 10:30", "undated", ""]
    assert list(frame["inspected by"]) == ["Bob", "", ""]
    assert list(frame["critical"]) == [True, True, False]
    assert list(frame["row"]) == [2, 2, 3]


def test_findings():
    report = report_of(LINES, RECORD)
    frame = report.findings_frame()
    assert tuple(frame.columns) == FINDING_COLUMNS
    assert list(frame["kind"]) == [each.kind for each in report.findings]
    alone = frame[frame["kind"] == "asymmetric"].iloc[0]
    assert (alone["connections"], alone["sides"]) == (("B",), ("L",))
    assert (alone["file"], alone["cell"]) == ("connections.xlsx", "A3")
    assert alone["cells"] == ("connections.xlsx: Sheet!A3",)


def test_nothing_found_is_an_empty_table():
    lines = table("connections", "connection|joint|side|type\nA|j|both|bolt")
    frame = report_of(lines).findings_frame()
    assert len(frame) == 0
    assert tuple(frame.columns) == FINDING_COLUMNS
