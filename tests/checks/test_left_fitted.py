"""Caps, pins and slings that are still on."""

import pytest

from joinmatrix.checks.left_fitted import left_fitted
from joinmatrix.findings import Kind, Severity
from tests.builders import assembly_of, cells, report_of, table

LIST = table("connections", "connection|joint|side|type\nH-1|fin|both|line")
ITEMS = "temporary item|joint|side|type|connection|remove\ncap 12|fin|L|cap|{blanks}|{remove}"
RECORD = "when|connection|stage|item|side|act\n"
FITTED = "2026-03-01|||cap 12|L|fitted"
REMOVED = "2026-03-03|||cap 12|L|removed"
STARTED = "2026-03-05||mate|||started"
MADE = "2026-03-04|H-1|||L|made"


def found(*rows, blanks="", remove=""):
    items = table("temporary", ITEMS.format(blanks=blanks, remove=remove))
    return list(left_fitted(assembly_of(LIST, items, table("record", RECORD + "\n".join(rows)))))


@pytest.mark.parametrize(
    ("rows", "rules", "severity"),
    [
        pytest.param([FITTED, REMOVED], {}, None, id="removed"),
        pytest.param([REMOVED], {}, None, id="came-with-it-and-removed"),
        pytest.param([FITTED, REMOVED, STARTED], {"remove": "before mate"}, None, id="in-time"),
        pytest.param([REMOVED, MADE], {"blanks": "H-1"}, None, id="off-before-it-was-made"),
        pytest.param([FITTED], {}, Severity.OPEN, id="fitted"),
        pytest.param([MADE], {}, Severity.OPEN, id="nothing-recorded"),
        pytest.param([FITTED], {"remove": "before mate"}, Severity.OPEN, id="still-time"),
        pytest.param([STARTED], {"remove": "after mate"}, Severity.OPEN, id="not-yet"),
        pytest.param([REMOVED, "2026-03-04|||cap 12|L|fitted"], {}, Severity.OPEN, id="back-on"),
        pytest.param([FITTED, STARTED], {"remove": "before mate"}, Severity.HOLD, id="too-late"),
        pytest.param([MADE], {"blanks": "H-1"}, Severity.HOLD, id="on-a-line-that-is-made"),
        pytest.param(
            [MADE, STARTED], {"blanks": "H-1", "remove": "before mate"}, Severity.HOLD, id="both"
        ),
        pytest.param(
            ["2026-03-04|H-1|||R|made"], {"blanks": "H-1"}, Severity.OPEN, id="other-side-made"
        ),
        pytest.param(
            [MADE, "2026-03-05|||cap 12|L|removed"], {"blanks": "H-1", "remove": "before mate"},
            Severity.NOTE, id="recorded-as-off-after-the-making",
        ),
        pytest.param(
            [MADE, "2026-03-05|||cap 12|L|removed"],
            {"blanks": "H-1", "remove": "before H-1 and before mate"}, None,
            id="the-rule-names-it-and-that-is-mis-sequenced",
        ),
        pytest.param(
            [MADE, "2026-03-05|||cap 12|L|removed"], {"blanks": "H-1"}, None,
            id="without-a-rule-that-is-mis-sequenced",
        ),
    ],
)  # fmt: skip
def test_left_fitted(rows, rules, severity):
    findings = found(*rows, **rules)
    assert [each.severity for each in findings] == ([severity] if severity else [])
    for each in findings:
        assert (each.joint, each.sides, each.items) == ("fin", ("L",), ("cap 12",))


@pytest.mark.parametrize(
    ("rows", "rules", "expected"),
    [
        pytest.param([FITTED], {}, ["temporary.xlsx!A2", "record.xlsx!F2"], id="open"),
        pytest.param(
            [STARTED], {"remove": "before mate"},
            ["temporary.xlsx!A2", "temporary.xlsx!F2", "record.xlsx!F2"], id="late",
        ),
        pytest.param([MADE], {"blanks": "H-1"}, ["temporary.xlsx!A2", "record.xlsx!F2"], id="made"),
    ],
)  # fmt: skip
def test_cells(rows, rules, expected):
    (finding,) = found(*rows, **rules)
    assert cells(finding) == expected


def test_messages():
    (late,) = found(FITTED, STARTED, remove="before mate")
    assert late.message == (
        '"cap 12" (cap) was fitted on 2026-03-01 and is not removed; it had to be removed before '
        '"mate" starts (its rule for removal says "before mate"), and "mate" was started on '
        "2026-03-05"
    )
    assert late.stages == ("mate",)
    (blanked,) = found(MADE, blanks="H-1")
    assert blanked.message == (
        '"cap 12" (cap) is not recorded as removed; it blanks off "H-1", which is recorded as made '
        "on 2026-03-04: both cannot be true"
    )
    assert blanked.connections == ("H-1",)
    (back,) = found(REMOVED, "2026-03-04|||cap 12|L|fitted")
    assert "was removed on 2026-03-03 and fitted on 2026-03-04, so it is on" in back.message


def test_without_a_temporary_list_it_says_that_it_did_not_run():
    report = report_of(LIST, table("record", RECORD + MADE))
    off = [each.why for each in report.not_run if Kind.LEFT_FITTED in each.kinds]
    assert off == ["no temporary list was given"]


def test_a_plan_leaves_nothing_fitted():
    items = table("temporary", ITEMS.format(blanks="", remove=""))
    report = report_of(LIST, items)
    assert [each for each in report.findings if each.kind is Kind.LEFT_FITTED] == []
