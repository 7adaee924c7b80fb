import pytest

from joinmatrix.lists.reader import read
from joinmatrix.lists.table import ListKind
from tests.lists.making import HEADINGS, notes_of, table_of, troubles_of, workbook

LISTS = {
    "temporary": "temporary item | joint | side | remove",
    "record": "when | connection | side | act | by",
    "record-stage": "when | stage | act | temporary remark",
    "record-item": "when | item | act",
    "differences": "joint | connection | column | reason",
    "differences-service": "service | reason | side | joint | type",
    "joints": "joint | alike sides",
    "people": "person | may | until",
    "tools": "tool | calibrated until | low | high | unit",
    "connections": "connection | joint | side | type",
    "runs": "from | to | side",
    "stages": "stage | timing",
    "stages-after": "stage | after",
    "stages-side": "stage | side",
}


@pytest.mark.parametrize(("name", "headings"), LISTS.items(), ids=LISTS)
def test_the_headings_tell_what_a_list_is(tmp_path, name, headings):
    # Any order, and the sheet's own name does not matter.
    backwards = " | ".join(reversed(headings.split(" | ")))
    path = workbook(tmp_path / "a.xlsx", connections=headings, tools=backwards)
    tables = read([path]).tables
    assert [table.kind for table in tables] == [ListKind(name.partition("-")[0])] * 2
    assert tables[0].numbers.keys() == tables[1].numbers.keys()


@pytest.mark.parametrize(
    ("headings", "columns"),
    [
        pytest.param(
            "CONN. No. | Interface | LH/RH | Kind | System",
            "connection joint side type service",
            id="synonyms",
        ),
        pytest.param(
            "Tag | Joint | Side (L/R) | Type", "connection joint side type", id="brackets"
        ),
        pytest.param(
            "Item no | Joint | Side | Description", "connection joint side type", id="loose"
        ),
        pytest.param(
            "connection | joint | side | type | inspect | inspected | inspected by | made by",
            "connection joint side type inspect inspected inspected_by made_by",
            id="rule-and-tick",
        ),
        pytest.param(
            "connection | joint | side | type | When | from end | from",
            "connection joint side type timing from_end from",
            id="when-is-the-timing-of-a-connection",
        ),
        pytest.param("When | Connection | Act | Sequence", "when connection act seq", id="record"),
    ],
)
def test_headings_are_matched_by_meaning(tmp_path, headings, columns):
    table = table_of(workbook(tmp_path / "a.xlsx", S=headings))
    assert list(table.numbers) == [name.replace("_", " ") for name in columns.split()]


def test_line_breaks_in_headings(tmp_path):
    def edit(book):
        book["S"]["A1"] = "Conn.\nNo."

    table = table_of(workbook(tmp_path / "a.xlsx", edit=edit, S="x | joint | side | type"))
    assert table.numbers["connection"] == 1


def test_titles_above_and_a_table_that_starts_at_c4(tmp_path):
    text = """
        | | |
        Lines of the tail joint | issue 4
        | | |
        | | connection | joint | side | type
        | | H-1 | tail | L | line
        | | |
        | | H-2 | tail | R | line
    """
    reading = read([workbook(tmp_path / "a.xlsx", S=text)])
    table = reading.tables[0]
    assert table.rows == [5, 7]
    assert table.place(0, "connection").cell == "C5"
    assert table.place(1, "type").cell == "F7"
    assert notes_of(reading) == ["the headings are in row 4"]
    assert (reading.accounts[0].read, reading.accounts[0].used) == (2, 2)


def test_headings_alone_are_a_list_without_rows(tmp_path):
    reading = read([workbook(tmp_path / "a.xlsx", S="connection | joint | side | type")])
    assert reading.tables[0].rows == []
    assert (reading.accounts[0].read, reading.accounts[0].used) == (0, 0)
    assert notes_of(reading) == ["has the headings of a connections list only"]


@pytest.mark.parametrize(
    ("headings", "kind", "missing"),
    [
        pytest.param("connection | side | type | service", "connections", '"joint"', id="joint"),
        pytest.param("Conn | Joint | LH RH", "connections", '"type"', id="type"),
        pytest.param("when | connection | side | by | value", "record", '"act"', id="act"),
        pytest.param("Datum | connection | side | Arbeit | by", "record", '"act"', id="odd-record"),
        pytest.param(
            "Bez. | joint | side | Art | from | to",
            "connections",
            '"connection" and "type"',
            id="odd-words",
        ),
        pytest.param("cap | joint | side | remove", "temporary", '"temporary item"', id="caps"),
    ],
)
def test_a_near_miss_is_reported(tmp_path, headings, kind, missing):
    reading = read([workbook(tmp_path / "a.xlsx", S=f"Title\n{headings}\nH-1 | L | line | x")])
    assert not reading.tables
    ((cell, found),) = troubles_of(reading)
    assert cell == "2"
    are = "are" if " and " in missing else "is"
    assert f"are those of a {kind} list, but {missing} {are} missing" in found
    assert any(f'"{each}" (' in found for each in ("side", "LH RH", "connection"))
    assert missing in reading.not_used[0].why


@pytest.mark.parametrize(
    ("headings", "missing"),
    [
        pytest.param("connection | joint | LH | RH", '"type"', id="sides-without-a-type"),
        pytest.param("connection | type | LH | RH", '"joint"', id="sides-without-a-joint"),
        pytest.param("connection | LH | RH", '"joint" and "type"', id="sides-alone"),
        pytest.param("Tag | LH | RH", '"joint" and "type"', id="sides-and-tags"),
        pytest.param("connection | joint | service | from | L | R", '"type"', id="with-a-service"),
        pytest.param("connection | type | service", '"joint" and "side"', id="neither"),
        pytest.param("Conn. no | System", '"joint" and "side" and "type"', id="two-headings"),
        pytest.param("Tag | Kind | Function", '"joint" and "side"', id="tags"),
        pytest.param("connection | type | hull | tail", '"side"', id="joints-as-columns"),
    ],
)
def test_a_list_beside_others_that_lacks_headings_is_asked_about(tmp_path, headings, missing):
    whole = f"{HEADINGS}\nH-1 | hull | L | line\nH-2 | tail | L | line"
    path = workbook(tmp_path / "a.xlsx", A=whole, B=f"{headings}\nH-3 | x | x | x | x | x")
    reading = read([path])
    assert [table.column("connection") for table in reading.tables] == [["H-1", "H-2"]]
    ((cell, found),) = troubles_of(reading)
    missing = missing.replace('" and "', '", "', missing.count(" and ") - 1)
    assert cell == "1"
    assert f"are those of a connections list, but {missing} " in found
    assert reading.not_used[0].sheet == "B"


@pytest.mark.parametrize(
    "headings",
    [
        pytest.param("ID | Name | Remarks", id="names"),
        pytest.param("Tag no | Part no | Qty", id="parts"),
        pytest.param("Tag | Type | Weight | Supplier | Price", id="purchase"),
        pytest.param("connection | remarks", id="remarks"),
        pytest.param("Line | Connection", id="numbered"),
    ],
)
def test_a_sheet_of_other_things_is_not_asked_about(tmp_path, headings):
    whole = f"{HEADINGS}\nH-1 | hull | L | line"
    reading = read([workbook(tmp_path / "a.xlsx", A=whole, B=f"{headings}\n1 | x | x | x | x")])
    assert not reading.troubles
    assert [each.sheet for each in reading.not_used] == ["B"]


def test_the_upper_line_of_headings_is_no_list_of_its_own(tmp_path):
    text = (
        f"Connection | | | | Made | Inspected\n{HEADINGS} | by | by\nH-1 | hull | L | line | A | B"
    )
    reading = read([workbook(tmp_path / "a.xlsx", S=text)])
    assert reading.tables[0].column("inspected by") == ["B"]
    assert not reading.troubles


@pytest.mark.parametrize(
    ("text", "why"),
    [
        pytest.param("", "the sheet is empty", id="empty"),
        pytest.param(
            "Call Bob on 5512\nMind the gap", "no row has the headings of a list", id="notes"
        ),
        pytest.param("Part | Description | Qty\nP1 | clamp | 4", "no row has", id="parts"),
        pytest.param("Name | Phone | Remarks\nBob | 5512 | ", "no row has", id="phones"),
        pytest.param("stage | remarks\ngear down | ", "no row has", id="stage-names-alone"),
    ],
)
def test_a_sheet_that_fits_no_list_is_named(tmp_path, text, why):
    reading = read([workbook(tmp_path / "a.xlsx", Notes=text)])
    assert not reading.tables
    assert not reading.troubles
    assert [(each.sheet, why in each.why) for each in reading.not_used] == [("Notes", True)]


def test_two_columns_that_mean_the_same(tmp_path):
    text = "Conn | Tag | joint | side | type\nH-1 | T-1 | tail | L | line"
    reading = read([workbook(tmp_path / "a.xlsx", S=text)])
    assert troubles_of(reading) == [
        ("B1", 'columns A "Conn" and B "Tag" both mean connection; the first was read')
    ]
    assert reading.tables[0].column("connection") == ["H-1"]


def test_the_same_heading_twice(tmp_path):
    text = "connection | joint | side | type | size | size\nH-1 | tail | L | line | -6 | -8"
    reading = read([workbook(tmp_path / "a.xlsx", S=text)])
    assert troubles_of(reading) == [
        ("F1", 'columns E "size" and F "size" both mean size; the first was read')
    ]


def test_two_columns_that_say_the_same_are_only_noted(tmp_path):
    text = "Conn | Tag | joint | side | type\nH-1 | H-1 | tail | L | line"
    reading = read([workbook(tmp_path / "a.xlsx", S=text)])
    assert not reading.troubles
    assert notes_of(reading) == ['columns A "Conn" and B "Tag" both are the connection, and agree']


def test_a_loose_heading_gives_way(tmp_path):
    text = "Item no | Connection | joint | side | type\n1 | H-1 | tail | L | line"
    reading = read([workbook(tmp_path / "a.xlsx", S=text)])
    assert not reading.troubles
    assert reading.tables[0].column("connection") == ["H-1"]
    assert notes_of(reading) == [
        'column A "Item no" was not read: column B "Connection" is the connection'
    ]


def test_columns_not_read_are_noted(tmp_path):
    text = "connection | joint | side | type | Vendor | \nH-1 | tail | L | line | Acme | 7"
    reading = read([workbook(tmp_path / "a.xlsx", S=text)])
    assert sorted(notes_of(reading)) == [
        "column F has no heading; its values were not read",
        'columns not read: E "Vendor"',
    ]
