"""What a new issue of the lists changes, and which recorded work it undoes."""

import pytest

from joinmatrix.answers.changes import Changes, changes
from joinmatrix.findings import Kind, Severity
from joinmatrix.lists.table import ListKind
from tests.builders import assembly_of, cells, table

HEADINGS = "connection|joint|side|type|service|from|to|size|timing|limits|critical\n"
LINES = (
    "H-1|fin|L|line|brake|A1|B1|-6|||",
    "H-2|fin|L|line|vent|A2|B2|-4||torque 135..150 in-lbf|",
    "H-3|fin|L|rod|trim|A3|B3||after gear down||",
)
STAGES = ("gear down||", "mate||gear down")
RECORD = (
    "2026-03-01||gear down||started|x||",
    "2026-03-02||gear down||done|x||",
    "2026-03-03|H-1||L|made|A. Berg||",
    "2026-03-03|H-2||L|made|A. Berg|142|in-lbf",
    "2026-03-03|H-3||L|made|A. Berg||",
    "2026-03-04|H-1||L|inspected|A. Berg||",
    "2026-03-04|H-2||L|inspected|M. Holm||",
)


def issue(lines=LINES, *, stages=STAGES, record=(), name="old", more=()):
    """An issue of the lists, with or without a record."""
    lists = [table("connections", HEADINGS + "\n".join(lines), file=f"{name}/lines.xlsx"), *more]
    if stages:
        text = "stage|timing|after\n" + "\n".join(stages)
        lists.append(table("stages", text, file=f"{name}/stages.xlsx"))
    if record:
        text = "when|connection|stage|side|act|by|value|unit\n" + "\n".join(record)
        lists.append(table("record", text, file=f"{name}/record.xlsx"))
    return assembly_of(*lists)


def edited(old, new, lines=LINES):
    return tuple(line.replace(old, new) for line in lines)


OLD = issue(record=RECORD)


# --- the lists ---


@pytest.mark.parametrize(
    ("lines", "name"),
    [
        pytest.param(LINES, "new", id="the-same"),
        pytest.param(LINES[::-1], "new", id="other-order"),
        pytest.param(edited("H-1", "h-1 "), "new", id="case-and-spaces"),
        pytest.param(edited("brake", "Brake"), "new", id="case-of-a-column"),
    ],
)
def test_nothing_changes(lines, name):
    assert changes(OLD, issue(lines, record=RECORD, name=name)) == Changes()


def test_added_and_dropped():
    new = issue((*LINES[1:], "H-9|fin|L|duct||A9|B9||||"), record=RECORD, name="new")
    found = changes(OLD, new)
    assert [(each.what, each.name, each.side, each.joint) for each in found.added] == [
        ("connection", "H-9", "L", "fin")
    ]
    assert [str(each) for each in found.added[0].places] == ["new/lines.xlsx: Sheet!A4"]
    assert [(each.name, str(each.places[0])) for each in found.dropped] == [
        ("H-1", "old/lines.xlsx: Sheet!A2")
    ]
    assert found.altered == ()


@pytest.mark.parametrize(
    ("old", "new", "column", "values", "cell"),
    [
        ("|brake|", "|parking brake|", "service", ("brake", "parking brake"), "E2"),
        ("|-6|", "|-8|", "size", ("-6", "-8"), "H2"),
        ("135..150", "140..150", "limits",
         ("torque 135..150 in-lbf", "torque 140..150 in-lbf"), "J3"),
        ("after gear down", "after mate", "timing", ("after gear down", "after mate"), "I4"),
        ("|B2|", "|B7|", "to", ("B2", "B7"), "G3"),
    ],
)  # fmt: skip
def test_altered(old, new, column, values, cell):
    found = changes(OLD, issue(edited(old, new), record=RECORD, name="new"))
    assert (found.added, found.dropped) == ((), ())
    (altered,) = found.altered
    assert (altered.column, (altered.old, altered.new)) == (column, values)
    assert [f"{place.file} {place.cell}" for place in altered.places] == [
        f"old/lines.xlsx {cell}", f"new/lines.xlsx {cell}",
    ]  # fmt: skip


def test_critical_as_it_counts():
    # "trim rod" is critical unless the list says no.
    found = changes(OLD, issue(edited("after gear down||", "after gear down||no"), record=RECORD))
    assert [(each.column, each.old, each.new) for each in found.altered] == [
        ("critical", "yes", "no")
    ]


def test_both_sizes_are_told_apart_where_they_differ():
    text = "connection|joint|side|type|from size|to size\nH-1|fin|L|line|{}|{}"
    old, new = (
        assembly_of(table("connections", text.format(*sizes))) for sizes in (("1", "2"), ("1", "3"))
    )
    assert [each.column for each in changes(old, new).altered] == ["to size"]


@pytest.mark.parametrize(
    ("lines", "expected"),
    [
        pytest.param(edited("H-1|", "HY-001|"), [("H-1", "HY-001")], id="same-ports"),
        pytest.param(
            edited("H-1|fin|L|line|brake|A1|B1", "HY-001|fin|L|line|brake|A8|B8"),
            [("H-1", "HY-001")],
            id="same-in-all-else",
        ),
        pytest.param(edited("H-1|fin|", "HY-001|tail|"), [], id="another-joint"),
        pytest.param(edited("H-1|fin|L", "H-1|fin|R"), [], id="another-side"),
    ],
)
def test_renamed(lines, expected):
    found = changes(OLD, issue(lines, record=RECORD, name="new"))
    names = [(each.old, each.new) for each in found.altered if each.column == "connection"]
    assert names == expected
    assert bool(found.added) == bool(found.dropped) == (not expected)


def test_a_name_that_could_be_of_two_is_not_guessed():
    text = "connection|joint|side|type|service|size\n{}|fin|L|line|vent|-4\n{}|fin|L|line|vent|-4"
    old, new = (
        assembly_of(table("connections", text.format(*names))) for names in (("A", "B"), ("C", "D"))
    )
    found = changes(old, new)
    assert len(found.added) == len(found.dropped) == 2


def test_renamed_and_altered_at_once():
    lines = edited("H-1|fin|L|line|brake|A1|B1|-6", "HY-001|fin|L|line|brake|A1|B1|-8")
    found = changes(OLD, issue(lines, record=RECORD, name="new"))
    assert [(each.name, each.column) for each in found.altered] == [
        ("HY-001", "connection"), ("HY-001", "size"),
    ]  # fmt: skip


def test_stages():
    new = issue(stages=("gear down||", "mate|by rig|gear down", "rig||"), record=RECORD, name="new")
    found = changes(OLD, new)
    assert [(each.what, each.name) for each in found.added] == [("stage", "rig")]
    assert [(each.what, each.name, each.column, each.old, each.new) for each in found.altered] == [
        ("stage", "mate", "timing", "", "by rig")
    ]


RUNS = "from|to|side|service\nB1|C1|L|brake\n"


def test_runs():
    old = issue(more=[table("runs", RUNS + "B2|C2|L|vent")])
    new = issue(more=[table("runs", RUNS.replace("brake", "parking brake") + "C2|B9|L|vent")])
    found = changes(old, new)
    assert [(each.what, each.name) for each in found.added] == [("run", "C2 - B9")]
    assert [(each.what, each.name) for each in found.dropped] == [("run", "B2 - C2")]
    assert [(each.name, each.column) for each in found.altered] == [("B1 - C1", "service")]


@pytest.mark.parametrize(
    ("kind", "headings", "old", "new", "what", "column"),
    [
        ("people", "person|may|until", "A|make|2026-01-01", "A|make|2027-01-01", "person", "until"),
        ("tools", "tool|calibrated until|low", "T|2026-01-01|5", "T|2026-01-01|9", "tool", "low"),
        ("temporary", "temporary item|side|remove", "cap|L|before mate", "cap|L|before gear down",
         "temporary item", "remove"),
        ("differences", "joint|connection|side|reason", "fin|H-1|L|a", "fin|H-1|L|b",
         "agreed difference", "reason"),
    ],
)  # fmt: skip
def test_the_lists_beside_the_connections(kind, headings, old, new, what, column):
    before, after = (issue(more=[table(kind, f"{headings}\n{row}")]) for row in (old, new))
    found = changes(before, after)
    assert [(each.what, each.column) for each in found.altered] == [(what, column)]
    assert (found.added, found.dropped) == ((), ())


def test_a_list_that_only_one_issue_has_is_not_compared():
    found = changes(OLD, issue(stages=(), record=RECORD, name="new"))
    assert found.not_compared == (ListKind.STAGES,)
    assert found.dropped == ()
    assert found.undone == ()  # the stages of the old issue still stand


# --- recorded work ---


def undone(old=OLD, **new):
    return changes(old, issue(**{"record": RECORD, "name": "new", **new})).undone


@pytest.mark.parametrize(
    ("new", "kind", "connection"),
    [
        pytest.param({"lines": edited("135..150", "145..150")}, Kind.OUT_OF_LIMITS, "H-2",
                     id="limit-tightened-below-a-reading"),
        pytest.param({"lines": edited("A1|B1|-6||", "A1|B1|-6||<= 2 mohm")}, Kind.NO_READING, "H-1",
                     id="limit-where-nothing-was-read"),
        pytest.param({"lines": edited("after gear down", "after mate")}, Kind.MIS_SEQUENCED, "H-3",
                     id="rule-that-the-record-breaks"),
        pytest.param({"lines": edited("A1|B1|-6|||", "A1|B1|-6|||yes")}, Kind.SELF_INSPECTED, "H-1",
                     id="critical-now"),
        pytest.param({"lines": LINES[1:]}, Kind.UNLISTED, "H-1", id="dropped-after-it-was-made"),
        pytest.param({"lines": edited("|-6|", "|-8|")}, Kind.LAPSED, "H-1",
                     id="inspected-as-something-else"),
        pytest.param({"lines": edited("|B3|", "|B7|")}, Kind.UNINSPECTED, "H-3",
                     id="made-as-something-else"),
        pytest.param({"lines": edited("in-lbf", "psi")}, Kind.UNREADABLE, "H-2",
                     id="limit-in-another-quantity"),
    ],
)  # fmt: skip
def test_undone(new, kind, connection):
    found = undone(**new)
    assert [(each.kind, each.connections[0]) for each in found] == [(kind, connection)]
    assert any(cell.startswith("new/") or cell.startswith("old/") for cell in cells(found[0]))


@pytest.mark.parametrize(
    "new",
    [
        pytest.param({}, id="nothing-changed"),
        pytest.param({"lines": edited("135..150", "130..150")}, id="limit-widened"),
        pytest.param({"lines": edited("135..150", "140..150")}, id="reading-still-within"),
        pytest.param({"lines": edited("|brake|", "|parking brake|")}, id="service-renamed"),
        pytest.param({"lines": edited("H-1|", "HY-001|")}, id="renamed"),
        pytest.param({"lines": edited("|-6|", "|3/8 in|")}, id="size-respelt"),
        pytest.param({"lines": (*LINES, "H-9|fin|L|duct|||||||")}, id="added"),
        pytest.param({"lines": edited("H-3|fin|L|rod|trim|A3|B3||", "H-3|fin|L|rod|trim|A3|B3|5|")},
                     id="blank-filled"),
    ],
)  # fmt: skip
def test_not_undone(new):
    assert undone(**new) == ()


def test_what_was_wrong_before_is_not_undone_by_the_new_issue():
    record = (*RECORD[:3], "2026-03-03|H-2||L|made|A. Berg|90|in-lbf", *RECORD[4:])
    old = issue(record=record)
    assert undone(old, record=record, lines=edited("135..150", "145..150")) == ()


def test_the_record_of_the_old_issue_counts_when_the_new_one_has_none():
    (found,) = undone(record=(), lines=edited("135..150", "145..150"))
    assert found.kind is Kind.OUT_OF_LIMITS
    assert cells(found) == ["old/record.xlsx!G5", "new/lines.xlsx!J3"]


def test_a_renamed_connection_keeps_its_record():
    lines = edited("H-2|", "HY-002|", edited("135..150", "145..150"))
    for record in (RECORD, edited("H-2", "HY-002", RECORD), ()):
        (found,) = undone(record=record, lines=lines)
        assert (found.kind, found.connections) == (Kind.OUT_OF_LIMITS, ("HY-002",))


def test_a_plan_has_no_work_to_undo():
    assert changes(issue(), issue(edited("|-6|", "|-8|"), name="new")).undone == ()


def test_exit_code_says_whether_work_no_longer_holds():
    assert changes(OLD, OLD).exit_code == 0
    found = changes(OLD, issue(edited("135..150", "145..150"), record=RECORD))
    assert found.exit_code == 1
    open_only = changes(OLD, issue(edited("A1|B1|-6||", "A1|B1|-6||<= 2 mohm"), record=RECORD))
    assert [each.severity for each in open_only.undone] == [Severity.OPEN]
    assert open_only.exit_code == 0


def test_changes_there_and_back_mirror_each_other():
    new = issue((*edited("|-6|", "|-8|", LINES[:2]), "H-9|fin|L|duct||A9|B9||||"), record=RECORD)
    there, back = changes(OLD, new), changes(new, OLD)
    assert {each.name for each in there.added} == {each.name for each in back.dropped}
    assert {each.name for each in there.dropped} == {each.name for each in back.added}
    assert {(each.column, each.old, each.new) for each in there.altered} == {
        (each.column, each.new, each.old) for each in back.altered
    }
