"""`joinmatrix next` as it is typed."""

import json

import pytest

from tests.cli.calling import FINISHED, MID_BUILD, refusal, run


@pytest.mark.parametrize(
    ("words", "code"),
    [
        pytest.param([FINISHED], 0, id="nothing-left"),
        pytest.param([MID_BUILD], 0, id="late-is-an-answer-too"),
        pytest.param([MID_BUILD, "--joint", "outer wing", "--side", "left"], 0, id="narrowed"),
        pytest.param([MID_BUILD, "--connection", "AF-110"], 0, id="window"),
        pytest.param([MID_BUILD, "--for", "painter"], 2, id="no-such-doer"),
        pytest.param([], 2, id="no-paths"),
    ],
)
def test_exit_codes(words, code):
    assert run("next", *words).exit_code == code


def test_json():
    whole = json.loads(run("next", MID_BUILD, "--format", "json").stdout)
    assert whole["format"] == "joinmatrix-next/1"
    assert whole["now"][0]["late"] is True


def test_only_an_inspectors_acts():
    whole = json.loads(run("next", MID_BUILD, "--for", "inspector", "--format", "json").stdout)
    assert {each["act"] for each in (*whole["now"], *whole["waiting"])} == {"inspected"}


def test_only_one_joint_and_side():
    words = ["--joint", "Outer Wing", "--side", "stbd", "--format", "json"]
    whole = json.loads(run("next", MID_BUILD, *words).stdout)
    acts = [*whole["now"], *whole["waiting"]]
    assert {each["joint"] for each in acts} == {"outer wing", ""}
    assert {each["side"] for each in acts} == {"R", ""}


def test_json_of_a_window():
    words = ["--connection", "AF-110", "--side", "L", "--format", "json"]
    whole = json.loads(run("next", MID_BUILD, *words).stdout)
    assert [each["act"] for each in whole["windows"]] == ["made", "inspected"]


@pytest.mark.parametrize(
    ("words", "known"),
    [
        pytest.param(["--joint", "outer wings"], '"outer wing"', id="joint"),
        pytest.param(["--side", "Q"], '"L"', id="side"),
        pytest.param(["--connection", "AF-11"], '"AF-110"', id="connection"),
    ],
)
def test_what_is_not_there_is_refused(capsys, monkeypatch, words, known):
    assert known in refusal(capsys, monkeypatch, "next", MID_BUILD, *words)
