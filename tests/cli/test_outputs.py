"""What is written with an option goes to a plain file of its own, or nowhere."""

import os
import stat

import pytest

from tests.cli.calling import MID_BUILD, refusal, run, write_lists

LINES = "connection,joint,side,type\nK-1,ring,both,cable\n"
OPTIONS = [
    pytest.param(["check"], "--page", "report.html", id="page"),
    pytest.param(["check"], "--marked", "marked.xlsx", id="marked"),
    pytest.param(["card", "--joint", "ring"], "--output", "card.html", id="card"),
    pytest.param(["sign-off", "--by", "A. Name"], "--output", "unit.json", id="statement"),
    pytest.param(["sign-off", "--by", "A. Name"], "--page", "unit.html", id="statement-page"),
    pytest.param(["sides"], "--propose", "agree.xlsx", id="proposal"),
]


@pytest.mark.parametrize(("words", "option", "name"), OPTIONS)
def test_a_pipe_stays_a_pipe(tmp_path, capsys, monkeypatch, words, option, name):
    lists = write_lists(tmp_path / "lists", lines=LINES)
    target = tmp_path / name
    os.mkfifo(target)
    said = refusal(capsys, monkeypatch, *words, lists, option, str(target))
    assert f'"{target}" is no file but a device or a pipe, and is left as it is' in said
    assert stat.S_ISFIFO(target.lstat().st_mode)


@pytest.mark.parametrize(("words", "option", "name"), OPTIONS)
@pytest.mark.parametrize("there", [True, False], ids=["to-a-file", "to-nothing"])
def test_a_link_stays_a_link(tmp_path, capsys, monkeypatch, words, option, name, there):
    lists = write_lists(tmp_path / "lists", lines=LINES)
    other, target = tmp_path / "kept", tmp_path / name
    if there:
        other.write_text("kept")
    target.symlink_to(other)
    said = refusal(capsys, monkeypatch, *words, lists, option, str(target))
    assert f'"{target}" is a link to something else, and is left as it is' in said
    assert target.is_symlink()
    assert other.exists() is there


@pytest.mark.parametrize(
    ("page", "marked"),
    [
        pytest.param("out.xlsx", "out.xlsx", id="same"),
        pytest.param("out.xlsx", "sub/../out.xlsx", id="other-spelling"),
        pytest.param("link/out.xlsx", "out.xlsx", id="folder-by-a-link"),
        pytest.param("out-lines.xlsx", "out.xlsx", id="one-copy-of-several"),
    ],
)
def test_two_outputs_are_never_one_file(tmp_path, capsys, monkeypatch, page, marked):
    several = {"lines": LINES, "plan": "stage,after\nmate,\n"}
    lists = write_lists(
        tmp_path / "lists", **(several if "-lines" in page else {"lines": several["lines"]})
    )
    (tmp_path / "sub").mkdir()
    (tmp_path / "link").symlink_to(tmp_path)
    both = ["--page", f"{tmp_path}/{page}", "--marked", f"{tmp_path}/{marked}"]
    said = refusal(capsys, monkeypatch, "check", lists, *both)
    assert "two outputs would be written to one file" in said
    assert sorted(path.name for path in tmp_path.iterdir()) == ["link", "lists", "sub"]


def test_a_file_is_written_again(tmp_path):
    page = tmp_path / "report.html"
    for _ in range(2):
        assert run("check", MID_BUILD, "--page", str(page)).exit_code == 1
    assert page.read_text(encoding="utf-8").startswith("<!doctype html>")
