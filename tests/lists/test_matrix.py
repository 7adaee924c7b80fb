"""One row for each connection, one column for each side or joint."""

import pytest

from joinmatrix.lists.reader import read
from tests.lists.making import adds_up, notes_of, separated, troubles_of, workbook


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


@pytest.mark.parametrize(
    ("headings", "row", "sides", "troubles"),
    [
        pytest.param(
            "made L | insp L | made R | insp R",
            "n/a | x | x | x",
            ["L", "R"],
            [("D3", 'made: "n/a" says that L has no such connection, and E "insp L" has "x"')],
            id="inspected-and-not-there",
        ),
        pytest.param(
            "made L | insp L | made R | insp R", "n/a | n/a | x | x", ["R"], [], id="not-there"
        ),
        pytest.param(
            "made L | insp L | made R | insp R", "n/a | no | x | x", ["R"], [], id="not-inspected"
        ),
        pytest.param(
            "made L | insp L | made R | insp R", " | n/a | x | x", ["L", "R"], [], id="not-made"
        ),
        pytest.param(
            "made L | size L | made R | size R",
            "- | -6 | x | -6",
            ["L", "R"],
            [("D3", 'made: "-" says that L has no such connection, and E "size L" has "-6"')],
            id="a-size-and-not-there",
        ),
        pytest.param(
            "made L | remarks L | made R | remarks R",
            "n/a | left only has a plug | x | ",
            ["R"],
            [],
            id="a-remark",
        ),
        pytest.param("made on L | made on R", "n/a | 2031-03-04", ["R"], [], id="no-date"),
        pytest.param("made on L | made on R", "- | 2031-03-04", ["L", "R"], [], id="dash-for-date"),
        pytest.param("made by L | made by R", "n/a | A. Berg", ["R"], [], id="no-name"),
        pytest.param(
            "made on L | made by L | made on R | made by R",
            "n/a | A. Berg | 2031-03-04 | A. Berg",
            ["L", "R"],
            [
                (
                    "D3",
                    'made on: "n/a" says that L has no such connection, and E "made by L" has '
                    '"A. Berg"',
                )
            ],
            id="signed-and-not-there",
        ),
    ],
)
def test_what_says_that_a_side_has_no_connection(tmp_path, headings, row, sides, troubles):
    blank = " | ".join(" " for _ in row.split("|"))
    text = f"connection | joint | type | {headings}\nH-1 | tail | line | {blank}\n"
    text += f"H-2 | tail | line | {row}"
    reading = reading_of(tmp_path, text)
    found = [
        table.column("side")[0] for table in reading.tables if "H-2" in table.column("connection")
    ]
    assert found == sides
    assert troubles_of(reading) == troubles
    assert adds_up(reading)


UNREAD = "which were not read: "


@pytest.mark.parametrize(
    ("lines", "cells", "found"),
    [
        pytest.param(
            "connection,joint,side,type,LH,RH\nH-1,tail,both,line,x,\nH-2,tail,both,line,,AB\n",
            ["E1", "F1"],
            f'there are ticks under "LH" and "RH", {UNREAD}column C "side" says of which side each '
            "row is",
            id="beside-a-column-of-sides",
        ),
        pytest.param(
            "connection,joint,type,LH,RH,Both\nH-1,tail,line,x,AB,\nH-2,tail,line,,,4/3/2031\n",
            ["F1"],
            f'there are ticks under "Both", {UNREAD}only "LH" and "RH" were read as sides',
            id="both",
        ),
        pytest.param(
            "connection,joint,type,made L,made R,inspected L\nH-1,tail,line,x,AB,x\n",
            ["F1"],
            f'there are ticks under "inspected L", {UNREAD}only "made L" and "made R" were read as '
            "sides",
            id="one-side-alone",
        ),
        pytest.param(
            "connection,joint,side,type,tail,fin\nH-1,tail,L,line,x,\nH-2,fin,L,line,,x\n",
            ["E1", "F1"],
            f'there are ticks under "tail" and "fin", {UNREAD}column B "joint" says of which joint '
            "each row is",
            id="joints",
        ),
        pytest.param(
            "connection,joint,side,type,1,2\nP-1,hub,1,pipe,x,\nP-2,hub,2,pipe,,x\n",
            ["E1", "F1"],
            f'there are ticks under "1" and "2", {UNREAD}column C "side" says of which side each '
            "row is",
            id="sides-of-the-list",
        ),
    ],
)
def test_ticks_in_columns_that_are_not_read(tmp_path, lines, cells, found):
    reading = read([separated(tmp_path / "a.csv", lines)])
    assert troubles_of(reading) == [(cells[0], found)]
    (trouble,) = (each for each in reading.troubles if each.holds)
    assert [place.cell for place in trouble.others] == cells[1:]
    assert "tick" in trouble.remedy


@pytest.mark.parametrize(
    "headings",
    [
        pytest.param("LH part,RH part", id="parts"),
        pytest.param("LH,RH", id="sides-of-no-tick"),
        pytest.param("Vendor,Batch", id="others"),
    ],
)
def test_columns_without_ticks_stay_a_note(tmp_path, headings):
    lines = f"connection,joint,side,type,{headings}\nH-1,tail,both,line,P-100,P-200\n"
    reading = read([separated(tmp_path / "a.csv", lines)])
    assert not reading.troubles
    assert any("columns not read" in words for words in notes_of(reading))
