"""`joinmatrix card` as it is typed."""

from pathlib import Path

import pytest
from typer.testing import CliRunner

from joinmatrix.cli.app import app
from joinmatrix.errors import CallError

MID_BUILD = str(Path(__file__).parent.parent.parent / "samples" / "amphibian")


def run(*words: str):
    return CliRunner().invoke(app, ["card", MID_BUILD, *words])


def test_text_of_a_joint_and_side():
    ended = run("--joint", "tip float", "--side", "R")
    assert ended.exit_code == 0
    assert ended.stdout.startswith("WORK CARD  joint tip float, side R")
    assert "CAUTIONS" in ended.stdout
    assert "AF-301" in ended.stdout


@pytest.mark.parametrize(
    ("name", "begins"),
    [
        pytest.param("card.html", "<!DOCTYPE html>", id="page"),
        pytest.param("c.txt", "WORK", id="text"),
    ],
)
def test_written_to_a_file(tmp_path, name, begins):
    ended = run("--stage", "tip float mate", "--output", str(tmp_path / name))
    assert ended.exit_code == 0
    assert (tmp_path / name).read_text(encoding="utf-8").lower().startswith(begins.lower())


@pytest.mark.parametrize(
    ("words", "says"),
    [
        pytest.param([], "--joint or --stage", id="for-what"),
        pytest.param(["--joint", "tip flaot"], "tip float", id="unknown-joint"),
        pytest.param(["--stage", "tip float maet"], "tip float mate", id="unknown-stage"),
    ],
)
def test_a_call_that_cannot_be_answered(words, says):
    ended = run(*words)
    assert isinstance(ended.exception, CallError)
    assert says in str(ended.exception)
