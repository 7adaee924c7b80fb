"""Ends that cannot mate."""

import pytest

from joinmatrix.checks.mismatched import mismatched
from joinmatrix.findings import Severity
from tests.builders import assembly_of, table

HEADINGS = "connection|joint|side|type|from|to|from size|to size|from end|to end|from key|to key\n"


def found_in(rows: str, *more) -> list:
    return list(mismatched(assembly_of(table("connections", HEADINGS + rows), *more)))


@pytest.mark.parametrize(
    ("row", "expected"),
    [
        pytest.param("H1|fin|L|line|A|b", [], id="nothing-given"),
        pytest.param("H1|fin|L|line|A|b|-6|3/8|flare 37|flare 37|N|N", [], id="all-fit"),
        pytest.param("H1|fin|L|line|A|b|-6||pin||A|", [], id="one-half-only"),
        pytest.param("H1|fin|L|line|A|b|-6|-8", [("hold", ["G2", "H2"])], id="size"),
        pytest.param(
            "H1|fin|L|line|A|b|||flare 37|flare 45", [("hold", ["I2", "J2"])], id="end-form"
        ),
        pytest.param("H1|fin|L|plug|A|b|||pin|pin", [("hold", ["I2", "J2"])], id="equal-and-wrong"),
        pytest.param("H1|fin|L|plug|A|b|||||A|B", [("hold", ["K2", "L2"])], id="key"),
        pytest.param(
            "H1|fin|L|plug|A|b|15|17|||A|B",
            [("hold", ["G2", "H2"]), ("hold", ["K2", "L2"])],
            id="two-faults",
        ),
        pytest.param("H1|fin|L|line|A|a", [("hold", ["E2", "F2"])], id="its-own-mate"),
        pytest.param(
            "H1|fin|L|rod|A|b|||bayonet|bayonet", [("note", ["I2", "J2"])], id="unknown-equal-ends"
        ),
        pytest.param(
            "H1|fin|L|rod|A|b|||upper|lower", [("note", ["I2", "J2"])], id="unknown-opposite-ends"
        ),
        pytest.param("H1|fin|L|line|A|b|6|-6", [("note", ["G2", "H2"])], id="size-without-family"),
        pytest.param("H1|fin|both|line|A|b|-6|-8", [("hold", ["G2", "H2"])], id="both-sides"),
    ],
)
def test_listed(row, expected):
    found = found_in(row)
    assert [(each.severity, [place.cell for place in each.places]) for each in found] == expected
    assert all(each.connections == ("H1",) and each.joint == "fin" for each in found)


def test_sides_of_one_row_are_one_finding():
    (found,) = found_in("H1|fin|both|line|A|b|-6|-8")
    assert found.sides == ("L", "R")
    assert found.message == (
        'the two ends of "H1" cannot mate: size "-6" on the one half meets "-8" on the other'
    )


def test_a_plain_size_in_each_half_s_list():
    assembly = assembly_of(
        table("connections", "connection|joint|side|type|from|size\nH1|fin|L|line|A|-6", file="a"),
        table("connections", "connection|joint|side|type|to|size\nH1|fin|L|line|b|-8", file="b"),
    )
    (found,) = mismatched(assembly)
    assert [(place.file, place.cell) for place in found.places] == [("a", "F2"), ("b", "F2")]


def test_a_column_in_dispute_is_left_to_the_conflict():
    rows = HEADINGS + "H1|fin|L|line|A|b|-6|{size}|pin|socket"
    assembly = assembly_of(
        table("connections", rows.format(size="-6"), file="one.xlsx"),
        table("connections", rows.format(size="-8"), file="two.xlsx"),
    )
    assert "to size" in assembly.connections[0].disputed
    assert list(mismatched(assembly)) == []


def test_unknown_ends_of_a_joint_are_one_note():
    (found,) = found_in("H1|fin|L|rod|A|b|||quick|quick\nH2|fin|L|rod|C|d|||quick|quick")
    assert found.severity is Severity.NOTE
    assert found.connections == ("H1", "H2")


def test_a_port_recorded_as_its_own_mate():
    record = table("record", "connection|side|act|when|mated to\nH1|L|made|2026-03-04|A")
    (found,) = found_in("H1|fin|L|line|A|b", record)
    assert found.severity is Severity.HOLD
    assert [place.cell for place in found.places] == ["E2", "E2"]
    assert "mated to itself" in found.message
