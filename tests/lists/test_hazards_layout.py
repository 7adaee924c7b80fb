"""Rows that are neither headings nor entries for certain."""

import pytest

from joinmatrix.lists.reader import read
from tests.lists.making import HEADINGS, adds_up, separated, troubles_of, workbook


def reading_of(tmp_path, text, name="S"):
    return read([workbook(tmp_path / "a.xlsx", **{name: text})])


def rows_of(reading, *columns):
    """The texts of the columns in every row that is used, list after list."""
    return [
        row
        for table in reading.tables
        for row in zip(*(table.column(name) for name in columns), strict=True)
    ]


# --- headings again


@pytest.mark.parametrize(
    "again",
    [
        pytest.param(f"{HEADINGS} | service", id="the-same"),
        pytest.param("Conn. | joint | side | type | System", id="other-spellings"),
        pytest.param(f"{HEADINGS} | ", id="one-left-out"),
        pytest.param(f"{HEADINGS} | service | page 2", id="with-the-page"),
    ],
)
def test_the_same_headings_again_are_passed_over(tmp_path, again):
    text = (
        f"{HEADINGS} | service\nH-1 | hull | L | hose | fuel\n{again}\nH-2 | hull | L | hose | air"
    )
    reading = reading_of(tmp_path, text)
    assert rows_of(reading, "connection", "service") == [("H-1", "fuel"), ("H-2", "air")]
    assert reading.accounts[0].aside == ((3, "the headings again"),)
    assert not reading.troubles


@pytest.mark.parametrize("blank", ["", "|\n"], ids=["at-once", "below-a-blank-row"])
@pytest.mark.parametrize(
    ("headings", "again", "entry", "cells"),
    [
        pytest.param(
            f"{HEADINGS} | service | from | to",
            "connection | joint | side | service | type | from | to",
            "H-2 | hull | R | fuel | hose | a | b",
            {"service": "fuel", "type": "hose", "from": "a", "to": "b"},
            id="two-columns-swapped",
        ),
        pytest.param(
            f"{HEADINGS} | from | to | made by | inspected by",
            f"{HEADINGS} | to | from | inspected by | made by",
            "H-2 | hull | R | hose | b | a | CD | AB",
            {"to": "b", "from": "a", "inspected by": "CD", "made by": "AB"},
            id="ends-and-people-swapped",
        ),
        pytest.param(
            f"{HEADINGS} | size",
            f"{HEADINGS} | closed by | timing",
            "H-2 | hull | R | hose | fairing | after mate",
            {"closed by": "fairing", "timing": "after mate"},
            id="more-columns",
        ),
        pytest.param(
            f"{HEADINGS} | size (mm)",
            f"{HEADINGS} | size (in)",
            "H-2 | hull | R | hose | 4",
            {"size": "4 in"},
            id="another-unit",
        ),
    ],
)
def test_other_headings_further_down_begin_another_list(
    tmp_path, headings, again, entry, cells, blank
):
    text = f"{headings}\nH-1 | hull | L | line\n{blank}{again}\n{entry}"
    reading = reading_of(tmp_path, text)
    first, second = reading.tables
    assert first.column("connection") == ["H-1"]
    assert {name: second.column(name) for name in cells} == {
        name: [value] for name, value in cells.items()
    }
    assert adds_up(reading)
    assert not reading.troubles


def test_headings_that_are_nearly_the_same_are_asked_about(tmp_path):
    text = """
        stage | after | remarks
        gear down | |
        stage | after | Bemerkung
        mate | gear down | wind
    """
    reading = reading_of(tmp_path, text)
    (trouble,) = reading.troubles
    assert (trouble.place.cell, trouble.holds) == ("C3", True)
    assert trouble.found == (
        'the row has the headings of row 1 again, but "Bemerkung" where row 1 has something else, '
        "so the rows below it may have been misread"
    )
    assert reading.accounts[0].aside == ((3, "headings again, but not the same"),)
    assert adds_up(reading)


def test_headings_are_repeated_on_many_pages(tmp_path):
    # Every other page has two columns swapped; none of them may be read by the headings before.
    pages = [
        "connection,joint,side,type,service\nH-1,hull,L,hose,fuel\n",
        "connection,joint,side,service,type\nH-2,hull,L,fuel,hose\n",
    ]
    reading = read([separated(tmp_path / "a.csv", "".join(pages * 30))])
    assert rows_of(reading, "type", "service") == [("hose", "fuel")] * 60
    assert adds_up(reading)


# --- rows with next to nothing but an identifier


def test_a_bare_id_below_a_side_is_a_row(tmp_path):
    text = """
        connection | joint | service | type
        LH
        H-1 | hull | air | line
        H-5
        RH
        Hydraulics
        H-1 | hull | air | line
        H-5
    """
    reading = reading_of(tmp_path, text)
    assert rows_of(reading, "connection", "side") == [
        *(("H-1", "L"), ("H-5", "L"), ("H-1", "R"), ("H-5", "R"))
    ]
    assert [row for row, _ in reading.accounts[0].aside] == [2, 5, 6]
    assert adds_up(reading)


def test_a_bare_id_keeps_the_joint_of_its_section(tmp_path):
    text = """
        connection | side | type
        Joint: hull
        H-1 | L | line
        H-5
        H-1 | R | line
    """
    reading = reading_of(tmp_path, text)
    assert rows_of(reading, "connection", "joint", "side") == [
        *(("H-1", "hull", "L"), ("H-5", "hull", ""), ("H-1", "hull", "R"))
    ]


def test_what_may_be_an_id_or_a_joint_is_asked_about(tmp_path):
    text = """
        connection | side | type
        Joint: hull
        H-1 | L | line
        Blade 2
        H-1 | R | line
    """
    reading = reading_of(tmp_path, text)
    assert rows_of(reading, "connection", "joint") == [("H-1", "hull"), ("Blade 2", "")]
    assert troubles_of(reading) == [
        ("A5", 'no column and no title gives the joint of row 5 below the title "Blade 2"')
    ]
    assert adds_up(reading)


@pytest.mark.parametrize(
    ("row", "used"),
    [
        pytest.param("H-3: | | | | a | b | fairing", True, id="id-with-a-colon"),
        pytest.param("H-3: | | | | | |", True, id="id-with-a-colon-alone"),
        pytest.param("Total | | | | a | b | fairing", True, id="called-total"),
        pytest.param("checked by: | | | | | | AB", False, id="remark"),
        pytest.param("Total | | | | | | 2", False, id="totals"),
        pytest.param("Total | 7 | | | | |", False, id="totals-under-another-heading"),
        pytest.param("Total | hull | L | | | |", True, id="total-of-a-side"),
        pytest.param("Hydraulics | | | | | |", False, id="title"),
    ],
)
def test_a_row_without_joint_side_and_type(tmp_path, row, used):
    text = f"{HEADINGS} | from | to | closed by\nH-1 | hull | L | line | p | q | fairing\n{row}"
    reading = reading_of(tmp_path, text)
    assert [table.rows for table in reading.tables] == [[2, 3] if used else [2]]
    assert not reading.troubles
    assert adds_up(reading)


def test_a_row_without_its_id_is_no_totals_row_for_a_joint_called_total(tmp_path):
    reading = reading_of(tmp_path, f"{HEADINGS}\nH-1 | hull | L | line\n | Total | L | line")
    assert [cell for cell, _ in troubles_of(reading)] == ["A3"]
