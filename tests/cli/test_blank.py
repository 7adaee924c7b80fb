"""`joinmatrix blank` as it is typed."""

import pytest

from tests.cli.calling import refusal, run
from tests.filling import LISTS, PLAN, fill


def test_a_blank_is_written_and_what_comes_next_is_said(tmp_path):
    path = tmp_path / "outer wing.xlsx"
    ended = run("blank", str(path))
    assert ended.exit_code == 0
    assert ended.stdout == ""
    assert f'joinmatrix check "{path}"' in ended.stderr
    assert path.exists()


@pytest.mark.parametrize(
    ("lists", "words"),
    [
        pytest.param({"connections": PLAN}, "plan", id="the-plan"),
        pytest.param(LISTS, "5 made, 5 inspected", id="all-lists"),
    ],
)
def test_filled_in_and_checked_it_is_clear(tmp_path, lists, words):
    path = tmp_path / "lists.xlsx"
    run("blank", str(path))
    fill(path, lists)
    ended = run("check", str(path))
    assert ended.exit_code == 0
    assert "CLEAR" in ended.stdout
    assert words in " ".join(ended.stdout.split())


def test_a_file_that_is_there_stays_as_it_is(tmp_path, capsys, monkeypatch):
    path = tmp_path / "lists.xlsx"
    path.write_bytes(b"years of work")
    assert "is there already" in refusal(capsys, monkeypatch, "blank", str(path))
    assert path.read_bytes() == b"years of work"


def test_without_a_name_it_is_not_called_rightly():
    assert run("blank").exit_code == 2
