"""One order of all that is left."""

from joinmatrix.answers.sequence import sequence
from tests.builders import assembly_of, table

LIST = "connection|joint|side|type|place|timing|inspect|closed by\n"
STAGES = "stage|side|timing|after\ngear down|||\nwing mate|both||gear down"
RECORD = "when|act|stage|connection|side|item\n"


def ask(rows, acts=(), items="", stages=STAGES, **options):
    tables = [table("connections", LIST + "\n".join(rows)), table("stages", stages)]
    if acts:
        tables.append(table("record", RECORD + "\n".join(acts)))
    if items:
        tables.append(table("temporary", "temporary item|joint|side|connection|remove\n" + items))
    return sequence(assembly_of(*tables, **options))


def steps(found):
    return [str(timed.step) for timed in found.order]


def test_stage_by_stage():
    rows = [
        "A|fin|L|line||||",
        "B|fin|L|line||after gear down||wing mate",
        "C|fin|L|line||||gear down",
    ]
    found = ask(rows, items="pin|fin|R||before wing mate")
    assert steps(found) == [
        '"C" L made', '"C" L inspected', '"gear down" started', '"gear down" done',
        '"B" L made', '"B" L inspected', '"wing mate" L started', '"wing mate" L done',
        '"pin" R removed', '"wing mate" R started', '"wing mate" R done',
        '"A" L made', '"A" L inspected',
    ]  # fmt: skip
    assert {(timed.earliest, timed.latest) for timed in found.order} == {(None, None)}


def test_what_is_done_is_left_out():
    acts = ["2026-03-01|made||C|L", "2026-03-02|started|gear down"]
    found = ask(["C|fin|L|line||||wing mate"], acts)
    assert steps(found)[:2] == ['"gear down" done', '"C" L inspected']


def test_late_work_comes_first():
    acts = ["2026-03-02|started|gear down", "2026-03-03|done|gear down"]
    rows = ["B|fin|L|line||after gear down||wing mate", "C|fin|L|line||||gear down"]
    assert steps(ask(rows, acts))[:2] == ['"C" L made', '"C" L inspected']


def test_times_count_from_now_when_there_is_a_record():
    rows = [
        "H|fin|L|line||at least 6 h after gear down||",
        "K|fin|L|line||within 8 h of gear down||",
    ]
    acts = ["2026-03-05 08:00|started|gear down", "2026-03-05 10:00|done|gear down"]
    found = ask(rows, acts, as_of="2026-03-05 12:00")
    times = {str(timed.step): (timed.earliest, timed.latest) for timed in found.order}
    assert times['"H" L made'] == (240, 240)
    assert times['"K" L made'] == (0, 240)


def test_a_window_that_ends_before_all_else():
    rows = [
        "H|fin|L|line||at least 9 h after gear down||",
        "K|fin|L|line||within 3 h of gear down||",
    ]
    acts = ["2026-03-05 10:00|done|gear down"]
    found = ask(rows, acts, as_of="2026-03-05 12:00")
    times = {str(timed.step): (timed.earliest, timed.latest) for timed in found.order}
    assert times['"K" L made'] == (0, 60)


def test_no_order():
    stages = STAGES + "\nfin mate|||wing mate"
    rows = [
        "H|fin|L|line||after gear down||gear down",
        "K|fin|L|line||after H||",
        "M|fin|L|line||||",
    ]
    found = ask(rows, stages=stages)
    assert not found.feasible
    assert found.order == ()
    assert found.contradiction.kind == "contradiction"
    never = {str(step) for step in found.impossible}
    assert {'"H" L made', '"K" L made', '"fin mate" started'} <= never
    assert '"M" L made' not in never
    assert '"H" L placed' not in never


def test_nothing_left():
    acts = ["2026-03-01|made||A|L", "2026-03-02|inspected||A|L"]
    done = [f"2026-03-0{n}|{act}|{stage}||both" for stage in ("gear down", "wing mate")
            for n, act in ((3, "started"), (4, "done"))]  # fmt: skip
    assert (
        ask(["A|fin|L|line||||"], [*acts, *(row.replace("|both", "|") for row in done)]).order == ()
    )
