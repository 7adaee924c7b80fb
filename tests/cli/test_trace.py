"""`joinmatrix trace` as it is typed."""

import json

import pytest

from tests.cli.calling import MID_BUILD, refusal, run


@pytest.mark.parametrize(
    ("words", "code"),
    [
        pytest.param(["W-H3 R", MID_BUILD], 0, id="made"),
        pytest.param(["W-J4", MID_BUILD, "--side", "R"], 0, id="open-is-an-answer-too"),
        pytest.param(["W-H3"], 2, id="no-paths"),
    ],
)
def test_exit_codes(words, code):
    assert run("trace", *words).exit_code == code


def test_drawing():
    said = run("trace", "W-H4 R", MID_BUILD).stdout
    assert "HY-104" in said
    assert 'L  "HY-104" (outer wing) has no like there' in said


def test_json():
    whole = json.loads(run("trace", "W-J4 R", MID_BUILD, "--format", "json").stdout)
    assert whole["format"] == "joinmatrix-trace/1"
    assert len(whole["open at"]) == 2


def test_an_unknown_port_is_refused_with_the_nearest(capsys, monkeypatch):
    said = refusal(capsys, monkeypatch, "trace", "V-J33", MID_BUILD)
    assert '"V-J3"' in said


def test_a_port_on_several_sides_asks_which(capsys, monkeypatch):
    assert "W-H3" in refusal(capsys, monkeypatch, "trace", "W-H3", MID_BUILD)
