"""A file is written whole or not at all, whatever stops the program."""

import os
import random
import signal
import sys
import time

import pytest

from joinmatrix.answers import safe_write
from joinmatrix.answers.safe_write import refuse_inputs, write_whole
from joinmatrix.errors import CallError, InputError

OLD, NEW = b"what stood there before\n", b"the new content\n" * 50_000


def test_writes(tmp_path):
    path = tmp_path / "statement.json"
    write_whole(path, NEW)
    assert path.read_bytes() == NEW
    assert [each.name for each in tmp_path.iterdir()] == ["statement.json"]


def test_takes_the_place_of_a_file_and_keeps_its_rights(tmp_path):
    path = tmp_path / "statement.json"
    path.write_bytes(OLD)
    path.chmod(0o640)
    write_whole(path, NEW)
    assert path.read_bytes() == NEW
    assert path.stat().st_mode & 0o777 == 0o640


def test_a_folder_that_is_not_there(tmp_path):
    with pytest.raises(InputError, match="cannot be written to"):
        write_whole(tmp_path / "none" / "statement.json", NEW)


def test_a_fault_leaves_nothing_behind(tmp_path, monkeypatch):
    path = tmp_path / "statement.json"
    path.write_bytes(OLD)

    def full(handle):
        raise OSError(28, "No space left on device")

    monkeypatch.setattr(safe_write.os, "fsync", full)
    with pytest.raises(InputError, match="No space left"):
        write_whole(path, NEW)
    assert path.read_bytes() == OLD
    assert [each.name for each in tmp_path.iterdir()] == ["statement.json"]


def test_a_file_that_is_open_elsewhere_is_named(tmp_path, monkeypatch):
    def is_open(one, other):
        raise PermissionError(13, "Permission denied")

    monkeypatch.setattr(safe_write.os, "replace", is_open)
    with pytest.raises(InputError) as caught:
        write_whole(tmp_path / "marked.xlsx", NEW)
    assert str(caught.value).startswith(f"{tmp_path / 'marked.xlsx'}: cannot be written")
    assert "Close it in other programs" in str(caught.value)
    assert list(tmp_path.iterdir()) == []


def test_an_interrupt_leaves_nothing_behind(tmp_path, monkeypatch):
    def interrupt(one, other):
        raise KeyboardInterrupt

    monkeypatch.setattr(safe_write.os, "replace", interrupt)
    with pytest.raises(KeyboardInterrupt):
        write_whole(tmp_path / "statement.json", NEW)
    assert list(tmp_path.iterdir()) == []


# --- stopped from outside ---


def _stop_at(step, how):
    """Have this process stopped at the n-th line that runs inside the module."""
    left = step

    def tracer(frame, event, _):
        nonlocal left
        if frame.f_code.co_filename != safe_write.__file__:
            return None
        if event in ("line", "return"):
            left -= 1
            if left == 0:
                os.kill(os.getpid(), how)
        return tracer

    sys.settrace(tracer)


def _write_in_a_child(path, step, how):
    """True when the child got to its end."""
    child = os.fork()
    if child == 0:
        signal.signal(signal.SIGTERM, signal.SIG_DFL)
        _stop_at(step, how)
        write_whole(path, NEW)
        os._exit(0)
    _, status = os.waitpid(child, 0)
    return os.WIFEXITED(status)


@pytest.mark.parametrize("how", [signal.SIGKILL, signal.SIGTERM], ids=["kill", "term"])
@pytest.mark.parametrize("before", [None, OLD], ids=["new", "over-an-old-one"])
def test_stopped_at_every_line(tmp_path, how, before):
    path = tmp_path / "statement.json"
    step, finished = 0, False
    while not finished:
        step += 1
        path.unlink(missing_ok=True)
        if before is not None:
            path.write_bytes(before)
        finished = _write_in_a_child(path, step, how)
        found = path.read_bytes() if path.exists() else None
        assert found in (before, NEW), f"half-written after line event {step}"
        others = {each.name for each in tmp_path.iterdir()} - {path.name}
        assert all(name.startswith(".") and name.endswith(".part") for name in others)
    assert path.read_bytes() == NEW
    assert step > 20


def test_stopped_at_any_moment(tmp_path):
    path, big = tmp_path / "statement.json", NEW * 10
    path.write_bytes(OLD)
    chance = random.Random(4)
    for _ in range(40):
        child = os.fork()
        if child == 0:
            while True:
                write_whole(path, big)
                write_whole(path, OLD)
        time.sleep(chance.uniform(0, 0.02))
        os.kill(child, signal.SIGKILL)
        os.waitpid(child, 0)
        assert path.read_bytes() in (OLD, big)


# --- not over an input ---


def test_another_file_is_no_input(tmp_path):
    (tmp_path / "lines.csv").write_text("x")
    refuse_inputs(tmp_path / "statement.json", [tmp_path / "lines.csv"])


@pytest.mark.parametrize("kind", ["same", "dots", "symlink", "hard-link"])
def test_an_input_under_any_name_is_refused(tmp_path, kind):
    lines = tmp_path / "lines.csv"
    lines.write_text("x")
    output = {
        "same": lines,
        "dots": tmp_path / "sub" / ".." / "lines.csv",
        "symlink": tmp_path / "link.json",
        "hard-link": tmp_path / "hard.json",
    }[kind]
    (tmp_path / "sub").mkdir()
    if kind == "symlink":
        output.symlink_to(lines)
    if kind == "hard-link":
        os.link(lines, output)
    with pytest.raises(CallError, match="one of the lists"):
        refuse_inputs(output, [lines])


def test_a_folder_is_refused(tmp_path):
    with pytest.raises(CallError, match="is a folder"):
        refuse_inputs(tmp_path, [])
