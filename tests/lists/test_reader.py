"""The reading as a whole: what it says of sheets, and that nothing but content matters."""

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from joinmatrix.lists.reader import read
from tests.lists.making import HEADINGS, adds_up, separated, workbook

LINES = f"{HEADINGS} | Torque (Nm) | Vendor\nH-1 | tail | L | line | 12..14 | Acme"


def test_how_a_sheet_was_understood(tmp_path):
    text = f"Lines\n{LINES}\n | | | |\nconnection | side | type | service\nH-2 | L | line | x"
    path = workbook(tmp_path / "a.xlsx", S=text)
    first, second = read([path]).understood
    assert (first.file, first.sheet, first.kind, first.row) == (str(path), "S", "connections", 2)
    assert [tuple(each) for each in first.headings] == [
        ("A", "connection", "connection"),
        ("B", "joint", "joint"),
        ("C", "side", "side"),
        ("D", "type", "type"),
        ("E", "Torque (Nm)", "limits torque"),
        ("F", "Vendor", ""),
    ]
    assert (second.kind, second.row, second.missing) == (None, 5, ("joint",))


def test_a_heading_that_was_not_taken_has_no_meaning(tmp_path):
    text = f"Item no | {HEADINGS}\n1 | H-1 | tail | L | line"
    (found,) = read([workbook(tmp_path / "a.xlsx", S=text)]).understood
    assert [each.meaning for each in found.headings[:2]] == ["", "connection"]


def test_everything_that_was_read_is_named(tmp_path):
    path = workbook(tmp_path / "a.xlsx", Lines=LINES, Notes="Mind the gap", Empty="")
    reading = read([path])
    assert reading.files == (str(path),)
    assert [table.sheet for table in reading.tables] == ["Lines"]
    assert [each.sheet for each in reading.not_used] == ["Notes", "Empty"]


ROWS = st.lists(
    st.tuples(
        st.sampled_from(["H-1", "H-2", "01", "1001", "é", "a b"]),
        st.sampled_from(["tail", "wing root"]),
        st.sampled_from(["L", "R", "both"]),
        st.sampled_from(["line", "bolt", "control rod"]),
        st.sampled_from(["", "-6", "3/8 in", "12,5", "x; y", '1/2"']),
    ),
    min_size=1,
    max_size=8,
)


@given(rows=ROWS, columns=st.permutations(range(5)), titles=st.integers(0, 3))
@settings(max_examples=40, deadline=None)
def test_the_same_content_in_any_file_is_the_same_list(tmp_path_factory, rows, columns, titles):
    """Order of columns, titles above, and .xlsx or .csv change nothing but the cells."""
    folder = tmp_path_factory.mktemp("same")
    lines = [("connection", "joint", "side", "type", "size"), *rows]
    lines = [[line[at] for at in columns] for line in lines]
    text = "\n".join(["Title"] * titles + [" | ".join(line) for line in lines])

    def as_text(book):
        for row in book["S"].iter_rows(min_row=titles + 2):
            for cell, value in zip(row, lines[cell_row(row) - titles - 1], strict=True):
                cell.value = value or None

    def cell_row(row):
        return row[0].row

    quoted = [",".join('"' + cell.replace('"', '""') + '"' for cell in line) for line in lines]
    csv_text = "\n".join(["Title"] * titles + quoted)
    found = []
    for path in (
        workbook(folder / "a.xlsx", edit=as_text, S=text),
        separated(folder / "a.csv", csv_text),
    ):
        reading = read([path])
        assert adds_up(reading)
        (table,) = reading.tables
        assert list(table.rows) == list(range(titles + 2, titles + 2 + len(rows)))
        found.append({name: list(cells) for name, cells in table.cells.items()})
    assert found[0] == found[1]
    assert list(zip(*(found[0][name] for name in lines_in_order()), strict=True)) == rows


def lines_in_order():
    return ("connection", "joint", "side", "type", "size")


@pytest.mark.parametrize("count", [0, 1, 3])
def test_several_files_are_read_one_after_the_other(tmp_path, count):
    paths = [
        separated(tmp_path / f"{n}.csv", f"connection,joint,side,type\nH-{n},t,L,x\n")
        for n in range(count)
    ]
    reading = read(list(reversed(paths)))
    assert [table.column("connection")[0] for table in reading.tables] == [
        f"H-{n}" for n in reversed(range(count))
    ]
