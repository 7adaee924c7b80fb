"""Part numbers as those of two hands."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from joinmatrix.pairing.hands import hands_of


@pytest.mark.parametrize(
    ("one", "other", "same"),
    [
        pytest.param("41-7", "41-8", True, id="odd-and-next-even"),
        pytest.param("41-8", "41-9", False, id="even-and-next-odd"),
        pytest.param("41-7", "42-8", False, id="another-drawing"),
        pytest.param("41-07", "41-8", False, id="another-width"),
        pytest.param("41-9", "41-10", False, id="a-further-digit"),
        pytest.param("41-7a", "41-8a", True, id="letters-behind"),
        pytest.param("41-7a", "41-8b", False, id="other-letters-behind"),
    ],
)
def test_two_hands_of_one_part(one, other, same):
    first, second = hands_of([one, other])
    assert (first.pair == second.pair) is same
    assert first.odd or not same


@pytest.mark.parametrize("part", ["", "bracket", "41-0", "00"])
def test_a_part_without_a_number_has_no_hand(part):
    assert list(hands_of([part])) == [None]


@given(st.lists(st.from_regex(r"[a-z0-9 .-]{0,24}", fullmatch=True)))
def test_many_parts_at_once_are_read_as_one_by_one(parts):
    assert list(hands_of(parts)) == [next(hands_of([part])) for part in parts]
