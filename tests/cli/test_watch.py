"""Checking again when a list is saved."""

import pytest

from joinmatrix.cli.watch import stamps, watch


class EnoughError(Exception):
    """Ends a watch that would go on for ever."""


def test_checks_at_once_and_after_each_change_that_has_settled(tmp_path):
    path = tmp_path / "lines.csv"
    path.write_text("one")
    times = []
    looks = iter(range(9))

    def pause():
        look = next(looks, None)
        if look is None:
            raise EnoughError
        if look == 2:
            path.write_text("half")
        if look == 3:  # still being written: not settled yet
            path.write_text("half and half")

    with pytest.raises(EnoughError):
        watch([tmp_path], lambda: times.append(path.read_text()), pause=pause)
    assert times == ["one", "half and half"]


def test_lock_files_and_hidden_files_do_not_count(tmp_path):
    (tmp_path / "~$lines.xlsx").write_text("lock")
    (tmp_path / ".part").write_text("part")
    assert stamps([tmp_path]) == {}
    assert stamps([tmp_path / "gone.csv"]) == {}
