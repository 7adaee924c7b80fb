"""The blank workbook opened and saved by LibreOffice."""

import subprocess
from pathlib import Path

import openpyxl
import pytest

from joinmatrix.findings import Verdict
from joinmatrix.lists.reader import read
from joinmatrix.lists.table import ListKind
from joinmatrix.reports.blank import headings_of, sheet_name, write_blank
from joinmatrix.verify import verify
from tests.filling import LISTS, fill

pytestmark = pytest.mark.desktop
FORMATS = pytest.mark.parametrize("ending", ["xlsx", "ods"])


def saved(path: Path, ending: str, folder: Path) -> Path:
    """The workbook as LibreOffice saves it, in a folder beside it."""
    folder.mkdir()
    profile = (path.parent / "profile").as_uri()
    subprocess.run(
        [
            *("soffice", f"-env:UserInstallation={profile}", "--headless"),
            *("--convert-to", ending, "--outdir", str(folder), str(path)),
        ],
        check=True,
        capture_output=True,
        timeout=120,
    )
    return folder / f"{path.stem}.{ending}"


@pytest.fixture
def blank(tmp_path):
    path = tmp_path / "blank.xlsx"
    write_blank(path)
    return path


@FORMATS
def test_every_list_is_read_back(blank, tmp_path, ending):
    reading = read([saved(blank, ending, tmp_path / "saved")])
    assert [each.kind for each in reading.understood] == [
        each.kind for each in read([blank]).understood
    ]
    for each in reading.understood:
        assert [heading.meaning for heading in each.headings] == list(headings_of(each.kind))
    for account in reading.accounts:
        assert account.aside == ((2, "the example row of a blank workbook"),)
        assert (account.read, account.used) == (1, 0)
    assert reading.troubles == reading.not_used == ()


@FORMATS
def test_filled_in_it_is_still_clear(blank, tmp_path, ending):
    fill(blank, LISTS)
    report = verify([saved(blank, ending, tmp_path / "saved")], for_sign_off=True)
    assert report.verdict is Verdict.CLEAR
    assert report.assembly.given == set(ListKind)
    assert not report.assembly.plan_only


def test_filled_in_after_libreoffice_has_saved_it(blank, tmp_path):
    again = saved(blank, "xlsx", tmp_path / "saved")
    fill(again, LISTS)
    assert verify([again], for_sign_off=True).verdict is Verdict.CLEAR


def test_drop_downs_comments_and_print_set_up_come_through(blank, tmp_path):
    before = openpyxl.load_workbook(blank)
    after = openpyxl.load_workbook(saved(blank, "xlsx", tmp_path / "saved"))
    for kind in ListKind:
        ours, theirs = before[sheet_name(kind)], after[sheet_name(kind)]
        assert drop_downs(theirs) == drop_downs(ours)
        assert [cell.comment.text.split() for cell in theirs[1]] == [
            cell.comment.text.split() for cell in ours[1]
        ]
        assert theirs.print_title_rows == "$1:$1"
        assert theirs.page_setup.orientation == "landscape"
        assert theirs.sheet_properties.pageSetUpPr.fitToPage


def drop_downs(sheet):
    """First cell and what it offers; LibreOffice cuts how far down it goes."""
    return {
        (str(each.sqref).partition(":")[0], each.formula1)
        for each in sheet.data_validations.dataValidation
    }
