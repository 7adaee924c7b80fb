"""What may be done now, and what waits."""

import pytest

from joinmatrix.answers.next_acts import Doer, next_acts
from tests.builders import assembly_of, table

LIST = "connection|joint|side|type|place|timing|inspect|closed by\n"
STAGES = "stage|side|timing|after\ngear down|||\nwing mate|both||gear down\ntail mate|||wing mate"
RECORD = "when|act|stage|connection|side|item\n"


def ask(rows, acts=(), items="", stages=STAGES, as_of=None, **options):
    tables = [table("connections", LIST + "\n".join(rows))]
    if stages:
        tables.append(table("stages", stages))
    if acts:
        tables.append(table("record", RECORD + "\n".join(acts)))
    if items:
        tables.append(table("temporary", "temporary item|joint|side|connection|remove\n" + items))
    return next_acts(assembly_of(*tables, **({"as_of": as_of} if as_of else {})), **options)


def now(found):
    return [str(each.step) for each in found.now]


def waits(found):
    return {str(each.step): list(each.waits_for) for each in found.waiting}


GEAR = ["2026-03-04|started|gear down", "2026-03-05|done|gear down"]


@pytest.mark.parametrize(
    ("row", "acts", "may", "waiting"),
    [
        pytest.param("H|fin|L|line||||", [], ['"H" L made'], {}, id="any-time"),
        pytest.param(
            "H|fin|L|line||after gear down||",
            [],
            [],
            {'"H" L made': ['"gear down" is done']},
            id="waits",
        ),
        pytest.param("H|fin|L|line||after gear down||", GEAR, ['"H" L made'], {}, id="ready"),
        pytest.param(
            "H|fin|L|line|after gear down|||",
            [],
            [],
            {'"H" L placed': ['"gear down" is done'], '"H" L made': ['"H" is placed']},
            id="placing-first",
        ),
        pytest.param("H|fin|L|line||during gear down||", GEAR[:1], ['"H" L made'], {}, id="during"),
        pytest.param(
            "H|fin|L|line||after K||", [], [], {'"H" L made': ['"K" is made']}, id="connection"
        ),
        pytest.param(
            "H|fin|C|line||after wing mate||",
            [],
            [],
            {'"H" C made': ['"wing mate" L is done', '"wing mate" R is done']},
            id="centre-waits-for-both",
        ),
        pytest.param("H|fin|L|line||with K||", [], ['"H" L made'], {}, id="together"),
        pytest.param(
            "H|fin|L|line||after gaer down||",
            [],
            [],
            {
                '"H" L made': [
                    'a rule that can be read: the rule "after gaer down" names "gaer down", which '
                    "is neither a stage nor a connection"
                ]
            },
            id="unreadable",
        ),
        pytest.param(
            "H|fin|L|line||after gear down||gear down",
            [],
            [],
            {'"H" L made': ['"gear down" is done', "rules that can all be met"]},
            id="contradiction",
        ),
    ],
)
def test_one_connection(row, acts, may, waiting):
    found = ask([row, "K|fin|L|line||||"], acts)
    mine = [each for each in now(found) if each.startswith('"H"')]
    assert mine == may
    theirs = waits(found)
    for step, texts in waiting.items():
        assert theirs[step] == texts
    assert set(mine).isdisjoint(theirs)


def test_what_is_done_together_waits_together():
    found = ask(["H|fin|L|line||with K||", "K|fin|L|line||after gear down||"])
    assert waits(found)['"H" L made'] == ['"gear down" is done']


def test_the_most_urgent_comes_first():
    rows = [
        "A|fin|L|line||||", "B|fin|L|line||||tail mate", "C|fin|L|line||||wing mate",
        "D|fin|L|line||||gear down",
    ]  # fmt: skip
    found = ask(rows, ["2026-03-01|made||D|L"])
    made = [each for each in found.now if each.step.act in ("made", "inspected")]
    assert [(each.step.connection, each.before) for each in made] == [
        ("D", "gear down"), ("C", "wing mate L"), ("B", "tail mate"), ("A", ""),
    ]  # fmt: skip


def test_what_is_late_comes_before_all():
    rows = ["A|fin|L|line||||wing mate", "B|fin|L|line||||gear down"]
    found = ask(rows, GEAR)
    assert [(each.step.connection, each.before, each.late) for each in found.now][:2] == [
        ("B", "gear down", True),
        ("A", "wing mate L", False),
    ]


def test_stages_and_items_are_acts_too():
    found = ask(["H|fin|L|line||||gear down"], items="pin|fin|L||after gear down")
    assert waits(found) == {
        '"H" L inspected': ['"H" is made'],
        '"gear down" started': ['"H" L is inspected'],
        '"wing mate" L started': ['"gear down" is done'],
        '"wing mate" R started': ['"gear down" is done'],
        '"tail mate" started': ['"wing mate" L is done', '"wing mate" R is done'],
        '"pin" L removed': ['"gear down" is done'],
    }
    begun = ask(["H|fin|L|line||||"], GEAR[:1])
    assert '"gear down" done' in now(begun)


def test_a_stage_behind_skipped_work_waits():
    found = ask(["H|fin|L|line||||gear down"], GEAR)
    assert waits(found)['"wing mate" L started'] == [
        '"H" L made, skipped before',
        '"H" L inspected, skipped before',
    ]


def test_a_time_that_has_to_go_by():
    row = "H|fin|L|line||at least 6 h after gear down||"
    acts = ["2026-03-05 10:00|done|gear down"]
    early, late = (ask([row], acts, as_of=f"2026-03-05 {time}") for time in ("12:00", "16:00"))
    assert waits(early)['"H" L made'] == [
        '2026-03-05 16:00: 6 h after "gear down" was done on 2026-03-05 10:00'
    ]
    assert '"H" L made' in now(late)


@pytest.mark.parametrize(
    ("options", "expected"),
    [
        pytest.param({}, ['"H" L made', '"H" R made', '"K" L inspected'], id="all"),
        pytest.param({"side": "R"}, ['"H" R made'], id="side"),
        pytest.param({"joint": "Hull"}, ['"K" L inspected'], id="joint"),
        pytest.param({"doer": Doer.MECHANIC}, ['"H" L made', '"H" R made'], id="mechanic"),
        pytest.param({"doer": Doer.INSPECTOR}, ['"K" L inspected'], id="inspector"),
    ],
)
def test_narrowed(options, expected):
    rows = ["H|fin|both|line||||", "K|hull|L|line||||"]
    assert now(ask(rows, ["2026-03-01|made||K|L"], stages="", **options)) == expected


def test_many_before_a_stage_are_counted():
    rows = [f"H-{number}|fin|L|line||||gear down" for number in range(9)]
    assert waits(ask(rows))['"gear down" started'] == [
        '"H-0" L is inspected', '"H-1" L is inspected', '"H-2" L is inspected', "6 more",
    ]  # fmt: skip
