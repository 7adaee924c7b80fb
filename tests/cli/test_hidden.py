"""What stands on a hidden row or sheet is marked so at the cell, in every output."""

import json

import openpyxl
import pytest

from tests.cli.calling import run
from tests.lists.making import sheet_changed, workbook
from tests.lists.making_ods import HEAD, document, row

LINES = """
connection | joint | side | type | size | timing
H-1 | wing | L | line | -6 | after gear down
H-1 | wing | R | line | -8 | after geer down
"""
RECORD = "act | connection | side | when\nmade | H-9 | L | 2031-03-04"
ROW, SHEET = "lists.xlsx: Wing!E2, E3 (hidden)", "lists.xlsx: Done!B2 (hidden)"


@pytest.fixture
def lists(tmp_path, monkeypatch):
    def edit(book):
        book["Wing"].row_dimensions[3].hidden = True
        book["Done"].sheet_state = "hidden"

    monkeypatch.chdir(tmp_path)
    stages = "stage | timing\ngear down | before rigging\nrigging | "
    workbook(tmp_path / "lists.xlsx", edit=edit, Wing=LINES, Done=RECORD, Stages=stages)
    return "lists.xlsx"


@pytest.mark.parametrize(
    ("words", "shown"),
    [
        pytest.param(["check"], [ROW, SHEET], id="check"),
        pytest.param(["check", "--brief"], [SHEET], id="brief"),
        pytest.param(["check", "--format", "csv"], [ROW.replace("E2, ", "E2; lists.xlsx: Wing!"),
                                                    SHEET], id="csv"),
        pytest.param(["gate", "gear down"], ["lists.xlsx: Wing!F3 (hidden)"], id="gate"),
        pytest.param(["next"], ["lists.xlsx: Wing!F3 (hidden)"], id="next"),
        pytest.param(["sequence"], ["lists.xlsx: Wing!F3 (hidden)"], id="sequence"),
        pytest.param(["sides"], [ROW], id="sides"),
        pytest.param(["sign-off"], [ROW, SHEET], id="sign-off"),
    ],
)  # fmt: skip
def test_texts(lists, words, shown):
    said = run(*words, lists).stdout
    assert [text for text in shown if text not in " ".join(said.split())] == []


def test_changes(lists, tmp_path):
    workbook(tmp_path / "old.xlsx", Wing=LINES.replace("-8", "-6"))
    said = run("changes", "old.xlsx", lists).stdout
    assert "old.xlsx: Wing!E3; lists.xlsx: Wing!E3 (hidden)" in " ".join(said.split())


def test_json_says_it_of_what_is_hidden_alone(lists):
    findings = json.loads(run("check", lists, "--format", "json").stdout)["findings"]
    cells = {cell["cell"]: cell for each in findings for cell in each["cells"]}
    place = {"file": "lists.xlsx", "sheet": "Wing"}
    assert cells["E2"] == {**place, "cell": "E2"}
    assert cells["E3"] == {**place, "cell": "E3", "hidden": True}
    assert cells["B2"] == {**place, "sheet": "Done", "cell": "B2", "hidden": True}


def test_json_says_once_how_a_list_was_read(lists):
    notes = json.loads(run("check", lists, "--format", "json").stdout)["notes"]
    assert [each["sheet"] for each in notes if "hidden" in each["text"]] == ["Wing", "Done"]


def test_the_page_and_the_marked_workbook(lists):
    run("check", lists, "--page", "page.html", "--marked", "marked.xlsx")
    with open("page.html", encoding="utf-8") as page:
        text = page.read()
    assert ROW in text
    assert SHEET in text
    first = openpyxl.load_workbook("marked.xlsx").worksheets[0]
    texts = {cell.value for cells in first.iter_rows(min_col=7) for cell in cells}
    assert {"Wing!E2", "Wing!E3 (hidden)", "Done!B2 (hidden)"} <= texts


def test_a_row_that_a_filter_leaves_out(tmp_path, monkeypatch):
    monkeypatch.chdir(tmp_path)
    lines = [row("H-1", "wing", side, "line", size) for side, size in (("L", "-6"), ("R", "-8"))]
    lines[1] = lines[1].replace("<table:table-row", '<table:table-row table:visibility="filter"')
    document(tmp_path / "lists.ods", HEAD, *lines)
    assert "lists.ods: S!E2, E3 (hidden)" in run("check", "lists.ods").stdout


def test_a_matrix_with_a_row_of_height_0(tmp_path, monkeypatch):
    monkeypatch.chdir(tmp_path)
    text = "connection | joint | type | made L | made R\nH-1 | a | bolt | x |\nH-2 | a | bolt | x |"
    made = workbook(tmp_path / "made.xlsx", S=text)
    sheet_changed(made, b'<row r="3">', b'<row r="3" ht="0" customHeight="1">')
    said = run("check", "changed-made.xlsx").stdout
    assert "S!A2\n" in said
    assert "S!A3 (hidden)" in said
