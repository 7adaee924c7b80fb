"""`joinmatrix check` as it is typed."""

import json
from pathlib import Path

import pytest
from typer.testing import CliRunner

from joinmatrix.cli.app import app, printable
from joinmatrix.errors import CallError, InputError

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


def test_json_has_its_fields_in_order():
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


def test_marked_copies_and_a_page_are_written_beside(tmp_path):
    ended = run(
        "check", MID_BUILD, "--marked", str(tmp_path / "m.xlsx"), "--page", str(tmp_path / "p.html")
    )
    assert ended.exit_code == 1
    names = sorted(path.name for path in tmp_path.iterdir())
    assert "m-airframe.xlsx" in names
    assert "p.html" in names
    assert not [name for name in names if name.endswith(".part")]


@pytest.mark.parametrize(
    ("option", "name"),
    [
        pytest.param("--page", "lines.csv", id="page"),
        pytest.param("--marked", "lines.xlsx", id="marked"),
    ],
)
def test_an_input_is_never_written_over(tmp_path, option, name):
    path = tmp_path / name
    text = "connection,joint,side,type\nH-1,fin,C,line\n"
    path.write_text(text)
    ended = run("check", str(path), option, str(path))
    assert isinstance(ended.exception, CallError)
    assert path.read_text() == text


def test_how_each_heading_was_understood(tmp_path):
    path = tmp_path / "lines.csv"
    path.write_text("Tag,Interface,Side,Kind,Colour\nH-1,fin,C,line,red\n")
    ended = run("check", str(path), "--show-headings")
    assert ended.exit_code == 0
    lines = [line.strip() for line in ended.stdout.splitlines()]
    assert "B  Interface  =  joint" in lines
    assert "E  Colour  =  (not read)" in lines


@pytest.mark.parametrize(
    "words",
    [
        pytest.param(["--bound", "cells"], id="no-number"),
        pytest.param(["--bound", "people=3"], id="no-such-bound"),
        pytest.param(["--bound", "cells=\u00b2"], id="superscript"),
        pytest.param(["--bound", f"cells={'9' * 5000}"], id="thousands-of-digits"),
        pytest.param(["--as-of", ""], id="blank-time"),
        pytest.param(["--as-of", "2031-03-04 10:30+99:00"], id="no-such-zone"),
        pytest.param(["--encoding", "klingon"], id="no-such-encoding"),
        pytest.param(["--encoding", "undefined"], id="no-encoding-of-texts"),
        pytest.param(["--encoding", "rot13"], id="no-encoding-at-all"),
    ],
)
def test_an_option_on_reading_that_there_is_not(words):
    assert isinstance(run("check", MID_BUILD, *words).exception, CallError)


def test_a_bound_can_be_raised_and_lowered():
    ended = run("check", MID_BUILD, "--bound", "cells=20")
    assert isinstance(ended.exception, InputError)
    assert run("check", MID_BUILD, "--bound", "cells=40000000").exit_code == 1
