"""Clauses to bounds, on the right sides."""

import pytest

from joinmatrix.timing.bounds import rules_of
from tests.builders import assembly_of, table

STAGES = """stage|side|timing|after
gear down||
wing mate|both|
left only|L|
tail mate|||gear down
fin mate|C|
"""


def bounds_of(row, *more, stages=STAGES):
    """The bounds of the first connection, as "made >= wing mate/L done + 60"."""
    head = "connection|joint|side|type|place|timing|inspect|closed by\n"
    tables = [table("connections", head + "\n".join([row, *more]))]
    if stages:
        tables.append(table("stages", stages))
    rules = rules_of(assembly_of(*tables))
    name = row.split("|", maxsplit=1)[0]
    return [
        f"{group.texts.side}: {bound_text(bound)}"
        for group in rules.groups
        if group.members[0].id == name
        for bound in group.bounds
    ]


def bound_text(bound):
    sign = (">" if bound.after else "<") + ("" if bound.strict else "=")
    gap = f" + {bound.gap}" if bound.gap else ""
    key = bound.ref.key
    return f"{bound.act} {sign} {key.name}/{key.side} {bound.at}{gap}"


@pytest.mark.parametrize(
    ("row", "expected"),
    [
        pytest.param("H|j|L|line||||", [], id="no-rule"),
        pytest.param("H|j|L|line||any time||", [], id="any-time"),
        pytest.param("H|j|L|line||after gaer down||", [], id="unreadable-binds-nothing"),
        pytest.param("H|j|L|line|after gear down|||", ["L: placed >= gear down/ done"], id="place"),
        pytest.param("H|j|L|line||after gear down||", ["L: made >= gear down/ done"], id="timing"),
        pytest.param(
            "H|j|L|line|||before tail mate|", ["L: inspected <= tail mate/ started"], id="inspect"
        ),
        pytest.param(
            "H|j|L|line||during tail mate||",
            ["L: made >= tail mate/ started", "L: made <= tail mate/ done"],
            id="during",
        ),
        pytest.param(
            "H|j|L|line||at least 2 h after gear down||",
            ["L: made >= gear down/ done + 120"],
            id="at-least",
        ),
        pytest.param(
            "H|j|L|line||within 2 h of gear down||",
            ["L: made >= gear down/ done", "L: made <= gear down/ done + 120"],
            id="within",
        ),
        pytest.param(
            "H|j|L|line||||tail mate",
            [f"L: {act} <= tail mate/ started" for act in ("placed", "made", "inspected")],
            id="closed-by",
        ),
        pytest.param(
            "H|j|R|line||after wing mate||", ["R: made >= wing mate/R done"], id="own-side"
        ),
        pytest.param(
            "H|j|C|line||after wing mate||",
            ["C: made >= wing mate/L done", "C: made >= wing mate/R done"],
            id="centre-waits-for-all-sides",
        ),
        pytest.param("H|j|R|line||after left only||", [], id="the-other-side-never-fires"),
        pytest.param(
            "H|j|R|line||after left only L||",
            ["R: made >= left only/L done"],
            id="unless-its-side-is-said",
        ),
        pytest.param(
            "H|j|R|line||after fin mate||", ["R: made >= fin mate/C done"], id="the-centre-is-meant"
        ),
        pytest.param(
            "H|j|C|line||after wing mate R||", ["C: made >= wing mate/R done"], id="one-side-said"
        ),
        pytest.param(
            "H|j|both|line||after wing mate||",
            ["L: made >= wing mate/L done", "R: made >= wing mate/R done"],
            id="both",
        ),
    ],
)
def test_bounds_of_a_connection(row, expected):
    assert bounds_of(row) == expected


@pytest.mark.parametrize(
    ("rule", "expected"),
    [
        pytest.param("after K", ["L: made > k/L made"], id="after-is-strict"),
        pytest.param("before K", ["L: made < k/L made"], id="before-is-strict"),
        pytest.param("with K", ["L: made >= k/L made", "L: made <= k/L made"], id="with"),
        pytest.param("after M", ["L: made > m/C made"], id="on-the-centre"),
        pytest.param("after N", [], id="on-the-other-side"),
    ],
)
def test_rules_that_name_connections(rule, expected):
    others = ["K|j|both|line||||", "M|j|C|line||||", "N|j|R|line||||"]
    assert bounds_of(f"H|j|L|line||{rule}||", *others) == expected


@pytest.mark.parametrize(
    ("timing", "after", "expected"),
    [
        pytest.param("", "B", ["started >= b/ done"], id="after-column"),
        pytest.param("", "B, C", ["started >= b/ done", "started >= c/ done"], id="two"),
        pytest.param("after B", "", ["started >= b/ done"], id="after"),
        pytest.param("before B", "", ["done <= b/ started"], id="before"),
        pytest.param("during B", "", ["started >= b/ started", "done <= b/ done"], id="during"),
        pytest.param(
            "within 1 h of B", "", ["started >= b/ done", "done <= b/ done + 60"], id="in"
        ),
        pytest.param("with H", "", ["started <= h/L made", "done >= h/L made"], id="with-a-line"),
    ],
)
def test_bounds_of_a_stage(timing, after, expected):
    stages = table("stages", f"stage|timing|after\nA|{timing}|{after}\nB||\nC||")
    connections = table("connections", "connection|joint|side|type\nH|j|L|line")
    rules = rules_of(assembly_of(connections, stages))
    (bounds,) = (each for key, each in rules.stages.items() if key.name == "a")
    assert [bound_text(bound) for bound in bounds] == expected


@pytest.mark.parametrize(
    ("item", "expected"),
    [
        pytest.param("pin|j|L||", [], id="no-rule"),
        pytest.param("pin|j|L||before gear down", ["removed <= gear down/ started"], id="remove"),
        pytest.param("cap|j|L|H|", ["removed < h/L made"], id="before-what-it-blanks-off"),
        pytest.param(
            "cap|j|L|H|before gear down", ["removed <= gear down/ started"], id="its-rule-decides"
        ),
    ],
)
def test_bounds_of_a_temporary_item(item, expected):
    temporary = table("temporary", f"temporary item|joint|side|connection|remove\n{item}")
    connections = table("connections", "connection|joint|side|type\nH|j|L|line")
    rules = rules_of(assembly_of(connections, table("stages", STAGES), temporary))
    assert [bound_text(bound) for items in rules.items for bound in items.bounds] == expected


def test_connections_with_the_same_rules_are_one_group():
    rows = "".join(f"\nH-{number}|j|L|line|after gear down" for number in range(50))
    head = "connection|joint|side|type|timing" + rows + "\nK|j|L|line|after H-7"
    rules = rules_of(assembly_of(table("connections", head), table("stages", STAGES)))
    assert sorted(len(group.members) for group in rules.groups) == [1, 1, 49]
