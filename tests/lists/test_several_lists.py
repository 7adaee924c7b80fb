"""More than one list on a sheet, and headings in two lines."""

import pytest

from joinmatrix.lists.reader import read
from tests.lists.making import HEADINGS, adds_up, notes_of, separated, troubles_of, workbook


def reading_of(tmp_path, text, *merges):
    def edit(book):
        for cells in merges:
            book["S"].merge_cells(cells)

    return read([workbook(tmp_path / "a.xlsx", edit=edit, S=text)])


def shape(reading):
    return [(str(table.kind), list(table.rows)) for table in reading.tables]


def test_one_below_the_other(tmp_path):
    text = f"""
        {HEADINGS}
        H-1 | tail | L | line
        | | |
        Stages of the build-up | | |
        stage | timing | |
        gear down | |
        | | |
        joint | alike sides
        tail | L, R
    """
    reading = reading_of(tmp_path, text)
    assert shape(reading) == [("connections", [2]), ("stages", [6]), ("joints", [9])]
    assert reading.accounts[0].aside == (
        (4, 'a title between the rows ("Stages of the build-up")'),
    )
    assert adds_up(reading)
    assert not reading.troubles
    assert notes_of(reading)[0] == (
        'several lists are on the sheet: "connections", "stages" and "joints"'
    )


def test_one_below_the_other_without_a_gap(tmp_path):
    text = f"{HEADINGS}\nH-1 | tail | L | line\nfrom | to | side | service\nA | B | L | x"
    reading = reading_of(tmp_path, text)
    assert shape(reading) == [("connections", [2]), ("runs", [4])]


@pytest.mark.parametrize("rows", [10, 3000])
def test_far_down_a_long_sheet(tmp_path, rows):
    lines = "".join(f"H-{n},tail,L,line\n" for n in range(rows))
    text = f"connection,joint,side,type\n{lines}\nstage,timing\ngear down,\n"
    reading = read([separated(tmp_path / "a.csv", text)])
    assert [len(table.rows) for table in reading.tables] == [rows, 1]
    assert adds_up(reading)


def test_side_by_side(tmp_path):
    text = f"""
        {HEADINGS} | | stage | timing
        H-1 | tail | L | line | | gear down |
        H-2 | tail | R | line | | |
    """
    reading = reading_of(tmp_path, text)
    assert shape(reading) == [("connections", [2, 3]), ("stages", [2])]
    assert reading.tables[1].place(0, "stage").cell == "F2"
    assert [account.read for account in reading.accounts] == [2, 1]


def test_two_lists_of_one_kind_have_one_account(tmp_path):
    text = f"{HEADINGS} | | {HEADINGS}\nH-1 | tail | L | line | | H-2 | tail | R | line"
    reading = reading_of(tmp_path, text)
    assert shape(reading) == [("connections", [2]), ("connections", [2])]
    assert [(each.read, each.used) for each in reading.accounts] == [(2, 2)]


def test_a_blank_column_inside_a_list_does_not_part_it(tmp_path):
    text = f"{HEADINGS} | | made | made by\nH-1 | tail | L | line | | x | AB"
    reading = reading_of(tmp_path, text)
    assert reading.tables[0].column("made by") == ["AB"]
    assert len(reading.tables) == 1


@pytest.mark.parametrize("first", ["stage | after", "stage | timing"])
def test_a_list_beside_another_that_lacks_a_heading_is_not_swallowed(tmp_path, first):
    text = f"""
        {first} | | connection | side | type | from | to
        mate | | | H-1 | L | line | a | b
        fairing | | | H-2 | R | line | c | d
        | | | H-3 | R | line | e | f
    """
    reading = reading_of(tmp_path, text)
    assert shape(reading) == [("stages", [2, 3])]
    assert "side" not in reading.tables[0].cells
    assert troubles_of(reading) == [
        (
            "1",
            'the headings "connection" (D), "side" (E), "type" (F), "from" (G), "to" (H) are those '
            'of a connections list, but "joint" is missing, so it was not read',
        )
    ]
    assert notes_of(reading) == ["row 4 holds values beside the lists only, which were not read"]


def test_columns_that_repeat_the_connection_are_asked_about(tmp_path):
    text = f"{HEADINGS} | | connection | made\nH-1 | tail | L | line | | H-1 | x"
    reading = reading_of(tmp_path, text)
    assert shape(reading) == [("connections", [2])]
    assert [cell for cell, _ in troubles_of(reading)] == ["1"]


def test_what_stands_beside_a_list_is_noted(tmp_path):
    text = f"{HEADINGS} | | Doc | Rev\nH-1 | tail | L | line | | 17 | B"
    reading = reading_of(tmp_path, text)
    assert shape(reading) == [("connections", [2])]
    assert [each for each in notes_of(reading) if "were not read" in each] == [
        'column F "Doc" stands apart from the list; its values were not read',
        'column G "Rev" stands apart from the list; its values were not read',
    ]


def test_words_like_headings_do_not_end_a_list(tmp_path):
    # Every cell is a word that is a heading somewhere, but it makes no list.
    text = "when | connection | side | act | tool | remarks\n"
    text += "2026-03-04 | H-1 | L | made | gauge | note\n" * 3
    reading = reading_of(tmp_path, text)
    assert shape(reading) == [("record", [2, 3, 4])]


def test_a_near_miss_below_a_list_is_not_read_as_its_rows(tmp_path):
    text = (
        "stage | timing\ngear down | \n | \nconnection | side | type | service\nH-1 | L | line | x"
    )
    reading = reading_of(tmp_path, text)
    assert shape(reading) == [("stages", [2])]
    ((cell, found),) = troubles_of(reading)
    assert cell == "4"
    assert 'but "joint" is missing' in found


# --- headings in two lines


@pytest.mark.parametrize(
    ("headings", "merges", "names"),
    [
        pytest.param(
            "connection | joint | side | type | Made | | remarks\n | | | | by | on |",
            ["E1:F1"],
            ["made by", "made on", "remarks"],
            id="merged",
        ),
        pytest.param(
            "connection | joint | side | type | Made | | remarks\n | | | | by | on |",
            [],
            ["made by", "made on", "remarks"],
            id="not-merged",
        ),
        pytest.param(
            " | | | | Made | | Inspected | \nconnection | joint | side | type | by | on | by | on",
            ["E1:F1", "G1:H1"],
            ["made by", "made on", "inspected by", "inspected on"],
            id="groups-above",
        ),
        pytest.param(
            "Connection | Location | | Type\n | Joint | Side | ",
            ["A1:A2", "B1:C1", "D1:D2"],
            ["connection", "joint", "side", "type"],
            id="neither-line-alone",
        ),
        pytest.param(
            "connection | joint | side | type | from | | to | \n | | | | port | size | port | size",
            ["E1:F1", "G1:H1"],
            ["from", "from size", "to", "to size"],
            id="ends",
        ),
    ],
)
def test_headings_in_two_lines(tmp_path, headings, merges, names):
    text = f"{headings}\nH-1 | tail | L | line" + " | x" * 4
    reading = reading_of(tmp_path, text, *merges)
    assert len(reading.tables) == 1
    table = reading.tables[0]
    assert [name for name in table.numbers if name in names] == names
    assert list(table.rows) == [3]
    assert reading.understood[0].row == 2


def test_the_first_row_of_a_list_is_no_second_line(tmp_path):
    reading = reading_of(tmp_path, f"{HEADINGS} | made\n | tail | L | line | x")
    assert reading.accounts[0].read == 1
    assert [cell for cell, _ in troubles_of(reading)] == ["A2"]


# --- units and measures in headings


@pytest.mark.parametrize(
    ("headings", "cells", "limits"),
    [
        pytest.param("Torque (in-lbf)", "135..150", "torque 135..150 in-lbf", id="range"),
        pytest.param("Torque [Nm]", "12", "torque 12 Nm", id="number"),
        pytest.param("Torque", "12..14 Nm", "torque 12..14 Nm", id="unit-in-the-cell"),
        pytest.param("Torque min (Nm) | Torque max (Nm)", "12 | 14", "torque 12..14 Nm", id="pair"),
        pytest.param("Max. gap (mm)", "0.5", "gap <= 0.5 mm", id="max"),
        pytest.param(
            "limits | Torque (Nm)", "slot = aft | 12..14", "slot = aft; torque 12..14 Nm", id="both"
        ),
        pytest.param("Torque (Nm) | gap (mm)", " | 1..2", "gap 1..2 mm", id="one-blank"),
        pytest.param("Torque (Nm)\n | | | | min", "12", "torque >= 12 Nm", id="two-lines"),
    ],
)
def test_a_measure_in_a_heading_is_a_limit(tmp_path, headings, cells, limits):
    reading = reading_of(tmp_path, f"{HEADINGS} | {headings}\nH-1 | tail | L | line | {cells}")
    table = reading.tables[0]
    assert table.column("limits") == [limits]
    assert table.place(0, "limits").cell in ("E2", "E3")
    assert not reading.troubles


def test_a_unit_in_a_heading_goes_with_the_values(tmp_path):
    text = f"{HEADINGS} | Size (mm)\nH-1 | tail | L | line | 12\nH-2 | tail | L | line | 1/2 in"
    assert reading_of(tmp_path, text).tables[0].column("size") == ["12 mm", "1/2 in"]


def test_the_unit_of_a_reading_goes_into_its_own_column(tmp_path):
    text = "when | act | connection | value (Nm) | unit\n"
    text += "2026-03-04 | measured | H-1 | 12 | \n2026-03-04 | measured | H-2 | 9 | in-lbf\n"
    text += "2026-03-04 | made | H-3 | | "
    assert reading_of(tmp_path, text).tables[0].column("unit") == ["Nm", "in-lbf", ""]
