"""Files of all kinds, made by the tests that read them."""

import zipfile
from pathlib import Path

import openpyxl

from joinmatrix.lists.reader import read

HEADINGS = "connection | joint | side | type"


def cells_of(text):
    """Rows of cells from lines parted by "|"; "12.5" and "7" are numbers, "" is no cell."""
    return [[_value(cell.strip()) for cell in line.split("|")] for line in lines_of(text)]


def lines_of(text):
    return [line.strip() for line in text.strip("\n").splitlines()]


def _value(cell):
    if not cell:
        return None
    try:
        return float(cell) if "." in cell else int(cell)
    except ValueError:
        return cell


def workbook(path, *, edit=None, **sheets):
    """An .xlsx with a sheet for each name, its cells written as text; `edit` gets the workbook."""
    book = openpyxl.Workbook()
    book.remove(book.active)
    for name, text in sheets.items():
        sheet = book.create_sheet(name)
        for number, row in enumerate(cells_of(text), 1):
            for column, value in enumerate(row, 1):
                if value is not None:
                    sheet.cell(number, column, value)
    if edit is not None:
        edit(book)
    path.parent.mkdir(parents=True, exist_ok=True)
    book.save(path)
    return path


def repacked(path, change, target=None):
    """The workbook with its parts changed: `change(name, data)` gives new data, or None to drop."""
    target = target or path.with_name(f"changed-{path.name}")
    with zipfile.ZipFile(path) as old, zipfile.ZipFile(target, "w", zipfile.ZIP_DEFLATED) as new:
        for info in old.infolist():
            data = change(info.filename, old.read(info))
            if data is not None:
                new.writestr(info.filename, data)
    return target


def sheet_changed(path, old, new):
    """The workbook with a text replaced in its first sheet part."""

    def change(name, data):
        if name != "xl/worksheets/sheet1.xml":
            return data
        assert old in data, data
        return data.replace(old, new)

    return repacked(path, change)


def separated(path, text, encoding="utf-8"):
    """A .csv with exactly this text."""
    Path(path).parent.mkdir(parents=True, exist_ok=True)
    Path(path).write_bytes(text if isinstance(text, bytes) else text.encode(encoding))
    return path


def table_of(path, **options):
    """The only table of a file."""
    reading = read([path], **options)
    assert len(reading.tables) == 1, (reading.not_used, reading.troubles)
    return reading.tables[0]


def troubles_of(reading):
    """Cell and words of each trouble that holds."""
    return [(each.place.cell, each.found) for each in reading.troubles if each.holds]


def notes_of(reading):
    return [words for _, words in reading.notes]


def adds_up(reading):
    """Whether every row of every list is used or set aside, and the tables have those used."""
    rows = {}
    for table in reading.tables:
        rows.setdefault((table.file, table.sheet, table.kind), set()).update(table.rows)
    return (
        len(rows) == len(reading.accounts)
        and all(each.read == each.used + len(each.aside) for each in reading.accounts)
        and all(
            each.used == len(rows[each.file, each.sheet, each.kind]) for each in reading.accounts
        )
    )
