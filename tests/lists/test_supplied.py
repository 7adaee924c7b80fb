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
        pytest.param("L and R wing root", Title("wing root", "L & R"), id="two-sides"),
        pytest.param("LH wing to RH wing", Title(hint="?"), id="two-sides-apart"),
        pytest.param("LH & RH", Title(side="LH & RH"), id="two-sides-alone"),
        pytest.param("BOTH", Title(side="both"), id="both"),
        pytest.param("All sides", Title(side="both"), id="all-sides"),
        pytest.param("Both sides, tail cone", Title("Tail cone", "both"), id="both-and-a-joint"),
        pytest.param("All", Title(), id="all-may-be-all-lines"),
        pytest.param("Both wings", Title(), id="both-of-what"),
        pytest.param("wing_root_RH_rev2", Title("", "R"), id="with-its-issue"),
        pytest.param("Hydraulics L, page 3", Title(side="L"), id="with-its-page"),
        pytest.param("Outer wing left", Title("Outer wing", "L"), id="left-behind"),
        pytest.param("Lines - left", Title(side="L"), id="left-set-apart"),
        pytest.param("Port outer wing", Title("outer wing", "L"), id="port"),
        pytest.param("Rev R", Title(), id="an-issue-is-no-side"),
        pytest.param("Port list", Title(), id="ports"),
        pytest.param("Port and line list", Title(), id="ports-and-lines"),
        pytest.param("Lines left", Title(), id="left-over"),
        pytest.param("Fittings with right hand thread", Title(), id="thread"),
        pytest.param("Work left to do is marked yellow", Title(), id="sentence"),
        pytest.param("Fit the right way round", Title(), id="the-right-way"),
        pytest.param("Joint faces are clean", Title(), id="sentence-on-a-joint"),
        pytest.param("Joint - clean it before mating", Title(), id="sentence-behind-a-dash"),
        pytest.param("All lines of the left-hand side", Title(hint="L"), id="speaks-of-a-side"),
        pytest.param("Lines on the right", Title(hint="R"), id="on-the-right"),
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


# --- sections between the rows


def sections_of(tmp_path, title, headings="connection | joint | type", row="H-3 | tail | line"):
    text = f"{headings}\nLH\nH-1 | tail | line\nRH\nH-2 | tail | line\n{title}\n{row}"
    return read([workbook(tmp_path / "a.xlsx", S=text)])


@pytest.mark.parametrize(
    ("title", "side"),
    [
        pytest.param("Both sides", "both", id="both-sides"),
        pytest.param("BOTH", "both", id="both"),
        pytest.param("LH & RH", "LH & RH", id="and-sign"),
        pytest.param("LH and RH", "LH and RH", id="and"),
        pytest.param("L/R", "L/R", id="slash"),
        pytest.param("Centre line", "C", id="centre-line"),
        pytest.param("Side: | LH", "LH", id="label-and-value"),
        pytest.param("Side | LH", "LH", id="without-a-colon"),
        pytest.param("Electrical", "R", id="no-side"),
        pytest.param("Fittings with right hand thread", "R", id="remark"),
        pytest.param("Plugs are left on until mating", "R", id="sentence"),
    ],
)
def test_the_side_below_a_section_title(tmp_path, title, side):
    reading = sections_of(tmp_path, title)
    assert reading.tables[0].column("side") == ["L", "R", side]
    assert not reading.troubles
    assert adds_up(reading)


@pytest.mark.parametrize(
    "title", ["Centre section", "All lines of the left hand side", "C/L", "LH or RH side"]
)
def test_a_title_that_may_be_another_side_is_asked_about(tmp_path, title):
    reading = sections_of(tmp_path, title)
    assert reading.tables[0].column("connection") == ["H-1", "H-2"]
    assert troubles_of(reading) == [
        ("A7", f'no column and no title gives the side of row 7 below the title "{title}"')
    ]
    assert adds_up(reading)


@pytest.mark.parametrize(
    "title",
    ["Joint: | outer wing", "Joint | outer wing", "Joint: outer wing", "| | Joint: | outer wing"],
)
def test_a_label_and_its_value_begin_a_section(tmp_path, title):
    text = f"""
        Joint: tail cone
        connection | service | type | side
        H-1 | brake | line | L
        {title}
        H-2 | brake | line | L
    """
    reading = read([workbook(tmp_path / "a.xlsx", S=text)])
    assert reading.tables[0].column("joint") == ["tail cone", "outer wing"]
    assert [row for row, _ in reading.accounts[0].aside] == [4]
    assert not reading.troubles
    assert adds_up(reading)


def test_joint_and_side_in_one_section_row(tmp_path):
    text = "connection | service | type\nJoint: | hull | Side: | LH\nH-1 | brake | line"
    text = text.replace("type", "type | size")
    table = read([workbook(tmp_path / "a.xlsx", S=text)]).tables[0]
    assert (table.column("joint"), table.column("side")) == (["hull"], ["LH"])


# --- titles and names that do not agree


@pytest.mark.parametrize(
    "title", ["Port and line list", "All ports left capped until mating", "Fit the right way round"]
)
def test_a_sentence_above_leaves_the_name_of_the_sheet(tmp_path, title):
    text = f"{title}\n\nconnection | type{ROWS}"
    reading = read([workbook(tmp_path / "a.xlsx", **{"RH wing root": text})])
    table = reading.tables[0]
    assert (table.column("joint"), table.column("side")) == (["wing root"] * 2, ["R"] * 2)
    assert not reading.troubles


@pytest.mark.parametrize(
    ("title", "odds"),
    [
        pytest.param("LH outer wing", "joint and the side", id="joint-and-side"),
        pytest.param("LH wing root", "side", id="side"),
        pytest.param("RH outer wing", "joint", id="joint"),
        pytest.param("Side: LH", "side", id="label"),
        pytest.param("Lines of the left hand side", "side", id="sentence-on-a-side"),
    ],
)
def test_a_title_against_the_name_of_the_sheet_is_asked_about(tmp_path, title, odds):
    text = f"{title}\n\nconnection | type{ROWS}"
    reading = read([workbook(tmp_path / "a.xlsx", **{"RH wing root": text})])
    assert not reading.tables[0].rows
    assert troubles_of(reading) == [
        (
            "A1",
            f'row 1 says "{title}" and the name of the sheet says "RH wing root": they do not '
            f"agree on the {odds} of the rows, so none was used",
        )
    ]
    assert len(reading.accounts[0].aside) == 2
    assert adds_up(reading)


def test_a_title_that_says_more_than_the_name_of_the_sheet(tmp_path):
    text = f"LH wing root\nconnection | type{ROWS}"
    reading = read([workbook(tmp_path / "a.xlsx", **{"Left wing": text})])
    assert reading.tables[0].column("joint") == ["wing root"] * 2
    assert not reading.troubles


def test_two_titles_that_do_not_agree(tmp_path):
    text = f"Side: LH\nRH wing root\nconnection | type{ROWS}"
    reading = read([workbook(tmp_path / "a.xlsx", S=text)])
    (trouble,) = reading.troubles
    assert [each.cell for each in (trouble.place, *trouble.others)] == ["A2", "A1"]
    assert trouble.remedy == 'correct the one that is wrong, or add a column "side"'


def test_settings_settle_what_titles_do_not_agree_on(tmp_path):
    (tmp_path / "joinmatrix.toml").write_text('[sheets."RH wing root"]\nside = "L"\n')
    text = f"LH wing root\nconnection | type{ROWS}"
    reading = read([workbook(tmp_path / "a.xlsx", **{"RH wing root": text})])
    assert reading.tables[0].column("side") == ["L"] * 2
    assert not reading.troubles


def test_a_section_against_the_name_of_the_sheet_is_asked_about(tmp_path):
    text = "connection | type\nH-1 | line\nRH side\nH-2 | line\nLH side\nH-3 | line"
    reading = read([workbook(tmp_path / "a.xlsx", **{"LH wing root": text})])
    assert reading.tables[0].column("connection") == ["H-1", "H-3"]
    assert troubles_of(reading) == [
        ("A4", 'the title "RH side" and the name of the sheet do not agree on the side of row 4')
    ]
    assert reading.troubles[0].remedy == 'correct the one that is wrong, or add a column "side"'
    assert adds_up(reading)


def test_a_remark_between_the_rows_ends_no_section(tmp_path):
    text = """
        connection | side | type
        Joint: hull
        H-1 | L | line
        Note: all of them are wired
        Page 2
        H-2 | L | line
    """
    reading = read([workbook(tmp_path / "a.xlsx", S=text)])
    assert reading.tables[0].column("joint") == ["hull", "hull"]
    assert not reading.troubles
    assert adds_up(reading)
