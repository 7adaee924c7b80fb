"""Inspections that no longer cover what is there."""

import pytest

from joinmatrix.checks.lapsed import lapsed
from tests.builders import assembly_of, cells, table

LIST = "connection|joint|side|type\nH-1|fin|L|line"
RECORD = "when|connection|side|act\n"
DONE = ["2026-03-02|H-1|L|made", "2026-03-03|H-1|L|inspected"]


@pytest.mark.parametrize(
    ("rows", "expected"),
    [
        pytest.param(DONE, None, id="inspected"),
        pytest.param(DONE[:1], None, id="never-inspected"),
        pytest.param([*DONE, "2026-03-04|H-1|L|opened"], None, id="opened-and-unmade"),
        pytest.param(
            [
                *DONE,
                "2026-03-04|H-1|L|opened",
                "2026-03-05|H-1|L|made",
                "2026-03-06|H-1|L|inspected",
            ],
            None,
            id="inspected-again",
        ),
        pytest.param(
            [*DONE, "2026-03-04|H-1|L|opened", "2026-03-05|H-1|L|made"],
            ["D3", "D4", "D5"],
            id="opened-and-made-again",
        ),
        pytest.param([*DONE, "2026-03-05|H-1|L|made"], ["D3", "D4"], id="made-again"),
        pytest.param([*DONE[1:], "2026-03-05|H-1|L|made"], None, id="inspected-before-any-making"),
        pytest.param(
            ["2026-03-02T10:30|H-1|L|made", "2026-03-02|H-1|L|inspected"], None, id="on-one-day"
        ),
    ],
)
def test_lapsed(rows, expected):
    found = list(
        lapsed(assembly_of(table("connections", LIST), table("record", RECORD + "\n".join(rows))))
    )
    assert [cells(each) for each in found] == (
        [[f"record.xlsx!{cell}" for cell in expected]] if expected else []
    )


def test_message():
    rows = [*DONE, "2026-03-04|H-1|L|opened", "2026-03-05|H-1|L|made"]
    (finding,) = lapsed(
        assembly_of(table("connections", LIST), table("record", RECORD + "\n".join(rows)))
    )
    assert finding.message == (
        '"H-1" was inspected on 2026-03-03, then opened on 2026-03-04 and made again on '
        "2026-03-05; the inspection no longer covers it"
    )
    assert (finding.joint, finding.sides, finding.connections) == ("fin", ("L",), ("H-1",))


def test_both_sides_in_one_row_are_one_finding():
    lists = table("connections", "connection|joint|side|type\nH-1|fin|both|line")
    rows = ["2026-03-02|H-1|both|made", "2026-03-03|H-1|both|inspected", "2026-03-04|H-1|both|made"]
    found = lapsed(assembly_of(lists, table("record", RECORD + "\n".join(rows))))
    assert [each.sides for each in found] == [("L", "R")]
