import io
import re
import subprocess
import zipfile
from dataclasses import replace
from pathlib import Path

import openpyxl
import pytest
from openpyxl.chart import BarChart, Reference
from openpyxl.comments import Comment
from openpyxl.formatting.rule import CellIsRule
from openpyxl.styles import Font, PatternFill
from openpyxl.workbook.defined_name import DefinedName
from openpyxl.worksheet.datavalidation import DataValidation

from joinmatrix.errors import CallError
from joinmatrix.findings import Finding, Kind, Severity
from joinmatrix.lists.reader import read
from joinmatrix.place import Place
from joinmatrix.reports.workbook import marked
from tests.builders import assembly_of, table
from tests.reports.scene import report_on

ROWS = [
    ["Tag", "Joint", "Side", "Type", "Torque", "On"],
    ["H-01", "wing", "L", "hydraulic line", "=10*14", None],
    ["H-02", "wing", "R", "hydraulic line", 135.5, None],
    ["0012", "wing", "L", "bolt", None, None],
]


def workbook(path):
    """A list as a shop keeps it, with much that a spreadsheet library would lose or change."""
    book = openpyxl.Workbook()
    sheet = book.active
    sheet.title = "Joins & 'bolts' 1"
    for row in ROWS:
        sheet.append(row)
    sheet["A1"].font = Font(bold=True, color="FFFFFFFF")
    sheet["A1"].fill = PatternFill("solid", "FF203050")
    sheet["E3"].number_format = "0.0"
    sheet["A2"].comment = Comment("asked on Monday", "shop")
    sheet["B2"].hyperlink = "https://example.invalid/drawing"
    sheet.column_dimensions["A"].width = 33
    sheet.merge_cells("B5:C6")
    sheet["B5"] = "merged"
    sheet.conditional_formatting.add("E2:E9", CellIsRule(operator="lessThan", formula=["0"]))
    validation = DataValidation("list", formula1='"L,R,C"')
    validation.add("C2:C9")
    sheet.add_data_validation(validation)
    sheet.auto_filter.ref = "A1:F4"
    sheet.print_title_rows = "1:1"
    other = book.create_sheet("Chart")
    other.append([1, 2, 3])
    chart = BarChart()
    chart.add_data(Reference(other, min_col=1, max_col=3, min_row=1))
    other.add_chart(chart, "A5")
    book.defined_names["limits"] = DefinedName("limits", attr_text="Chart!$A$1:$C$1")
    book.save(path)
    return str(path)


def finding(severity, *places, message="wrong", number=0):
    return Finding(Kind.CONFLICT, severity, message, "put it right", places, joint="wing",
                   sides=("L",), connections=(f"H-{number:02}",))  # fmt: skip


def report_about(files, *findings):
    assembly = assembly_of(table("connections", "connection | joint | side | type\nA | j | L | b"))
    report = report_on(assembly, findings)
    return replace(report, reading=replace(report.reading, files=tuple(files)))


SHEET = "Joins & 'bolts' 1"


@pytest.fixture
def source(tmp_path):
    return workbook(tmp_path / "lists.xlsx")


@pytest.fixture
def some_report(source):
    return report_about(
        [source],
        finding(Severity.HOLD, Place(source, SHEET, 2, 1), Place(source, SHEET, 3, 5), number=1),
        finding(Severity.OPEN, Place(source, SHEET, 4, 1)),
        finding(Severity.NOTE, Place(source, SHEET, 4, 6), Place(source, SHEET, 9, 2)),
        finding(Severity.NOTE, Place(source, SHEET, 6, 3)),
        finding(Severity.NOTE, Place(source, SHEET, 3)),
        finding(Severity.NOTE, Place(source, SHEET)),
        finding(Severity.NOTE),
    )


def one_copy(report, tmp_path):
    result = marked(report, tmp_path / "marked.xlsx")
    assert result.refused == ()
    ((path, raw),) = result.files.items()
    assert path == tmp_path / "marked.xlsx"
    return raw


def opened(raw):
    return openpyxl.load_workbook(io.BytesIO(raw))


def test_every_value_and_every_unmarked_format_stays(source, some_report, tmp_path):
    before, after = openpyxl.load_workbook(source), opened(one_copy(some_report, tmp_path))
    assert after.sheetnames == ["Findings", *before.sheetnames]
    assert after.active.title == "Findings"
    touched = {"A2", "E3", "A4", "F4", "B9", "B5"}
    for sheet in before:
        for row in sheet.iter_rows():
            for cell in row:
                copy = after[sheet.title][cell.coordinate]
                assert copy.value == cell.value
                assert copy.data_type == cell.data_type
                if cell.coordinate not in touched or sheet.title != SHEET:
                    for part in ("font", "fill", "border", "alignment", "number_format"):
                        assert repr(getattr(copy, part)) == repr(getattr(cell, part))
    assert after[SHEET].column_dimensions["A"].width == 33
    assert after[SHEET].merged_cells.ranges == before[SHEET].merged_cells.ranges
    assert after[SHEET].auto_filter.ref == "A1:F4"
    assert after[SHEET].print_title_rows == "$1:$1"
    assert after[SHEET].data_validations.dataValidation[0].formula1 == '"L,R,C"'
    assert after[SHEET]["B2"].hyperlink.target == "https://example.invalid/drawing"


def test_every_part_without_marks_is_copied_byte_for_byte(source, some_report, tmp_path):
    before, after = (
        zipfile.ZipFile(source),
        zipfile.ZipFile(io.BytesIO(one_copy(some_report, tmp_path))),
    )
    changed = {name for name in before.namelist() if before.read(name) != after.read(name)}
    assert {name for name in changed if "sheet2" not in name} == {
        "[Content_Types].xml", "xl/_rels/workbook.xml.rels", "xl/comments/comment1.xml",
        "xl/drawings/commentsDrawing1.vml", "xl/styles.xml", "xl/workbook.xml",
        "xl/worksheets/sheet1.xml",
    } - ({"xl/drawings/commentsDrawing1.vml"} - changed)  # fmt: skip
    assert after.testzip() is None


def test_marked_cells_have_fill_mark_and_note(some_report, tmp_path):
    sheet = opened(one_copy(some_report, tmp_path))[SHEET]
    assert sheet["A2"].fill.fgColor.rgb == "FFFFC2AD"
    assert sheet["A2"].number_format == 'General;General;General;"■H "@'
    assert sheet["E3"].number_format == "0.0"  # a number is not widened, or it shows as ####
    assert sheet["A4"].fill.patternType == "lightUp"
    assert sheet["F4"].fill.patternType == "gray0625"
    assert sheet["A2"].comment.text == (
        "asked on Monday\n■1 HOLD conflict\nwrong\nTo clear: put it right".replace("■1", "■H1")
    )
    assert "◊N1 NOTE conflict" in sheet["B9"].comment.text
    assert "◊N2" in sheet["B5"].comment.text  # the cell of a merged range that is seen


def test_rows_lead_to_the_findings_and_back(some_report, tmp_path):
    book = opened(one_copy(some_report, tmp_path))
    sheet, first = book[SHEET], book["Findings"]
    assert sheet["H2"].value == "■H1 conflict"
    assert sheet["H4"].value == "□O1 conflict, ◊N1 conflict"
    assert sheet["H3"].value == "■H1 conflict, ◊N3 conflict"
    assert sheet["H2"].hyperlink.location == "'Findings'!A7"
    assert sheet["H4"].hyperlink.location == "'Findings'!A8"
    assert [first.cell(7, column).value for column in range(1, 9)] == [
        "■H1 hold", "conflict", "wing L", "H-01", "wrong", "put it right",
        f"{SHEET}!A2", f"{SHEET}!E3",
    ]  # fmt: skip
    assert first["G7"].hyperlink.location == "'Joins & ''bolts'' 1'!A2"
    assert [first.cell(row, 1).value for row in range(7, 13)] == [
        "■H1 hold", "□O1 open", "◊N1 note", "◊N2 note", "◊N3 note", "◊N4 note",
    ]  # fmt: skip
    assert (
        first["A1"].value
        == "Joint check: HOLD of the plan (nothing is recorded). In all: 1 hold, 1 open, 5 note."
    )


def test_only_the_first_sheet_is_selected_and_names_move_along(source, some_report, tmp_path):
    raw = one_copy(some_report, tmp_path)
    archive = zipfile.ZipFile(io.BytesIO(raw))
    selected = [name for name in archive.namelist() if b"tabSelected" in archive.read(name)]
    assert selected == ["xl/worksheets/sheet3.xml"]
    text = archive.read("xl/workbook.xml").decode()
    assert re.findall(r'localSheetId="(\d)"', text) == ["1", "1"]
    assert 'activeTab="0"' in text


def test_marked_copy_reads_like_the_original(source, some_report, tmp_path):
    (tmp_path / "copy").mkdir()
    copy = tmp_path / "copy" / "marked.xlsx"
    copy.write_bytes(one_copy(some_report, tmp_path))
    before, after = read([source]), read([copy])
    assert [dict(each.cells) for each in after.tables] == [
        dict(each.cells) for each in before.tables
    ]
    assert [list(each.rows) for each in after.tables] == [list(each.rows) for each in before.tables]


def rewritten(source, name, change):
    """The same workbook with one of its parts written another way."""
    before = zipfile.ZipFile(io.BytesIO(Path(source).read_bytes()))
    with zipfile.ZipFile(source, "w") as archive:
        for part in before.namelist():
            content = before.read(part)
            if part == name:
                content = change(content.decode()).encode()
            archive.writestr(part, content)


def with_prefix(text):
    text = re.sub(r"<(/?)(\w)", r"<\1x:\2", text).replace("<?x:xml", "<?xml")
    return text.replace("xmlns=", "xmlns:x=", 1)


def without_numbers(text):
    head, data, tail = re.split("(<sheetData>.*</sheetData>)", text)
    return head + re.sub(r' r="[A-Z]*\d+"', "", data) + tail


def with_other_quotes(text):
    return re.sub(r'="([^"]*)"', r"='\1'", text)


@pytest.mark.parametrize(
    "change",
    [
        pytest.param(with_prefix, id="namespace-prefix"),
        pytest.param(with_other_quotes, id="single-quotes"),
    ],
)
def test_sheets_written_another_way(source, some_report, tmp_path, change):
    rewritten(source, "xl/worksheets/sheet1.xml", change)
    sheet = opened(one_copy(some_report, tmp_path))[SHEET]
    assert sheet["H2"].value == "■H1 conflict"
    assert sheet["A2"].fill.fgColor.rgb == "FFFFC2AD"
    assert sheet["B9"].comment is not None
    assert sheet["A3"].value == "H-02"


def test_rows_and_cells_that_do_not_say_their_place(source, some_report, tmp_path):
    # The third and later rows have all cells up to the last, so that counting finds them.
    rewritten(source, "xl/worksheets/sheet1.xml", without_numbers)
    sheet = opened(one_copy(some_report, tmp_path))[SHEET]
    assert sheet["H2"].value == "■H1 conflict"
    assert sheet["A2"].fill.fgColor.rgb == "FFFFC2AD"


@pytest.mark.parametrize(
    ("name", "change", "why"),
    [
        pytest.param(
            "xl/workbook.xml",
            lambda text: text.replace(
                "http://schemas.openxmlformats.org/spreadsheetml/2006/main",
                "http://purl.oclc.org/ooxml/spreadsheetml/main",
            ),
            "it is saved in the strict variant of the format; save it as a usual .xlsx",
            id="strict",
        ),
        pytest.param(
            "xl/worksheets/sheet1.xml",
            lambda text: text.replace("<sheetData>", "<!-- kept --><sheetData>"),
            "a sheet of it is written in an unusual way",
            id="comment-in-a-sheet",
        ),
        pytest.param(
            "xl/styles.xml",
            lambda text: text[:-40],
            "its part xl/styles.xml is damaged",
            id="damaged",
        ),
    ],
)
def test_refused(source, some_report, tmp_path, name, change, why):
    rewritten(source, name, change)
    result = marked(some_report, tmp_path / "marked.xlsx")
    assert result.files == {}
    assert result.refused == ((source, why),)


def test_a_signed_workbook_is_refused(source, some_report, tmp_path):
    with zipfile.ZipFile(source, "a") as archive:
        archive.writestr("_xmlsignatures/sig1.xml", "<x/>")
    ((_, why),) = marked(some_report, tmp_path / "marked.xlsx").refused
    assert why == "it is signed, and a mark would make the signature void"


def test_a_workbook_of_another_kind_is_refused(tmp_path):
    other = tmp_path / "lists.ods"
    with zipfile.ZipFile(other, "w") as archive:
        archive.writestr("mimetype", "application/vnd.oasis.opendocument.spreadsheet")
    ((_, why),) = marked(report_about([str(other)]), tmp_path / "marked.xlsx").refused
    assert why == "it is no .xlsx; save it as one to have it marked"


def test_settings_are_no_list(source, tmp_path):
    report = report_about([source, str(tmp_path / "joinmatrix.toml")])
    result = marked(report, tmp_path / "marked.xlsx")
    assert (len(result.files), result.refused) == (1, ())


def test_an_input_that_is_gone_is_refused(tmp_path):
    gone = str(tmp_path / "gone.xlsx")
    ((file, why),) = marked(report_about([gone]), tmp_path / "marked.xlsx").refused
    assert file == gone
    assert why.startswith("it cannot be read again")


@pytest.mark.parametrize("name", ["lists.xlsx", "./lists.xlsx"])
def test_never_takes_the_place_of_an_input(source, some_report, tmp_path, name):
    with pytest.raises(CallError) as caught:
        marked(some_report, tmp_path / name)
    assert "is one of the inputs" in str(caught.value)


def test_a_name_that_is_none():
    with pytest.raises(CallError) as caught:
        marked(report_about([]), Path("marked.csv"))
    assert (
        str(caught.value) == '"marked.csv" is no name for a marked workbook. It must end in .xlsx.'
    )


def test_several_inputs_have_a_copy_each_and_lead_to_each_other(source, tmp_path):
    (tmp_path / "more").mkdir()
    second = workbook(tmp_path / "more" / "lists.xlsx")
    third = tmp_path / "vents.csv"
    third.write_text("tag;joint\n=1+1;wing\n007;wing\n", encoding="utf-8")
    report = report_about(
        [source, second, str(third)],
        finding(Severity.HOLD, Place(str(third), "", 2, 1), Place(second, SHEET, 2, 1)),
    )
    files = marked(report, tmp_path / "marked.xlsx").files
    assert [path.name for path in files] == [
        "marked-lists.xlsx", "marked-lists-2.xlsx", "marked-vents.xlsx",
    ]  # fmt: skip
    books = {path.name: opened(raw) for path, raw in files.items()}
    assert books["marked-lists.xlsx"]["Findings"]["A7"].value is None
    vents = books["marked-vents.xlsx"]["vents"]
    assert (vents["A2"].value, vents["A2"].data_type) == ("=1+1", "s")
    assert vents["A3"].value == "007"
    first = books["marked-vents.xlsx"]["Findings"]
    assert first["G7"].hyperlink.location == "'vents'!A2"
    assert first["H7"].value == "lists.xlsx: Joins & 'bolts' 1!A2"
    assert first["H7"].hyperlink.target == "marked-lists-2.xlsx"
    assert first["H7"].hyperlink.location == "'Joins & ''bolts'' 1'!A2"


def test_text_is_text(source, tmp_path):
    hostile = '=HYPERLINK("x") <b>&amp;</b> \x07\u202e _x0041_ 🛩\n@x'
    raw = one_copy(
        report_about([source], finding(Severity.HOLD, Place(source, SHEET, 3, 1), message=hostile)),
        tmp_path,
    )
    book = opened(raw)
    shown = hostile.replace("\x07\u202e", "<U+0007><U+202E>")
    cell = book["Findings"]["E7"]
    assert cell.data_type == "s"
    assert openpyxl.utils.escape.unescape(cell.value) == shown
    assert shown.replace("_x0041_", "") in book[SHEET]["A3"].comment.text.replace(
        "_x005F_x0041_", ""
    )


def test_a_marked_copy_can_be_marked_again(some_report, source, tmp_path):
    again = tmp_path / "again.xlsx"
    again.write_bytes(one_copy(some_report, tmp_path))
    report = report_about([str(again)], finding(Severity.HOLD, Place(str(again), SHEET, 3, 1)))
    book = opened(one_copy(report, tmp_path))
    assert book.sheetnames == ["Findings 2", "Findings", SHEET, "Chart"]
    assert book[SHEET]["J3"].value == "■H1 conflict"


def test_more_findings_than_a_sheet_has_rows(some_report, tmp_path, monkeypatch):
    monkeypatch.setattr("joinmatrix.reports.workbook_findings.MOST_ROWS", 5)
    first = opened(one_copy(some_report, tmp_path)).worksheets[0]
    assert first["A2"].value.endswith("The last 2 have no room here: --format csv has all.")
    assert first.max_row == 11


def test_very_many_marks_keep_notes_for_holds(source, tmp_path):
    places = [Place(source, SHEET, row, 1) for row in range(10, 2500)]
    report = report_about(
        [source],
        finding(Severity.HOLD, Place(source, SHEET, 3, 1)),
        *(finding(Severity.OPEN, place) for place in places),
    )
    book = opened(one_copy(report, tmp_path))
    notes = [cell.coordinate for row in book[SHEET].iter_rows() for cell in row if cell.comment]
    assert notes == ["A2", "A3"]
    assert book[SHEET]["H2499"].value == "□O2490 conflict"
    assert "notes stand at 1 holds only" in book["Findings"]["A4"].value


@pytest.mark.desktop
def test_opens_in_an_office_program_with_every_value(source, some_report, tmp_path):
    (tmp_path / "marked.xlsx").write_bytes(one_copy(some_report, tmp_path))
    (tmp_path / "out").mkdir()
    subprocess.run(
        ["soffice", "--headless", f"-env:UserInstallation=file://{tmp_path}/profile",
         "--convert-to", "xlsx", "--outdir", str(tmp_path / "out"), str(tmp_path / "marked.xlsx")],
        check=True, capture_output=True, timeout=120,
    )  # fmt: skip
    book = openpyxl.load_workbook(tmp_path / "out" / "marked.xlsx")
    assert book.sheetnames == ["Findings", SHEET, "Chart"]
    assert [cell.value for cell in book[SHEET][2]][:5] == ROWS[1][:5]
    assert "■H1 HOLD conflict" in book[SHEET]["A2"].comment.text
    assert book["Chart"]._charts
