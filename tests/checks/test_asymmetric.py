"""Alike sides that differ, and what is agreed about it."""

import pytest

from joinmatrix.answers.sides import sides
from joinmatrix.checks.asymmetric import asymmetric
from joinmatrix.findings import Severity
from tests.builders import assembly_of, cells, table

HEADINGS = (
    "connection|joint|side|type|service|from|to|size|from end|from key|place|timing|inspect|"
    "closed by|limits|critical"
)
COLUMNS = HEADINGS.split("|")
STAGES = table("stages", "stage|side\ngear down|both\nwing mate|\npanel close|both\nmate|1, 2, 3")
BLADES = table("joints", "joint|alike sides\nrotor|1, 2, 3")


def row(name, side, joint="fin", **values):
    """A line of the connections list; a key is a heading with "_" for its space."""
    values = {"type": "line", **values}
    given = {"connection": name, "joint": joint, "side": side}
    given |= {key.replace("_", " "): value for key, value in values.items()}
    return "|".join(given.get(column, "") for column in COLUMNS)


def listed(*rows):
    return table("connections", "\n".join((HEADINGS, *rows)))


def found(*tables):
    return list(asymmetric(assembly_of(*tables)))


def pair(left, right, **options):
    return found(listed(row("H-1L", "L", **left), row("H-1R", "R", **right)), STAGES, **options)


ALIKE = [
    pytest.param({}, {}, id="nothing"),
    pytest.param({"type": "Line"}, {"type": " line"}, id="case-and-spaces"),
    pytest.param({"service": "LH brake"}, {"service": "RH brake"}, id="service-swapped"),
    pytest.param({"service": "brake (left)"}, {"service": "brake"}, id="service-side-left-out"),
    pytest.param({"service": "brake L"}, {"service": "RH brake"}, id="letter-and-word") ,
    pytest.param({"service": "port lamp"}, {"service": "starboard lamp"}, id="port-is-a-side"),
    pytest.param({"service": "port drain"}, {"service": "port drain"}, id="port-is-an-opening"),
    pytest.param({"service": "bus L"}, {"service": "bus L"}, id="a-letter-may-be-a-name"),
    pytest.param({"service": "right angle drive"}, {"service": "right angle drive"}, id="a-shape"),
    pytest.param({"type": "LH thread bolt"}, {"type": "left-hand thread bolt"}, id="one-hand"),
    pytest.param({"type": "left hand hose"}, {"type": "right hand hose"}, id="hands-of-a-part"),
    pytest.param({"from_end": "LH thread"}, {"from_end": "left-hand thread"}, id="a-handed-end"),
    pytest.param({"timing": "after gear down L"}, {"timing": "after gear down R"}, id="stages"),
    pytest.param({"timing": "after gear down L"}, {"timing": "after gear down"}, id="its-own-side"),
    pytest.param({"timing": "before gear down"}, {"timing": "by gear down"}, id="same-meaning"),
    pytest.param(
        {"timing": "after wing mate; before panel close"},
        {"timing": "before panel close and after wing mate"},
        id="order-of-clauses",
    ),
    pytest.param({"timing": "after gear down R"}, {"timing": "after gear down L"}, id="crosswise"),
    pytest.param({"timing": "after H-1L"}, {"timing": "after H-1R"}, id="named-connections"),
    pytest.param({"timing": "any time"}, {"timing": ""}, id="no-rule"),
    pytest.param({"timing": "aftr gear down"}, {"timing": "after gear down"}, id="unreadable"),
    pytest.param({"closed_by": "panel close"}, {"closed_by": "Panel close R"}, id="closed-by"),
    pytest.param({"limits": "5..6 Nm;slot=left"}, {"limits": "slot = right; 5-6 N·m"}, id="read"),
    pytest.param({"limits": "slot = left"}, {"limits": "slot = left"}, id="limits-as-written"),
    pytest.param(
        {"limits": "torque 135..150 in-lbf"},
        {"limits": "TORQUE 135..150 IN-LBF"},
        id="unit-in-capitals",
    ),
    pytest.param({"limits": "50..60 lbf ft"}, {"limits": "50..60 ft.lb"}, id="unit-respelt"),
    pytest.param({"limits": "<= 2.5 mohm"}, {"limits": "<= 2.5 milliohms"}, id="unit-as-word"),
    pytest.param({"critical": "yes"}, {"critical": "Y"}, id="critical"),
    pytest.param({"from": "F1", "to": "W1"}, {"from": "F9", "to": "W3"}, id="ports"),
    pytest.param({"from_key": "left"}, {"from_key": "right"}, id="mirrored-key"),
    pytest.param({"size": "-8"}, {"size": '1/2"'}, id="size-in-sixteenths"),
    pytest.param({"size": "1½”"}, {"size": "1.5 in"}, id="size-typeset"),
    pytest.param({"size": "12.7 mm"}, {"size": "1/2 in"}, id="size-in-mm"),
    pytest.param({"from_end": "male"}, {"from_end": "M"}, id="end-as-letter"),
    pytest.param({"from_end": "37 flare"}, {"from_end": "flare 37"}, id="end-in-another-order"),
    pytest.param({"from_key": "A"}, {"from_key": "key A"}, id="key-with-its-word"),
    pytest.param(
        {"from": "F1", "to": "W1", "size": "-6"}, {"from": "F1", "size": ""}, id="one-half-known"
    ),
]  # fmt: skip

DIFFERENT = [
    pytest.param({"type": "hose"}, {"type": "pipe"}, ["type"], id="type"),
    pytest.param(
        {"type": "left-hand thread bolt"},
        {"type": "right-hand thread bolt"},
        ["type"],
        id="hands-of-a-thread",
    ),
    pytest.param({"type": "LH thread bolt"}, {"type": "bolt"}, ["type"], id="one-has-no-thread"),
    pytest.param({"size": "M8 LH thread"}, {"size": "M8 RH thread"}, ["size"], id="handed-size"),
    pytest.param({"from_end": "LH thread"}, {"from_end": "RH thread"}, ["from end"], id="threads"),
    pytest.param({"service": "brake"}, {"service": "flap"}, ["service"], id="service"),
    pytest.param({"service": "left brake"}, {"service": "left brake"}, ["service"], id="unswapped"),
    pytest.param({"size": "-6"}, {"size": "-8"}, ["size"], id="size"),
    pytest.param({"size": "1/4"}, {"size": "14"}, ["size"], id="size-marks-count"),
    pytest.param({"size": "-6"}, {"size": ""}, ["size"], id="blank"),
    pytest.param({"size": "13 mm"}, {"size": "1/2 in"}, ["size"], id="size-nearly-equal"),
    pytest.param({"size": "AN-8"}, {"size": "-8"}, ["size"], id="size-that-no-table-has"),
    pytest.param({"from_end": "pin"}, {"from_end": "socket"}, ["from end"], id="end"),
    pytest.param({"from_key": "A"}, {"from_key": "B"}, ["from key"], id="key"),
    pytest.param({"place": "after wing mate"}, {"place": ""}, ["place"], id="place"),
    pytest.param(
        {"timing": "after gear down"}, {"timing": "before gear down"}, ["timing"], id="timing"
    ),
    pytest.param(
        {"timing": "after gear down L"},
        {"timing": "after gear down L"},
        ["timing"],
        id="both-after-the-left-stage",
    ),
    pytest.param(
        {"timing": "at least 1 h after gear down"},
        {"timing": "at least 2 h after gear down"},
        ["timing"],
        id="another-time",
    ),
    pytest.param({"inspect": "after wing mate"}, {}, ["inspect"], id="inspect"),
    pytest.param({"closed_by": "panel close"}, {}, ["closed by"], id="closed-by"),
    pytest.param({"limits": "5..6 Nm"}, {"limits": "5..7 Nm"}, ["limits"], id="limits"),
    pytest.param({"limits": "<= 2.5 mohm"}, {"limits": "<= 2.5 Mohm"}, ["limits"], id="milli-mega"),
    pytest.param({"limits": ">= 24 VDC"}, {"limits": ">= 24 VAC"}, ["limits"], id="kinds-of-volts"),
    pytest.param({"limits": "2..3 clicks"}, {"limits": "2..3 turns"}, ["limits"], id="other-unit"),
    pytest.param(
        {"limits": "135..150 in-lbf"}, {"limits": "15.25..16.95 Nm"}, ["limits"], id="nearly-equal"
    ),
    pytest.param({"critical": "yes"}, {"critical": "no"}, ["critical"], id="critical"),
    pytest.param(
        {"type": "control rod"}, {"type": "line"}, ["type"], id="critical-follows-from-the-type"
    ),
    pytest.param(
        {"type": "hose", "size": "-6"}, {"type": "pipe", "size": "-8"}, ["type", "size"], id="two"
    ),
    pytest.param(
        {"from": "F1", "to": "W1", "size": "-6"},
        {"from": "F1", "size": "-8"},
        ["size"],
        id="one-half-known-and-filled",
    ),
]


@pytest.mark.parametrize(("left", "right"), ALIKE)
def test_alike(left, right):
    assert pair(left, right) == []


@pytest.mark.parametrize(("left", "right", "columns"), DIFFERENT)
def test_different(left, right, columns):
    (finding,) = pair(left, right)
    assert finding.severity is Severity.HOLD
    assert finding.sides == ("L", "R")
    assert finding.connections == ("H-1L", "H-1R")
    letters = [chr(ord("A") + COLUMNS.index(column)) for column in columns]
    expected = [f"connections.xlsx!{letter}{line}" for letter in letters for line in (2, 3)]
    assert cells(finding) == expected
    for column in columns:
        assert f"{column} " in finding.message
    assert "H-1L" in finding.message
    assert finding.clears


def test_a_both_row_is_one_row():
    lists = listed(row("H-1", "both", service="left brake", timing="after gear down L"))
    assert found(lists, STAGES) == []


def test_a_column_in_dispute_is_not_compared():
    head = "connection|joint|side|type|size\n"
    one = table("connections", f"{head}H-1|fin|L|line|-6\nH-1|fin|R|line|-8", file="one.xlsx")
    two = table(
        "connections", "connection|joint|side|type|size\nH-1|fin|L|line|-4", file="two.xlsx"
    )
    assert found(one, two) == []


def test_without_a_stages_list_stage_sides_are_swapped_too():
    rows = [row("H-1", "L", timing="after rig L"), row("H-1", "R", timing="after rig R")]
    assert found(listed(*rows)) == []
    rows[1] = row("H-1", "R", timing="after rig L")
    assert [each.connections for each in found(listed(*rows))] == [("H-1",)]


def test_a_rule_may_name_a_counterpart_by_its_other_name():
    rows = (
        row("X1", "L", service="brake"), row("Y5", "R", service="brake"),
        row("H-1", "L", timing="after X1"), row("H-1", "R", timing="after Y5"),
    )  # fmt: skip
    assert found(listed(*rows)) == []
    wrong = row("H-1", "R", timing="after X1")  # binds nothing on R
    (finding,) = found(listed(*rows[:3], wrong))
    assert finding.connections == ("H-1",)


@pytest.mark.parametrize(
    ("rows", "sides"),
    [
        pytest.param([row("H-1", "both")], [], id="on-both"),
        pytest.param([row("H-1", "C")], [], id="on-the-centre-line"),
        pytest.param([row("H-1", "L")], [("L",)], id="left-only"),
        pytest.param([row("H-1", "R")], [("R",)], id="right-only"),
        pytest.param([row("H-1", "L"), row("H-2", "R", type="rod")], [("L",), ("R",)], id="two"),
        pytest.param([row("H-1", "L", **{"from": "F1"})], [], id="one-ended-says-it"),
        pytest.param([row("H-1", "L"), row("H-1", "R", joint="tail")], [("L",), ("R",)], id="2"),
    ],
)  # fmt: skip
def test_missing(rows, sides):
    findings = found(listed(*rows))
    assert [each.sides for each in findings] == sides
    for number, finding in enumerate(findings):
        assert cells(finding) == [f"connections.xlsx!A{number + 2}"]
        assert len(finding.connections) == 1
        assert "R has no" in finding.message or "L has no" in finding.message


def three(*sizes, ids=("T-1", "T-2", "T-3")):
    rows = [
        row(name, side, joint="rotor", size=size)
        for name, side, size in zip(ids, "123", sizes, strict=True)
        if size is not None
    ]
    return found(listed(*rows), BLADES, STAGES)


@pytest.mark.parametrize(
    ("sizes", "odd"),
    [
        pytest.param(("-6", "-6", "-6"), None, id="alike"),
        pytest.param(("-6", "-8", "-6"), "2 is the odd one out", id="second"),
        pytest.param(("-8", "-6", "-6"), "1 is the odd one out", id="first"),
        pytest.param(("-4", "-6", "-8"), "", id="no-majority"),
    ],
)
def test_the_odd_one_out(sizes, odd):
    findings = three(*sizes)
    assert len(findings) == (odd is not None)
    for finding in findings:
        assert finding.sides == ("1", "2", "3")
        assert ("odd one out" in finding.message) == bool(odd)
        assert odd in finding.message


def test_one_of_three_sides_lacks_it():
    (finding,) = three("-6", None, "-6")
    assert finding.sides == ("1", "3")
    assert "are on 1 and 3, and 2 has no counterpart" in finding.message
    (finding,) = three(None, "-6", None)
    assert finding.sides == ("2",)
    assert "is on 2, and 1 and 3 have no counterpart" in finding.message


def test_one_of_three_sides_lacks_it_and_the_others_differ():
    (finding,) = three("-6", None, "-8", ids=("T-1", "T-2", "T-1"))
    assert finding.severity is Severity.HOLD
    assert finding.sides == ("1", "3")
    assert finding.connections == ("T-1",)
    assert finding.message == (
        '"T-1" (line) is on 1 and 3, and 2 has no counterpart; '
        'it differs: size is "-6" on 1 and "-8" on 3'
    )
    assert cells(finding) == [f"connections.xlsx!{cell}" for cell in ("A2", "A3", "H2", "H3")]


@pytest.mark.parametrize(
    ("agreements", "left", "unfilled"),
    [
        pytest.param([], ["no counterpart", "size"], [], id="nothing-is"),
        pytest.param(["|T|||size|x|AB"], ["no counterpart"], [], id="the-column"),
        pytest.param(["|T||||x|AB"], ["size"], [], id="that-a-side-lacks-it"),
        pytest.param(["|T|||size|x|AB", "|T||||x|AB"], [], [], id="both"),
        pytest.param(
            ["|T|||size||", "|T|||||"], ["no counterpart", "size"], ["F2", "G2", "F3", "G3"],
            id="both-in-rows-that-are-not-filled-in",
        ),
    ],
)  # fmt: skip
def test_what_is_agreed_where_one_of_three_sides_lacks_it_and_the_others_differ(
    agreements, left, unfilled
):
    rows = [row("T", side, "rotor", size=f"-{side}") for side in "13"]
    lists = (listed(*rows), BLADES, STAGES, agreed(*agreements))
    findings = found(*lists)
    assert len(findings) == bool(left)
    for finding in findings:
        said = [each for each in ("no counterpart", "size") if each in finding.message]
        assert said == left
        asked = [cell for cell in cells(finding) if cell.startswith("differences")]
        assert sorted(asked) == sorted(f"differences.xlsx!{cell}" for cell in unfilled)
    counted = sides(assembly_of(*lists))
    assert counted.open == len(findings)
    assert counted.counts.different == len(findings)


def test_numbers_of_sides_are_no_sizes_and_no_times():
    rows = [row("T", side, joint="rotor", size=side, timing=f"at least {side} h after mate")
            for side in "123"]  # fmt: skip
    (finding,) = found(listed(*rows), BLADES, STAGES)
    assert "size" in finding.message
    assert "timing" in finding.message


def test_numbers_of_sides_in_services_and_stages():
    rows = [
        row("T", side, joint="rotor", service=f"blade {side}", timing=f"after mate {side}")
        for side in "123"
    ]
    assert found(listed(*rows), BLADES, STAGES) == []


# --- agreements ----------------------------------------------------------------------------------

SIZES = listed(
    row("H-1", "L", service="brake", size="-6"), row("H-1", "R", service="brake", size="-8")
)
LEFT_ONLY = listed(row("H-1", "L", service="brake"), row("H-2", "both", service="flap"))
AGREED = "joint|connection|service|side|column|reason|approved by"


def agreed(*lines, headings=AGREED):
    return table("differences", "\n".join((headings, *lines)))


@pytest.mark.parametrize(
    ("lists", "agreement", "holds", "notes"),
    [
        pytest.param(SIZES, "|H-1|||size|no room|AB", 0, 0, id="the-column"),
        pytest.param(SIZES, "fin|h-1|brake|L|size|no room|AB", 0, 0, id="all-it-can-name"),
        pytest.param(SIZES, "||brake||size|no room|AB", 0, 0, id="the-service"),
        pytest.param(SIZES, "|H-1|||from size|no room|AB", 1, 0, id="one-end-of-two"),
        pytest.param(SIZES, "|H-1|||timing|no room|AB", 1, 1, id="another-column"),
        pytest.param(SIZES, "|H-1||||no room|AB", 1, 1, id="its-existence"),
        pytest.param(SIZES, "|H-2|||size|no room|AB", 1, 1, id="another-connection"),
        pytest.param(SIZES, "||flap||size|no room|AB", 1, 1, id="another-service"),
        pytest.param(SIZES, "|H-1|flap||size|no room|AB", 1, 1, id="connection-of-another-service"),
        pytest.param(SIZES, "tail|H-1|||size|no room|AB", 1, 1, id="another-joint"),
        pytest.param(SIZES, "|H-1|||size||AB", 1, 0, id="no-reason"),
        pytest.param(SIZES, "|H-1|||size|no room|", 1, 0, id="no-approval"),
        pytest.param(SIZES, "|H-1|||timing||", 1, 1, id="no-reason-and-no-difference"),
        pytest.param(LEFT_ONLY, "|H-1||||left pump only|AB", 0, 0, id="exists-somewhere"),
        pytest.param(LEFT_ONLY, "|H-1||L||left pump only|AB", 0, 0, id="exists-on-the-left"),
        pytest.param(LEFT_ONLY, "|H-1||R||left pump only|AB", 1, 1, id="exists-on-the-right"),
        pytest.param(LEFT_ONLY, "|H-1|||size|left pump only|AB", 1, 1, id="a-column-only"),
        pytest.param(LEFT_ONLY, "|H-2||||left pump only|AB", 1, 1, id="of-one-that-is-on-both"),
        pytest.param(LEFT_ONLY, "|H-1||both||left pump only|AB", 0, 0, id="on-either"),
    ],
)  # fmt: skip
def test_agreed(lists, agreement, holds, notes):
    findings = found(lists, agreed(agreement), STAGES)
    severities = [finding.severity for finding in findings]
    assert severities.count(Severity.HOLD) == holds
    assert severities.count(Severity.NOTE) == notes
    for finding in findings:
        if finding.severity is Severity.NOTE:
            assert cells(finding)[0].startswith("differences.xlsx!")
            assert "matches nothing" in finding.message


def test_a_list_without_approvals():
    lists = agreed("H-1|size|no room", headings="connection|column|reason")
    assert found(SIZES, lists) == []


@pytest.mark.parametrize(
    ("agreement", "lacks", "unfilled"),
    [
        pytest.param("|H-1|||size||AB", "no reason", ["F2"], id="reason"),
        pytest.param("|H-1|||size|no room|", "no approval", ["G2"], id="approval"),
        pytest.param("|H-1|||size||", "no reason and no approval", ["F2", "G2"], id="both"),
    ],
)
def test_an_agreement_that_lacks_something_is_cited(agreement, lacks, unfilled):
    (finding,) = found(SIZES, agreed(agreement))
    assert cells(finding)[2:] == [f"differences.xlsx!{cell}" for cell in unfilled]
    assert f"(the differences list names it, but gives {lacks})" in finding.message


def test_an_agreement_that_lacks_something_is_told_where_another_row_agrees():
    (note,) = found(SIZES, agreed("|H-1|||size||", "|H-1|||size|no room|AB"))
    assert note.severity is Severity.NOTE
    assert "gives no reason and no approval, and another row agrees to what it" in note.message
    assert cells(note) == ["differences.xlsx!B2"]


def test_an_agreement_that_lacks_something_is_told_where_one_half_only_is_known():
    lists = listed(row("H-1", "L", **{"from": "F1"}))
    (note,) = found(lists, agreed("|H-1||L|||"))
    assert note.severity is Severity.NOTE
    assert "gives no reason and no approval" in note.message
    assert cells(note) == ["differences.xlsx!F2", "differences.xlsx!G2"]
    assert found(lists, agreed("|H-1||L||left only|AB")) == []


def test_one_column_is_agreed_and_another_is_not():
    lists = listed(
        row("H-1", "L", size="-6", limits=">= 5 Nm"), row("H-1", "R", size="-8", limits=">= 6 Nm")
    )
    (finding,) = found(lists, agreed("|H-1|||size|no room|AB"))
    assert "limits" in finding.message
    assert "size" not in finding.message


@pytest.mark.parametrize(
    ("agreement", "why"),
    [
        pytest.param(
            "|H-9||||x|AB", 'no list has such a connection; the nearest is "H-1"', id="no"
        ),
        pytest.param("||wing||||AB", "no list has such a service", id="no-service"),
        pytest.param("tail|H-1|||size|x|AB", 'it is at joint "fin"', id="joint"),
        pytest.param("|H-1|||limits|x|AB", "limits is alike on every side now", id="alike"),
        pytest.param("|H-1||||x|AB", "it is on every side now", id="exists"),
    ],
)
def test_why_an_agreement_is_idle(agreement, why):
    notes = [each for each in found(SIZES, agreed(agreement)) if each.severity is Severity.NOTE]
    assert [why in each.message for each in notes] == [True]


@pytest.mark.parametrize(
    ("rows", "agreement", "why"),
    [
        pytest.param(
            [row("A3", "L")], "fin|A3||R||x|AB", "it is on L only, and not on R", id="other-side"
        ),
        pytest.param(
            [row("A3", "1", "rotor"), row("A3", "3", "rotor")], "rotor|A3||2||x|AB",
            "it is on 1 and 3 only, and not on 2", id="of-three",
        ),
        pytest.param(
            [row("A3L", "L", size="-6"), row("A3R", "R", size="-8")], "|A3L||R|size|x|AB",
            "it is on L only, and not on R", id="name-of-the-other-side",
        ),
        pytest.param(
            [row("A3", "L")], "|A3||L|size|x|AB",
            "it is on L only, and has no size to be compared with", id="alone",
        ),
        pytest.param(
            [row("A3", "C")], "|A3||||x|AB", "it is on C, and no other side has to be like it",
            id="centre-line",
        ),
        pytest.param(
            [row("A3", "L", service="brake")], "|A3|flap|||x|AB",
            'its service is "brake", and not "flap"', id="service",
        ),
    ],
)  # fmt: skip
def test_why_an_agreement_on_what_there_is_is_idle(rows, agreement, why):
    joints = table("joints", "joint|alike sides\nfin|L, R\nrotor|1, 2, 3")
    notes = [
        each.message
        for each in found(listed(*rows), joints, agreed(agreement))
        if each.severity is Severity.NOTE
    ]
    assert [each.split("matches nothing: ")[1] for each in notes] == [why]


def test_a_wide_agreement_says_what_it_covers():
    lists = listed(*(row(name, "L", service="anti-ice") for name in ("H-1", "H-2", "H-3")))
    (note,) = found(lists, agreed("||anti-ice|L||left only|AB"))
    assert note.severity is Severity.NOTE
    assert "covers 3 differences" in note.message
    assert all(f'"{name}" on L only' in note.message for name in ("H-1", "H-2", "H-3"))
    assert cells(note) == ["differences.xlsx!C2"]


def test_agreements_on_three_sides():
    rows = [
        row("T", side, joint="rotor", size=size) for side, size in zip("123", "669", strict=True)
    ]
    lists = (listed(*rows), BLADES, STAGES)
    assert found(*lists, agreed("|T||3|size|x|AB")) == []
    assert found(*lists, agreed("|T|||size|x|AB")) == []
    assert [each.severity for each in found(*lists, agreed("|T||1|size|x|AB"))] == [Severity.HOLD]
    two = (listed(*rows[:2]), BLADES, STAGES)
    assert [each.severity for each in found(*two, agreed("|T||1||x|AB"))] == [Severity.HOLD]
    assert found(*two, agreed("|T||1||x|AB", "|T||2||x|AB")) == []


# --- as made -------------------------------------------------------------------------------------


def tension(left, right, limits="tension 28..48 lbf"):
    lists = listed(*(row("T-1", side, limits=limits) for side in "LR"))
    record = table(
        "record",
        "when|connection|side|act|by|measure|value|unit\n"
        f"2026-03-04|T-1|L|made|A|tension|{left}\n2026-03-04|T-1|R|made|A|tension|{right}",
    )
    return found(lists, record)


@pytest.mark.parametrize(
    ("left", "right", "limits", "apart"),
    [
        pytest.param("38|lbf", "42|lbf", "tension 28..48 lbf", False, id="near"),
        pytest.param("30|lbf", "40|lbf", "tension 28..48 lbf", False, id="half-the-width"),
        pytest.param("30|lbf", "45|lbf", "tension 28..48 lbf", True, id="far"),
        pytest.param("30|lbf", "200|N", "tension 28..48 lbf", True, id="another-unit"),
        pytest.param("30|lbf", "140|N", "tension 28..48 lbf", False, id="another-unit-near"),
        pytest.param("20|lbf", "45|lbf", "tension 28..48 lbf", False, id="outside-is-another-kind"),
        pytest.param("30|lbf", "45|lbf", "tension >= 20 lbf", True, id="one-bound"),
        pytest.param("40|lbf", "45|lbf", "tension >= 20 lbf", False, id="one-bound-near"),
        pytest.param("30|lbf", "45|lbf", "", True, id="no-limit"),
        pytest.param("1|", "2|", "tension >= 1", False, id="a-bare-count"),
    ],
)
def test_readings_far_apart(left, right, limits, apart):
    findings = tension(left, right, limits)
    assert [each.severity for each in findings] == [Severity.NOTE] * apart
    for finding in findings:
        assert cells(finding) == ["record.xlsx!G2", "record.xlsx!G3"]
        assert finding.sides == ("L", "R")
        assert "differ by more than" in finding.message
