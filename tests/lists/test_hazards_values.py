"""Values that change on the way in."""

from datetime import date, datetime

import openpyxl
import pytest

from joinmatrix.lists.reader import read
from tests.lists.making import (
    HEADINGS,
    adds_up,
    notes_of,
    separated,
    sheet_changed,
    troubles_of,
    workbook,
)

ROW = "H-1 | tail | L | line | -6"


def reading_of(tmp_path, edit=None, text=f"{HEADINGS} | size\n{ROW}\n{ROW}", change=None):
    path = workbook(
        tmp_path / "a.xlsx", edit=(lambda book: edit(book["S"])) if edit else None, S=text
    )
    if change:
        path = sheet_changed(path, *change)
    return read([path])


def cell(name, value, number_format=None, data_type=None):
    def edit(sheet):
        sheet[name] = value
        if number_format:
            sheet[name].number_format = number_format
        if data_type:
            sheet[name].data_type = data_type

    return edit


def test_merged_cells(tmp_path):
    text = f"{HEADINGS}\nH-1 | tail | L | line\nH-2 | | L | line\nH-3 | | L | line"
    reading = reading_of(tmp_path, lambda sheet: sheet.merge_cells("B2:B4"), text)
    assert reading.tables[0].column("joint") == ["tail"] * 3
    assert notes_of(reading) == ['joint "tail" is merged down to row 4 and read for each']


def test_a_formula_never_calculated(tmp_path):
    reading = reading_of(tmp_path, cell("E2", "=A1"))
    assert troubles_of(reading) == [("E2", "size: the cell has a formula without a result")]
    assert "save it" in reading.troubles[0].remedy


def test_formulas_with_a_placeholder_result(tmp_path):
    def edit(sheet):
        sheet["E2"] = sheet["E3"] = "=A1"

    reading = reading_of(tmp_path, edit, change=(b"<v />", b"<v>0</v>"))
    (trouble,) = reading.troubles
    assert (trouble.place.cell, trouble.holds) == ("E1", False)
    assert "all 2 formulas of the column show 0" in trouble.found


def test_a_link_is_the_value_that_was_saved(tmp_path):
    link = '=HYPERLINK("http://example.invalid/","H-9")'
    path = workbook(tmp_path / "a.xlsx", edit=lambda b: cell("E2", link)(b["S"]),
                    S=f"{HEADINGS} | size\n{ROW}")  # fmt: skip
    path = sheet_changed(path, b'<c r="E2">', b'<c r="E2" t="str">')
    path = sheet_changed(path, b"<v />", b"<v>H-9</v>")
    assert read([path]).tables[0].column("size") == ["H-9"]
    assert not read([path]).troubles


def test_a_formula_that_gives_nothing_on_purpose(tmp_path):
    path = workbook(tmp_path / "a.xlsx", edit=lambda b: cell("E2", "=A1")(b["S"]),
                    S=f"{HEADINGS} | size\n{ROW}")  # fmt: skip
    path = sheet_changed(path, b'<c r="E2"><f>A1</f><v />', b'<c r="E2" t="str"><f>A1</f><v></v>')
    reading = read([path])
    assert not reading.troubles
    assert reading.tables[0].column("size") == [""]


@pytest.mark.parametrize(
    "code", ["#REF!", "#N/A", "#VALUE!", "#DIV/0!", "#NAME?", "#NULL!", "#NUM!"]
)
def test_error_cells(tmp_path, code):
    reading = reading_of(tmp_path, cell("E2", code, data_type="e"))
    assert troubles_of(reading) == [("E2", f"size: the cell shows the error {code}")]
    assert reading.tables[0].column("size") == ["", "-6"]


def test_an_error_that_was_saved_as_a_text(tmp_path):
    reading = reading_of(tmp_path, cell("A2", "#REF!", data_type="s"))
    assert troubles_of(reading) == [("A2", "connection: the cell shows the error #REF!")]
    assert len(reading.tables[0].rows) == 1


@pytest.mark.parametrize(
    "code", ["#SPILL!", "#CALC!", "#GETTING_DATA", "#ERROR!", "Err:508", "#FIELD!", "#BLOCKED!"]
)
def test_error_codes_that_the_first_reader_does_not_know(tmp_path, code):
    edit = cell("E2", "#REF!", data_type="e")
    reading = reading_of(tmp_path, edit, change=(b"#REF!", code.encode()))
    assert troubles_of(reading) == [("E2", f"size: the cell shows the error {code}")]
    assert reading.tables[0].column("size") == ["", "-6"]
    assert reading.tables[0].column("connection") == ["H-1", "H-1"]
    assert adds_up(reading)


@pytest.mark.parametrize(
    ("value", "text"),
    [
        pytest.param(1001, "1001", id="number"),
        pytest.param(1001.0, "1001", id="float"),
        pytest.param("01001", "01001", id="leading-zero"),
        pytest.param(0.1 + 0.2, "0.3", id="float-noise"),
        pytest.param(True, "TRUE", id="yes"),
        pytest.param(False, "FALSE", id="no"),
        pytest.param("NA", "NA", id="na"),
        pytest.param("None", "None", id="none"),
        pytest.param("nan", "nan", id="nan"),
        pytest.param("null", "null", id="null"),
        pytest.param("1E5", "1E5", id="text-like-a-number"),
        pytest.param("=1+1", "=1+1", id="text-like-a-formula"),
    ],
)
def test_ids_are_what_was_typed(tmp_path, value, text):
    data_type = "s" if isinstance(value, str) else None
    reading = reading_of(tmp_path, cell("A2", value, data_type=data_type))
    assert reading.tables[0].column("connection")[0] == text
    assert not reading.troubles


def test_ids_that_differ_only_by_leading_zeros_are_reported(tmp_path):
    from joinmatrix.verify import verify

    text = f"{HEADINGS}\n1001 | tail | L | line\nx | tail | R | line"
    path = workbook(tmp_path / "a.xlsx", edit=lambda b: cell("A3", "01001")(b["S"]), S=text)
    report = verify([path])
    assert any("1001" in each.message and "01001" in each.message for each in report.findings)
    assert {each.id for each in report.assembly.connections} == {"1001", "01001"}


def test_zeros_that_live_only_in_the_format(tmp_path):
    reading = reading_of(tmp_path, cell("A2", 7, "00000"))
    assert troubles_of(reading) == [
        (
            "A2",
            "connection: the cell shows zeros in front (format 00000), and holds the number 7",
        )
    ]


@pytest.mark.parametrize(
    ("value", "number_format", "shown"),
    [(0.5, "# ?/?", "a fraction"), (0.05, "0%", "a percentage"), (0.05, "0.00%", "a percentage")],
)
def test_fractions_and_percentages_in_a_size(tmp_path, value, number_format, shown):
    reading = reading_of(tmp_path, cell("E2", value, number_format))
    ((at, found),) = troubles_of(reading)
    assert at == "E2"
    assert found == f"size: the cell shows {shown}, and holds the number {value}"
    assert "as text" in reading.troubles[0].remedy


def test_long_digit_strings(tmp_path):
    reading = reading_of(tmp_path, cell("A2", 1234567890123456789))
    ((at, found),) = troubles_of(reading)
    assert at == "A2"
    assert "more than 15 digits, and was rounded" in found
    assert reading.tables[0].column("connection")[0] == "1234567890123457024"


def test_long_numbers_that_differ_are_not_one(tmp_path):
    def edit(sheet):
        sheet["A2"], sheet["A3"] = 1234567890123456, 1234567890123457

    reading = reading_of(tmp_path, edit)
    assert reading.tables[0].column("connection") == ["1234567890123456", "1234567890123457"]


def test_a_size_that_became_a_date(tmp_path):
    reading = reading_of(tmp_path, cell("E2", date(2026, 3, 4)))
    ((at, found),) = troubles_of(reading)
    assert (at, found.partition(";")[0]) == ("E2", "size: 2026-03-04 is a date")


RECORD = "when | act | connection\nx | made | H-1"


def test_a_date_without_a_date_format(tmp_path):
    reading = reading_of(tmp_path, cell("A2", 46085), RECORD)
    assert troubles_of(reading) == [
        ("A2", "when: 46085 is a number without a date format (as a date it is 2026-03-04)")
    ]
    assert reading.tables[0].column("when") == [""]


@pytest.mark.parametrize(
    "epoch", [openpyxl.utils.datetime.WINDOWS_EPOCH, openpyxl.utils.datetime.MAC_EPOCH]
)
def test_both_calendars(tmp_path, epoch):
    def edit(sheet):
        sheet.parent.epoch = epoch
        sheet["A2"] = datetime(2026, 3, 4, 10, 30)

    reading = reading_of(tmp_path, edit, RECORD)
    assert reading.tables[0].column("when") == ["2026-03-04T10:30"]
    is_1904 = epoch == openpyxl.utils.datetime.MAC_EPOCH
    assert notes_of(reading) == (
        ["counts its dates from 1904; they were read so"] if is_1904 else []
    )


def test_a_date_outside_the_calendar(tmp_path):
    reading = reading_of(tmp_path, cell("A2", 3_000_000, "yyyy-mm-dd"), RECORD)
    ((at, found),) = troubles_of(reading)
    assert (at, found) == ("A2", "when: 3000000 is no date")


def test_whole_days_and_moments_are_one_type(tmp_path):
    reading = reading_of(tmp_path, cell("A2", datetime(2026, 3, 4)), RECORD)
    assert reading.tables[0].column("when") == ["2026-03-04"]


@pytest.mark.parametrize(
    ("values", "texts", "note"),
    [
        pytest.param(["1,500", "2.5"], ["1500", "2.5"], "a comma between thousands", id="point"),
        pytest.param(["1,500", "2,5"], ["1.500", "2,5"], "a decimal comma", id="comma"),
        pytest.param(["1,500", "7"], ["1,500", "7"], "", id="nothing-tells"),
        pytest.param(["1,500", "2,5", "2.5"], ["1,500", "2,5", "2.5"], "", id="both"),
        pytest.param(["1'500", "1 500"], ["1'500", "1 500"], "", id="other-marks"),
        pytest.param(["12,5", "1.500"], ["12,5", "1500"], 'such as "1.500" were read with a '
                     'decimal comma and a point between thousands, because of "12,5"',
                     id="point-among-commas"),
        pytest.param(["1.500", "0,500"], ["1500", "0,500"], "a decimal comma", id="nought-comma"),
        pytest.param(["1.500", "1.500,0"], ["1500", "1.500,0"], "a decimal comma", id="both-marks"),
        pytest.param(["> 1.500 Nm", "12,5"], ["> 1500 Nm", "12,5"], "a decimal comma", id="unit"),
        pytest.param(["1.500", "2.5"], ["1.500", "2.5"], "", id="points-alone"),
        pytest.param(["1.500", "2.250"], ["1.500", "2.250"], "", id="points-of-three-digits"),
    ],
)  # fmt: skip
def test_decimal_marks_are_decided_for_the_column(tmp_path, values, texts, note):
    lines = "".join(f'2026-03-04;measured;H-1;"{value}"\n' for value in values)
    path = separated(tmp_path / "a.csv", "when;act;connection;value\n" + lines)
    reading = read([path])
    assert reading.tables[0].column("value") == texts
    assert sum("numbers such as" in each for each in notes_of(reading)) == bool(note)
    assert note in "".join(notes_of(reading))
    assert not reading.troubles


@pytest.mark.parametrize(
    ("values", "because"),
    [
        pytest.param(["1.500", "1,500"], "no other in the column tells", id="nothing-tells"),
        pytest.param(["1.500", "2,5", "2.5"], 'the column has "2,5" and "2.5"', id="both"),
    ],
)
def test_a_point_that_could_be_between_thousands_is_asked_about(tmp_path, values, because):
    lines = "".join(f'2026-03-04;measured;H-1;"{value}"\n' for value in values)
    path = separated(tmp_path / "a.csv", "when;act;connection;value\n" + lines)
    reading = read([path])
    assert troubles_of(reading) == [("D2", f'value: "1.500" can be 1.5 or 1500: {because}')]
    assert "one decimal mark" in reading.troubles[0].remedy
    assert reading.tables[0].column("value") == ["", *values[1:]]


def test_numbers_of_a_spreadsheet_have_no_mark(tmp_path):
    """The cell 2.5 shows as 2,5 in half the world, so it does not tell what "1,500" means."""
    text = "when | act | connection | value\n | measured | H-1 | 1,500\n | measured | H-1 | 2.125"
    reading = reading_of(tmp_path, text=text)
    assert reading.tables[0].column("value") == ["1,500", "2.125"]
    assert not notes_of(reading)


def test_columns_of_limits_have_one_decimal_mark_too(tmp_path):
    text = (
        f"{HEADINGS};Torque min (Nm);Torque max (Nm)".replace(" | ", ";")
        + "\nH-1;tail;L;line;12,5;1.500\nH-1;tail;R;line;12,5;1550,5\n"
    )
    reading = read([separated(tmp_path / "a.csv", text)])
    assert reading.tables[0].column("limits") == ["torque 12,5..1500 Nm", "torque 12,5..1550,5 Nm"]
    assert not reading.troubles


@pytest.mark.parametrize(
    ("dates", "iso", "note"),
    [
        pytest.param(
            ["31-03-04", "45-03-05"],
            ["2031-03-04", "2045-03-05"],
            'such as 31-03-04 were read year first, because of "45-03-05"',
            id="year-first",
        ),
        pytest.param(
            ["31-03-29", "04-03-45"],
            ["2029-03-31", "2045-03-04"],
            'such as 31-03-29 were read day first, because of "04-03-45"',
            id="no-such-day",
        ),
        pytest.param(
            ["04/03/29", "25/03/2029"],
            ["2029-03-04", "2029-03-25"],
            'such as 04/03/29 were read day first, because of "25/03/2029"',
            id="a-whole-year-last",
        ),
        pytest.param(
            ["03/04/29", "03/25/29"],
            ["2029-03-04", "2029-03-25"],
            'such as 03/04/29 were read month first, because of "03/25/29"',
            id="month-first",
        ),
        pytest.param(
            ["31.03.29", "4.3.29"],
            ["2029-03-31", "2029-03-04"],
            "such as 4.3.29 were read day first, because of dates with dots",
            id="dots",
        ),
        pytest.param(
            ["13/5/29", "04/03/29"],
            ["2029-05-13", "2029-03-04"],
            'such as 04/03/29 were read day first, because of "13/5/29"',
            id="day-first",
        ),
    ],
)
def test_years_of_two_digits_are_decided_for_the_column(tmp_path, dates, iso, note):
    reading = reading_of(tmp_path, text=_record(dates))
    assert reading.tables[0].column("when") == iso
    assert not reading.troubles
    assert notes_of(reading) == [f"when: dates {note}"]


@pytest.mark.parametrize(
    ("dates", "orders"),
    [
        pytest.param(["31-03-04", "31-03-05"], "day or year", id="hyphens"),
        pytest.param(["04-03-05", "05-03-05"], "day, month or year", id="three-ways"),
        pytest.param(["04/03/05", "05/03/05"], "day or month", id="two-ways"),
        pytest.param(["2031-03-04", "31-03-05"], "day or year", id="beside-a-whole-date"),
        pytest.param(["25/03/2031", "31-03-05"], "day or year", id="beside-another-mark"),
    ],
)
def test_a_year_of_two_digits_that_could_be_a_day_is_asked_about(tmp_path, dates, orders):
    reading = reading_of(tmp_path, text=_record(dates))
    at = [cell for cell, text in zip(("A2", "A3"), dates, strict=True) if len(text) == 8]
    assert troubles_of(reading) == [
        (
            cell,
            f'when: "{dates[int(cell[1]) - 2]}" could be {orders} first, and no date in the column '
            "tells which",
        )
        for cell in at
    ]


def _record(dates):
    return "when | act | connection\n" + "\n".join(f"{day} | made | H-1" for day in dates)
