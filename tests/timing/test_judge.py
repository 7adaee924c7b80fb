"""The record against the rules: what the checks do not show by themselves."""

import pytest

from joinmatrix.assembly.model import Key
from joinmatrix.timing.judge import Why, judge, removals
from tests.builders import assembly_of, table

HEAD = "connection|joint|side|type|place|timing|inspect|closed by\n"
STAGES = "stage|side\nA|\nB|both"
RECORD = "when|act|stage|connection|item|side\n"


def judgement(rows, acts, items="", **options):
    tables = [table("connections", HEAD + "\n".join(rows)), table("stages", STAGES)]
    if acts:
        tables.append(table("record", RECORD + "\n".join(acts)))
    if items:
        tables.append(table("temporary", "temporary item|joint|side|connection|remove\n" + items))
    return judge(assembly_of(*tables, **options))


def test_a_plan_is_not_judged():
    found = judgement(["H|fin|L|line||after A||"], [])
    assert (found.judged, found.unshown, found.natural, dict(found.passed)) == ((), (), (), {})


@pytest.mark.parametrize(
    ("rule", "acts", "why"),
    [
        pytest.param("after A", ["2026-03-02|made||H||L"], Why.MISSING, id="not-recorded"),
        pytest.param(
            "after A",
            ["2026-03-02|started|A", "2026-03-03|made||H||L"],
            Why.MISSING,
            id="begun-and-not-done",
        ),
        pytest.param(
            "after A",
            [
                "2026-03-01|started|A", "2026-03-02|done|A", "2026-03-04|started|A",
                "2026-03-05|made||H||L",
            ],
            Why.AGAIN,
            id="begun-again",
        ),
        pytest.param(
            "after A", ["2026-03-04|done|A", "2026-03-03|made||H||L"], Why.ORDER, id="too-early"
        ),
    ],
)  # fmt: skip
def test_why(rule, acts, why):
    (judged,) = judgement([f"H|fin|L|line||{rule}||"], acts).judged
    assert judged.why is why


@pytest.mark.parametrize(
    ("stages", "why"),
    [
        pytest.param(["2026-03-01|started|A"], None, id="shown"),
        pytest.param(["2026-03-04|done|A"], Why.NO_START, id="no-start"),
        pytest.param([], Why.NO_RECORD, id="no-record"),
    ],
)
def test_a_stage_that_shows_nothing_is_told_once_for_all_beside_it(stages, why):
    names = ["H", "J", "K"]
    rows = [f"{name}|fin|L|line||before A||" for name in names]
    if stages:
        found = judgement(rows, [*stages, *(f"2026-03-01|made||{name}||L" for name in names)])
    else:
        ticked = "connection|joint|side|type|timing|made\n" + "\n".join(
            f"{name}|fin|L|line|before A|x" for name in names
        )
        found = judge(assembly_of(table("connections", ticked), table("stages", STAGES)))
    told = [(each.why, [one.id for one in each.connections]) for each in found.unshown]
    assert told == ([(why, names)] if why else [])
    assert not found.judged or why is None


def test_which_acts_are_late():
    rows = ["H|fin|both|line|before A|||B", "K|fin|L|line||||"]
    acts = ["2026-03-02|started|A", "2026-03-03|started|B|||R"]
    found = judgement(rows, acts).passed
    assert [passed.act for passed in found["connection", Key("h", "L")]] == ["placed"]
    assert [passed.act for passed in found["connection", Key("h", "R")]] == [
        "placed", "placed", "made", "inspected",
    ]  # fmt: skip
    assert ("connection", Key("k", "L")) not in found


@pytest.mark.parametrize(
    ("acts", "off"),
    [
        pytest.param([], False, id="never-touched"),
        pytest.param(["2026-03-02|removed|||pin|L"], True, id="removed"),
        pytest.param(
            ["2026-03-02|removed|||pin|L", "2026-03-03|fitted|||pin|L"], False, id="put-back"
        ),
        pytest.param(
            ["2026-03-02|removed|||pin|L", "2026-03-02|fitted|||pin|L"], True, id="on-one-date"
        ),
    ],
)
def test_removals(acts, off):
    tables = [
        table("connections", HEAD + "H|fin|L|line||||"),
        table("temporary", "temporary item|joint|side|remove\npin|fin|L|before A"),
        table("record", RECORD + "\n".join(["2026-03-01|made||H||L", *acts])),
    ]
    assert (Key("pin", "L") in removals(assembly_of(*tables))) is off


def test_late_items():
    acts = ["2026-03-02|started|A"]
    found = judgement(["H|fin|L|line||||"], acts, "pin|fin|L||before A\nbag|fin|L||after A").passed
    assert list(found) == [("item", Key("pin", "L"))]
