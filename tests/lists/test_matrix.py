"""One row for each connection, one column for each side or joint."""

import pytest

from joinmatrix.lists.reader import read
from tests.lists.making import adds_up, notes_of, troubles_of, workbook


def reading_of(tmp_path, text, *merges, **sheets):
    def edit(book):
        for cells in merges:
            book["S"].merge_cells(cells)

    return read([workbook(tmp_path / "a.xlsx", edit=edit, S=text, **sheets)])


def by_side(reading, column="made"):
    return {
        table.column("side")[0]: dict(
            zip(table.column("connection"), table.column(column), strict=True)
        )
        for table in reading.tables
    }


def test_marks_under_sides(tmp_path):
    text = """
        connection | joint | type | LH | RH
        H-1 | tail | line | x | n/a
        H-2 | tail | line | 2026-03-04 | AB
        H-3 | tail | line | | fitted
        H-4 | tail | line | n/a | -
    """
    reading = reading_of(tmp_path, text)
    assert by_side(reading) == {
        "L": {"H-1": "x", "H-2": "2026-03-04", "H-3": ""},
        "R": {"H-2": "AB", "H-3": "fitted"},
    }
    assert [table.numbers["made"] for table in reading.tables] == [4, 5]
    assert reading.tables[1].place(0, "side").cell == "E3"
    account = reading.accounts[0]
    assert (account.read, account.used, account.aside) == (4, 3, ((5, "is at no side"),))
    assert adds_up(reading)
    assert not reading.troubles
    assert notes_of(reading) == [
        'the columns "LH" and "RH" were read as sides, with a mark for each row'
    ]


def test_bare_marks_are_read_as_made_and_that_is_said(tmp_path):
    text = "connection | joint | type | L | R\nH-1 | tail | line | x | x\nH-2 | tail | line | x | "
    reading = reading_of(tmp_path, text)
    assert by_side(reading) == {"L": {"H-1": "x", "H-2": "x"}, "R": {"H-1": "x", "H-2": ""}}
    (trouble,) = reading.troubles
    assert not trouble.holds
    assert trouble.place.cell == "D1"
    assert "a bare mark was read as made" in trouble.found


@pytest.mark.parametrize(
    ("headings", "merges"),
    [
        pytest.param("connection | joint | type | made L | made R | insp L | insp R", (), id="one"),
        pytest.param(
            " | | | Made | | Inspected | \nconnection | joint | type | L | R | L | R",
            ("D1:E1", "F1:G1"),
            id="two-lines",
        ),
        pytest.param(
            "connection | joint | type | Made | | Inspected | \n | | | L | R | L | R",
            ("D1:E1", "F1:G1"),
            id="two-lines-below",
        ),
    ],
)
def test_several_ticks_for_each_side(tmp_path, headings, merges):
    reading = reading_of(tmp_path, f"{headings}\nH-1 | tail | line | x | x | AB | ", *merges)
    assert by_side(reading) == {"L": {"H-1": "x"}, "R": {"H-1": "x"}}
    assert by_side(reading, "inspected") == {"L": {"H-1": "AB"}, "R": {"H-1": ""}}
    assert not reading.troubles


def test_sides_that_a_joints_list_declares(tmp_path):
    text = "connection | joint | type | 1 | 2 | 3\nH-1 | hub | bolt | x | AB | "
    joints = "joint | alike sides\nhub | 1, 2, 3"
    reading = reading_of(tmp_path, text, Joints=joints)
    connections = [table for table in reading.tables if table.kind == "connections"]
    assert [table.column("side") for table in connections] == [["1"], ["2"], ["3"]]
    assert [table.column("made") for table in connections] == [["x"], ["AB"], [""]]


def test_marks_under_joints(tmp_path):
    text = """
        connection | side | type | tail | wing root
        H-1 | L | line | x |
        H-2 | L | line | | AB
    """
    reading = reading_of(tmp_path, text, J="joint | alike sides\ntail | L, R\nwing root | L, R")
    connections = [table for table in reading.tables if table.kind == "connections"]
    assert [(table.column("joint"), table.column("connection")) for table in connections] == [
        (["tail"], ["H-1"]),
        (["wing root"], ["H-2"]),
    ]
    assert [table.column("made") for table in connections] == [["x"], ["AB"]]


def test_bare_marks_under_joints_are_no_ticks(tmp_path):
    text = "connection | side | type | tail | fin\nH-1 | L | line | x | \nH-2 | L | line | | x"
    reading = reading_of(tmp_path, text, J="joint | alike sides\ntail | L, R\nfin | L, R")
    connections = [table for table in reading.tables if table.kind == "connections"]
    assert [table.column("made") for table in connections] == [[""], [""]]
    assert "nothing was read as made" in reading.troubles[0].found


def test_a_matrix_on_a_sheet_named_after_its_joint(tmp_path):
    text = "connection | type | L | R\nH-1 | line | AB | n/a"
    reading = read([workbook(tmp_path / "a.xlsx", **{"Tail joint": text})])
    assert [table.column("joint") for table in reading.tables] == [["Tail"], []]


def test_one_side_alone_is_no_matrix(tmp_path):
    text = "connection | joint | type | L | service\nH-1 | tail | line | x | y"
    reading = reading_of(tmp_path, text)
    assert not reading.tables
    assert '"side" is missing' in troubles_of(reading)[0][1]


@pytest.mark.parametrize("headings", ["L | R", "made on L | made on R", "made L | made R"])
def test_dates_of_all_sides_are_decided_together(tmp_path, headings):
    text = f"""
        connection | joint | type | {headings}
        H-1 | tail | line | 04/03/2031 | 05/03/2031
        H-2 | tail | line | 25/03/2031 |
    """
    reading = reading_of(tmp_path, text)
    column = "made on" if "on" in headings else "made"
    assert by_side(reading, column) == {
        "L": {"H-1": "2031-03-04", "H-2": "25/03/2031" if column == "made" else "2031-03-25"},
        "R": {"H-1": "2031-03-05", "H-2": ""},
    }
    assert not reading.troubles
    assert [words for words in notes_of(reading) if "day first" in words] == [
        f'{column}: dates such as {day} were read day first, because of "25/03/2031"'
        for day in ("04/03/2031", "05/03/2031")
    ]
