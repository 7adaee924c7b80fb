"""Severities, the strict view and the verdict."""

import pytest

from joinmatrix.findings import Finding, Kind, Severity, strict, verdict_of
from joinmatrix.place import Place


def finding(kind: Kind = Kind.UNMADE, severity: str = "hold", **more) -> Finding:
    return Finding(kind, Severity(severity), "m", "c", (Place("a.xlsx", "S", 2, 1),), **more)


@pytest.mark.parametrize(
    ("severities", "verdict"),
    [
        pytest.param([], "clear", id="nothing"),
        pytest.param(["note"], "clear", id="notes-only"),
        pytest.param(["note", "open"], "open", id="open"),
        pytest.param(["open", "hold", "note"], "hold", id="hold"),
    ],
)
def test_verdict(severities, verdict):
    assert verdict_of(finding(severity=each) for each in severities) == verdict


@pytest.mark.parametrize(
    ("kind", "severity", "expected"),
    [
        pytest.param(Kind.LOOKALIKE, "note", "note", id="a-note-stays"),
        pytest.param(Kind.DUPLICATE, "note", "note", id="made-twice-stays"),
        pytest.param(Kind.UNMADE, "open", "hold", id="open-work-holds"),
        pytest.param(Kind.UNPROVEN, "note", "hold", id="an-order-not-shown-holds"),
        pytest.param(Kind.CROSSED, "hold", "hold", id="a-hold-holds"),
    ],
)
def test_strict(kind, severity, expected):
    assert strict(finding(kind, severity)).severity == expected


def test_side_is_the_one_side_or_blank():
    assert finding(sides=("L",)).side == "L"
    assert finding(sides=("L", "R")).side == ""
    assert finding().side == ""


def test_findings_sort_by_joint_side_kind_and_place():
    found = [
        finding(Kind.UNREADABLE, joint="fin", sides=("L",)),
        finding(Kind.UNMADE, joint="fin", sides=("R",)),
        finding(Kind.UNMADE, joint="fin", sides=("L",)),
        finding(Kind.UNREADABLE),
    ]
    ordered = sorted(found, key=lambda each: each.sort_key)
    assert ordered == [found[3], found[2], found[0], found[1]]
