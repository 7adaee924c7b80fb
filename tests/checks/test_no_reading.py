"""Limits without a reading, and what published tables say where there is no limit."""

from dataclasses import replace

import pytest

from joinmatrix.assembly.merge import assemble
from joinmatrix.checks.no_reading import no_reading
from joinmatrix.findings import Severity
from joinmatrix.lists.table import Trouble
from tests.builders import assembly_of, cells, reading_of, table

LIST = "connection|joint|side|type|limits\nH-1|fin|{side}|line|{limits}"
RECORD = "when|connection|side|act|measure|value|unit\n"


def found(limits, *rows, side="L"):
    lists = [table("connections", LIST.format(side=side, limits=limits))]
    if rows:
        lists.append(table("record", RECORD + "\n".join(rows)))
    return list(no_reading(assembly_of(*lists)))


@pytest.mark.parametrize(
    ("limits", "rows", "expected"),
    [
        pytest.param("", ["2026-03-04|H-1|L|made"], 0, id="no-limit"),
        pytest.param("1..2 mm", [], 0, id="plan"),
        pytest.param("1..2 mm", ["2026-03-04|H-1|L|placed"], 0, id="not-made"),
        pytest.param("1..2 mm", ["2026-03-04|H-1|L|made||1|mm"], 0, id="read"),
        pytest.param("1..2 mm", ["2026-03-04|H-1|L|made||9|mm"], 0, id="out-of-limits-instead"),
        pytest.param("1..2 mm", ["2026-03-04|H-1|L|made||ok|"], 0, id="unreadable-instead"),
        pytest.param("as drawn", ["2026-03-04|H-1|L|made"], 0, id="unreadable-limit-instead"),
        pytest.param("1..2 mm", ["2026-03-04|H-1|L|made"], 1, id="none"),
        pytest.param(
            "1..2 mm",
            ["2026-03-04|H-1|L|made||1|mm", "2026-03-05|H-1|L|opened", "2026-03-06|H-1|L|made"],
            1,
            id="none-since-it-was-made-again",
        ),
        pytest.param(
            "a 1..2 mm; b 3..4 mm", ["2026-03-04|H-1|L|made"], 1, id="two-limits-one-finding"
        ),
    ],
)
def test_no_reading(limits, rows, expected):
    findings = found(limits, *rows)
    assert len(findings) == expected
    for each in findings:
        assert each.severity is Severity.OPEN
        assert cells(each)[0] == "connections.xlsx!E2"
        assert cells(each)[1].startswith("record.xlsx!D")
        assert (each.joint, each.sides, each.connections) == ("fin", ("L",), ("H-1",))


def test_a_tick_is_no_reading():
    lists = "connection|joint|side|type|limits|made\nH-1|fin|L|line|1..2 mm|x"
    (finding,) = no_reading(assembly_of(table("connections", lists)))
    assert cells(finding) == ["connections.xlsx!E2", "connections.xlsx!F2"]


def test_message_names_the_limits_and_the_measure_that_may_be_meant():
    (finding,) = found("torque 1..2 N·m; threads >= 1", "2026-03-04|H-1|L|made|torqe|1|N·m")
    assert finding.message == (
        '"H-1" is made, and no reading for "torque 1..2 N·m" or "threads >= 1" is recorded since; '
        'there is one of "torqe"'
    )


def test_each_side_is_read_by_itself():
    lists = "connection|joint|side|type|limits|made\nH-1|fin|both|line|1..2 mm|x"
    assert [each.sides for each in no_reading(assembly_of(table("connections", lists)))] == [
        ("L",),
        ("R",),
    ]


# --- published tables ---

SIZED = "connection|joint|side|type|from size|to size|from end|to end|limits\n"


def notes(*rows):
    return list(no_reading(assembly_of(table("connections", SIZED + "\n".join(rows)))))


@pytest.mark.parametrize(
    "row",
    [
        pytest.param("B-1|fin|L|bolt|M8|M8|||", id="thread-not-in-the-table"),
        pytest.param("B-1|fin|L|bolt|1/4-28|1/4-28|||50..70 in-lbf", id="has-a-limit"),
        pytest.param("B-1|fin|L|bolt|1/4-28|5/16-24|||", id="two-sizes"),
        pytest.param("B-1|fin|L|control rod|1/4-28|1/4-28|||", id="no-bolt"),
        pytest.param("H-1|fin|L|line|-6|-6|flare 45|flare 45|", id="other-flare"),
        pytest.param("H-1|fin|L|line|-6|-6|flare 37|flange|", id="one-other-end"),
        pytest.param("H-1|fin|L|line|6|6|flare 37|flare 37|", id="no-dash-size"),
        pytest.param("H-1|fin|L|line|-7|-7|flare 37|flare 37|", id="size-not-in-the-table"),
        pytest.param("H-1|fin|L|line|-6|-6|||", id="no-end-form"),
    ],
)
def test_no_note(row):
    assert notes(row) == []


@pytest.mark.parametrize(
    ("row", "values", "source"),
    [
        (
            "B-1|fin|L|bolt|1/4-28 UNF|1/4-28 UNF|||",
            "50..70 in-lbf for a tension nut, 30..40 in-lbf for a shear nut",
            "AC 43.13-1B",
        ),
        ("B-1|fin|L|attach bolts|No. 10-32||||", "20..25 in-lbf for a tension nut", "table 7-1"),
        ("B-1|fin|L|bolt|1-1/8-12||||", "3000..4200 in-lbf (an estimate)", "table 7-1"),
        (
            "H-1|fin|L|hydraulic line|-6|-6|flare 37|flare 37|",
            "100..125 in-lbf for an aluminium tube, 270..300 in-lbf for a steel tube",
            "TM 55-1520-240-23-1",
        ),
        ("H-1|fin|L|fuel line|3/8 in|3/8 in|37° flare||", "270..300 in-lbf", "lubricated"),
        (
            "H-1|fin|L|brake hose|-4|-4|flare 37|flare 37|",
            "100..120 in-lbf for a hose end",
            "TM 55",
        ),
    ],
)
def test_note(row, values, source):
    (finding,) = notes(row)
    assert finding.severity is Severity.NOTE
    assert values in finding.message
    assert source in finding.message
    assert cells(finding)[0] == "connections.xlsx!E2"


def test_a_limit_that_cannot_be_read_is_not_missing():
    sized = table("connections", SIZED + "B-1|fin|L|bolt|1/4-28|1/4-28|||")
    error = Trouble(sized.place(0, "limits"), 'this cell shows "#N/A"', "correct it")
    assembly = assemble(replace(reading_of(sized), troubles=(error,)))
    assert list(no_reading(assembly)) == []


def test_one_note_for_each_joint_and_table_row():
    findings = notes(
        "H-1|fin|both|line|-6|-6|flare 37|flare 37|",
        "H-2|fin|L|line|-6|-6|flare 37|flare 37|",
        "H-3|tail|L|line|-6|-6|flare 37|flare 37|",
        "H-4|fin|L|line|-8|-8|flare 37|flare 37|",
    )
    assert [(each.joint, each.connections) for each in findings] == [
        ("fin", ("H-1", "H-2")),
        ("tail", ("H-3",)),
        ("fin", ("H-4",)),
    ]
