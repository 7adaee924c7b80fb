"""`joinmatrix gate` as it is typed."""

import json

import pytest

from tests.cli.calling import FINISHED, MID_BUILD, refusal, run


@pytest.mark.parametrize(
    ("words", "code"),
    [
        pytest.param(["release inspection", FINISHED], 0, id="go"),
        pytest.param(["wing root fairing", MID_BUILD, "--side", "R"], 1, id="hold"),
        pytest.param(["wing root fairing R", MID_BUILD], 1, id="side-in-the-name"),
        pytest.param(["wing root fairing"], 2, id="no-paths"),
    ],
)
def test_exit_codes(words, code):
    assert run("gate", *words).exit_code == code


def test_json():
    whole = json.loads(
        run("gate", "wing root fairing", MID_BUILD, "--side", "R", "--format", "json").stdout
    )
    assert (whole["format"], whole["answer"]) == ("joinmatrix-gate/1", "hold")
    missing = {(each["act"], each["connection"]) for each in whole["missing"]}
    assert ("placed", "EL-104-STBD") in missing


def test_an_unknown_stage_is_refused_with_the_nearest(capsys, monkeypatch):
    assert "wing root fairing" in refusal(
        capsys, monkeypatch, "gate", "wing rot fairing", MID_BUILD
    )
