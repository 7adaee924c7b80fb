"""Row numbers, and sheets of every size."""

import resource
import subprocess
import sys
import time

import openpyxl
import pytest

from joinmatrix.errors import InputError
from joinmatrix.lists.bounds import Bounds
from joinmatrix.lists.reader import read
from tests.lists.making import HEADINGS, notes_of, repacked, sheet_changed, table_of, workbook

TEXT = f"{HEADINGS}\nH-1 | tail | L | line\nH-2 | tail | R | line"


def edited(tmp_path, edit, text=TEXT):
    return workbook(tmp_path / "a.xlsx", edit=lambda book: edit(book["S"]), S=text)


def test_a_sheet_that_starts_at_c4(tmp_path):
    def edit(sheet):
        sheet.move_range("A1:D3", rows=3, cols=2)

    table = table_of(edited(tmp_path, edit))
    assert table.rows == [5, 6]
    assert [table.place(1, name).cell for name in ("connection", "type")] == ["C6", "F6"]


def test_a_used_range_that_is_wrong(tmp_path):
    path = sheet_changed(workbook(tmp_path / "a.xlsx", S=TEXT), b'ref="A1:D3"', b'ref="A1:A1"')
    assert table_of(path).column("type") == ["line", "line"]


def many_rows(path, row, count=1_048_576):
    """The sheet with rows like this down to the last one, as formatting whole columns makes."""

    def change(name, data):
        if name != "xl/worksheets/sheet1.xml":
            return data
        rows = b"".join(row % {b"n": n} for n in range(4, count + 1))
        return data.replace(b"</sheetData>", rows + b"</sheetData>")

    return repacked(path, change)


def test_a_million_formatted_empty_rows(tmp_path):
    row = b'<row r="%(n)d" s="1" customFormat="1"><c r="A%(n)d" s="1"/></row>'
    path = many_rows(workbook(tmp_path / "a.xlsx", S=TEXT), row)
    started = time.perf_counter()
    reading = read([path])
    assert time.perf_counter() - started < 20
    assert reading.tables[0].rows == [2, 3]
    assert reading.accounts[0].read == 2


def test_one_stray_value_in_the_last_row(tmp_path):
    path = edited(tmp_path, lambda sheet: sheet.cell(1_048_576, 1, "end"))
    reading = read([path])
    assert reading.tables[0].column("connection")[:2] == ["H-1", "H-2"]
    assert "a value in A1048576 is far from the table" in notes_of(reading)


def test_one_stray_value_in_the_farthest_corner(tmp_path):
    path = edited(tmp_path, lambda sheet: sheet.cell(1_048_576, 16_384, "end"))
    with pytest.raises(InputError) as caught:
        read([path])
    assert "reaches to XFD1048576" in str(caught.value)
    assert "raise the bound on cells" in str(caught.value)


def test_the_bound_on_cells_can_be_raised(tmp_path):
    path = edited(tmp_path, lambda sheet: sheet.cell(2000, 100, "end"))
    with pytest.raises(InputError, match="reaches to CV2000: 2,000 rows by 100 columns"):
        read([path], bounds=Bounds(cells=100_000))
    assert read([path], bounds=Bounds(cells=200_000)).tables


def test_cells_of_the_greatest_length(tmp_path):
    def edit(sheet):
        sheet["E1"], sheet["E2"] = "remarks", "x" * 32_767

    assert len(table_of(edited(tmp_path, edit)).column("remarks")[0]) == 32_767


def test_a_long_text_repeated_in_every_cell_is_refused(tmp_path):
    shared = b'<sst xmlns="http://schemas.openxmlformats.org/spreadsheetml/2006/main"><si><t>%s</t></si></sst>'
    path = workbook(tmp_path / "a.xlsx", S=TEXT)

    def change(name, data):
        return shared % (b"x" * 32_767) if name == "xl/sharedStrings.xml" else data

    row = b'<row r="%(n)d"><c r="A%(n)d" t="s"><v>0</v></c></row>'
    import zipfile

    with zipfile.ZipFile(path, "a") as archive:
        if "xl/sharedStrings.xml" not in archive.namelist():
            archive.writestr("xl/sharedStrings.xml", "")
    path = repacked(many_rows(path, row, 30_000), change, tmp_path / "b.xlsx")
    with pytest.raises(InputError, match="repeats long texts until they fill 937 MiB"):
        read([path])


def test_memory_stays_within_reason(tmp_path):
    """A stray value in the last row of a wide list: the worst sheet that is still read."""
    path = edited(tmp_path, lambda sheet: sheet.cell(1_048_576, 18, "end"))
    code = (
        "import resource, sys; from joinmatrix.lists.reader import read; read(sys.argv[1:]);"
        "print(resource.getrusage(resource.RUSAGE_SELF).ru_maxrss)"
    )
    output = subprocess.run(
        [sys.executable, "-c", code, str(path)], capture_output=True, text=True, check=True
    )
    scale = 1 if sys.platform == "darwin" else 1024
    assert int(output.stdout) * scale < 1 << 30
    assert resource.getrusage(resource.RUSAGE_SELF).ru_maxrss > 0


def test_the_numbers_of_rows_are_those_of_a_second_reader(tmp_path):
    text = (
        f"Title\n | | |\n{HEADINGS}\nH-1 | tail | L | line\n | | |\n | | |\nH-2 | tail | R | line"
    )
    path = workbook(tmp_path / "a.xlsx", S=text)
    table = table_of(path)
    sheet = openpyxl.load_workbook(path)["S"]
    for index, row in enumerate(table.rows):
        for name, column in table.numbers.items():
            assert sheet.cell(row, column).value == table.column(name)[index]
