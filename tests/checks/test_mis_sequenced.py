"""Acts out of order."""

import pytest

from joinmatrix.checks.mis_sequenced import mis_sequenced
from joinmatrix.checks.unmade import unmade
from tests.builders import assembly_of, cells, table

LIST = "connection|joint|side|type|place|timing|inspect|closed by\n"
STAGES = "stage|side|timing|after\ngear down|||\nwing mate|both||\ntail mate|||gear down\n"
STAGES += "fin mate||before nose mate|\nnose mate|||"
RECORD = "when|act|stage|connection|side|item|seq\n"
GEAR = ["2026-03-04|started|gear down", "2026-03-05|done|gear down"]


def found_in(rows, acts, items=""):
    tables = [
        table("connections", LIST + "\n".join(rows)),
        table("stages", STAGES),
        table("record", RECORD + "\n".join(acts)),
    ]
    if items:
        tables.append(table("temporary", "temporary item|joint|side|connection|remove\n" + items))
    return list(mis_sequenced(assembly_of(*tables)))


def made(when, name="H", side="L", act="made"):
    return f"{when}|{act}||{name}|{side}"


@pytest.mark.parametrize(
    ("rule", "acts", "broken"),
    [
        pytest.param("after gear down", [*GEAR, made("2026-03-06")], False, id="after"),
        pytest.param("after gear down", [*GEAR, made("2026-03-04")], True, id="too-early"),
        pytest.param("after gear down", [*GEAR, made("2026-03-05")], False, id="not-shown"),
        pytest.param("after gear down", [GEAR[0], made("2026-03-06")], True, id="not-done"),
        pytest.param("after gear down", [made("2026-03-06")], True, id="not-recorded"),
        pytest.param("after gear down", [GEAR[1], made("")], False, id="at-some-time"),
        pytest.param("after gear down", [GEAR[0], made("")], True, id="at-some-time-and-not-done"),
        pytest.param("before gear down", [made("2026-03-06")], False, id="before-not-begun"),
        pytest.param("before gear down", [*GEAR, made("2026-03-03")], False, id="before"),
        pytest.param("before gear down", [*GEAR, made("2026-03-05")], True, id="too-late"),
        pytest.param("during gear down", [*GEAR, made("2026-03-03")], True, id="before-during"),
        pytest.param("during gear down", [*GEAR, made("2026-03-06")], True, id="after-during"),
        pytest.param(
            "at least 24 h after gear down", [*GEAR, made("2026-03-05 12:00")], True, id="lag"
        ),
        pytest.param(
            "at least 24 h after gear down", [*GEAR, made("2026-03-07")], False, id="lag-kept"
        ),
        pytest.param("within 24 h of gear down", [*GEAR, made("2026-03-07")], True, id="window"),
        pytest.param("after K", [made("2026-03-04", "K"), made("2026-03-05")], False, id="line"),
        pytest.param("after K", [made("2026-03-05", "K"), made("2026-03-04")], True, id="line-out"),
        pytest.param("after K", [made("2026-03-05")], True, id="line-not-made"),
        pytest.param(
            "after K",
            [
                made("2026-03-04 10:00", "K"),
                made("2026-03-04 10:00"),
            ],
            False,
            id="same-minute",
        ),
        pytest.param(
            "after K",
            [made("2026-03-04", "K"), made("2026-03-05"), made("2026-03-06", "K", act="opened")],
            False,
            id="line-opened-afterwards",
        ),
        pytest.param(
            "after K",
            [
                made("2026-03-04", "K"),
                made("2026-03-05"),
                made("2026-03-06", "K", act="opened"),
                made("2026-03-07", "K"),
            ],
            True,
            id="line-made-again-afterwards",
        ),
        pytest.param(
            "before K",
            [made("2026-03-04", "K")],
            False,
            id="not-made-before-line-is-unmade",
        ),
        pytest.param(
            "after gear down",
            [
                *GEAR,
                "2026-03-08|started|gear down",
                "2026-03-09|done|gear down",
                made("2026-03-06"),
            ],
            False,
            id="before-it-began-again",
        ),
        pytest.param(
            "after gear down",
            [*GEAR, "2026-03-07|started|gear down", made("2026-03-08")],
            True,
            id="while-it-began-again",
        ),
        pytest.param(
            "before gear down",
            [
                *GEAR,
                made("2026-03-03"),
                made("2026-03-06", act="opened"),
                made("2026-03-07"),
                "2026-03-08|started|gear down",
            ],
            False,
            id="made-again-before-it-began-again",
        ),
        pytest.param(
            "after wing mate", ["2026-03-04|done|wing mate||R", made("2026-03-06")], True, id="side"
        ),
    ],
)
def test_timing_of_a_connection(rule, acts, broken):
    rows = [f"H|fin|L|line||{rule}||", "K|fin|L|line||||"]
    found = found_in(rows, acts)
    assert [finding.connections for finding in found] == ([("H",)] if broken else [])


@pytest.mark.parametrize(
    ("acts", "broken"),
    [
        pytest.param([made("2026-03-04"), made("2026-03-05", act="inspected")], 0, id="in-order"),
        pytest.param([made("2026-03-04"), made("2026-03-04", act="inspected")], 0, id="one-date"),
        pytest.param([made("2026-03-04"), made("2026-03-03", act="inspected")], 1, id="inspected"),
        pytest.param([made("2026-03-04"), made("2026-03-05", act="placed")], 1, id="placed"),
        pytest.param([made("2026-03-04", act="inspected")], 0, id="never-made-is-unmade"),
        pytest.param(
            [
                made("2026-03-02", act="inspected"),
                made("2026-03-03"),
                made("2026-03-04", act="inspected"),
            ],
            0,
            id="inspected-again",
        ),
        pytest.param(
            [
                made("2026-03-02"),
                made("2026-03-03", act="inspected"),
                made("2026-03-04", act="opened"),
                made("2026-03-05"),
            ],
            0,
            id="lapsed-is-another-kind",
        ),
    ],
)
def test_placed_made_inspected(acts, broken):
    assert len(found_in(["H|fin|L|line||||"], acts)) == broken


@pytest.mark.parametrize(
    ("row", "acts", "count"),
    [
        pytest.param(
            "H|fin|L|line|after gear down|after gear down||",
            [made("2026-03-02"), made("2026-03-01", act="placed")],
            1,
            id="placed-and-made-after-one-missing-stage",
        ),
        pytest.param(
            "H|fin|L|line||||gear down",
            [*GEAR, made("2026-03-06"), made("2026-03-07", act="inspected")],
            1,
            id="all-after-the-closing",
        ),
        pytest.param(
            "H|fin|L|line||after gear down; after tail mate||",
            [made("2026-03-02")],
            2,
            id="two-missing-stages",
        ),
        pytest.param(
            "H|fin|L|line|before gear down|||",
            [*GEAR, made("2026-03-06")],
            0,
            id="placed-at-some-time-before-it-was-made",
        ),
    ],
)
def test_one_cause_one_finding(row, acts, count):
    assert len(found_in([row], acts)) == count


@pytest.mark.parametrize(
    ("acts", "stages"),
    [
        pytest.param([*GEAR, "2026-03-06|started|tail mate"], [], id="after"),
        pytest.param(
            [*GEAR, "2026-03-03|started|tail mate"], [("tail mate", "gear down")], id="too-early"
        ),
        pytest.param(["2026-03-03|started|tail mate"], [("tail mate", "gear down")], id="not-done"),
        pytest.param(
            ["2026-03-03|started|nose mate"], [("fin mate", "nose mate")], id="not-done-before"
        ),
        pytest.param(
            ["2026-03-03|started|nose mate", "2026-03-04|done|fin mate"],
            [("fin mate", "nose mate")],
            id="done-too-late",
        ),
        pytest.param(["2026-03-03|done|fin mate", "2026-03-04|started|nose mate"], [], id="before"),
    ],
)
def test_timing_of_stages(acts, stages):
    assert [finding.stages for finding in found_in(["H|fin|L|line||||"], acts)] == stages


@pytest.mark.parametrize(
    ("acts", "broken"),
    [
        pytest.param(["2026-03-03|removed|||L|pin", *GEAR], False, id="in-time"),
        pytest.param(["2026-03-06|removed|||L|pin", *GEAR], True, id="too-late"),
        pytest.param(GEAR, False, id="still-fitted-is-another-kind"),
    ],
)
def test_removed_too_late(acts, broken):
    found = found_in(["H|fin|L|line||||"], acts, "pin|fin|L||before gear down")
    assert [finding.items for finding in found] == ([("pin",)] if broken else [])


def test_a_stage_that_is_done_before_it_was_started():
    rows = ["H|fin|L|line||after gear down||", "K|fin|L|line||during gear down||"]
    acts = [
        "2026-03-04 08:00|started|gear down", "2026-03-04 07:00|done|gear down",
        made("2026-03-05"), made("2026-03-04 10:00", "K"), "2026-03-06|started|tail mate",
    ]  # fmt: skip
    (finding,) = found_in(rows, acts)
    assert (finding.stages, finding.connections, finding.sides) == (("gear down",), (), ())
    assert cells(finding) == ["record.xlsx!B3", "record.xlsx!B2"]
    assert finding.message.startswith(
        '"gear down" was done on 2026-03-04 07:00, before it was started on 2026-03-04 08:00'
    )


def test_a_slip_on_one_side_is_of_that_side():
    acts = ["2026-03-05|started|wing mate||R", "2026-03-04|done|wing mate||R"]
    assert [each.sides for each in found_in(["H|fin|L|line||||"], acts)] == [("R",)]


@pytest.mark.parametrize(
    ("rows", "acts", "items", "others"),
    [
        pytest.param(
            ["H|fin|L|line||after gear down||gear down"],
            [*GEAR, made("2026-03-06")],
            "",
            [],
            id="1",
        ),
        pytest.param(
            ["H|fin|L|line||after gear down; after tail mate||gear down"],
            [*GEAR, made("2026-03-06")],
            "",
            ["tail mate"],
            id="beside-a-rule-that-can-be-met",
        ),
        pytest.param(
            ["H|fin|L|line||within 8 h of gear down; at least 12 h after gear down||"],
            [*GEAR, made("2026-03-05 23:59")],
            "",
            [],
            id="hours",
        ),
        pytest.param(
            ["H|fin|L|line||after K||", "K|fin|L|line||after H||"],
            [made("2026-03-06"), made("2026-03-05", "K")],
            "",
            [],
            id="connections",
        ),
        pytest.param(
            ["H|fin|L|line||||"],
            [*GEAR, "2026-03-06|removed|||L|pin"],
            "pin|fin|L||after gear down; before gear down",
            [],
            id="item",
        ),
    ],
)
def test_rules_that_contradict_each_other_are_not_judged(rows, acts, items, others):
    found = found_in(rows, acts, items)
    assert [each.stages[0] for each in found] == others


def test_stages_that_contradict_each_other_are_not_judged():
    stages = "stage|after\nA|B\nB|A"
    acts = "2026-03-04|started|A\n2026-03-05|done|A\n2026-03-06|started|B\n2026-03-07|done|B"
    tables = [
        table("connections", LIST + "H|fin|L|line||||"),
        table("stages", stages),
        table("record", RECORD + acts),
    ]
    assert list(mis_sequenced(assembly_of(*tables))) == []


@pytest.mark.parametrize(
    ("rule", "acts", "told"),
    [
        pytest.param("", [], True, id="its-time-has-not-passed"),
        pytest.param("before gear down", GEAR, False, id="a-hold-itself"),
        pytest.param("", [made("2026-03-05", "K", act="inspected")], False, id="inspected"),
        pytest.param(
            "before gear down", [*GEAR, made("2026-03-07", "K")], True, id="made-too-late"
        ),
    ],
)
def test_a_missing_act_is_not_told_twice(rule, acts, told):
    rows = ["H|fin|L|line||after K||", f"K|fin|L|line||{rule}||"]
    found = found_in(rows, [*acts, made("2026-03-06")])
    assert (("H",) in [each.connections for each in found]) is told


def test_cells_and_words():
    row = "H|fin|both|line||after gear down||"
    (finding,) = found_in([row], [*GEAR, made("2026-03-04", side="R")])
    assert cells(finding) == ["record.xlsx!B4", "connections.xlsx!F2", "record.xlsx!B3"]
    assert (finding.joint, finding.sides, finding.stages) == ("fin", ("R",), ("gear down",))
    assert finding.message == (
        '"H" was made on 2026-03-04, before "gear down" was done on 2026-03-05; its timing says '
        '"after gear down"'
    )


def test_a_missing_predecessor_is_unmade_and_its_follower_not_mis_sequenced():
    rows = ["H|fin|L|line||before K||", "K|fin|L|line||||"]
    acts = [made("2026-03-06", "K")]
    assert found_in(rows, acts) == []
    tables = [table("connections", LIST + "\n".join(rows)), table("record", RECORD + acts[0])]
    assert [finding.severity for finding in unmade(assembly_of(*tables))] == ["hold"]


def test_without_a_record_nothing_is_broken():
    ticks = "connection|joint|side|type|timing|made\nH|fin|L|line|after gear down|x"
    assert list(mis_sequenced(assembly_of(table("connections", ticks)))) == []
