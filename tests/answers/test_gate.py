"""May a stage start?"""

import pytest

from joinmatrix.answers.gate import gate
from joinmatrix.errors import CallError
from tests.builders import assembly_of, table

LIST = "connection|joint|side|type|place|timing|inspect|closed by\n"
STAGES = "stage|side|timing|after\ngear down|||\nwing mate|both||gear down\ntail mate|||wing mate"
RECORD = "when|act|stage|connection|side|item\n"


def ask(rows, acts, stage, side=None, items="", **options):
    tables = [table("connections", LIST + "\n".join(rows)), table("stages", STAGES)]
    if acts:
        tables.append(table("record", RECORD + "\n".join(acts)))
    if items:
        tables.append(table("temporary", "temporary item|joint|side|connection|remove\n" + items))
    return gate(assembly_of(*tables, **options), stage, side)


def made(name, side="L", act="made", when="2026-03-02"):
    return f"{when}|{act}||{name}|{side}"


GEAR = ["2026-03-04|started|gear down", "2026-03-05|done|gear down"]
H_DONE = [made("H"), made("H", act="inspected")]


@pytest.mark.parametrize(
    ("rows", "acts", "stage", "missing"),
    [
        pytest.param(["H|fin|L|line||||"], [], "gear down", [], id="nothing-asked"),
        pytest.param(["H|fin|L|line||after gear down||"], [], "gear down", [], id="what-follows"),
        pytest.param(["H|fin|L|line||before gear down||"], [], "gear down", ["H made"], id="made"),
        pytest.param(["H|fin|L|line|before gear down|||"], [], "gear down", ["H placed"], id="in"),
        pytest.param(
            ["H|fin|L|line||||gear down"], [], "gear down", ["H made", "H inspected"], id="closed"
        ),
        pytest.param(
            ["H|fin|L|line||||gear down"], [made("H")], "gear down", ["H inspected"], id="partly"
        ),
        pytest.param(["H|fin|L|line||||gear down"], H_DONE, "gear down", [], id="all-done"),
        pytest.param(
            ["H|fin|L|line||||gear down"],
            [*H_DONE, made("H", act="opened", when="2026-03-03")],
            "gear down",
            ["H made", "H inspected"],
            id="opened-again",
        ),
        pytest.param(["H|fin|L|line||||"], [], "wing mate L", ["gear down done"], id="stage"),
        pytest.param(["H|fin|L|line||||"], GEAR[:1], "wing mate L", ["gear down done"], id="begun"),
        pytest.param(["H|fin|L|line||||"], GEAR, "wing mate L", [], id="stage-done"),
        pytest.param(
            ["H|fin|L|line||||gear down"],
            [],
            "wing mate L",
            ["H made", "H inspected", "gear down done"],
            id="through-a-stage",
        ),
        pytest.param(
            ["H|fin|L|line||||", "K|fin|L|line||after H||gear down"],
            [],
            "gear down",
            ["H made", "K made", "K inspected"],
            id="through-a-connection",
        ),
        pytest.param(["H|fin|R|line||||wing mate"], GEAR, "wing mate L", [], id="the-other-side"),
        pytest.param(
            ["H|fin|C|line||before wing mate||"], GEAR, "wing mate R", ["H made"], id="centre"
        ),
        pytest.param(
            ["H|fin|both|line||before wing mate||"],
            [*GEAR, made("H", "R")],
            "wing mate",
            ["H made"],
            id="both-sides-at-once",
        ),
        pytest.param(
            ["H|fin|L|line||||gear down"],
            GEAR,
            "wing mate L",
            ["H made", "H inspected"],
            id="skipped-before-a-stage-that-is-done",
        ),
    ],
)
def test_missing(rows, acts, stage, missing):
    found = ask(rows, acts, stage)
    names = [f"{each.step.connection or each.step.stage} {each.step.act}" for each in found.missing]
    assert names == missing
    assert found.answer == ("hold" if missing else "go")


def test_why_and_cells():
    rows = ["H|fin|L|line||after K||gear down", "K|fin|L|line||||"]
    found = ask(rows, [], "wing mate L")
    by_name = {str(each.step): each for each in found.missing}
    assert by_name['"H" L made'].why == (
        'it is closed by "gear down", and the rule of "wing mate" L says "gear down"'
    )
    cells = [f"{p.file}!{p.cell}" for p in by_name['"H" L made'].cells]
    assert cells == ["connections.xlsx!H2", "stages.xlsx!D3"]
    assert by_name['"K" L made'].why.startswith('the rule of "H" L says "after K", and')


def test_last_chance_is_told_even_when_all_is_done():
    rows = ["H|fin|L|line||||gear down", "K|fin|L|line|before gear down|||", "M|fin|L|line||||"]
    acts = [*H_DONE, "2026-03-02|removed|||L|pin", made("K", act="placed")]
    found = ask(rows, acts, "gear down", items="pin|fin|L||before gear down")
    assert found.go
    assert [(str(each.step), each.done) for each in found.last_chance] == [
        ('"H" L made', True),
        ('"H" L inspected', True),
        ('"K" L placed', True),
        ('"pin" L removed', True),
    ]


def test_a_temporary_item_must_be_off():
    found = ask(["H|fin|L|line||||"], [made("H")], "gear down", items="pin|fin|L||before gear down")
    assert [str(each.step) for each in found.missing] == ['"pin" L removed']


@pytest.mark.parametrize(
    ("as_of", "go"),
    [
        pytest.param("2026-03-05 15:59", False, id="too-early"),
        pytest.param("2026-03-05 16:00", True, id="gone-by"),
    ],
)
def test_a_time_that_must_go_by(as_of, go):
    stages = "stage|side|timing\nseal||\nfill||at least 6 h after seal"
    record = "when|act|stage\n2026-03-05 10:00|done|seal"
    tables = [
        table("connections", "connection|joint|side|type\nH|fin|L|line"),
        table("stages", stages),
        table("record", record),
    ]
    found = gate(assembly_of(*tables, as_of=as_of), "fill")
    assert found.go is go
    assert go or "not before 2026-03-05 16:00" in found.missing[0].why


def test_what_was_done_out_of_order_holds():
    rows = ["H|fin|L|line||after gear down||wing mate", "K|fin|R|line||after gear down||wing mate"]
    acts = [
        *GEAR,
        *H_DONE,
        made("K", "R", when="2026-03-06"),
        made("K", "R", "inspected", "2026-03-06"),
    ]
    assert [f.connections for f in ask(rows, acts, "wing mate L").breaks] == [("H",)]
    assert ask(rows, acts, "wing mate R").go


def test_a_stage_that_something_has_overtaken():
    stages = "stage|side|timing\nseal||before fill\nfill||"
    tables = [
        table("connections", "connection|joint|side|type\nH|fin|L|line"),
        table("stages", stages),
        table("record", "when|act|stage\n2026-03-05|started|fill"),
    ]
    found = gate(assembly_of(*tables), "seal")
    assert found.answer == "hold"
    assert [finding.kind for finding in found.breaks] == ["mis-sequenced"]


def test_rules_that_contradict_each_other_hold():
    found = ask(["H|fin|L|line||after gear down||gear down"], [made("H")], "gear down")
    assert [finding.kind for finding in found.breaks] == ["contradiction"]
    assert [str(each.step) for each in found.missing] == ['"H" L inspected']


@pytest.mark.parametrize(
    ("acts", "unclear"),
    [
        pytest.param([made("K")], 1, id="open-work"),
        pytest.param(H_DONE, 0, id="finished-anyway"),
    ],
)
def test_a_rule_that_cannot_be_read_holds(acts, unclear):
    rows = ["H|fin|L|line||||gaer down", "K|fin|L|line||||"]
    found = ask(rows, acts, "gear down")
    assert len(found.unclear) == unclear
    assert found.go is not bool(unclear)


@pytest.mark.parametrize(
    ("acts", "state"),
    [
        pytest.param([], "not started", id="not"),
        pytest.param(GEAR[:1], "started", id="begun"),
        pytest.param(GEAR, "done", id="done"),
        pytest.param([*GEAR, "2026-03-07|started|gear down"], "started", id="again"),
    ],
)
def test_how_far_the_stage_is(acts, state):
    assert ask(["H|fin|L|line||||"], acts, "gear down").state == state


@pytest.mark.parametrize(
    ("stage", "side", "sides"),
    [
        pytest.param("Wing  Mate", None, ("L", "R"), id="all"),
        pytest.param("wing mate", "R", ("R",), id="one"),
        pytest.param("wing mate", "left", ("L",), id="a-side-word"),
        pytest.param("wing mate RH", None, ("R",), id="behind-the-name"),
        pytest.param("gear down", "L", ("",), id="once-for-all"),
    ],
)
def test_which_stage_is_meant(stage, side, sides):
    assert ask(["H|fin|L|line||||"], [], stage, side).sides == sides


@pytest.mark.parametrize(
    ("stage", "side", "words"),
    [
        pytest.param("gaer down", None, '"gear down"', id="misspelt"),
        pytest.param("wing mate", "C", "It is on", id="not-on-that-side"),
    ],
)
def test_a_stage_that_is_none(stage, side, words):
    with pytest.raises(CallError) as fault:
        ask(["H|fin|L|line||||"], [], stage, side)
    assert words in str(fault.value)
