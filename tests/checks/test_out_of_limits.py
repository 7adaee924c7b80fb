"""Readings outside their limits."""

import pytest

from joinmatrix.checks.out_of_limits import out_of_limits
from joinmatrix.findings import Severity
from tests.builders import assembly_of, cells, table

LIST = "connection|joint|side|type|limits\nH-1|fin|{side}|line|{limits}"
RECORD = "when|connection|side|act|measure|value|unit|extension|wrench length\n"


def found(limits, *rows, side="L"):
    lists = table("connections", LIST.format(side=side, limits=limits))
    return list(out_of_limits(assembly_of(lists, table("record", RECORD + "\n".join(rows)))))


@pytest.mark.parametrize(
    ("limits", "row", "expected"),
    [
        pytest.param("135..150 in-lbf", "142|in-lbf", 0, id="within"),
        pytest.param("", "900|in-lbf", 0, id="no-limit"),
        pytest.param("135..150 in-lbf", "|", 0, id="no-reading"),
        pytest.param("135..150 in-lbf", "ok|", 0, id="unreadable-is-another-finding"),
        pytest.param("as drawn", "160|in-lbf", 0, id="unreadable-limit"),
        pytest.param("135..150 in-lbf", "160|in-lbf", 1, id="too-much"),
        pytest.param("135..150 in-lbf", "120|in-lbf", 1, id="too-little"),
    ],
)
def test_out_of_limits(limits, row, expected):
    findings = found(limits, f"2026-03-04|H-1|L|made|torque|{row}||")
    assert len(findings) == expected
    for each in findings:
        assert each.severity is Severity.HOLD
        assert cells(each) == ["record.xlsx!F2", "connections.xlsx!E2"]
        assert (each.joint, each.sides, each.connections) == ("fin", ("L",), ("H-1",))


def test_message_says_what_was_read_and_what_is_allowed():
    (finding,) = found("torque 135..150 in-lbf", "2026-03-04|H-1|L|made|torque|160|in-lbf||")
    assert finding.message == (
        'torque of "H-1" is 160 in-lbf; the limit is "torque 135..150 in-lbf"'
    )


def test_message_says_how_it_was_worked_out():
    (finding,) = found("135..150 in-lbf", "2026-03-04|H-1|L|made|torque|18.5|N·m||")
    assert finding.message == (
        'torque of "H-1" is 18.5 N·m, which is 163.7 in-lbf (± 0.44 for its last digit); '
        'the limit is "135..150 in-lbf"'
    )


def test_one_limit_outside_of_several():
    findings = found(
        "torque 135..150 in-lbf; threads >= 1",
        "2026-03-04|H-1|L|made|torque|142|in-lbf||",
        "2026-03-04|H-1|L|made|threads|0|||",
    )
    assert [cells(each)[0] for each in findings] == ["record.xlsx!F3"]


def test_both_sides_in_one_row_are_one_finding():
    findings = found("1..2 mm", "2026-03-04|H-1|both|made|gap|3|mm||", side="both")
    assert [each.sides for each in findings] == [("L", "R")]
