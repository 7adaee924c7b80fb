"""`joinmatrix sign-off` as it is typed."""

import json
import shutil

import pytest

from joinmatrix.answers.statement import SAFETY, read_statement
from tests.cli.calling import FINISHED, MID_BUILD, MODULES, refusal, run


@pytest.mark.parametrize(
    ("words", "code"),
    [
        pytest.param([FINISHED], 0, id="clear"),
        pytest.param([FINISHED, "--by", "C. Dale"], 0, id="clear-with-a-name"),
        pytest.param([MID_BUILD, "--brief"], 1, id="hold"),
        pytest.param([MODULES], 1, id="a-plan"),
        pytest.param([], 2, id="no-paths"),
    ],
)
def test_exit_codes(words, code):
    assert run("sign-off", *words).exit_code == code


def test_the_statement_and_its_page_are_written(tmp_path):
    statement, page = tmp_path / "s.json", tmp_path / "s.html"
    ended = run(
        "sign-off", FINISHED, "--by", "C. Dale", "--output", str(statement), "--page", str(page)
    )
    assert ended.exit_code == 0
    assert SAFETY in " ".join(ended.stdout.split())
    assert read_statement(statement).by == "C. Dale"
    assert "C. Dale" in page.read_text(encoding="utf-8")


def test_nothing_is_written_when_it_is_refused(tmp_path):
    statement, page = tmp_path / "s.json", tmp_path / "s.html"
    words = ["--by", "C. Dale", "--output", str(statement), "--page", str(page), "--brief"]
    ended = run("sign-off", MID_BUILD, *words)
    assert ended.exit_code == 1
    assert "does not replace it" in " ".join(ended.stdout.split())
    assert list(tmp_path.iterdir()) == []


def test_json_of_a_refusal():
    whole = json.loads(run("sign-off", MODULES, "--format", "json").stdout)
    assert whole["verdict"] == "hold"
    assert whole["plan only"] is True


def test_recheck(tmp_path):
    statement = str(tmp_path / "s.json")
    lists = tmp_path / "lists"
    shutil.copytree(FINISHED, lists)
    run("sign-off", str(lists), "--by", "C. Dale", "--output", statement)
    assert run("sign-off", str(lists), "--recheck", statement).exit_code == 0
    table = lists / "pitot-static-and-vents.csv"
    table.write_bytes(table.read_bytes() + b"\n")
    ended = run("sign-off", str(lists), "--recheck", statement)
    assert ended.exit_code == 1
    assert "DOES NOT HOLD" in ended.stdout
    whole = json.loads(
        run("sign-off", str(lists), "--recheck", statement, "--format", "json").stdout
    )
    assert (whole["format"], whole["holds"]) == ("joinmatrix-recheck/1", False)
    assert [each["file"] for each in whole["changes"]] == [str(table)]


@pytest.mark.parametrize(
    ("words", "why"),
    [
        pytest.param(["--output", "s.json"], "who made it", id="nobody-signs"),
        pytest.param(["--page", "s.html"], "who made it", id="nobody-signs-the-page"),
        pytest.param(["--by", "C", "--output", "s.csv"], "read as a list", id="a-list"),
        pytest.param(["--by", "C", "--page", "s.xlsx"], "no name for a page", id="no-page"),
        pytest.param(["--by", "C", "--output", "{lists}/controls.xlsx"], "one of the lists",
                     id="an-input"),
        pytest.param(["--by", "C", "--output", "s.html", "--page", "s.html"], "one file",
                     id="both-in-one-file"),
        pytest.param(["--recheck", "s.json", "--by", "C"], "Give --recheck without", id="both"),
        pytest.param(["--recheck", "gone.json"], "cannot be read", id="no-statement"),
    ],
)  # fmt: skip
def test_calls_that_cannot_be_answered(tmp_path, capsys, monkeypatch, words, why):
    shutil.copytree(FINISHED, tmp_path / "lists")
    monkeypatch.chdir(tmp_path)
    words = [word.format(lists="lists") for word in words]
    assert why in refusal(capsys, monkeypatch, "sign-off", "lists", *words)
    assert [path.name for path in tmp_path.iterdir()] == ["lists"]


def test_a_refusal_is_no_statement(tmp_path, capsys, monkeypatch):
    path = tmp_path / "refused.json"
    path.write_text(run("sign-off", MODULES, "--format", "json").stdout, encoding="utf-8")
    said = refusal(capsys, monkeypatch, "sign-off", MODULES, "--recheck", str(path))
    assert "is the refusal of a sign-off" in said
