"""`joinmatrix check` as it is typed."""

import json
from pathlib import Path

import pytest
from typer.testing import CliRunner

from joinmatrix.cli.app import app, printable

SAMPLES = Path(__file__).parent.parent.parent / "samples"
MID_BUILD = str(SAMPLES / "amphibian")
FINISHED = str(SAMPLES / "amphibian-finished")


def run(*words: str):
    return CliRunner().invoke(app, list(words))


@pytest.mark.parametrize(
    ("words", "code"),
    [
        pytest.param(["check", FINISHED], 0, id="clear"),
        pytest.param(["check", MID_BUILD], 1, id="hold"),
        pytest.param(["check", MID_BUILD, "--joint", "fin"], 1, id="narrowed-and-still-the-whole"),
        pytest.param(["check"], 2, id="no-paths"),
        pytest.param(["check", FINISHED, "--kind", "bent"], 2, id="no-such-kind"),
        pytest.param(["explain", "unmade"], 0, id="explain"),
        pytest.param(["explain"], 0, id="explain-all"),
    ],
)
def test_exit_codes(words, code):
    assert run(*words).exit_code == code


def test_a_missing_file_is_one_line(capsys, monkeypatch):
    from joinmatrix.cli import app as program

    monkeypatch.setattr("sys.argv", ["joinmatrix", "check", "gone.xlsx"])
    with pytest.raises(SystemExit) as ended:
        program.main()
    assert ended.value.code == 2
    said = capsys.readouterr()
    assert said.out == ""
    assert len(said.err.strip().splitlines()) == 1
    assert "gone.xlsx" in said.err


def test_json_is_the_contract(tmp_path):
    ended = run("check", MID_BUILD, "--format", "json")
    report = json.loads(ended.stdout)
    assert list(report)[:8] == [
        "format", "verdict", "plan only", "rows", "not used", "connections", "joints", "findings",
    ]  # fmt: skip
    assert report["format"] == "joinmatrix-check/1"
    finding = report["findings"][0]
    assert list(finding)[:11] == [
        "kind", "severity", "joint", "side", "sides", "connections", "stages", "items", "message",
        "clears", "cells",
    ]  # fmt: skip
    assert set(finding["cells"][0]) == {"file", "sheet", "cell"}


def test_csv_has_a_row_for_each_finding():
    report = json.loads(run("check", MID_BUILD, "--format", "json").stdout)
    lines = run("check", MID_BUILD, "--format", "csv").stdout.splitlines()
    assert len(lines) >= len(report["findings"]) + 1


def test_narrowing_shows_less_and_keeps_the_verdict():
    whole = run("check", MID_BUILD).stdout
    narrow = run("check", MID_BUILD, "--joint", "tip float", "--side", "R").stdout
    assert len(narrow) < len(whole)
    assert narrow.splitlines()[-1] == whole.splitlines()[-1]


def test_control_characters_of_an_error_are_shown_and_not_sent():
    assert printable("a\x1b[31mb") == "a<U+001B>[31mb"
