"""The blank workbook: what is in it, and what filling it in comes to."""

import openpyxl
import pytest
from openpyxl.utils import get_column_letter, range_boundaries

from joinmatrix.errors import CallError, InputError
from joinmatrix.findings import Kind, Verdict
from joinmatrix.lists.headings import COLUMNS, NEEDS
from joinmatrix.lists.reader import read
from joinmatrix.lists.table import ListKind
from joinmatrix.lists.words import ACT_WORDS, act_word, side_labels, yes_no
from joinmatrix.reference.ends import read_end
from joinmatrix.reports.blank import headings_of, sheet_name, write_blank
from joinmatrix.reports.blank_text import SHEETS, TEXTS
from joinmatrix.verify import verify
from tests.filling import LISTS, PLAN, fill

KINDS = pytest.mark.parametrize("kind", list(ListKind))


@pytest.fixture
def blank(tmp_path):
    path = tmp_path / "blank.xlsx"
    write_blank(path)
    return path


def sheet_of(path, kind):
    return openpyxl.load_workbook(path)[sheet_name(kind)]


def drop_downs(sheet):
    """Heading -> what the drop-down below it offers, words or a range."""
    return {
        sheet.cell(1, range_boundaries(str(each.sqref))[0]).value: each.formula1.strip('"')
        for each in sheet.data_validations.dataValidation
    }


# --- what is in it


def test_every_list_has_a_sheet(blank):
    assert set(SHEETS) == set(ListKind)
    assert openpyxl.load_workbook(blank).sheetnames == [sheet_name(kind) for kind in SHEETS]


@KINDS
def test_every_heading_is_understood_as_itself(blank, kind):
    understood = next(each for each in read([blank]).understood if each.sheet == sheet_name(kind))
    assert understood.kind is kind
    assert [(each.text, each.meaning) for each in understood.headings] == [
        (name, name) for name in headings_of(kind)
    ]


@KINDS
def test_every_heading_says_what_goes_below_it(blank, kind):
    assert TEXTS[kind].keys() == set(headings_of(kind)) <= COLUMNS[kind].keys()
    for cell in sheet_of(blank, kind)[1]:
        assert TEXTS[kind][cell.value].what in cell.comment.text


@KINDS
def test_the_first_heading_shows_how_to_keep_ones_own(blank, tmp_path, kind):
    cell = sheet_of(blank, kind).cell(1, 1)
    said = cell.comment.text.partition("beside this one:\n")[2]
    (tmp_path / "joinmatrix.toml").write_text(said.partition("\n\n")[0], encoding="utf-8")
    book = openpyxl.load_workbook(blank)
    book[sheet_name(kind)].cell(1, 1).value = "my heading"
    book.save(blank)
    understood = next(each for each in read([blank]).understood if each.sheet == sheet_name(kind))
    assert understood.kind is kind
    assert understood.headings[0].meaning == cell.value


@KINDS
def test_headings_that_a_list_needs_are_told_apart(blank, kind):
    needed = {name for group in NEEDS[kind] for name in group}
    underlined = {cell.value for cell in sheet_of(blank, kind)[1] if cell.font.underline}
    assert underlined == needed


@KINDS
def test_headings_stay_in_sight_on_the_screen_and_on_paper(blank, kind):
    sheet = sheet_of(blank, kind)
    assert sheet.freeze_panes == "B2"
    assert sheet.print_title_rows == "$1:$1"
    assert sheet.page_setup.orientation == "landscape"
    assert sheet.sheet_properties.pageSetUpPr.fitToPage
    assert (sheet.page_setup.fitToWidth, sheet.page_setup.fitToHeight) == (1, 0)


@pytest.mark.parametrize(
    ("kind", "heading", "wanted"),
    [
        pytest.param(ListKind.CONNECTIONS, "connection", "@", id="names-are-text"),
        pytest.param(ListKind.CONNECTIONS, "size", "@", id="sizes-are-text"),
        pytest.param(ListKind.RECORD, "when", "yyyy-mm-dd hh:mm", id="date-and-time"),
        pytest.param(ListKind.TOOLS, "calibrated until", "yyyy-mm-dd", id="date"),
        pytest.param(ListKind.RECORD, "value", "General", id="readings-are-what-they-are"),
    ],
)
def test_cells_below_the_headings_keep_what_is_typed(blank, kind, heading, wanted):
    letter = get_column_letter(headings_of(kind).index(heading) + 1)
    assert sheet_of(blank, kind).column_dimensions[letter].number_format == wanted


# --- drop-downs


@KINDS
def test_drop_downs_fit_in_their_cell(blank, kind):
    for offered in drop_downs(sheet_of(blank, kind)).values():
        assert 0 < len(offered) <= 255
        assert '"' not in offered


@pytest.mark.parametrize(
    ("kind", "heading", "understood"),
    [
        pytest.param(ListKind.CONNECTIONS, "side", side_labels, id="side"),
        pytest.param(ListKind.RUNS, "from side", side_labels, id="from-side"),
        pytest.param(
            ListKind.CONNECTIONS, "critical", lambda word: yes_no(word) is not None, id="critical"
        ),
        pytest.param(ListKind.CONNECTIONS, "to end", lambda word: read_end(word).forms, id="end"),
        pytest.param(ListKind.RECORD, "act", act_word, id="act"),
    ],
)
def test_every_word_that_is_offered_is_understood(blank, kind, heading, understood):
    words = drop_downs(sheet_of(blank, kind))[heading].split(",")
    assert len(words) > 1
    assert all(map(understood, words))


def test_every_act_is_offered(blank):
    offered = drop_downs(sheet_of(blank, ListKind.RECORD))["act"].split(",")
    assert offered == list(ACT_WORDS)


@pytest.mark.parametrize(
    ("kind", "heading", "wanted"),
    [
        pytest.param(ListKind.CONNECTIONS, "joint", "Joints!$A$2:$A$5000", id="joints"),
        pytest.param(ListKind.RECORD, "connection", "Connections!$A$2:$A$5000", id="connections"),
        pytest.param(ListKind.RECORD, "stage", "Stages!$A$2:$A$5000", id="stages"),
        pytest.param(ListKind.RECORD, "item", "Temporary!$A$2:$A$5000", id="items"),
        pytest.param(ListKind.RECORD, "by", "People!$A$2:$A$5000", id="people"),
        pytest.param(ListKind.RECORD, "tool", "Tools!$A$2:$A$5000", id="tools"),
    ],
)
def test_names_are_offered_from_the_list_that_has_them(blank, kind, heading, wanted):
    assert drop_downs(sheet_of(blank, kind))[heading] == wanted


@KINDS
def test_a_list_does_not_offer_its_own_names(blank, kind):
    offered = drop_downs(sheet_of(blank, kind)).values()
    assert not any(each.startswith(f"{sheet_name(kind)}!") for each in offered)


# --- what check makes of it


@KINDS
def test_the_example_row_is_set_aside(blank, kind):
    account = next(each for each in read([blank]).accounts if each.kind is kind)
    assert (account.read, account.used) == (1, 0)
    assert account.aside == ((2, "the example row of a blank workbook"),)


def test_nothing_in_a_blank_is_in_doubt(blank):
    reading = read([blank])
    assert reading.troubles == reading.notes == reading.not_used == ()


def test_nothing_filled_in_is_no_pass(blank):
    with pytest.raises(InputError, match="connections list has headings and no row"):
        verify([blank])


def test_only_connections_filled_in(blank):
    fill(blank, {"connections": PLAN})
    report = verify([blank])
    assert report.verdict is Verdict.CLEAR
    assert report.assembly.plan_only
    assert report.findings == ()
    # A sheet that nobody has filled in does not say that there are no stages, persons or tools.
    unfilled = {each.kinds for each in report.not_run if "list was given" in each.why}
    assert ListKind.STAGES not in report.assembly.given
    assert (Kind.NOT_AUTHORISED,) in unfilled
    assert (Kind.OUT_OF_CALIBRATION,) in unfilled


def test_every_list_filled_in(blank):
    fill(blank, LISTS)
    report = verify([blank], for_sign_off=True)
    assert [each.message for each in report.findings] == []
    assert not report.assembly.plan_only
    assert report.assembly.given == set(ListKind)
    assert report.not_run == ()


def test_filled_in_over_the_example_row(blank):
    fill(blank, LISTS, first_row=2)
    assert verify([blank], for_sign_off=True).verdict is Verdict.CLEAR


def test_sorted_so_that_the_example_stands_elsewhere(blank):
    book = openpyxl.load_workbook(blank)
    for sheet in book:
        example = [cell.value for cell in sheet[2]]
        sheet.delete_rows(2)
        sheet.append([None] * len(example))
        for column, value in enumerate(example, 1):
            sheet.cell(40, column, value)
    book.save(blank)
    fill(blank, LISTS, first_row=2)
    assert verify([blank], for_sign_off=True).verdict is Verdict.CLEAR


def test_the_examples_are_what_a_list_could_say(blank):
    book = openpyxl.load_workbook(blank)
    for sheet in book:
        for cell in sheet[2]:
            if isinstance(cell.value, str):
                cell.value = cell.value.removeprefix("EXAMPLE ")
    book["Stages"].append(["outer wing mate", "both"])
    book.save(blank)
    report = verify([blank])
    found = {each.kind for each in report.findings if each.severity != "note"}
    # There is no more than one act in the record, and that is all that can be wrong.
    assert found <= {Kind.UNMADE, Kind.UNINSPECTED, Kind.LEFT_FITTED, Kind.MIS_SEQUENCED}
    assert report.assembly.given == set(ListKind)


# --- writing it


@pytest.mark.parametrize(
    "name",
    [
        pytest.param("blank.xls", id="another-kind"),
        pytest.param("blank.csv", id="no-workbook"),
        pytest.param("blank", id="no-ending"),
    ],
)
def test_a_name_that_is_no_workbook_is_refused(tmp_path, name):
    with pytest.raises(CallError, match="no name of a workbook"):
        write_blank(tmp_path / name)
    assert list(tmp_path.iterdir()) == []


def test_a_file_that_is_there_stays_as_it_is(tmp_path):
    path = tmp_path / "lists.xlsx"
    path.write_bytes(b"years of work")
    with pytest.raises(CallError, match="is there already"):
        write_blank(path)
    assert path.read_bytes() == b"years of work"


def test_a_link_that_leads_nowhere_is_not_written_over(tmp_path):
    link = tmp_path / "lists.xlsx"
    link.symlink_to(tmp_path / "gone.xlsx")
    with pytest.raises(CallError, match="is there already"):
        write_blank(link)


def test_a_folder_that_is_not_there(tmp_path):
    with pytest.raises(InputError, match="cannot be written to"):
        write_blank(tmp_path / "nowhere" / "lists.xlsx")
