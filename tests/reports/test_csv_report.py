import csv
import io

import pytest

from joinmatrix.findings import Finding, Kind, Severity
from joinmatrix.reports.csv_report import inert, to_csv
from joinmatrix.reports.view import View
from tests.reports.scene import report_on, wing_report


def test_report(golden):
    golden("check.csv", to_csv(wing_report()))


@pytest.mark.parametrize(
    ("text", "written"),
    [
        pytest.param("H-01", "H-01", id="plain"),
        pytest.param("", "", id="blank"),
        pytest.param('=HYPERLINK("x")', '\'=HYPERLINK("x")', id="equals"),
        pytest.param("+1", "'+1", id="plus"),
        pytest.param("-6", "'-6", id="minus"),
        pytest.param("@SUM(A1)", "'@SUM(A1)", id="at"),
        pytest.param("\t=1", "'\t=1", id="tab"),
        pytest.param("\r=1", "'\r=1", id="return"),
    ],
)
def test_inert(text, written):
    assert inert(text) == written


def test_no_cell_is_run_by_a_spreadsheet():
    finding = Finding(
        Kind.CONFLICT, Severity.HOLD, "=cmd|'/C x'!A1", "@clears\nline", (), joint="-joint",
        connections=("+A", "=B"), items=('"quoted", and more',),
    )  # fmt: skip
    text = to_csv(report_on(wing_report().assembly, (finding,)))
    _, row = csv.reader(io.StringIO(text))
    assert row[2] == "'-joint"
    assert row[4] == "'+A, =B"
    assert row[6] == '"quoted", and more'
    assert row[7] == "'=cmd|'/C x'!A1"
    assert row[8] == "'@clears\nline"


@pytest.mark.parametrize(
    ("text", "written"),
    [
        pytest.param("\x1b[31mred\x00", "<U+001B>[31mred<U+0000>", id="control"),
        pytest.param("K\u202e-1", "K<U+202E>-1", id="direction-override"),
        pytest.param("a\x9bb\rc", "a<U+009B>b<U+000D>c", id="terminal-of-one-byte"),
        pytest.param("\u200b=1+1", "<U+200B>=1+1", id="invisible"),
        pytest.param(
            "Rohr Ø 20\u00a0mm, 日本 🛩\nb\tc", "Rohr Ø 20\u00a0mm, 日本 🛩\nb\tc", id="plain"
        ),
    ],
)
def test_nothing_acts_on_a_terminal(text, written):
    finding = Finding(Kind.CONFLICT, Severity.HOLD, text, "", (), joint=text, connections=(text,))
    _, row = csv.reader(io.StringIO(to_csv(report_on(wing_report().assembly, (finding,)))))
    assert (row[2], row[4], row[7]) == (written, written, written)


def test_narrowed_leaves_out():
    rows = list(csv.reader(io.StringIO(to_csv(wing_report(), View(kinds=(Kind.UNMADE,))))))
    assert [row[0] for row in rows] == ["kind", "unmade", "unmade"]
