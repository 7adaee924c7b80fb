"""Entries of the record for what no list has."""

import pytest

from joinmatrix.checks.unlisted import unlisted
from tests.builders import assembly_of, cells, table

CONNECTIONS = table(
    "connections", "connection|joint|side|type\nH-07|fin|L|line\nH-08|fin|both|line"
)
STAGES = table("stages", "stage|side|timing\nwing mate|both|\nfuelling||")
PEOPLE = table("people", "person|may\nA. Berg|make\nC. Dahl|make")
TOOLS = table("tools", "tool|calibrated until\nTW-1|2031-12-31")
HEADINGS = "when|connection|stage|side|act|by|tool\n"


@pytest.mark.parametrize(
    ("row", "expected"),
    [
        pytest.param("|h-07||L|made", [], id="listed"),
        pytest.param("||Wing  Mate|R|done", [], id="listed-stage"),
        pytest.param("|H-08||both|made|a. berg|tw-1", [], id="listed-person-and-tool"),
        pytest.param("|H-70||L|made", ["record.xlsx!B2"], id="connection"),
        pytest.param("|H-07||R|made", ["record.xlsx!B2"], id="connection-on-another-side"),
        pytest.param("||wing mtae||done", ["record.xlsx!C2"], id="stage"),
        pytest.param("||fuelling|L|done", ["record.xlsx!C2"], id="stage-with-a-side-too-many"),
        pytest.param("|H-07||L|made|A. Berg / C. Dahl", [], id="two-listed-persons"),
        pytest.param("|H-07||L|made|B. Berg", ["record.xlsx!F2"], id="person"),
        pytest.param("|H-07||L|made|A. Berg/B. Berg", ["record.xlsx!F2"], id="one-of-two-persons"),
        pytest.param("|H-07||L|made||TW-9", ["record.xlsx!G2"], id="tool"),
    ],
)
def test_unlisted(row, expected):
    assembly = assembly_of(CONNECTIONS, STAGES, PEOPLE, TOOLS, table("record", HEADINGS + row))
    found = list(unlisted(assembly))
    assert [cell for each in found for cell in cells(each)] == expected


def test_one_name_in_several_entries_is_one_finding_with_the_nearest_name():
    rows = "|H-70||L|placed\n|H-70||L|made"
    (found,) = unlisted(assembly_of(CONNECTIONS, table("record", HEADINGS + rows)))
    assert cells(found) == ["record.xlsx!B2", "record.xlsx!B3"]
    assert '"H-07"' in found.clears
    assert found.connections == ("H-70",)


def test_lists_that_are_not_given_switch_their_part_off():
    row = "|H-07||L|made|Nobody|TW-9\n||any stage||done"
    assert list(unlisted(assembly_of(CONNECTIONS, table("record", HEADINGS + row)))) == []


def test_who_ticked_is_looked_up_too():
    ticked = table("connections", "connection|joint|side|type|made|made by\nH-1|fin|L|line|x|XY")
    (found,) = unlisted(assembly_of(ticked, PEOPLE))
    assert cells(found) == ["connections.xlsx!F2"]
    assert found.items == ("XY",)
