"""Rules that cannot all be met."""

import pytest

from joinmatrix.checks.contradiction import contradiction
from tests.builders import assembly_of, cells, table

LIST = "connection|joint|side|type|place|timing|inspect|closed by\n"


def found_in(rows, stages=("A||", "B||", "C||"), items=""):
    tables = [
        table("connections", LIST + "\n".join(rows)),
        table("stages", "\n".join(["stage|side|timing|after", *stages])),
    ]
    if items:
        tables.append(table("temporary", "temporary item|joint|side|connection|remove\n" + items))
    return list(contradiction(assembly_of(*tables)))


@pytest.mark.parametrize(
    ("rows", "stages", "expected"),
    [
        pytest.param(["H|fin|L|line||after A||B"], ["A||", "B|||A"], [], id="can-be-met"),
        pytest.param(["H|fin|L|line||after A||A"], ["A||"], ["F2 H2"], id="closed-by-it"),
        pytest.param(
            ["H|fin|L|line||after K||", "K|fin|L|line||after H||"], ["A||"], ["F3 F2"], id="two"
        ),
        pytest.param(
            ["H|fin|L|line||with K||", "K|fin|L|line||with H||"], ["A||"], [], id="together"
        ),
        pytest.param(["H|fin|L|line||after H||"], ["A||"], ["F2"], id="after-itself"),
        pytest.param(
            ["H|fin|L|line||after B||A"], ["A||", "B|||A"], ["D3 F2 H2"], id="round-a-stage"
        ),
        pytest.param(["H|fin|L|line||||"], ["A|||B", "B|||A"], ["D2 D3"], id="stages-alone"),
        pytest.param(["H|fin|L|line|after A|before A||"], ["A||"], ["E2 F2"], id="place-and-make"),
        pytest.param(
            ["H|fin|L|line||within 1 h of A; at least 2 h after A||"], ["A||"], ["F2"], id="no-time"
        ),
        pytest.param(
            ["H|fin|L|line||within 2 h of A; at least 2 h after A||"], ["A||"], [], id="just-time"
        ),
        pytest.param(["H|fin|L|line||during A; after A||"], ["A||"], [], id="at-its-very-end"),
        pytest.param(["H|fin|L|line||after B||A"], ["A|L||", "B|R||"], [], id="other-side"),
        pytest.param(["H|fin|L|line||after AA||A"], ["A||"], [], id="unreadable-binds-nothing"),
    ],
)
def test_contradiction(rows, stages, expected):
    found = found_in(rows, stages)
    assert [" ".join(place.cell for place in finding.places) for finding in found] == expected


def test_words_and_cells():
    (finding,) = found_in(["H|fin|L|line||after B||A"], ["A|||", "B|||A"])
    assert finding.message == (
        'these rules cannot all be met: "B" must start after "A" is done; "H" must be made after '
        '"B" is done; "A" closes over "H" when it starts'
    )
    assert cells(finding) == ["stages.xlsx!D3", "connections.xlsx!F2", "connections.xlsx!H2"]
    assert (finding.joint, finding.sides) == ("fin", ("L",))
    assert (finding.connections, finding.stages) == (("H",), ("B", "A"))


def test_both_sides_are_one_finding():
    (finding,) = found_in(["H|fin|both|line||after A||A"], ["A|both||"])
    assert finding.sides == ("L", "R")
    assert [place.cell for place in finding.places] == ["F2", "H2"]


@pytest.mark.parametrize(
    ("rows", "stages", "items", "sides"),
    [
        pytest.param(["H|fin|C|line||after A||A"], ["A|both||"], "", ("C",), id="through-sides"),
        pytest.param(
            ["H|fin|L|line||after B||A"], ["A|||", "B|both||A"], "", ("L",), id="one-side"
        ),
        pytest.param(
            ["H|fin|both|line||after B||A"], ["A|||", "B|both||A"], "", ("L", "R"), id="both-sides"
        ),
        pytest.param(
            ["H|fin|C|line||||"],
            ["A|||C", "B|both||A", "C|||B"],
            "",
            ("L", "R"),
            id="stages-alike-with-a-rule-in-common",
        ),
        pytest.param(
            ["H|fin|C|line||||"],
            ["A|||C", "B|L||A", "B|R||", "C|||B"],
            "",
            ("L",),
            id="stages-that-differ",
        ),
        pytest.param(
            ["H|fin|C|line||||"], ["A|both||"], "pin|fin|C||after A; before A", ("C",), id="item"
        ),
    ],
)
def test_sides(rows, stages, items, sides):
    (finding,) = found_in(rows, stages, items)
    assert finding.sides == sides


def test_the_same_words_in_many_rows_are_one_finding_for_each_joint():
    rows = [
        f"H-{number}|{joint}|L|line||after A||A" for joint in ("fin", "hull") for number in "12"
    ]
    found = found_in([row.replace("H-", f"{row.split('|')[1]}-") for row in rows])
    assert [(finding.joint, len(finding.connections)) for finding in found] == [
        ("fin", 2),
        ("hull", 2),
    ]


def test_each_wrong_rule_is_found_beside_a_right_one():
    stages = ["A|||", "B|||A"]
    rows = ["H|fin|L|line||after B||A", "K|fin|L|line||at least 1 h after B||A"]
    assert [finding.connections for finding in found_in(rows, stages)] == [("H",), ("K",)]


def test_temporary_items_take_part():
    (finding,) = found_in(
        ["H|fin|L|line||before A||"], ["A|||"], "pin|fin|L||after A\ncap|fin|L|H|after A"
    )[:1] or (None,)
    assert finding is None
    (finding,) = found_in(["H|fin|L|line||||"], ["A|||"], "pin|fin|L||after A; before A")
    assert finding.items == ("pin",)


def test_the_order_of_rows_does_not_matter():
    rows = [
        "H|fin|L|line||after K||", "K|fin|L|line||after M||", "M|fin|L|line||after H; after K||",
        "N|fin|L|line||after B||A",
    ]  # fmt: skip
    stages = ["A|||", "B|||A", "C|||"]

    def told(rows, stages):
        return sorted(finding.message for finding in found_in(rows, stages))

    assert told(rows, stages) == told(rows[::-1], stages[::-1])
