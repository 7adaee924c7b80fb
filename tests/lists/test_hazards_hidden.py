"""Rows, columns and sheets that a person cannot see."""

import re
import zipfile

import pytest

from joinmatrix.lists.reader import read
from tests.lists.making import (
    HEADINGS,
    adds_up,
    notes_of,
    repacked,
    sheet_changed,
    troubles_of,
    workbook,
)

TEXT = f"{HEADINGS} | size\n" + "".join(f"H-{row} | tail | L | line | -6\n" for row in range(2, 6))


def reading_of(tmp_path, edit, **options):
    path = workbook(tmp_path / "a.xlsx", edit=lambda book: edit(book["S"]), S=TEXT)
    return read([path], **options)


def hide(*rows):
    def edit(sheet):
        for row in rows:
            sheet.row_dimensions[row].hidden = True

    return edit


def filtered(sheet):
    sheet.auto_filter.ref = "A1:E5"
    sheet.auto_filter.add_filter_column(0, ["H-2"])
    hide(3, 4, 5)(sheet)


def table_filtered(sheet):
    from openpyxl.worksheet.filters import AutoFilter
    from openpyxl.worksheet.table import Table

    table = Table(displayName="Lines", ref="A1:E5", autoFilter=AutoFilter("A1:E5"))
    table.autoFilter.add_filter_column(0, ["H-2"])
    sheet.add_table(table)
    hide(3, 4, 5)(sheet)


def table_alone(sheet):
    from openpyxl.worksheet.table import Table

    sheet.add_table(Table(displayName="Lines", ref="A1:E5"))
    hide(3)(sheet)


def nothing(_):
    pass


@pytest.mark.parametrize(
    ("edit", "note"),
    [
        pytest.param(nothing, None, id="nothing-hidden"),
        pytest.param(hide(3, 5), "2 hidden rows were read like any other (rows 3, 5)", id="hidden"),
        pytest.param(
            filtered, "3 filtered out rows were read like any other (rows 3, 4, 5)", id="filtered"
        ),
        pytest.param(
            table_filtered, "3 filtered out rows were read like any other (rows 3, 4, 5)",
            id="filtered-table",
        ),
        pytest.param(
            table_alone, "1 hidden row was read like any other (row 3)", id="table-without-filter"
        ),
    ],
)  # fmt: skip
def test_hidden_rows(tmp_path, edit, note):
    reading = reading_of(tmp_path, edit)
    assert len(reading.tables[0].rows) == 4
    assert notes_of(reading) == ([note] if note else [])


def test_a_row_of_height_0(tmp_path):
    path = sheet_changed(
        workbook(tmp_path / "a.xlsx", S=TEXT),
        b'<row r="3">',
        b'<row r="3" ht="0" customHeight="1">',
    )
    assert notes_of(read([path])) == ["1 hidden row was read like any other (row 3)"]


def test_hidden_rows_can_be_left_out(tmp_path):
    reading = reading_of(tmp_path, hide(3), skip_hidden=True)
    assert reading.accounts[0].aside == ((3, "hidden; left out, as asked"),)
    assert notes_of(reading) == ["1 hidden row was left out, as asked (row 3)"]
    assert adds_up(reading)


def test_a_hidden_column_that_is_used(tmp_path):
    def edit(sheet):
        sheet.column_dimensions["E"].hidden = True

    assert notes_of(reading_of(tmp_path, edit)) == ['hidden columns were read: "size"']


@pytest.mark.parametrize("state", ["hidden", "veryHidden"])
def test_hidden_sheets(tmp_path, state):
    def edit(sheet):
        sheet.sheet_state = state
        sheet.parent.create_sheet("Visible")

    reading = reading_of(tmp_path, edit)
    assert len(reading.tables[0].rows) == 4
    assert "the sheet is hidden, and was read like any other" in notes_of(reading)
    assert not reading_of(tmp_path, edit, skip_hidden=True).tables


def test_struck_out_cells(tmp_path):
    from openpyxl.styles import Font

    def edit(sheet):
        for cell in (*sheet[3], sheet["E5"], sheet["G5"]):
            cell.font = Font(strike=True)

    reading = reading_of(tmp_path, edit)
    (trouble,) = reading.troubles
    assert (trouble.place.cell, trouble.holds) == ("A3", False)
    assert [place.cell for place in trouble.others] == ["E5"]
    assert trouble.found == "text is struck out in rows 3, 5; it was read"
    assert len(reading.tables[0].rows) == 4
    assert troubles_of(reading) == []


def rich(sheet):
    from openpyxl.cell.rich_text import CellRichText, TextBlock
    from openpyxl.cell.text import InlineFont

    sheet["A4"] = CellRichText("C", TextBlock(InlineFont(strike=True), "2"), "3")


# How a struck-out run says so, and how one does that is not.
STRIKES = [
    pytest.param("<strike/>", ["A4"], id="struck"),
    pytest.param('<strike val="1"/>', ["A4"], id="struck-1"),
    pytest.param("<b/><strike val='true' /><i/>", ["A4"], id="struck-true"),
    pytest.param('<strike val="0"/>', [], id="not-struck-0"),
    pytest.param("<b/><strike val='false'/>", [], id="not-struck-false"),
]


@pytest.mark.parametrize(("strike", "cells"), STRIKES)
def test_struck_out_parts_of_a_text_in_the_cell(tmp_path, strike, cells):
    path = workbook(tmp_path / "a.xlsx", edit=lambda book: rich(book["S"]), S=TEXT)
    path = sheet_changed(path, b'<strike val="1" />', strike.encode())
    reading = read([path])
    assert reading.tables[0].column("connection") == ["H-2", "H-3", "C23", "H-5"]
    assert [each.place.cell for each in reading.troubles] == cells


def test_struck_out_parts_of_a_text_with_a_prefix(tmp_path):
    def change(name, data):
        if name != "xl/worksheets/sheet1.xml":
            return data
        prefixed = re.sub(rb"<(/?)(\w)", rb"<\1x:\2", data)
        return prefixed.replace(b"xmlns=", b"xmlns:x=", 1)

    path = workbook(tmp_path / "a.xlsx", edit=lambda book: rich(book["S"]), S=TEXT)
    assert [each.place.cell for each in read([repacked(path, change)]).troubles] == ["A4"]


def test_a_text_about_strikes_is_not_struck_out(tmp_path):
    path = workbook(tmp_path / "a.xlsx", S=f"{TEXT}<strike/> | tail | L | strike plate | -6")
    assert read([path]).troubles == ()


@pytest.mark.parametrize(("strike", "cells"), STRIKES)
def test_struck_out_parts_of_a_shared_text(tmp_path, strike, cells):
    path = workbook(tmp_path / "a.xlsx", edit=lambda book: rich(book["S"]), S=TEXT)
    shared = (
        '<sst xmlns="http://schemas.openxmlformats.org/spreadsheetml/2006/main"><si><t>x</t></si>'
        f"<si><r><t>C</t></r><r><rPr>{strike}</rPr><t>2</t></r><r><t>3</t></r></si></sst>"
    )

    def change(name, data):
        if name == "xl/worksheets/sheet1.xml":
            start = data.index(b'<c r="A4"')
            end = data.index(b"</c>", start)
            return data[:start] + b'<c r="A4" t="s"><v>1</v>' + data[end:]
        if name == "[Content_Types].xml":
            part = (
                b'<Override PartName="/xl/sharedStrings.xml" ContentType="application/vnd.'
                b'openxmlformats-officedocument.spreadsheetml.sharedStrings+xml"/></Types>'
            )
            return data.replace(b"</Types>", part)
        if name == "xl/_rels/workbook.xml.rels":
            relation = (
                b'<Relationship Id="rId99" Target="sharedStrings.xml" Type="http://schemas.'
                b'openxmlformats.org/officeDocument/2006/relationships/sharedStrings"/>'
            )
            return data.replace(b"</Relationships>", relation + b"</Relationships>")
        return data

    path = repacked(path, change)
    with zipfile.ZipFile(path, "a") as archive:
        archive.writestr("xl/sharedStrings.xml", shared)
    reading = read([path])
    assert reading.tables[0].column("connection")[2] == "C23"
    assert [each.place.cell for each in reading.troubles] == cells
