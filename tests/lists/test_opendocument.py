import shutil
import subprocess
from datetime import date, datetime

import pytest

from joinmatrix.errors import InputError
from joinmatrix.lists.bounds import Bounds
from joinmatrix.lists.reader import read
from tests.lists.making import HEADINGS, adds_up, notes_of, table_of, troubles_of, workbook
from tests.lists.making_ods import HEAD, TWO_BLANK, cell, document, row

_OFFICE = shutil.which("soffice") or shutil.which("libreoffice")


def test_values(tmp_path):
    rows = [
        HEAD,
        row("H-1", "tail", "L", "line", cell("6", 'office:value-type="float" office:value="6"')),
        row("", "", "", "", attributes='table:number-rows-repeated="3"'),
        row(
            cell("a<text:s text:c='2'/>b<text:line-break/>c</text:p><text:p>d"),
            "tail", "R", "line",
            cell("yes", 'office:value-type="boolean" office:boolean-value="true"'),
        ),
    ]  # fmt: skip
    table = table_of(document(tmp_path / "a.ods", *rows))
    assert table.rows == [2, 6]
    assert table.column("connection") == ["H-1", "a  b\nc\nd"]
    assert table.column("size") == ["6", "TRUE"]


def test_dates_and_times(tmp_path):
    def moment(value, kind="date"):
        return cell("x", f'office:value-type="{kind}" office:{kind}-value="{value}"')

    rows = [
        row("date", "time", "act", "connection"),
        row(moment("2026-03-04"), moment("PT10H30M00S", "time"), "made", "H-1"),
        row(moment("2026-03-04T10:30:00"), "", "made", "H-2"),
        row(moment("9999999-03-04"), "", "made", "H-3"),
    ]
    reading = read([document(tmp_path / "a.ods", *rows)])
    assert reading.tables[0].column("when") == ["2026-03-04T10:30", "2026-03-04T10:30", ""]
    assert [at for at, _ in troubles_of(reading)] == ["A4"]


def test_repeated_cells_and_rows(tmp_path):
    rows = [
        row(TWO_BLANK, "connection", "joint", "side", "type"),
        row(
            TWO_BLANK,
            "H-1",
            cell("x", 'office:value-type="string" table:number-columns-repeated="3"'),
            attributes='table:number-rows-repeated="2"',
        ),
        row(
            '<table:table-cell table:number-columns-repeated="16384"/>',
            attributes='table:number-rows-repeated="1048573"',
        ),
    ]  # fmt: skip
    table = table_of(document(tmp_path / "a.ods", *rows))
    assert table.rows == [2, 3]
    assert table.column("type") == ["x", "x"]
    assert table.place(0, "connection").cell == "C2"


def test_errors_formulas_hidden_rows_and_merged_cells(tmp_path):
    error = cell("#REF!", 'office:value-type="string" calcext:value-type="error"')
    rows = [
        '<table:table-column table:number-columns-repeated="4"/>',
        '<table:table-column table:visibility="collapse"/>',
        HEAD,
        row("H-1", cell("tail", 'office:value-type="string" table:number-rows-spanned="2"'),
            "L", "line", error, attributes='table:visibility="filter"'),
        row("H-2", "<table:covered-table-cell/>", "R", "line", cell("", 'table:formula="of:=1"')),
        row(error),
    ]  # fmt: skip
    reading = read([document(tmp_path / "a.ods", *rows)])
    assert reading.tables[0].column("joint") == ["tail", "tail"]
    assert troubles_of(reading) == [
        ("E2", "size: the cell shows the error #REF!"),
        ("E3", "size: the cell has a formula without a result"),
        ("A4", "connection: the cell shows the error #REF!"),
    ]
    assert "1 filtered out row was read like any other (row 2)" in notes_of(reading)
    assert 'hidden columns were read: "size"' in notes_of(reading)
    assert adds_up(reading)


def test_hidden_sheets(tmp_path):
    properties = '<style:table-properties table:display="false"/>'
    styles = f'<style:style style:name="ta1">{properties}</style:style>'
    path = document(tmp_path / "a.ods", HEAD, row("H-1", "tail", "L", "line"), styles=styles)
    assert "the sheet is hidden, and was read like any other" in notes_of(read([path]))


@pytest.mark.parametrize(
    "beside",
    [
        pytest.param(
            "<office:annotation><text:p>why?</text:p></office:annotation>", id="annotation"
        ),
        pytest.param(
            '<draw:custom-shape draw:name="TextBox 1"><text:p>check this one</text:p>'
            "</draw:custom-shape>",
            id="text-box",
        ),
        pytest.param(
            "<draw:frame><draw:text-box><text:list><text:list-item><text:p>a<text:s/>b</text:p>"
            "</text:list-item></text:list></draw:text-box></draw:frame>",
            id="frame",
        ),
        pytest.param(
            "<draw:frame><draw:object><table:table><table:table-row><table:table-cell>"
            "<text:p>1</text:p></table:table-cell></table:table-row></table:table>"
            "</draw:object></draw:frame>",
            id="table-in-a-frame",
        ),
        pytest.param(
            "<text:note><text:note-citation>1</text:note-citation><text:note-body>"
            "<text:p>see sheet 2</text:p></text:note-body></text:note>",
            id="footnote",
        ),
    ],
)
@pytest.mark.parametrize("where", ["<text:p>", "H-1", "</text:p>"])
def test_what_stands_beside_the_text_of_a_cell_is_no_part_of_it(tmp_path, beside, where):
    at = "H-1" if beside.startswith("<text:note") else where  # a footnote stands in a paragraph
    first = cell("H-1").replace(at, f"{at}{beside}" if at != "<text:p>" else f"{beside}{at}")
    rows = [HEAD, row(first, "tail", "L", "line"), row("H-2", "tail", "R", "line")]
    path = document(tmp_path / "a.ods", *rows)
    assert table_of(path).column("connection") == ["H-1", "H-2"]
    assert notes_of(read([path])) == []


def test_a_shape_on_the_sheet_is_no_part_of_a_cell(tmp_path):
    shapes = "<table:shapes><draw:frame><text:p>Skid 4</text:p></draw:frame></table:shapes>"
    path = document(tmp_path / "a.ods", shapes, HEAD, row("H-1", "tail", "L", "line"))
    assert table_of(path).column("connection") == ["H-1"]


# --- formats that show something else than is stored

STYLES = """
    <number:number-style style:name="N1"><number:number number:decimal-places="0"
        number:min-integer-digits="5"/></number:number-style>
    <number:number-style style:name="N2"><number:fraction number:min-integer-digits="0"/>
        </number:number-style>
    <number:number-style style:name="N3P0"><number:number number:decimal-places="0"
        number:min-integer-digits="4"/></number:number-style>
    <number:number-style style:name="N3"><number:text>-</number:text><number:number
        number:decimal-places="0" number:min-integer-digits="1"/><style:map
        style:condition="value()&gt;=0" style:apply-style-name="N3P0"/></number:number-style>
    <number:number-style style:name="N4"><number:number number:decimal-places="1"
        number:min-integer-digits="1"/></number:number-style>
    <number:number-style style:name="N5"><number:number number:decimal-places="0"
        number:min-integer-digits="4"><number:embedded-text number:position="2">-
        </number:embedded-text></number:number></number:number-style>
    <number:percentage-style style:name="N6"><number:number number:min-integer-digits="1"/>
        </number:percentage-style>
""" + "".join(
    f'<style:style style:name="{name}" style:family="table-cell" {more}/>'
    for name, more in [
        *((f"ce{n}", f'style:data-style-name="N{n}"') for n in range(1, 7)),
        ("child", 'style:parent-style-name="ce2"'),
        ("circle", 'style:parent-style-name="circle"'),
    ]
)


def number(value, style=""):
    styled = f'table:style-name="{style}"' if style else ""
    return cell("?", f'office:value-type="float" office:value="{value}" {styled}')


def line(size, attributes="", connection="H-1"):
    return row(connection, "tail", "L", "line", size, attributes=attributes)


@pytest.mark.parametrize(
    ("style", "look"),
    [
        ("ce1", "zeros in front (format 00000)"),
        ("ce2", "a fraction"),
        ("ce3", "zeros in front (format 0000)"),
        ("ce6", "a percentage"),
        ("child", "a fraction"),
        *((name, "") for name in ("ce4", "ce5", "circle", "nobody", "")),
    ],
)
@pytest.mark.parametrize("part", ["content", "styles"])
def test_numbers_that_look_like_something_else(tmp_path, style, look, part):
    parts = {"styles.xml": styles_part(STYLES)} if part == "styles" else {}
    styles = STYLES if part == "content" else ""
    rows = [HEAD, line(number("0.75", style))]
    reading = read([document(tmp_path / "a.ods", *rows, styles=styles, parts=parts)])
    found = [("E2", f"size: the cell shows {look}, and holds the number 0.75")] if look else []
    assert troubles_of(reading) == found
    assert reading.tables[0].column("size") == ["0.75"]


def styles_part(styles):
    path = "<office:document-styles xmlns:office='o' xmlns:style='s' xmlns:number='n'>"
    return f"{path}<office:styles>{styles}</office:styles></office:document-styles>"


def test_the_format_of_the_row_and_of_the_column(tmp_path):
    columns = (
        '<table:table-column table:number-columns-repeated="4"/>'
        '<table:table-column table:default-cell-style-name="ce2"/>'
        '<table:table-column table:number-columns-repeated="16379"/>'
    )
    rows = [
        columns,
        HEAD,
        line(number("0.75")),
        line(number("0.5"), 'table:default-cell-style-name="ce4"'),
        line(number("7"), 'table:default-cell-style-name="ce1"'),
        line(number("0.5", "ce4")),
        line(cell("text", 'office:value-type="string" table:style-name="ce1"')),
    ]
    reading = read([document(tmp_path / "a.ods", *rows, styles=STYLES)])
    assert [at for at, _ in troubles_of(reading)] == ["E2", "E4"]


def test_every_repeated_cell_is_told(tmp_path):
    percent = cell("5%", 'office:value-type="percentage" office:value="0.05"')
    rows = [HEAD, line(percent, 'table:number-rows-repeated="3"')]
    reading = read([document(tmp_path / "a.ods", *rows)])
    assert [at for at, _ in troubles_of(reading)] == ["E2", "E3", "E4"]


def test_styles_with_a_document_type_are_refused(tmp_path):
    parts = {"styles.xml": f"<!DOCTYPE x>{styles_part('')}"}
    with pytest.raises(InputError, match="DOCTYPE"):
        read([document(tmp_path / "a.ods", HEAD, parts=parts)])


@pytest.mark.parametrize(
    ("rows", "options", "found"),
    [
        pytest.param(
            [row(cell("x", 'table:number-columns-repeated="16384"'),
                 attributes='table:number-rows-repeated="1048576"')],
            {}, "reaches to XFD1048576", id="every-cell-of-a-sheet",
        ),
        pytest.param([HEAD], {"mimetype": "text"}, "document without sheets", id="text"),
        pytest.param(
            [HEAD], {"parts": {"META-INF/manifest.xml": "<a><encryption-data/></a>"}},
            "protected by a password", id="password",
        ),
        pytest.param([HEAD], {"before": "<!DOCTYPE x>"}, "DOCTYPE", id="document-type"),
        pytest.param(["<table:table-row>"], {}, "is damaged", id="broken"),
    ],
)  # fmt: skip
def test_what_is_refused(tmp_path, rows, options, found):
    with pytest.raises(InputError) as caught:
        read([document(tmp_path / "a.ods", *rows, **options)], bounds=Bounds())
    assert found in str(caught.value)


@pytest.mark.desktop
@pytest.mark.parametrize("suffix", ["ods", "xlsx", "csv"])
def test_the_same_list_saved_by_another_program(tmp_path, suffix):
    def edit(book):
        sheet = book["S"]
        sheet["A2"], sheet["A3"] = "01001", 1001
        sheet["E2"], sheet["E3"] = date(2026, 3, 4), datetime(2026, 3, 5, 10, 30)
        sheet["E2"].number_format, sheet["E3"].number_format = "yyyy-mm-dd", "yyyy-mm-dd hh:mm"
        sheet["F2"] = "=1+1"

    text = f"{HEADINGS} | made on | size\n" + "x | tail | L | line\n" * 2
    made = workbook(tmp_path / "made.xlsx", edit=edit, S=text)
    (tmp_path / "out").mkdir()
    subprocess.run(
        [_OFFICE, f"-env:UserInstallation=file://{tmp_path}/profile", "--headless",
         "--convert-to", suffix, "--outdir", str(tmp_path / "out"), str(made)],
        check=True, capture_output=True, timeout=120,
    )  # fmt: skip
    reading = read([tmp_path / "out" / f"made.{suffix}"])
    table = reading.tables[0]
    assert table.column("connection") == ["01001", "1001"]
    assert table.column("made on") == ["2026-03-04", "2026-03-05T10:30"]
    assert table.column("size") == ["2", ""]
    assert table.place(1, "made on").cell == "E3"
    assert not reading.troubles
