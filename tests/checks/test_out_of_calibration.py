"""Tools past their date, and readings outside their range."""

import pytest

from joinmatrix.checks.out_of_calibration import out_of_calibration
from joinmatrix.findings import Kind, Severity
from tests.builders import assembly_of, cells, report_of, table

LIST = table("connections", "connection|joint|side|type\nH-1|fin|L|line\nH-2|fin|L|line")
RECORD = "when|connection|side|act|measure|value|unit|tool|extension|wrench length\n"
TOOLS = "tool|calibrated until|low|high|unit\n"
MADE = "2026-03-04|H-1|L|made|torque|{value}|{unit}|TW-3||"


def found(record, tools):
    return list(
        out_of_calibration(
            assembly_of(LIST, table("record", RECORD + record), table("tools", TOOLS + tools))
        )
    )


@pytest.mark.parametrize(
    ("reading", "tools", "severity"),
    [
        pytest.param("142|in-lbf", "TW-3|2026-12-31|30|150|in-lbf", None, id="in-date-and-range"),
        pytest.param("142|in-lbf", "tw-3|2026-03-04|30|150|in-lbf", None, id="on-the-last-day"),
        pytest.param("150|in-lbf", "TW-3|2026-12-31|30|150|in-lbf", None, id="at-the-end"),
        pytest.param("16|N·m", "TW-3|2026-12-31|30|150|in-lbf", None, id="other-unit"),
        pytest.param("160|in-lbf", "TW-3|2026-12-31||||", None, id="no-range"),
        pytest.param("160|in-lbf", "TW-3|2026-12-31|30||in-lbf", None, id="open-range"),
        pytest.param("3|mm", "TW-3|2026-12-31|30|150|in-lbf", None, id="another-quantity"),
        pytest.param("ok|", "TW-3|2026-12-31|30|150|in-lbf", None, id="no-number"),
        pytest.param("160|in-lbf", "TW-4|2026-01-01|30|150|in-lbf", None, id="unlisted-instead"),
        pytest.param(
            "142|in-lbf", "TW-3|2026-01-01|||\nTW-3|2027-01-01|||", None, id="calibrated-again"
        ),
        pytest.param(
            "160|in-lbf", "TW-3|2027-01-01|1|30|in-lbf\nTW-3|2027-01-01|30|200|in-lbf", None,
            id="in-its-other-range",
        ),
        pytest.param("142|in-lbf", "TW-3|2026-03-03|||", Severity.HOLD, id="past-its-date"),
        pytest.param("160|in-lbf", "TW-3|2026-12-31|30|150|in-lbf", Severity.HOLD, id="beyond"),
        pytest.param("20|in-lbf", "TW-3|2026-12-31|30|150|in-lbf", Severity.HOLD, id="below"),
        pytest.param("20|N·m", "TW-3|2026-12-31|30|150|in-lbf", Severity.HOLD, id="beyond-in-Nm"),
        pytest.param("142|in-lbf", "TW-3||30|150|in-lbf", Severity.OPEN, id="no-date"),
    ],
)  # fmt: skip
def test_out_of_calibration(reading, tools, severity):
    value, unit = reading.split("|")
    findings = found(MADE.format(value=value, unit=unit), tools)
    assert [each.severity for each in findings] == ([severity] if severity else [])
    for each in findings:
        assert cells(each)[0] in ("record.xlsx!H2", "record.xlsx!F2")
        assert cells(each)[1].startswith("tools.xlsx!")
        assert (each.joint, each.sides, each.connections) == ("fin", ("L",), ("H-1",))
        assert each.items == ("TW-3",)


def test_the_range_is_that_of_the_wrench_not_of_the_nut():
    # 117 on the wrench is 164 at the nut, which the wrench never has to show.
    record = "2026-03-04|H-1|L|made|torque|117|in-lbf|TW-3|4 in|10 in"
    assert found(record, "TW-3|2026-12-31|30|150|in-lbf") == []


def test_messages():
    late, beyond = found(
        "2026-03-04|H-1|L|made|torque|160|in-lbf|TW-3||", "TW-3|2026-03-01|30|150|in-lbf"
    )
    assert late.message == (
        'tool "TW-3" was calibrated until 2026-03-01, and was used on "H-1" on 2026-03-04'
    )
    assert beyond.message == (
        'tool "TW-3" measures 30..150 in-lbf; it is recorded with 160 in-lbf on "H-1"'
    )


def test_one_finding_for_all_that_a_tool_was_used_on():
    (finding,) = found(
        "2026-03-04|H-1|L|made||1|N·m|TW-3||\n2026-03-05|H-2|L|made||1|N·m|TW-3||",
        "TW-3|2026-03-01|||",
    )
    assert finding.connections == ("H-1", "H-2")
    assert finding.message.endswith('on "H-1" and "H-2" from 2026-03-04 on')


def test_readings_that_were_undone_are_not_looked_at():
    assert (
        found(
            "2026-03-04|H-1|L|made||1|N·m|TW-3||\n2026-03-05|H-1|L|opened||||||\n"
            "2026-03-06|H-1|L|made||1|N·m|TW-4||",
            "TW-3|2026-03-01|||\nTW-4|2026-12-31|||",
        )
        == []
    )


def test_without_a_tools_list_it_says_that_it_did_not_run():
    report = report_of(LIST, table("record", RECORD + MADE.format(value="1", unit="N·m")))
    off = [each.why for each in report.not_run if Kind.OUT_OF_CALIBRATION in each.kinds]
    assert off == ["no tools list was given"]
