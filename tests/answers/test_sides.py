"""The audit of alike sides."""

import pytest

from joinmatrix.answers.sides import DIFFERENCES_HEADINGS, Counts, sides
from joinmatrix.checks.asymmetric import asymmetric
from joinmatrix.errors import CallError
from joinmatrix.findings import Severity
from tests.builders import assembly_of, table

CONNECTIONS = table(
    "connections",
    """connection|joint|side|type|service|from|to|size|timing|limits|part|remarks
H-1|fin|both|line|brake||||||
H-2L|fin|L|line|flap up|F2L|W2L|-6|after rig||41-1|
H-2R|fin|R|line|flap up|F2R|W2R|-8|after rig||41-2|check bend
H-3|fin|L|line|flap down|||-6|after rig||
H-3|fin|R|line|flap down|||-6|after mate||
H-4|fin|L|line|anti-ice|||||||
H-5|fin|R|line|bilge|||||||
E-1|tail|L|connector|lamp|F9|W9|||||
E-1|tail|R|connector|lamp|F9|W8|||||
K-1|tail|C|connector|beacon|||||||""",
)
DIFFERENCES = table(
    "differences",
    "connection|side|column|reason|approved by\nH-3||timing|longer rod|QA 7\nH-4|L||left only|QA 7",
)


def audit(*more, **options):
    return sides(assembly_of(CONNECTIONS, *more), **options)


def test_pairs_and_why():
    fin, tail = audit().joints
    assert (fin.joint, fin.alike) == ("fin", ("L", "R"))
    assert [(pair.members, pair.why) for pair in fin.pairs] == [
        ((("L", "H-1"), ("R", "H-1")), "the same identifier"),
        ((("L", "H-2L"), ("R", "H-2R")), "H-2L and H-2R are one name with the side changed"),
        ((("L", "H-3"), ("R", "H-3")), "the same identifier"),
    ]
    assert [(each.connection, each.side) for each in fin.unpaired] == [("H-4", "L"), ("H-5", "R")]
    assert [pair.members for pair in tail.pairs] == [(("L", "E-1"), ("R", "E-1"))]


def test_differences_and_counts():
    found = audit(DIFFERENCES)
    fin, tail = found.joints
    assert [pair.verdict for pair in fin.pairs] == ["equal", "different", "agreed"]
    (size,) = fin.pairs[1].differences
    assert (size.column, size.values, size.agreed) == ("size", (("L", "-6"), ("R", "-8")), False)
    (timing,) = fin.pairs[2].differences
    assert (timing.agreed, timing.reason, timing.approved) == (True, "longer rod", "QA 7")
    assert [each.agreed for each in fin.unpaired] == [True, False]
    assert fin.counts == Counts(equal=1, agreed=1, different=1, unpaired=1, unpaired_agreed=1)
    assert tail.counts == Counts(equal=1)
    assert found.counts == Counts(2, 1, 1, 1, 1)


def test_what_is_shown_and_not_judged():
    fin, tail = audit().joints
    assert [each.column for each in fin.pairs[1].also] == ["remarks"]  # swapped ports, handed parts
    (port,) = tail.pairs[0].also
    assert (port.column, port.values) == ("to", (("L", "W9"), ("R", "W8")))
    assert tail.pairs[0].verdict == "equal"


def test_ticks_are_shown():
    lists = table("connections", "connection|joint|side|type|made\nH|fin|L|line|x\nH|fin|R|line|")
    ((pair,),) = [joint.pairs for joint in sides(assembly_of(lists)).joints]
    assert [(each.column, each.values) for each in pair.also] == [
        ("state", (("L", "made"), ("R", "listed")))
    ]
    assert pair.verdict == "equal"


@pytest.mark.parametrize(
    ("runs", "differs"),
    [
        pytest.param("F9|pump LH|L|hull\nF9|pump RH|R|hull", False, id="alike"),
        pytest.param("F9|pump LH|L|hull\nF9|tank|R|hull", False, id="names-of-ports-may-differ"),
        pytest.param("F9|pump LH|L|hull", True, id="one-run-only"),
        pytest.param("F9|pump LH|L|hull\nF9|pump RH|R|wing", True, id="another-half"),
        pytest.param("F9|x|L|hull\nx|y|L|hull\nF9|x|R|hull", True, id="one-goes-on"),
    ],
)
def test_the_route_beyond_the_joint(runs, differs):
    _, tail = audit(table("runs", f"from|to|side|half\n{runs}")).joints
    assert ("route" in [each.column for each in tail.pairs[0].also]) == differs


def test_narrowed():
    found = audit(differences_only=True)
    assert [joint.joint for joint in found.joints] == ["fin"]
    assert [pair.members[0][1] for pair in found.joints[0].pairs] == ["H-2L", "H-3"]
    assert found.joints[0].counts.equal == 1
    assert [joint.joint for joint in audit(joint="TAIL").joints] == ["tail"]
    with pytest.raises(CallError, match=r'(?i)choose "tail"'):
        audit(joint="tial")


def test_idle_and_wide_agreements():
    lists = table(
        "differences",
        "connection|service|joint|reason\nH-9|||gone\n|line||no\n|anti-ice||left\n|flap down||rod",
    )
    found = audit(lists)
    assert len(found.idle) == 3
    assert found.wide == ()
    assert str(found.idle[0][0]).endswith("!A2")


def test_three_sides():
    found = sides(
        assembly_of(
            table("joints", "joint|alike sides\nrotor|1, 2, 3"),
            table(
                "connections",
                "connection|joint|side|type|size\nT|rotor|1|line|-6\n"
                "T|rotor|3|line|-8\nU|rotor|all|line|-4",
            ),
        )
    )
    first, second = found.joints[0].pairs
    assert first.members == (("1", "T"), ("3", "T"))
    assert [(each.column, each.values) for each in first.differences] == [
        ("existence", (("1", "T"), ("2", ""), ("3", "T"))),
        ("size", (("1", "-6"), ("3", "-8"))),
    ]
    assert second.verdict == "equal"


def _sheet(rows, reason="", approved=""):
    lines = ["|".join(DIFFERENCES_HEADINGS)]
    lines += ["|".join((*row[:4], reason, approved)) for row in rows]
    return table("differences", "\n".join(lines))


@pytest.mark.parametrize("reason", ["", "as drawn"])
def test_a_proposal_is_accepted_as_it_is_and_covers_once_signed(reason):
    proposal = audit().proposal
    assert [tuple(row) for row in proposal] == [
        ("fin", "H-2L", "L", "size", "", ""),
        ("fin", "H-3", "", "timing", "", ""),
        ("fin", "H-4", "L", "", "", ""),
        ("fin", "H-5", "R", "", "", ""),
    ]
    assembly = assembly_of(CONNECTIONS, _sheet(proposal, reason, reason))
    assert not assembly.troubles
    severities = [finding.severity for finding in asymmetric(assembly)]
    assert severities == ([] if reason else [Severity.HOLD] * 4)
    assert sides(assembly).proposal == (() if reason else proposal)


def test_a_proposal_for_three_sides_covers():
    lists = (
        table("joints", "joint|alike sides\nrotor|1, 2, 3"),
        table(
            "connections",
            "connection|joint|side|type|size\nT1|rotor|1|line|-6\n"
            "T2|rotor|2|line|-6\nT3|rotor|3|line|-8\nU1|rotor|1|line|-6\nU2|rotor|2|line|-4\n"
            "V1|rotor|1|rod|-6",
        ),
    )
    proposal = sides(assembly_of(*lists)).proposal
    assert not list(asymmetric(assembly_of(*lists, _sheet(proposal, "as drawn", "QA"))))


def test_a_size_in_another_spelling_is_no_difference():
    rows = "H-1|fin|L|line|brake|-8\nH-1|fin|R|line|brake|1/2 in"
    lists = table("connections", f"connection|joint|side|type|service|size\n{rows}")
    (joint,) = sides(assembly_of(lists)).joints
    assert joint.counts == Counts(equal=1)
