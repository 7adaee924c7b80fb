import shutil
import subprocess
from datetime import date, datetime

import pytest

from joinmatrix.errors import InputError
from joinmatrix.lists.bounds import Bounds
from joinmatrix.lists.reader import read
from tests.lists.making import HEADINGS, adds_up, notes_of, table_of, troubles_of, workbook
from tests.lists.making_ods import HEAD, NAMES, TWO_BLANK, cell, document, row

_OFFICE = shutil.which("soffice") or shutil.which("libreoffice")


def saved_as(suffix, made):
    """The file as LibreOffice saves it, in a folder beside it."""
    folder = made.parent
    subprocess.run(
        [_OFFICE, f"-env:UserInstallation=file://{folder}/profile", "--headless",
         "--convert-to", suffix, "--outdir", str(folder / "out"), str(made)],
        check=True, capture_output=True, timeout=120,
    )  # fmt: skip
    return folder / "out" / f"{made.stem}.{suffix}"


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

FORMATS = """
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
    parts = {"styles.xml": styles_part(FORMATS)} if part == "styles" else {}
    styles = FORMATS if part == "content" else ""
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
    reading = read([document(tmp_path / "a.ods", *rows, styles=FORMATS)])
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


def style(name, family, line="", parent="", tag="style"):
    drawn = f"<style:text-properties {line}/>" if line else ""
    return (
        f'<style:{tag} style:name="{name}" style:family="{family}" '
        f'style:parent-style-name="{parent}">{drawn}</style:{tag}>'
    )


LINE = 'style:text-line-through-style="solid" style:text-line-through-type="single"'
NO_LINE = 'style:text-line-through-style="none" style:text-line-through-type="none"'
COMMON = style("Old", "table-cell", LINE) + style("Older", "table-cell", parent="Old")
STYLES = (
    style("ce1", "table-cell", LINE)
    + style("ce2", "table-cell", NO_LINE, parent="Old")
    + style("ce3", "table-cell", parent="Older")
    + style("ce4", "table-cell", 'style:text-line-through-type="double"')
    + style("T1", "text", LINE)
    + style("T2", "text", NO_LINE)
    + style("P1", "paragraph", LINE)
    + style("ce5", "table-cell", parent="ce5")
    + style("ce6", "table-cell", 'style:text-line-through-style="none"')
)


def styled(name, text="H-1"):
    return cell(text, f'office:value-type="string" table:style-name="{name}"')


@pytest.mark.parametrize(
    ("first", "attributes", "column", "struck"),
    [
        pytest.param(cell("H-1"), "", "", False, id="plain"),
        pytest.param(styled("ce1"), "", "", True, id="cell"),
        pytest.param(styled("ce4"), "", "", True, id="cell-with-two-lines"),
        pytest.param(styled("ce6"), "", "", False, id="cell-with-no-line"),
        pytest.param(styled("Older"), "", "", True, id="common-style"),
        pytest.param(styled("ce3"), "", "", True, id="made-from-a-struck-style"),
        pytest.param(styled("ce2"), "", "", False, id="made-from-one-and-set-right"),
        pytest.param(styled("ce5"), "", "", False, id="made-from-itself"),
        pytest.param(cell('H<text:span text:style-name="T1">-9</text:span>-1'), "", "", True,
                     id="a-part-of-the-text"),
        pytest.param(cell('H<text:span text:style-name="T2">-1</text:span>'), "", "", False,
                     id="a-part-that-is-not"),
        pytest.param(cell("H-1").replace("<text:p", '<text:p text:style-name="P1"'), "", "", True,
                     id="a-line-of-the-text"),
        pytest.param(cell("H-1").replace("<text:p", '<text:p text:style-name="T1"'), "", "", False,
                     id="a-name-of-another-family"),
        pytest.param(cell("H-1"), "ce1", "", True, id="row"),
        pytest.param(styled("ce2"), "ce1", "", False, id="row-and-cell-set-right"),
        pytest.param(cell("H-1"), "", "ce1", True, id="column"),
        pytest.param(cell("H-1"), "ce2", "ce1", False, id="column-and-row-set-right"),
    ],
)  # fmt: skip
def test_struck_out_text(tmp_path, first, attributes, column, struck):
    named = 'table:default-cell-style-name="{}"'
    rows = [
        f"<table:table-column {named.format(column) if column else ''}/>",
        HEAD.replace("<table:table-cell", '<table:table-cell table:style-name="ce2"'),
        row(first, *(styled("ce2", text) for text in ("tail", "L", "line", "-6")),
            attributes=named.format(attributes) if attributes else ""),
        row(styled("ce2", "H-2"), "tail", "L", "line"),
    ]  # fmt: skip
    common = (
        f"<office:document-styles {NAMES}><office:styles>{COMMON}</office:styles>"
        f"<office:automatic-styles>{style('ce6', 'table-cell', LINE)}</office:automatic-styles>"
        "</office:document-styles>"
    )
    path = document(tmp_path / "a.ods", *rows, styles=STYLES, parts={"styles.xml": common})
    reading = read([path])
    assert reading.tables[0].rows == [2, 3]
    told = [(each.place.cell, each.found, each.holds) for each in reading.troubles]
    assert told == ([("A2", "text is struck out in row 2; it was read", False)] if struck else [])


def test_struck_out_cells_and_rows_that_are_repeated(tmp_path):
    twice = 'office:value-type="string" table:style-name="ce1" table:number-columns-repeated="2"'
    rows = [
        HEAD,
        row("H-1", cell("tail", twice), "line", attributes='table:number-rows-repeated="2"'),
        row("H-2", "tail", "L", "line", cell("", 'table:style-name="ce1"')),
    ]
    reading = read([document(tmp_path / "a.ods", *rows, styles=STYLES)])
    (trouble,) = (each for each in reading.troubles if not each.holds)
    assert trouble.found == "text is struck out in rows 2, 3; it was read"
    assert trouble.place.cell == "B2"


def test_odd_common_styles_are_passed_over(tmp_path):
    parts = {"styles.xml": "<a><b></a>"}
    assert len(table_of(document(tmp_path / "a.ods", HEAD, row("H-1", "tail", "L", "line"),
                                 parts=parts)).rows) == 1  # fmt: skip


@pytest.mark.desktop
def test_struck_out_text_saved_by_another_program(tmp_path):
    from openpyxl.cell.rich_text import CellRichText, TextBlock
    from openpyxl.cell.text import InlineFont
    from openpyxl.styles import Font

    def edit(book):
        sheet = book["S"]
        sheet["A3"] = CellRichText("H", TextBlock(InlineFont(strike=True), "-9"), "-3")
        for each in sheet[4]:
            each.font = Font(strike=True)

    text = f"{HEADINGS}\n" + "".join(f"H-{number} | tail | L | line\n" for number in range(2, 6))
    reading = read([saved_as("ods", workbook(tmp_path / "made.xlsx", edit=edit, S=text))])
    assert reading.tables[0].column("connection") == ["H-2", "H-9-3", "H-4", "H-5"]
    assert [each.found for each in reading.troubles] == [
        "text is struck out in rows 3, 4; it was read"
    ]


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
    reading = read([saved_as(suffix, workbook(tmp_path / "made.xlsx", edit=edit, S=text))])
    table = reading.tables[0]
    assert table.column("connection") == ["01001", "1001"]
    assert table.column("made on") == ["2026-03-04", "2026-03-05T10:30"]
    assert table.column("size") == ["2", ""]
    assert table.place(1, "made on").cell == "E3"
    assert not reading.troubles
