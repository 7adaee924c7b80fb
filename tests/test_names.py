"""How names are compared."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from joinmatrix.names import Nearest, folded, folds, nearest, quoted_list


@pytest.mark.parametrize(
    ("one", "other", "same"),
    [
        pytest.param("H-1", "H-1", True, id="equal"),
        pytest.param(" H-1 ", "h-1", True, id="trimmed-and-case"),
        pytest.param("gear  down", "Gear down", True, id="spaces"),
        pytest.param("gear\u00a0down", "gear down", True, id="no-break-space"),
        pytest.param("gear\ndown", "gear down", True, id="line-break"),
        pytest.param("caf\u00e9", "cafe\u0301", True, id="accents-in-two-forms"),
        pytest.param("J\u200b1", "J1", True, id="invisible"),
        pytest.param("\uff11", "1", True, id="full-width-figure"),
        pytest.param("1001", "01001", False, id="leading-zero"),
        pytest.param("\u0408 1", "J 1", False, id="cyrillic"),
        pytest.param("H-1", "H1", False, id="punctuation"),
    ],
)
def test_folded(one, other, same):
    assert (folded(one) == folded(other)) is same


@given(st.text())
def test_folding_twice_is_folding_once(name):
    assert folded(folded(name)) == folded(name)


@pytest.mark.parametrize(
    ("name", "expected"),
    [
        pytest.param("gear dwon", ["gear down"], id="letters-swapped"),
        pytest.param("zzz", [], id="nothing-like-it"),
    ],
)
def test_nearest(name, expected):
    assert nearest(name, ["gear down", "wing mate", "fuelling"]) == expected


@pytest.mark.parametrize(
    ("name", "known", "expected"),
    [
        pytest.param("W6", "W3 W4 W5 X6", ["W5", "W4", "W3"], id="changed-next-number-first"),
        pytest.param("V4", "W4 W55", ["W4"], id="first-character-changed"),
        pytest.param("W", "W4 X4", ["W4"], id="one-missing"),
        pytest.param("W44", "W4 X4", ["W4"], id="one-added"),
        pytest.param("W12", "W21 W1 W13 W112", ["W112", "W1", "W13"], id="three-characters"),
        pytest.param("6", "3 4 5", [], id="nothing-is-left-of-one-character"),
        pytest.param("ab", "cd ba acd", [], id="two-slips-are-too-many"),
    ],
)
def test_one_slip_in_a_short_name(name, known, expected):
    known = known.split()
    assert nearest(name, known) == expected
    assert Nearest(known)(name) == expected
    many = [f"other {number}" for number in range(500)]
    assert Nearest([*many, *known])(name) == expected
    assert Nearest([*reversed(known), *many])(name) == expected


def test_of_many_names_those_that_begin_or_end_alike_are_looked_at():
    near = Nearest(f"H-{number:04d}" for number in range(5000))
    assert near("h-0041x")[0] == "H-0041"
    assert near("zzz") == []


def test_near_names_are_given_for_the_first_two_hundred_that_are_not_known():
    near = Nearest(["gear down"])
    asked = [near(f"gear dwon {number}") for number in range(250)]
    assert asked == [["gear down"]] * 200 + [[]] * 50
    assert near("gear dwon 0") == ["gear down"]


@given(st.lists(st.text()))
def test_names_are_folded_at_once_as_one_by_one(names):
    assert folds(names) == {name: folded(name) for name in names}


@pytest.mark.parametrize(
    ("names", "expected"),
    [
        pytest.param([], "", id="none"),
        pytest.param(["a"], '"a"', id="one"),
        pytest.param(["a", "b", "c"], '"a", "b" or "c"', id="three"),
    ],
)
def test_quoted_list(names, expected):
    assert quoted_list(names) == expected
