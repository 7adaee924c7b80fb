import io
import time

import pytest

from joinmatrix.errors import InputError
from joinmatrix.lists.bounds import Bounds
from joinmatrix.lists.grid import Cell
from joinmatrix.lists.scan import (
    Part,
    check_order,
    check_reach,
    look_for_marks,
    look_for_reach,
)


def part_of(data):
    return io.BytesIO(data), Part("a.xlsx: S", len(data))


def look(xml, *, exactly=False, padded=0):
    """Look through a sheet part; `padded` puts that many plain rows around, to span pieces."""
    rows = b"".join(
        b'<row r="%d"><c r="A%d" t="s"><v>0</v></c></row>' % (n, n) for n in range(1, padded)
    )
    data = b"<worksheet>" + rows + xml + b"</worksheet>"
    return look_for_reach(*part_of(data), exactly=exactly), look_for_marks(*part_of(data))


@pytest.mark.parametrize("padded", [0, 20_000])
@pytest.mark.parametrize(
    ("xml", "row", "column"),
    [
        pytest.param(b'<row r="3"><c r="C3"><v>1</v></c></row>', 3, 3, id="plain"),
        pytest.param(
            b'<row r="3"><c r="XFD1048576"><v>1</v></c></row>', 1_048_576, 16_384, id="far"
        ),
        pytest.param(b'<row><c s="1" r="BA7"><v>1</v></c></row>', 7, 53, id="r-is-not-first"),
        pytest.param(b"<row><c><v>1</v></c><c><v>2</v></c></row>", 1, 2, id="no-references"),
        pytest.param(
            b"<x:row r='9'><x:c r='DA9'><x:v>1</x:v></x:c></x:row>", 9, 105, id="prefixed"
        ),
        pytest.param(b'<row r="9"><c\tr = "DA9"><v>1</v></c></row>', 9, 105, id="odd-spaces"),
        pytest.param(
            b'<row r="9"><c q=">" r="DA9"><v>1</v></c></row>', 9, 105, id="bracket-in-quotes"
        ),
        pytest.param(
            b'<!-- <c " --><row r="9"><c r="DA9"><v>1</v></c></row>', 9, 105, id="comment"
        ),
        pytest.param(b'<row r="9"><c r="da9"><v>1</v></c></row>', 9, 105, id="small-letters"),
    ],
)
def test_the_reach_is_never_too_small(xml, row, column, padded):
    for exactly in (False, True):
        reach, _ = look(xml, exactly=exactly, padded=padded)
        assert reach.row >= max(row, padded - 1)
        assert reach.column >= column


def test_cells_far_apart_are_refused_by_name():
    xml = b'<row r="1"><c r="XFD1"><v>1</v></c></row>'
    xml += b'<row r="1048576"><c r="A1048576"><v>1</v></c></row>'
    reach, _ = look(xml, exactly=True)
    with pytest.raises(InputError, match="reaches to A1048576 and XFD1: 1,048,576 rows by 16,384"):
        check_reach(reach, Part("a.xlsx: S", 1), Bounds())


def test_formatted_blank_cells_do_not_count():
    reach, _ = look(b'<row r="1048576"><c r="XFD1048576" s="3"/></row>', exactly=True)
    assert reach.column == 0


@pytest.mark.parametrize("padded", [0, 20_000])
def test_marks(padded):
    xml = (
        b'<row r="30000" hidden="1"><c r="B30000" t="e"><f>1/0</f><v>#DIV/0!</v></c></row>'
        b'<row r="30001" ht="0" customHeight="1"><c r="C30001"><f>A1</f></c></row>'
        b'<row r="30002" spans="1:3"><c r="C30002" t="str"><f>A1</f><v></v></c>'
        b'<c r="D30002"><f t="shared" si="0"/><v>0</v></c><c r="E30002"><f/><v/></c></row>'
        b'<row r="30003" spans="1:3"><c t="e" r="B30003"><v>#NEW!</v></c></row>'
    )
    _, marks = look(xml, padded=padded)
    assert marks.errors == {Cell(30000, 2): "#DIV/0!", Cell(30003, 2): "#NEW!"}
    assert marks.uncalculated == {Cell(30001, 3), Cell(30002, 5)}
    assert marks.hidden_rows == {30000, 30001}
    assert marks.zero_formulas[4] == (1, 1)


def test_hidden_columns_and_filter():
    data = (
        b'<worksheet><cols><col min="2" max="3" hidden="1"/><col min="9" max="9"/></cols>'
        b"<sheetData/><autoFilter ref='A1:B2'><filterColumn colId='0'/></autoFilter></worksheet>"
    )
    marks = look_for_marks(*part_of(data))
    assert marks.hidden_columns == {2, 3}
    assert marks.filtered


def cells(row, columns="AB", number=None):
    inner = "".join(f'<c r="{each}{number or row}"><v>1</v></c>' for each in columns)
    return f'<row r="{row}">{inner}</row>'


@pytest.mark.parametrize(
    ("xml", "found"),
    [
        pytest.param(cells(1) + cells(3), "", id="in-order"),
        pytest.param(cells(1, "BA"), "", id="cells-from-right-to-left"),
        pytest.param('<row r="2"/><row r="2"/>' + cells(3), "", id="empty-rows"),
        pytest.param("<row><c><v>1</v></c></row><row/>" + cells(3), "", id="no-references"),
        pytest.param(
            '<row spans="1:2" r="1"><c r="A1"><v>1</v></c></row>', "", id="r-is-not-first"
        ),
        pytest.param(cells(1) + '<!-- a --><rowBreaks count="1"/>', "", id="page-breaks"),
        pytest.param(cells(2) + cells(2), "row 2 stands in it twice", id="row-twice"),
        pytest.param(cells(3) + cells(2), "row 2 stands below row 3", id="row-below-a-later-one"),
        pytest.param(cells(0), "it has a row 0", id="row-0"),
        pytest.param(cells(3, number=2), "cell A2 stands in row 3", id="other-row"),
        pytest.param(cells(3, "ABA"), "cell A3 stands in it twice", id="cell-twice"),
        pytest.param(
            '<row r="3"><c r="A3"><v>1</v></c><c r="B4"><v>1</v></c></row>',
            "cell B4 stands in row 3",
            id="second-cell-in-another-row",
        ),
        pytest.param(
            "<x:row r='4'><x:c r='B4'><x:v>1</x:v></x:c><x:c r='b4'/></x:row>",
            "cell B4 stands in it twice",
            id="prefixed",
        ),
        pytest.param(
            '<row r="2"><c r="B2"><v>1</v></c><c r="A2"><v>1</v></c><c><v>2</v></c></row>',
            "cell B2 stands in it twice",
            id="without-reference-behind-one-with",
        ),
    ],
)
def test_rows_and_cells_that_stand_in_one_place(xml, found):
    data = f"<worksheet>{xml}</worksheet>".encode()
    if not found:
        check_order(*part_of(data))
        return
    with pytest.raises(InputError, match=found):
        check_order(*part_of(data))


def test_filled_cells_are_counted():
    rows = "".join(cells(n) for n in range(1, 20_001))
    data = f'<worksheet>{rows}<row r="20001"><c r="A20001" s="3"/></row></worksheet>'
    assert look_for_marks(*part_of(data.encode())).filled == 40_000


@pytest.mark.parametrize(
    ("data", "found"),
    [
        (b'<?xml version="1.0"?><!DOCTYPE x [<!ENTITY a "b">]><worksheet/>', "DOCTYPE"),
        ('<?xml version="1.0"?><worksheet/>'.encode("utf-16"), "not written in UTF-8"),
    ],
)
def test_what_no_spreadsheet_program_writes(data, found):
    with pytest.raises(InputError, match=found):
        look_for_reach(*part_of(data))


def test_a_part_larger_than_it_says_is_refused():
    with pytest.raises(InputError, match="unpacks to more than it says"):
        look_for_reach(io.BytesIO(b"<worksheet>" + b" " * 999), Part("a.xlsx: S", 100))


def test_a_long_stretch_without_a_cell_is_refused_and_costs_little():
    data = b"<worksheet>" + b"x" * (64 << 20)
    started = time.perf_counter()
    with pytest.raises(InputError, match="has a stretch of 2 MiB without a cell or a text in it"):
        look_for_reach(*part_of(data))
    assert time.perf_counter() - started < 5


def test_many_tags_without_a_cell_cost_no_more_than_their_length():
    data = b"<worksheet>" + b"<x/>" * (8 << 20)
    started = time.perf_counter()
    look_for_reach(*part_of(data))
    look_for_marks(*part_of(data))
    assert time.perf_counter() - started < 20
