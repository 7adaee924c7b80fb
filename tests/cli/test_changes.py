"""`joinmatrix changes` as it is typed."""

import json

import pytest

from tests.cli.calling import FINISHED, MID_BUILD, refusal, run, write_lists

LINES = "connection,joint,side,type,from,to\nA,fin,L,bolt,P,Q\n"
RECORD = (
    "when,connection,side,act,unit serial\n2031-01-01,A,L,made,{0}\n2031-01-02,A,L,inspected,{0}\n"
)


@pytest.mark.parametrize(
    ("words", "code"),
    [
        pytest.param([MID_BUILD, MID_BUILD], 0, id="the-same"),
        pytest.param([MID_BUILD, FINISHED], 1, id="undoes-work"),
        pytest.param([MID_BUILD], 2, id="no-new-issue"),
    ],
)
def test_exit_codes(words, code):
    assert run("changes", *words).exit_code == code


def test_json():
    whole = json.loads(run("changes", MID_BUILD, FINISHED, "--format", "json").stdout)
    assert whole["format"] == "joinmatrix-changes/1"
    assert {each["connections"][0] for each in whole["undone"]} == {"EL-402", "EL-106-STBD"}


def test_lists_of_both_issues(tmp_path):
    old = write_lists(tmp_path / "old", lines=LINES)
    new = write_lists(tmp_path / "new", lines=LINES.replace("Q", "R"))
    record = write_lists(tmp_path / "record", record=RECORD.format(""))
    assert run("changes", old, new).exit_code == 0
    ended = run("changes", old, new, "--with", record)
    assert ended.exit_code == 1
    assert 'to "Q" became "R"' in " ".join(ended.stdout.split())


def test_the_unit_is_that_of_the_one_record(tmp_path):
    old = write_lists(tmp_path / "old", lines=LINES)
    record = RECORD.format("7") + "2031-01-03,A,L,made,8\n"
    new = write_lists(tmp_path / "new", lines=LINES.replace("Q", "R"), record=record)
    assert run("changes", old, new, "--unit", "7").exit_code == 1


def test_a_unit_that_is_none_is_refused(tmp_path, capsys, monkeypatch):
    lists = write_lists(tmp_path / "lists", lines=LINES)
    said = refusal(capsys, monkeypatch, "changes", lists, lists, "--unit", "9")
    assert 'unit "9" is not in the record' in said


def test_an_issue_that_is_not_there_is_refused(tmp_path, capsys, monkeypatch):
    assert "gone" in refusal(capsys, monkeypatch, "changes", MID_BUILD, str(tmp_path / "gone"))
