"""Made, and nobody has looked."""

import pytest

from joinmatrix.checks.uninspected import uninspected
from joinmatrix.findings import Severity
from tests.builders import assembly_of, cells, table

LIST = "connection|joint|side|type|inspect|closed by\nH-1|fin|{side}|line|{inspect}|{closed}"
RECORD = "when|connection|stage|side|act\n"
MADE = "2026-03-02|H-1||L|made"
STARTED = "2026-03-05||mate||started"


def found(*rows, inspect="", closed="", side="L"):
    lists = [table("connections", LIST.format(side=side, inspect=inspect, closed=closed))]
    if rows:
        lists.append(table("record", RECORD + "\n".join(rows)))
    return list(uninspected(assembly_of(*lists)))


@pytest.mark.parametrize(
    ("rows", "rules", "severity"),
    [
        pytest.param([], {}, None, id="plan"),
        pytest.param([MADE, "2026-03-03|H-1||L|inspected"], {}, None, id="inspected"),
        pytest.param(["2026-03-02|H-1||L|placed"], {}, None, id="not-made"),
        pytest.param([MADE, "2026-03-03|H-1||L|opened"], {}, None, id="opened-is-unmade"),
        pytest.param(
            [MADE, "2026-03-03|H-1||L|inspected", "2026-03-04|H-1||L|made"], {}, None, id="lapsed"
        ),
        pytest.param([MADE], {}, Severity.OPEN, id="made"),
        pytest.param([MADE], {"closed": "mate"}, Severity.OPEN, id="still-time"),
        pytest.param([MADE, STARTED], {}, Severity.OPEN, id="a-stage-that-asks-nothing"),
        pytest.param([MADE, STARTED], {"closed": "mate"}, Severity.HOLD, id="closed-over"),
        pytest.param([MADE, STARTED], {"inspect": "before mate"}, Severity.HOLD, id="too-late"),
        pytest.param([MADE, STARTED], {"inspect": "after mate"}, Severity.OPEN, id="not-yet"),
        pytest.param(
            [MADE, "2026-03-03|H-1||L|inspected", STARTED], {"closed": "mate"}, None, id="in-time"
        ),
    ],
)  # fmt: skip
def test_uninspected(rows, rules, severity):
    findings = found(*rows, **rules)
    assert [each.severity for each in findings] == ([severity] if severity else [])
    for each in findings:
        assert cells(each)[:2] == ["connections.xlsx!A2", "record.xlsx!E2"]
        assert (each.joint, each.sides, each.connections) == ("fin", ("L",), ("H-1",))


def test_hold_shows_the_rule_and_the_stage():
    (finding,) = found(MADE, STARTED, closed="mate")
    assert cells(finding) == [
        "connections.xlsx!A2", "record.xlsx!E2", "connections.xlsx!F2", "record.xlsx!E3",
    ]  # fmt: skip
    assert finding.stages == ("mate",)
    assert finding.message == (
        '"H-1" was made on 2026-03-02 and is not inspected; it had to be inspected before "mate" '
        'starts (it is closed by "mate"), and "mate" was started on 2026-03-05'
    )


def test_each_side_is_work_of_its_own():
    findings = found("2026-03-02|H-1||both|made", side="both")
    assert [each.sides for each in findings] == [("L",), ("R",)]
