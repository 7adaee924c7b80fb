"""`joinmatrix sides` as it is typed."""

import json

import openpyxl
import pytest

from tests.cli.calling import FINISHED, MID_BUILD, refusal, run, write_lists

LINES = "connection,joint,side,type,service,size\nA,fin,both,bolt,,\nB,fin,L,line,=feed,-4\n"


@pytest.mark.parametrize(
    ("words", "code"),
    [
        pytest.param([FINISHED], 0, id="all-agreed"),
        pytest.param([MID_BUILD], 1, id="not-agreed"),
        pytest.param([MID_BUILD, "--joint", "tip float"], 0, id="this-joint-is-alike"),
        pytest.param([MID_BUILD, "--joint", "outer wing", "--differences-only"], 1, id="narrowed"),
        pytest.param([], 2, id="no-paths"),
    ],
)
def test_exit_codes(words, code):
    assert run("sides", *words).exit_code == code


def test_json():
    whole = json.loads(run("sides", MID_BUILD, "--format", "json").stdout)
    assert whole["format"] == "joinmatrix-sides/1"
    assert whole["open"] == 3


def test_an_unknown_joint_is_refused(capsys, monkeypatch):
    assert "outer wing" in refusal(
        capsys, monkeypatch, "sides", MID_BUILD, "--joint", "outer wings"
    )


def test_a_proposal_with_reasons_and_approval_clears_it(tmp_path):
    lists = write_lists(tmp_path / "lists", lines=LINES)
    proposal = tmp_path / "lists" / "to-agree.xlsx"
    ended = run("sides", lists, "--propose", str(proposal))
    assert ended.exit_code == 1
    assert "was written with 1 difference" in ended.stderr
    book = openpyxl.load_workbook(proposal)
    sheet = book.active
    assert [cell.value for cell in sheet[1]][:6] == [
        "joint", "connection", "side", "column", "reason", "approved by",
    ]  # fmt: skip
    for row in sheet.iter_rows(min_row=2):
        row[4].value, row[5].value = "left only", "ENG-1"
    book.save(proposal)
    assert run("sides", lists).exit_code == 0
    assert run("check", lists, "--kind", "unreadable").exit_code == 0


def test_a_proposal_as_it_is_asks_for_its_reasons(tmp_path):
    lists = write_lists(tmp_path / "lists", lines=LINES)
    run("sides", lists, "--propose", str(tmp_path / "lists" / "to-agree.xlsx"))
    found = json.loads(run("check", lists, "--format", "json").stdout)["findings"]
    assert [(each["kind"], each["severity"]) for each in found] == [("asymmetric", "hold")]
    assert "but gives no reason and no approval" in found[0]["message"]
    assert [each["cell"] for each in found[0]["cells"]] == ["A3", "E2", "F2"]
    (joint,) = json.loads(run("sides", lists, "--format", "json").stdout)["joints"]
    assert [each["lacking"] for each in joint["unpaired"]] == ["reason and approval"]


@pytest.mark.parametrize("name", ["A", "=1+1", "+B", "-C", "@D", "\tE", "'F"])
def test_names_in_a_proposal_are_text(tmp_path, name):
    lists = write_lists(tmp_path / "lists", lines=LINES.replace("B,fin", f"{name}2,fin"))
    proposal = tmp_path / "to-agree.xlsx"
    run("sides", lists, "--propose", str(proposal))
    sheet = openpyxl.load_workbook(proposal).active
    assert sheet["B2"].value == f"{name}2".strip()
    assert {cell.data_type for row in sheet.iter_rows() for cell in row} <= {"s", "n"}
    assert not any(
        isinstance(cell.value, (int, float)) for row in sheet.iter_rows() for cell in row
    )


@pytest.mark.parametrize(
    ("name", "why"),
    [
        pytest.param("lists/lines.csv", "no name for a workbook", id="no-workbook"),
        pytest.param("lists/plan.xlsx", "one of the lists", id="an-input"),
        pytest.param("link.xlsx", "one of the lists", id="an-input-by-another-name"),
        pytest.param("filled-in.xlsx", "is there already", id="somebody-may-have-filled-it-in"),
    ],
)
def test_nothing_is_written_over(tmp_path, capsys, monkeypatch, name, why):
    lists = write_lists(tmp_path / "lists", lines=LINES)
    book = openpyxl.Workbook()
    book.active.append(["stage", "after"])
    book.save(tmp_path / "lists" / "plan.xlsx")
    (tmp_path / "link.xlsx").symlink_to(tmp_path / "lists" / "plan.xlsx")
    (tmp_path / "filled-in.xlsx").write_bytes(b"reasons")
    before = (tmp_path / name).read_bytes()
    said = refusal(capsys, monkeypatch, "sides", lists, "--propose", str(tmp_path / name))
    assert why in said
    assert (tmp_path / name).read_bytes() == before


def test_nothing_to_propose_writes_nothing(tmp_path):
    proposal = tmp_path / "to-agree.xlsx"
    ended = run("sides", FINISHED, "--propose", str(proposal))
    assert ended.exit_code == 0
    assert "every difference is agreed" in ended.stderr
    assert not proposal.exists()
