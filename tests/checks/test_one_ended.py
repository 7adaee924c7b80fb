"""Connections that only one half lists."""

import pytest

from joinmatrix.checks.one_ended import one_ended
from joinmatrix.findings import Severity
from tests.builders import assembly_of, cells, report_of, table


@pytest.mark.parametrize(
    ("rows", "expected"),
    [
        pytest.param("H1|fin|L|line|A|b", [], id="both-ends"),
        pytest.param("H1|fin|L|bolt||", [], id="no-ends"),
        pytest.param("H1|fin|L|line|A|", [("L", ["A2", "E2", "F2"])], id="from-only"),
        pytest.param("H1|fin|L|line||b", [("L", ["A2", "F2", "E2"])], id="to-only"),
        pytest.param(
            "H1|fin|both|line|A|", [("L/R", ["A2", "E2", "F2"])], id="on-both-sides-at-once"
        ),
    ],
)
def test_one_list(rows, expected):
    found = list(
        one_ended(assembly_of(table("connections", "connection|joint|side|type|from|to\n" + rows)))
    )
    assert [("/".join(each.sides), [place.cell for place in each.places]) for each in found] == (
        expected
    )
    assert all(each.severity is Severity.HOLD for each in found)


def halves(hull: str, wing: str) -> list:
    return list(
        one_ended(
            assembly_of(
                table("connections", "connection|joint|side|type|from\n" + hull, file="hull.xlsx"),
                table("connections", "connection|joint|side|type|to\n" + wing, file="wing.xlsx"),
            )
        )
    )


def test_two_lists_of_one_half_each_make_a_whole():
    assert halves("H1|fin|L|line|A", "H1|fin|L|line|b") == []


def test_a_connection_that_the_other_half_forgot():
    (found,) = halves("H1|fin|L|line|A\nH2|fin|L|line|C", "H1|fin|L|line|b")
    assert found.connections == ("H2",)
    assert found.joint == "fin"
    assert cells(found) == ["hull.xlsx!A3", "hull.xlsx!E3"]
    assert found.message == (
        'only one half lists "H2": its "from" is port "C", and no list gives its "to"'
    )


def test_the_other_half_may_list_it_under_another_name():
    first, second = halves("H-12|fin|L|line|A", "H12|fin|L|line|b")
    assert '"H12"' in first.clears
    assert '"H-12"' in second.clears


def test_the_port_that_the_record_has_is_a_hint_and_no_second_finding():
    report = report_of(
        table("connections", "connection|joint|side|type|from|to\nH1|fin|both|line|A|"),
        table(
            "record", "when|connection|side|act|mated to\n2031-03-04|H1|L|made|V5\n|H1|R|made|V5"
        ),
    )
    (found,) = [each for each in report.findings if each.severity is Severity.HOLD]
    assert found.clears.endswith('(the record has it mated to "V5")')
    assert found.sides == ("L", "R")
    assert cells(found)[3:] == ["record.xlsx!E2", "record.xlsx!E3"]
