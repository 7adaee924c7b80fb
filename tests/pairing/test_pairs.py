"""Which connections belong together, and by which sign."""

import pytest

from joinmatrix.pairing.groups import Sign, Unit
from joinmatrix.pairing.pairs import How, group_of, groups
from tests.builders import assembly_of, table


def paired(*tables):
    """Identifiers that were grouped and the sign, for those that have a counterpart."""
    found = groups(assembly_of(*tables))
    return [
        (*(member.id for member in group.members), group.how)
        for group in found
        if len(group.members) > 1
    ]


def listed(*rows, headings="connection|joint|side|type|service|part|from|to"):
    return table("connections", "\n".join((headings, *rows)))


SWAPPED, HANDED, ROUTE, ALIKE = How.SWAPPED_ID, How.HANDED_PARTS, How.ROUTE, How.ALIKE


@pytest.mark.parametrize(
    ("left", "right", "how"),
    [
        pytest.param("H-1", "H-1", How.SAME_ID, id="same-id"),
        pytest.param("h-1", "H-1 ", How.SAME_ID, id="same-id-folded"),
        pytest.param("H-1L", "H-1R", SWAPPED, id="letter-at-the-end"),
        pytest.param("LH-H-1", "RH-H-1", SWAPPED, id="word-at-the-start"),
        pytest.param("H.port.1", "H.stbd.1", SWAPPED, id="port-and-starboard"),
        pytest.param("H left 1", "H right 1", SWAPPED, id="left-and-right"),
        pytest.param("LH-L1", "RH-R1", SWAPPED, id="two-words"),
        pytest.param("LH-L1", "RH-L1", SWAPPED, id="a-letter-that-names-the-line"),
        pytest.param("H-1L", "H-2R", None, id="another-number"),
        pytest.param("HL1", "HR1", None, id="letters-inside-a-run"),
        pytest.param("H-1R", "H-1L", None, id="wrong-way-about"),
        pytest.param("H-1", "H-01", How.ALIKE, id="a-leading-zero"),
        pytest.param("H-07 LH", "RH H7", How.ALIKE, id="order-and-punctuation"),
    ],
)
def test_by_identifier(left, right, how):
    lists = listed(f"{left}|fin|L|line|a", f"{right}|fin|R|line|{'a' if how else 'b'}")
    assert [each[-1] for each in paired(lists)] == ([how] if how else [])


def test_never_across_joints():
    lists = listed("H-1|fin|L|line|brake", "H-1|tail|R|line|brake", "H-2L|fin|L|line",
                   "H-2R|tail|R|line")  # fmt: skip
    assert paired(lists) == []


def test_the_centre_line_is_in_no_group():
    assembly = assembly_of(listed("H-1|fin|C|line", "H-1|fin|L|line", "H-1|fin|R|line"))
    assert [member.side for group in groups(assembly) for member in group.members] == ["L", "R"]
    assert set(group_of(assembly)) == {key for key in assembly.by_key if key.side != "C"}


BLADES = table("joints", "joint|alike sides\nrotor|1, 2, 3")


@pytest.mark.parametrize(
    ("ids", "expected"),
    [
        pytest.param(("T-1-7", "T-2-7", "T-3-7"), [(0, 1, 2)], id="side-in-the-middle"),
        pytest.param(("T-7-1", "T-7-2", "T-7-3"), [(0, 1, 2)], id="side-at-the-end"),
        pytest.param(("T-7", "T-7", "T-7"), [(0, 1, 2)], id="same-id"),
        pytest.param(("T-1-7", "T-2-7", "T-3-8"), [(0, 1)], id="one-is-another"),
        pytest.param(("B1-T1", "B2-T2", "B3-T3"), [(0, 1, 2)], id="both-numbers-are-the-side"),
    ],
)
def test_three_sides(ids, expected):
    rows = [f"{name}|rotor|{side}|{name} line" for side, name in enumerate(ids, 1)]
    found = [each[:-1] for each in paired(listed(*rows), BLADES)]
    assert found == [tuple(ids[number] for number in each) for each in expected]


@pytest.mark.parametrize("form", ["T-{side}-{number}", "T-{number}-{side}", "{side}.{number}"])
def test_numbers_that_count_and_numbers_that_are_sides(form):
    rows = [
        f"{form.format(side=side, number=number)}|rotor|{side}|line|service {number}"
        for number in range(1, 6)
        for side in (1, 2, 3)
    ]
    found = groups(assembly_of(listed(*rows), BLADES))
    assert len(found) == 5
    assert all(len({member.service for member in group.members}) == 1 for group in found)
    assert all(len(group.members) == 3 for group in found)


@pytest.mark.parametrize(
    ("left", "right", "how"),
    [
        pytest.param("X1|fin|L|rod||GA-41-1", "Y5|fin|R|rod||GA-41-2", HANDED, id="odd-and-even"),
        pytest.param("X1|fin|L|rod||GA-41-4", "Y5|fin|R|rod||GA-41-3", HANDED, id="even-is-left"),
        pytest.param("X1|fin|L|rod||GA-41-2", "Y5|fin|R|rod||GA-41-3", ALIKE, id="no-pair"),
        pytest.param("X1|fin|L|rod||GA-41-1", "Y5|fin|R|duct||GA-41-2", None, id="other-type"),
        pytest.param("X1|fin|L|rod|up|G-1", "Y5|fin|R|rod|down|G-2", None, id="other-service"),
        pytest.param("X1|fin|L|rod||G-LH", "Y5|fin|R|rod||G-RH", HANDED, id="hand-in-the-number"),
    ],
)
def test_by_part_number(left, right, how):
    assert [each[-1] for each in paired(listed(left, right))] == ([how] if how else [])


@pytest.mark.parametrize(
    ("left", "right", "how"),
    [
        pytest.param("X1|fin|L|line|||F3|W9", "Y5|fin|R|line|||F3|W9", ROUTE, id="both-ports"),
        pytest.param("X1|fin|L|line|||F3 LH|A", "Y5|fin|R|line|||F3 RH|B", ROUTE, id="one-port"),
        pytest.param("X1|fin|L|line|||F3|W9", "Y5|fin|R|rod|||F3|W9", ROUTE, id="other-type"),
        pytest.param("X1|fin|L|line|||F3|", "Y5|fin|R|rod|||F3|", None, id="other-type-at-one-end"),
        pytest.param("X1|fin|L|line|up||F3|W9", "Y5|fin|R|line|in||F3|W9", ROUTE, id="same-place"),
        pytest.param("X1|fin|L|line|up||F3|", "Y5|fin|R|line|down||F3|", None, id="other-service"),
    ],
)
def test_by_ports(left, right, how):
    assert [each[-1] for each in paired(listed(left, right))] == ([how] if how else [])


@pytest.mark.parametrize(
    ("left", "right", "together"),
    [
        pytest.param("strap||", "strap||", False, id="alike"),
        pytest.param("strap|bond|", "strap|bond|", False, id="one-service-of-all"),
        pytest.param("strap|lamp|", "strap|lamp|", True, id="a-service-of-its-own"),
    ],
)
def test_what_stands_at_other_ports_is_no_counterpart(left, right, together):
    rows = [f"X{n}|fin|L|strap|bond||F{n}|W{n}" for n in (1, 3, 5)]
    rows += [f"Y{n}|fin|R|strap|bond||F{n}|W{n}" for n in (5, 3, 1)]
    found = paired(listed(*rows, f"X4|fin|L|{left}|F4|W4", f"Y2|fin|R|{right}|F2|W2"))
    assert [each for each in found if "X4" in each or "Y2" in each] == (
        [("X4", "Y2", ALIKE)] if together else []
    )
    assert len(found) == (4 if together else 3)


def test_another_type_at_the_same_ports_is_not_paired_across():
    rows = (
        "X1|fin|L|duct|||F1|W1", "X5|fin|L|hose|||F5|W5", "Y8|fin|R|hose|||F1|W1",
        "Y9|fin|R|duct|||F5|W5",
    )  # fmt: skip
    assert paired(listed(*rows)) == [("X1", "Y8", ROUTE), ("X5", "Y9", ROUTE)]


# Two lines with unrelated names at the fin, told apart only by what their runs lead to.
CROSSING = (
    "X1|fin|L|line|||a1|b1", "X2|fin|L|line|||a2|b2", "Y8|fin|R|line|||c1|d1",
    "Y9|fin|R|line|||c2|d2",
)  # fmt: skip


@pytest.mark.parametrize(
    ("further", "runs", "reason"),
    [
        pytest.param(
            (),
            ("b1|rudder valve LH|L|", "b2|rudder pump|L|", "d1|rudder pump|R|",
             "d2|rudder valve RH|R|"),
            "rudder valve",
            id="equipment-of-one-name",
        ),
        pytest.param(
            (),
            ("b1|e1|L|boost", "b2|e2|L|bleed", "d1|f1|R|bleed", "d2|f2|R|boost"),
            "a run for boost",
            id="runs-for-one-service",
        ),
        pytest.param(
            ("Z1|tail|L|line|||g1|h1", "Z1|tail|R|line|||i1|j1"),
            ("b1|g1|L|", "d2|i1|R|"),
            "Z1 at joint tail",
            id="a-paired-connection-of-another-joint",
        ),
        pytest.param(
            ("K1|tail|C|line|||g1|h1",),
            ("b1|g1|L|C", "d2|g1|R|C"),
            "K1 at joint tail",
            id="one-on-the-centre-line",
        ),
    ],
)  # fmt: skip
def test_by_what_lies_beyond(further, runs, reason):
    if "C" in runs[0].split("|")[3]:
        lines = [f"{a}|{b}|{side}|{to}|" for a, b, side, to in (run.split("|") for run in runs)]
        run_list = table("runs", "from|to|from side|to side|service\n" + "\n".join(lines))
    else:
        run_list = table("runs", "from|to|side|service\n" + "\n".join(runs))
    assembly = assembly_of(listed(*CROSSING, *further), run_list)
    found = {group.members[0].id: group for group in groups(assembly)}
    assert found["X1"].members[1].id == "Y9"
    assert found["X1"].how is ROUTE
    assert reason in found["X1"].why


def test_a_renamed_line_is_found_once_its_neighbour_is():
    """The tail pair is found by its service, and then shows the place of the fin pair."""
    rows = [*CROSSING, "Z1|tail|L|line|boost||g1|h1", "Q7|tail|R|line|boost||i1|j1"]
    runs = table(
        "runs", "from|to|side|service\nb1|g1|L|\nd2|i1|R|\nh1|boost unit|L|\nj1|boost unit|R|"
    )
    assert ("X1", "Y9", ROUTE) in paired(listed(*rows), runs)


def test_an_earthing_point_tells_nothing():
    rows = [f"X{n}|fin|L|strap|||a{n}|b{n}" for n in range(20)]
    rows += [f"Y{n}|fin|R|strap|||c{n}|d{n}" for n in range(19, -1, -1)]
    runs = [f"b{n}|earth|L" for n in range(20)] + [f"d{n}|earth|R" for n in range(20)]
    found = paired(listed(*rows), table("runs", "from|to|side\n" + "\n".join(runs)))
    assert len(found) == 20
    assert {how for *_, how in found} == {ALIKE}


LIKE = "connection|joint|side|type|service|size|timing|limits"


@pytest.mark.parametrize(
    ("left", "right", "together"),
    [
        pytest.param("line|brake|-6|after rig|", "line|brake|-6|after rig|", True, id="all-alike"),
        pytest.param("line|brake|-6|after rig|", "line|brake|-8|after rig|", True, id="one-column"),
        pytest.param("line|LH brake|-6||", "line|RH brake|-8||", True, id="side-in-the-service"),
        pytest.param("line|brake presure|-6||", "line|brake pressure|-6||", True, id="misspelt"),
        pytest.param("line|brake pxessure|-6||", "line|brake pressure|-6||", True, id="one-letter"),
        pytest.param("line|hyd press|-6||", "line|hydraulic pressure|-6||", True, id="shortened"),
        pytest.param("line|brake supply|-6||", "line|brake return|-6||", False, id="opposites"),
        pytest.param("line|cell 3|-6||", "line|cell 4|-6||", False, id="another-number"),
        pytest.param("line|brake|-6||", "rod|brake|-6||", True, id="another-type"),
        pytest.param("line||-6||", "rod||-6||", False, id="another-type-and-no-service"),
        pytest.param("line|brake|-6||", "line|flap|-6||", False, id="another-service"),
        pytest.param("bolt||-6||", "bolt||-6||", True, id="no-service-and-alike"),
        pytest.param("bolt||-6||", "bolt||-8||", False, id="no-service-and-another-size"),
    ],
)
def test_by_likeness(left, right, together):
    found = paired(listed(f"X1|fin|L|{left}", f"Y5|fin|R|{right}", headings=LIKE))
    assert found == ([("X1", "Y5", ALIKE)] if together else [])


def test_the_whole_is_most_alike_and_not_the_first_that_comes():
    rows = (
        "X1|fin|L|line|brake|-6|after rig|", "X2|fin|L|line|brake|-6|after rig|5 Nm",
        "Y1|fin|R|line|brake|-6|after rig|5 Nm", "Y2|fin|R|line|brake|-8|after rig|",
    )  # fmt: skip
    assert [each[:2] for each in paired(listed(*rows, headings=LIKE))] == [
        ("X1", "Y2"), ("X2", "Y1"),
    ]  # fmt: skip


def test_many_that_nothing_tells_apart_are_taken_in_order():
    rows = [f"X{n}|fin|L|bolt||-4||" for n in range(120)]
    rows += [f"Y{n}|fin|R|bolt||-4||" for n in range(500, 620)]
    found = paired(listed(*rows, headings=LIKE))
    assert [each[:2] for each in found] == [(f"X{n}", f"Y{n + 500}") for n in range(120)]


def test_every_pair_has_a_reason():
    assembly = assembly_of(
        listed(
            "A|fin|both|line|a",
            "B-L|fin|L|line|b",
            "B-R|fin|R|line|b",
            "X|fin|L|line|c",
            "Y|fin|R|line|c",
            "Z|fin|L|rod|d",
        )
    )
    reasons = [group.why for group in groups(assembly)]
    assert reasons == [
        "the same identifier",
        "B-L and B-R are one name with the side changed",
        '"X" and "Y" are alike in every column, and nothing else is',
        "",
    ]


THREE = table("joints", "joint|alike sides\nrotor|1, 2, 3\nframe|1, 2, 3, 4")


@pytest.mark.parametrize(
    ("rows", "reason"),
    [
        pytest.param(
            ["X25|rotor|1|line|a|-6", "Q25|rotor|2|line|a|-8", "Z25|rotor|3|line|a|-6"],
            '"X25" and "Z25" are alike in every column, and nothing else is; '
            'each is the only line for "a" on its side',
            id="the-third-by-another-sign",
        ),
        pytest.param(
            ["X25|rotor|1|line|a|-6", "Q25|rotor|2|line|a|-6", "Z25|rotor|3|line|a|-6"],
            '"X25", "Q25" and "Z25" are alike in every column, and nothing else is',
            id="all-three-by-one-sign",
        ),
        pytest.param(
            ["H-1-1|rotor|1|line|a|-6", "H-2-1|rotor|2|line|a|-6", "Q25|rotor|3|line|a|-6"],
            "H-1-1 and H-2-1 are one name with the side changed; "
            '"H-1-1", "H-2-1" and "Q25" are alike in every column, and nothing else is',
            id="two-by-their-names",
        ),
        pytest.param(
            [
                "X1|frame|1|line|a|-6", "Q1|frame|2|line|a|-6",
                "Y1|frame|3|line|a|-8", "Z1|frame|4|line|a|-8",
            ],
            '"X1" and "Q1" are alike in every column, and nothing else is; '
            '"Y1" and "Z1" are alike in every column, and nothing else is; '
            'each is the only line for "a" on its side',
            id="two-and-two",
        ),
    ],
)  # fmt: skip
def test_a_reason_names_those_that_it_brought_together(rows, reason):
    headings = "connection|joint|side|type|service|size"
    (group,) = groups(assembly_of(THREE, listed(*rows, headings=headings)))
    assert group.why == reason


def test_a_reason_that_holds_for_one_more_is_told_once():
    rows = [f"H-{side}|rotor|{side}|line" for side in "321"]
    connections = assembly_of(THREE, listed(*rows)).connections
    sign = Sign(ALIKE, lambda members: " and ".join(member.id for member in members))
    unit, *others = (Unit(("1", "2", "3"), connection) for connection in connections)
    reasons = []
    for other in others:
        unit.take([other], sign)
        reasons.append(unit.group().why)
    assert reasons == ["H-2 and H-3", "H-1 and H-2 and H-3"]
