from datetime import date, datetime, time

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from joinmatrix.lists.reader import read
from tests.lists.making import (
    HEADINGS,
    adds_up,
    notes_of,
    separated,
    sheet_changed,
    table_of,
    troubles_of,
    workbook,
)


def reading_of(tmp_path, text, edit=None):
    return read([workbook(tmp_path / "a.xlsx", edit=edit, S=text)])


def set_cells(**values):
    def edit(book):
        for cell, value in values.items():
            book["S"][cell] = value

    return edit


# --- values


def test_values_become_text(tmp_path):
    edit = set_cells(A2=1001, A3="01001", A4=True, E2=0.1 + 0.2, E3=12.5, E4=" x  y ")
    text = f"{HEADINGS} | size\n" + "a | tail | L | line |\n" * 3
    table = reading_of(tmp_path, text, edit).tables[0]
    assert table.column("connection") == ["1001", "01001", "TRUE"]
    assert table.column("size") == ["0.3", "12.5", "x  y"]


def test_a_true_is_not_a_one(tmp_path):
    edit = set_cells(E2=1, E3=True, E4=False, E5=0)
    text = f"{HEADINGS} | critical\n" + "a | tail | L | line |\n" * 4
    assert reading_of(tmp_path, text, edit).tables[0].column("critical") == [
        *("1", "TRUE", "FALSE", "0")
    ]


def test_dates_become_iso_text(tmp_path):
    moments = [date(2026, 3, 4), datetime(2026, 3, 4, 10, 30), datetime(2026, 3, 4), "4 Mar 2026"]
    edit = set_cells(**{f"A{row}": moment for row, moment in enumerate(moments, 2)})
    text = "when | act | connection\n" + "x | made | H-1\n" * 4
    table = reading_of(tmp_path, text, edit).tables[0]
    assert table.column("when") == ["2026-03-04", "2026-03-04T10:30", "2026-03-04", "2026-03-04"]


def test_times_of_a_spreadsheet_are_rounded_to_the_second(tmp_path):
    path = workbook(
        tmp_path / "a.xlsx", edit=set_cells(A2=datetime(2026, 3, 4, 10, 30)),
        S="when | act | connection\n | made | H-1",
    )  # fmt: skip
    path = sheet_changed(path, b"46085.4375", b"46085.437499999")
    assert table_of(path).column("when") == ["2026-03-04T10:30"]


@pytest.mark.parametrize(
    ("dates", "iso", "note"),
    [
        pytest.param(
            ["25/12/2026", "4/3/2026"], ["2026-12-25", "2026-03-04"], "day first", id="day"
        ),
        pytest.param(
            ["12/25/2026", "4/3/2026"], ["2026-12-25", "2026-04-03"], "month first", id="month"
        ),
        pytest.param(
            ["4.3.2026"], ["2026-03-04"], "day first, because of dates with dots", id="dots"
        ),
        pytest.param(["4/4/2026", "2026-03-04"], ["2026-04-04", "2026-03-04"], None, id="no-doubt"),
    ],
)
def test_day_or_month_first_is_decided_for_the_column(tmp_path, dates, iso, note):
    text = "when | act | connection\n" + "".join(f"{day} | made | H-1\n" for day in dates)
    reading = reading_of(tmp_path, text)
    assert reading.tables[0].column("when") == iso
    assert not reading.troubles
    assert any(note in each for each in notes_of(reading)) if note else not notes_of(reading)


@pytest.mark.parametrize(
    ("dates", "found"),
    [
        pytest.param(
            ["4/3/2026"],
            [
                (
                    "A2",
                    'when: "4/3/2026" could be day or month first, and no date in the column tells',
                )
            ],
            id="nothing-tells",
        ),
        pytest.param(
            ["25/12/2026", "12/25/2026", "4/3/2026"],
            [
                (
                    "A4",
                    'when: "4/3/2026" could be day or month first: the column has "25/12/2026" and',
                )
            ],
            id="both-orders",
        ),
        pytest.param(["2026-02-30"], [("A2", 'when: "2026-02-30" is no date')], id="impossible"),
        pytest.param(["soon"], [("A2", 'when: "soon" is no date')], id="words"),
        pytest.param(
            ["46085"],
            [("A2", "when: 46085 is a number without a date format (as a date it is 2026-03-04)")],
            id="serial",
        ),
        pytest.param(["1926-03-04"], [("A2", "when: 1926-03-04 is outside the years")], id="year"),
    ],
)
def test_a_date_that_cannot_be_read(tmp_path, dates, found):
    text = "when | act | connection\n" + "".join(f"{day} | made | H-1\n" for day in dates)
    reading = reading_of(tmp_path, text)
    assert [(cell, words[: len(found[0][1])]) for cell, words in troubles_of(reading)] == found
    assert all(each.remedy.startswith("write the date as 2026-03-04") for each in reading.troubles)
    # An undated act is an act all the same.
    assert len(reading.tables[0].rows) == len(dates)


def test_date_and_time_in_two_columns(tmp_path):
    edit = set_cells(
        A2=date(2026, 3, 4), B2=time(10, 30), A3="2026-03-05", B3="9:15", A4="2026-03-06"
    )
    text = "date | time | act | connection\n" + "x | | made | H-1\n" * 3
    table = reading_of(tmp_path, text, edit).tables[0]
    assert table.column("when") == ["2026-03-04T10:30", "2026-03-05T09:15", "2026-03-06"]
    assert table.numbers["when"] == 1
    assert "time" not in table.cells


def test_a_time_of_day_that_cannot_be_read(tmp_path):
    text = "date | time | act | connection\n2026-03-04 | noonish | made | H-1"
    reading = reading_of(tmp_path, text)
    assert troubles_of(reading) == [("B2", 'time: "noonish" is no time of day')]
    assert reading.tables[0].column("when") == ["2026-03-04"]


@pytest.mark.parametrize(
    ("cells", "when", "found"),
    [
        pytest.param(
            " | 11:00",
            "",
            [("B2", 'time: "11:00" has no date beside it, so when it was is not known')],
            id="no-date",
        ),
        pytest.param(
            "2026-03-04 10:30 | 11:00",
            "2026-03-04T10:30",
            [("B2", 'time: "11:00" is another time than that of its date, 2026-03-04 10:30')],
            id="two-times",
        ),
        pytest.param("2026-03-04 10:30 | 10:30", "2026-03-04T10:30", [], id="the-same-time"),
        pytest.param("soon | 11:00", "", [("A2", 'when: "soon" is no date')], id="said-already"),
        pytest.param("- | -", "", [], id="neither"),
    ],
)
def test_a_time_of_day_that_is_not_used_is_said(tmp_path, cells, when, found):
    text = f"date | time | act | connection\n{cells} | made | H-1\n2026-03-05 | 9:15 | made | H-2"
    reading = reading_of(tmp_path, text)
    assert troubles_of(reading) == found
    assert reading.tables[0].column("when") == [when, "2026-03-05T09:15"]
    if found and found[0][0] == "B2":
        assert 'A "date"' in reading.troubles[0].remedy


def test_a_column_called_time_that_holds_dates(tmp_path):
    text = "time | act | connection\n2026-03-04 10:30 | made | H-1"
    reading = reading_of(tmp_path, text)
    assert reading.tables[0].column("when") == ["2026-03-04T10:30"]
    assert not reading.troubles


@pytest.mark.parametrize("column", ["connection", "type", "size"])
def test_a_date_where_none_can_be_is_reported(tmp_path, column):
    text = f"{HEADINGS} | size\nH-1 | tail | L | line | -6"
    cell = {"connection": "A2", "type": "D2", "size": "E2"}[column]
    reading = reading_of(tmp_path, text, set_cells(**{cell: date(2026, 3, 4)}))
    ((at, found),) = troubles_of(reading)
    assert (at, found.partition(";")[0]) == (cell, f"{column}: 2026-03-04 is a date")
    assert reading.tables[0].column(column) == ["2026-03-04"]


def test_a_date_in_a_tick_is_a_date(tmp_path):
    text = f"{HEADINGS} | made\nH-1 | tail | L | line | x"
    reading = reading_of(tmp_path, text, set_cells(E2=date(2026, 3, 4)))
    assert reading.tables[0].column("made") == ["2026-03-04"]
    assert not reading.troubles


def test_error_cells_and_formulas_without_a_result(tmp_path):
    def edit(book):
        sheet = book["S"]
        sheet["E2"], sheet["E2"].data_type = "#REF!", "e"
        sheet["A3"], sheet["A3"].data_type = "#N/A", "e"
        sheet["E4"] = "=A4"
        sheet["G2"] = "=A4"

    text = f"{HEADINGS} | size | remarks | other\n" + "".join(
        f"H-{n} | tail | L | line | -6\n" for n in range(1, 4)
    )
    reading = reading_of(tmp_path, text, edit)
    assert troubles_of(reading) == [
        ("E2", "size: the cell shows the error #REF!"),
        ("A3", "connection: the cell shows the error #N/A"),
        ("E4", "size: the cell has a formula without a result"),
    ]
    assert reading.accounts[0].aside == ((3, "its connection cannot be read"),)
    assert reading.tables[0].column("size") == ["", ""]
    assert adds_up(reading)


def test_a_row_with_nothing_but_an_error_is_not_lost(tmp_path):
    def edit(book):
        book["S"]["A3"], book["S"]["A3"].data_type = "#REF!", "e"

    reading = reading_of(tmp_path, f"{HEADINGS}\nH-1 | tail | L | line", edit)
    assert troubles_of(reading) == [("A3", "connection: the cell shows the error #REF!")]
    assert (reading.accounts[0].read, reading.accounts[0].used) == (2, 1)


def test_a_trouble_says_what_its_row_is_about(tmp_path):
    text = f"{HEADINGS} | made on\nH-1 | tail | L | line | soon\n | fin | L | line | "
    first, second = reading_of(tmp_path, text).troubles
    assert {(first.joint, first.connections), (second.joint, second.connections)} == {
        ("tail", ("H-1",)),
        ("fin", ()),
    }


def test_many_bad_cells_do_not_flood_the_report(tmp_path):
    text = "when,act,connection\n" + "soon,made,H-1\n" * 200
    reading = read([separated(tmp_path / "a.csv", text)])
    assert len(reading.troubles) == 51
    assert reading.troubles[-1].found == "when: 150 more cells like those above, down to row 201"


@pytest.mark.parametrize("zone", ["+99:00", "-24:00", "+14:60"])
def test_a_zone_that_no_place_on_earth_has(tmp_path, zone):
    text = f"when,act,connection\n2031-03-04T10:30{zone},made,H-1"
    reading = read([separated(tmp_path / "a.csv", text)])
    assert troubles_of(reading) == [("A2", f'when: "2031-03-04T10:30{zone}" is no date')]


# --- merged cells


def test_merged_ids_are_filled_down_and_readings_are_not(tmp_path):
    def edit(book):
        for cells in ("B2:B4", "C3:C4", "E2:E4"):
            book["S"].merge_cells(cells)

    text = f"""
        {HEADINGS} | limits
        H-1 | tail | L | line | torque 5..6 Nm
        H-2 | | R | line |
        H-3 | | | line |
        H-4 | fin | L | line |
    """
    reading = reading_of(tmp_path, text, edit)
    table = reading.tables[0]
    assert table.column("joint") == ["tail", "tail", "tail", "fin"]
    assert table.column("side") == ["L", "R", "R", "L"]
    assert table.column("limits") == ["torque 5..6 Nm", "", "", ""]
    assert sorted(notes_of(reading)) == [
        'joint "tail" is merged down to row 4 and read for each',
        'side "R" is merged down to row 4 and read for each',
    ]
    assert [at for at, _ in troubles_of(reading)] == ["E2"]


# --- rows set aside


def test_every_row_is_used_or_set_aside_with_its_reason(tmp_path):
    text = f"""
        {HEADINGS} | size
        EXAMPLE H-0 | tail | L | line | -6
        Hydraulics
        H-1 | tail | L | line | -6
        | | | |
        {HEADINGS} | size
        H-2 | tail | R | line | -6
        | tail | R | line | -8
        checked by: | | | | AB
        Total | | | | 2
    """
    reading = reading_of(tmp_path, text)
    assert reading.accounts[0].aside == (
        (2, "the example row of a blank workbook"),
        (3, 'a title between the rows ("Hydraulics")'),
        (6, "the headings again"),
        (8, "has no connection"),
        (9, 'a remark between the rows ("checked by:")'),
        (10, 'a totals row ("Total")'),
    )
    assert troubles_of(reading) == [
        ("A8", "the row (tail, R, line, -8) has no connection, so it was not used")
    ]
    assert adds_up(reading)
    assert reading.tables[0].column("connection") == ["H-1", "H-2"]


@pytest.mark.parametrize(
    ("text", "aside", "found"),
    [
        pytest.param(
            "when | connection | act\n2026-03-04 | | made\n2026-03-05 | H-1 | ",
            [(2, "has no connection or stage or item"), (3, "has no act")],
            ["B2", "C3"],
            id="record",
        ),
        pytest.param(
            "seq | when | connection | act\n1 | | H-1 | made\n2 | | |\n3 | | |",
            [(3, "has no act"), (4, "has no act")],
            [],
            id="numbered-ahead",
        ),
        pytest.param(
            "connection | reason\nH-1 | \n | agreed",
            [(2, "has no reason"), (3, "has no connection or service")],
            [],
            id="differences",
        ),
        pytest.param(
            "connection | column | reason\nH-1 | size | \n | size | \nTotal | 2 |",
            [(3, "has no connection or service"), (4, 'a totals row ("Total")')],
            [],
            id="differences-to-be-reasoned",
        ),
        pytest.param("from | to | side\nA | | L", [(2, "has no to")], ["B2"], id="runs"),
    ],
)  # fmt: skip
def test_rows_that_lack_what_their_list_needs(tmp_path, text, aside, found):
    reading = reading_of(tmp_path, text)
    assert list(reading.accounts[0].aside) == aside
    assert [cell for cell, _ in troubles_of(reading)] == found
    assert adds_up(reading)


def test_a_bare_id_like_the_others_is_no_title(tmp_path):
    reading = reading_of(tmp_path, f"{HEADINGS}\nH-1 | tail | L | line\nH-2")
    assert reading.tables[0].column("connection") == ["H-1", "H-2"]


def test_hidden_rows_and_sheets_are_read_and_said(tmp_path):
    def edit(book):
        book["S"].row_dimensions[3].hidden = True
        book["Old"].sheet_state = "hidden"

    text = f"{HEADINGS}\nH-1 | tail | L | line\nH-2 | tail | L | line"
    path = workbook(tmp_path / "a.xlsx", edit=edit, S=text, Old=text)
    reading = read([path])
    assert [len(table.rows) for table in reading.tables] == [2, 2]
    assert notes_of(reading) == [
        "1 hidden row was read like any other (row 3)",
        "the sheet is hidden, and was read like any other",
    ]
    skipped = read([path], skip_hidden=True)
    assert [table.rows for table in skipped.tables] == [[2]]
    assert skipped.accounts[0].aside == ((3, "hidden; left out, as asked"),)
    assert skipped.not_used[0].why == "the sheet is hidden; left out, as asked"
    assert adds_up(skipped)


def test_a_repeated_heading_is_no_bad_date(tmp_path):
    text = "when | act | connection\n2026-03-04 | made | H-1\nwhen | act | connection\nMonday"
    reading = reading_of(tmp_path, text)
    assert reading.accounts[0].aside == ((3, "the headings again"), (4, "has no act"))
    assert not reading.troubles


# --- properties

_CELLS = st.sampled_from(
    [
        "",
        "",
        "H-1",
        "H-2",
        "tail",
        "L",
        "both",
        "line",
        "Total",
        "connection",
        "2026-03-04",
        "x",
        "7",
    ]
)
_ROWS = st.lists(st.lists(_CELLS, min_size=4, max_size=6), max_size=12)


@given(rows=_ROWS, head=st.sampled_from([HEADINGS, "when | act | connection | stage", "from | to"]))
@settings(max_examples=80, deadline=None)
def test_the_row_account_always_adds_up(tmp_path_factory, rows, head):
    lines = [head.split(" | "), *rows]
    path = tmp_path_factory.mktemp("rows") / "a.csv"
    separated(path, "".join(",".join(row) + "\n" for row in lines))
    reading = read([path])
    assert adds_up(reading)
    filled = sum(any(row) for row in rows)
    beyond = sum(not any(row[: len(lines[0])]) for row in rows if any(row))
    assert filled - beyond <= reading.accounts[0].read <= filled


@given(order=st.permutations(range(5)), rows=st.permutations(["H-1", "H-2", "H-3"]))
@settings(max_examples=30, deadline=None)
def test_order_of_rows_and_columns_does_not_matter(tmp_path_factory, order, rows):
    cells = [["connection", "joint", "side", "type", "size"]]
    cells += [[name, f"joint of {name}", "L", "line", f"-{name}"] for name in rows]
    path = tmp_path_factory.mktemp("order") / "a.csv"
    separated(path, "".join(",".join(row[at] for at in order) + "\n" for row in cells))
    table = table_of(path)
    found = dict(zip(table.column("connection"), table.column("size"), strict=True))
    assert found == {"H-1": "-H-1", "H-2": "-H-2", "H-3": "-H-3"}
