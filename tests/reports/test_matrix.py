import pytest

from joinmatrix.findings import Finding, Kind, Severity
from joinmatrix.reports.matrix import blocks, numbered, sheets, touches
from tests.builders import assembly_of, table
from tests.reports.scene import report_on, wing_report


def rows_of(text, findings=()):
    """The rows of the first joint as "A L, A R" with their block's sides in front."""
    report = report_on(assembly_of(table("connections", text)), findings)
    touched = touches(numbered(findings), report)
    (sheet,) = sheets(report)
    return [
        "/".join(block.sides) + ": " + ", ".join(map(str, row.connections))
        for block in blocks(sheet, report, touched)
        for row in block.rows
    ]


HEAD = "connection | joint | side | type | service\n"


@pytest.mark.parametrize(
    ("text", "rows"),
    [
        pytest.param("A | j | R | bolt\nA | j | L | bolt", ["L/R: A L, A R"], id="one-id"),
        pytest.param("A | j | both | bolt", ["L/R: A L, A R"], id="both"),
        pytest.param("A | j | L | bolt", ["L/R: A L"], id="one-side-only"),
        pytest.param(
            "A | j | L | bolt\nB | j | C | bolt\nC | j | R | oxygen line",
            ["L/R: A L", "L/R: C R", "C: B C"],
            id="centre-line-stands-apart",
        ),
    ],
)
def test_rows_pair_the_same_id(text, rows):
    assert rows_of(HEAD + text) == rows


def test_rows_pair_what_belongs_together():
    text = HEAD + "A-L | j | L | bolt\nB | j | both | bolt\nA-R | j | R | bolt"
    assert rows_of(text) == [
        "L/R: A-L L, A-R R",
        "L/R: B L, B R",
    ]


def finding(severity, *connections, sides=()):
    return Finding(Kind.ASYMMETRIC, severity, "m", "c", (), sides=sides, connections=connections)


def test_findings_are_numbered_by_severity():
    several = [finding(severity) for severity in (*Severity, *Severity)]
    assert [each.label for each in numbered(several)] == ["H1", "O1", "N1", "H2", "O2", "N2"]


def test_touches_the_sides_of_a_finding_worst_first():
    report = wing_report()
    several = numbered(
        [
            finding(Severity.NOTE, "H-01", sides=("L", "R")),
            finding(Severity.HOLD, "h-01", sides=("R",)),
            finding(Severity.OPEN, "B-01"),
            finding(Severity.HOLD, "no such", sides=("L",)),
        ]
    )
    touched = touches(several, report)
    assert {
        f"{key.name} {key.side}": [each.label for each in found] for key, found in touched.items()
    } == {"h-01 L": ["N1"], "h-01 R": ["H1", "N1"], "b-01 C": ["O1"], "no such L": ["H2"]}


def test_row_tells_what_differs_by_side():
    report = wing_report()
    sheet = next(sheets(report))
    row = next(
        row for block in blocks(sheet, report, {}) for row in block.rows if row.ids == ("C-01",)
    )
    assert row.texts("service") == {"": "aileron up"}
    assert set(row.texts("timing")) == {"L", "R"}
    assert row.texts("limits") == {}
    assert row.missing == ()
