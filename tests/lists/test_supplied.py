"""Joint and side given elsewhere than in a column."""

import pytest

from joinmatrix.lists.reader import read
from joinmatrix.lists.supplied import Known, Title, read_title
from tests.lists.making import adds_up, notes_of, separated, troubles_of, workbook

ROWS = "\nH-1 | line\nH-2 | line"


@pytest.mark.parametrize(
    ("text", "title"),
    [
        pytest.param("Hydraulics", Title(), id="discipline"),
        pytest.param("LH", Title(side="L"), id="side"),
        pytest.param("Right-hand side", Title(side="R"), id="side-in-words"),
        pytest.param("Blade 2", Title(), id="no-side-without-a-joints-list"),
        pytest.param("LH wing root", Title("wing root", "L"), id="side-and-joint"),
        pytest.param("wing_root-RH", Title("wing root", "R"), id="behind"),
        pytest.param("Wing root joint", Title("Wing root"), id="called-a-joint"),
        pytest.param("Joint: wing root", Title("wing root"), id="label"),
        pytest.param("JOINT - LH wing root", Title("wing root", "L"), id="label-with-side"),
        pytest.param("Side: port", Title(side="port"), id="side-label"),
        pytest.param("LH hydraulics", Title(side="L"), id="no-joint-is-called-hydraulics"),
        pytest.param("L and R wing root", Title(), id="two-sides"),
        pytest.param("Sheet1", Title(), id="nothing"),
        pytest.param("Joint 3", Title(), id="a-number-alone"),
        pytest.param("tail  CONE", Title("Tail cone"), id="known"),
        pytest.param("LH tail cone", Title("Tail cone", "L"), id="known-with-side"),
        pytest.param("Centre section", Title(), id="centre-is-part-of-names"),
    ],
)
def test_read_title(text, title):
    assert read_title(text, Known({"tail cone": "Tail cone"}, {})) == title


def test_declared_sides():
    known = Known({}, {"2": "2", "inner": "Inner"})
    assert read_title("2", known) == Title(side="2")
    assert read_title("inner", known) == Title(side="Inner")


def test_the_name_of_the_sheet(tmp_path):
    reading = read(
        [
            workbook(
                tmp_path / "a.xlsx",
                **{
                    "LH wing root": f"connection | type{ROWS}",
                    "RH wing root": f"conn | type{ROWS}",
                },
            )
        ]
    )
    found = [(table.column("joint"), table.column("side")) for table in reading.tables]
    assert found == [(["wing root"] * 2, ["L"] * 2), (["wing root"] * 2, ["R"] * 2)]
    assert notes_of(reading)[:2] == [
        'the joint of every row is "wing root", from the name of the sheet',
        'the side of every row is "L", from the name of the sheet',
    ]
    assert dict(reading.understood[0].given)["side"] == "L, from the name of the sheet"
    # There is no cell to show for the side, so the row's first cell stands for it.
    assert reading.tables[0].place(0, "side").cell == "A2"
    assert adds_up(reading)


def test_the_name_of_a_csv(tmp_path):
    path = separated(tmp_path / "lh wing root.csv", "connection,type\nH-1,line\n")
    table = read([path]).tables[0]
    assert (table.column("joint"), table.column("side")) == (["wing root"], ["L"])


def test_a_joint_that_another_list_knows(tmp_path):
    first = workbook(
        tmp_path / "a.xlsx", **{"Tail cone": "connection | side | type\nH-1 | L | line"}
    )
    assert not read([first]).tables
    second = workbook(tmp_path / "b.xlsx", J="joint | alike sides\ntail cone | L, R")
    for paths in ([first, second], [second, first]):
        tables = [each for each in read(paths).tables if each.kind == "connections"]
        assert [table.column("joint") for table in tables] == [["tail cone"]]


@pytest.mark.parametrize(
    "above",
    [
        pytest.param("Joint: wing root\nSide: LH", id="labels"),
        pytest.param("Joint | wing root | \nSide | LH | ", id="cells"),
        pytest.param("LH wing root", id="plain"),
    ],
)
def test_titles_above(tmp_path, above):
    reading = read([workbook(tmp_path / "a.xlsx", S=f"{above}\nconnection | type{ROWS}")])
    table = reading.tables[0]
    assert table.column("joint") == ["wing root"] * 2
    assert {"L": "L", "LH": "L"}[table.column("side")[0]] == "L"


def test_section_rows_give_the_side(tmp_path):
    text = """
        connection | joint | type
        LH side
        H-1 | tail | line
        Hydraulics
        H-2 | tail | line
        RH side
        H-3 | tail | line
    """
    reading = read([workbook(tmp_path / "a.xlsx", S=text)])
    table = reading.tables[0]
    assert table.column("connection") == ["H-1", "H-2", "H-3"]
    assert table.column("side") == ["L", "L", "R"]
    assert [why for _, why in reading.accounts[0].aside] == [
        'a title between the rows ("LH side")',
        'a title between the rows ("Hydraulics")',
        'a title between the rows ("RH side")',
    ]
    assert "the side of each row is that of the title above it" in notes_of(reading)
    assert adds_up(reading)


def test_section_rows_give_joint_and_side(tmp_path):
    text = """
        connection | type
        LH wing root
        H-1 | line
        RH wing root
        H-2 | line
        Joint: tail
        H-3 | line
    """
    table = read([workbook(tmp_path / "a.xlsx", S=text)]).tables[0]
    assert table.column("joint") == ["wing root", "wing root", "tail"]
    assert table.column("side") == ["L", "R", "R"]


def test_what_could_be_a_joint_or_not_is_asked_about(tmp_path):
    text = """
        connection | side | type
        H-0 | L | line
        Joint: tail
        H-1 | L | line
        Fin
        H-2 | L | line
        H-3 | R | line
    """
    reading = read([workbook(tmp_path / "a.xlsx", S=text)])
    assert reading.tables[0].column("connection") == ["H-1"]
    assert troubles_of(reading) == [
        ("A2", "no column and no title gives the joint of row 2"),
        ("A6", 'no column and no title gives the joint of rows 6, 7 below the title "Fin"'),
    ]
    assert adds_up(reading)


def test_without_any_word_of_the_side_it_is_asked_for(tmp_path):
    text = "connection | joint | type | service\nH-1 | tail | line | x"
    reading = read([workbook(tmp_path / "a.xlsx", Lines=text)])
    assert not reading.tables
    assert '"side" is missing' in troubles_of(reading)[0][1]
