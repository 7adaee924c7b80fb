"""A short run of the fuzzer; `python -m tests.lists.fuzz --count 20000` is the long one."""

import pytest

from tests.lists.fuzz import mutant, run_one, sources


def test_there_is_something_to_start_from():
    assert sources()


def test_a_mutant_is_the_same_every_time():
    assert [mutant(1, number) for number in range(5)] == [mutant(1, number) for number in range(5)]


@pytest.mark.parametrize("first", range(0, 200, 20))
def test_nothing_breaks_on_odd_files(tmp_path, first):
    for number in range(first, first + 20):
        assert run_one(1, number, tmp_path) == "", f"file {number} of seed 1"
