"""Rules that cannot be read."""

import pytest

from joinmatrix.timing.constraints import faults
from tests.builders import assembly_of, table

STAGES = table("stages", "stage|side|timing|after\ngear down||\nwing mate|both|")


def connections(*rows):
    head = "connection|joint|side|type|place|timing|inspect|closed by\n"
    return table("connections", head + "\n".join(rows))


@pytest.mark.parametrize(
    ("row", "expected"),
    [
        pytest.param("H|fin|L|line||after gear down||wing mate", [], id="readable"),
        pytest.param("H|fin|L|line||after gaer down||", ["F2"], id="timing"),
        pytest.param("H|fin|L|line|when ready|||", ["E2"], id="place"),
        pytest.param("H|fin|L|line|||after noon|", ["G2"], id="inspect"),
        pytest.param("H|fin|L|line||||wing mat", ["H2"], id="closed-by"),
        pytest.param("H|fin|L|line|x|y||z", ["E2", "F2", "H2"], id="three"),
        pytest.param("H|fin|both|line||after gaer down||", ["F2"], id="both-sides-once"),
        pytest.param("H|fin|L|line||after wing mate C||", ["F2"], id="no-such-side"),
    ],
)
def test_faults_of_connections(row, expected):
    found = faults(assembly_of(connections(row), STAGES))
    assert [fault.place.cell for fault in found] == expected
    assert all(fault.connections == ("H",) and fault.joint == "fin" for fault in found)
    assert all(fault.sides == (("L", "R") if "both" in row else ("L",)) for fault in found)


def test_faults_of_stages_and_items():
    stages = table("stages", "stage|side|timing|after\nA|both|sometime|\nB|||AA")
    items = table("temporary", "temporary item|side|connection|remove\nPin|L||soon\nCap|L|X-1|")
    found = faults(assembly_of(connections("H|fin|L|line||||"), stages, items))
    assert [(fault.place.cell, fault.stages, fault.items, fault.sides) for fault in found] == [
        ("C2", ("A",), (), ("L", "R")),
        ("D3", ("B",), (), ()),
        ("D2", (), ("Pin",), ("L",)),
        ("C3", (), ("Cap",), ("L",)),
    ]


@pytest.mark.parametrize("given", [True, False], ids=["stages-list", "no-stages-list"])
@pytest.mark.parametrize(
    ("blanked", "expected"),
    [
        pytest.param("H-1", [], id="listed"),
        pytest.param("H-1 and h-2 L", [], id="two-listed"),
        pytest.param("", [], id="none"),
        pytest.param("H-9", [], id="listed-in-a-row-that-was-set-aside"),
        pytest.param("H-3", ["C2"], id="unknown"),
        pytest.param("gear down", ["C2"], id="a-stage"),
    ],
)
def test_what_an_item_blanks_off_has_to_be_listed(blanked, expected, given):
    rows = ["H-1|fin|L|line||after gear down||", "H-2|fin|L|line||||", "H-9|fin|Q|line||||"]
    items = table(
        "temporary", f"temporary item|side|connection|remove\nCap|L|{blanked}|before gear down"
    )
    lists = [connections(*rows), items, *([STAGES] if given else [])]
    found = faults(assembly_of(*lists))
    assert [fault.place.cell for fault in found] == expected
    assert all(fault.items == ("Cap",) for fault in found)
    if blanked == "H-3":
        assert found[0].found == (
            '"Cap" blanks off "H-3", and no list has a connection of that name'
        )
        assert '"H-1"' in found[0].remedy


def test_the_same_rule_in_two_lists_names_both_cells():
    row = "H|fin|L|line||after gaer down||"
    other = table(
        "connections", "connection|joint|side|type|timing\nH|fin|L|line|after gaer down", file="b"
    )
    (fault,) = faults(assembly_of(connections(row), other, STAGES))
    assert (fault.place.cell, [place.cell for place in fault.others]) == ("F2", ["E2"])


def test_names_that_differ_by_a_letter_are_noted_without_a_stages_list():
    rows = ["H|fin|L|line||after gear down||", "K|fin|L|line||after gaer down||"]
    (fault,) = faults(assembly_of(connections(*rows)))
    assert not fault.holds
    assert sorted(fault.stages) == ["gaer down", "gear down"]
    assert sorted([fault.place.cell, *(place.cell for place in fault.others)]) == ["F2", "F3"]
