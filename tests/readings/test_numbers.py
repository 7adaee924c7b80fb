"""Numbers as shops write them: exact, with the step of the last digit."""

from fractions import Fraction

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from joinmatrix.lists import words
from joinmatrix.readings.numbers import Number, Unclear, read_number, shown


@pytest.mark.parametrize(
    ("text", "value", "step"),
    [
        ("142", 142, 1),
        ("142.0", 142, "0.1"),
        ("2.5", "2.5", "0.1"),
        ("2,5", "2.5", "0.1"),
        (",5", "0.5", "0.1"),
        ("-0.25", "-0.25", "0.01"),
        ("−3", -3, 1),
        ("1 500", 1500, 1),
        ("1'500", 1500, 1),
        ("1,500.5", "1500.5", "0.1"),
        ("1.500,5", "1500.5", "0.1"),
        ("1,500,000", 1_500_000, 1),
        ("0,500", "0.5", "0.001"),
        ("1.500", "1.5", "0.001"),
        ("1E3", 1000, 1000),
        ("2.5e-3", "0.0025", "0.0001"),
        ("1/2", "1/2", 0),
        ("1 1/2", "3/2", 0),
        ("1-1/4", "5/4", 0),
    ],
)
def test_number(text, value, step):
    assert read_number(text)[:2] == (Fraction(value), Fraction(step))


@pytest.mark.parametrize(
    "text",
    [
        "",
        "ok",
        "135..150",
        "12 mm",
        "1/0",
        "--3",
        "1.2.3",
        "1e999",
        "9" * 50,
        "9" * 9_999 + "/2",
        "- ",
        "n/a",
    ],
)
def test_no_number(text):
    assert isinstance(read_number(text), Unclear)


def test_a_mark_that_can_be_two_things_is_asked_about():
    unclear = read_number("1,500")
    assert unclear == Unclear('"1,500" can be 1.500 or 1500', "write 1.500 or 1500")


@pytest.mark.parametrize(
    ("text", "relation", "value"), [("> 500", ">", 500), (">500", ">", 500), ("<0.1", "<", "0.1")]
)
def test_beyond_the_instrument(text, relation, value):
    number = read_number(text)
    assert (number.relation, number.value) == (relation, Fraction(value))


@settings(max_examples=300)
@given(st.from_regex(r"[+-]?\d{0,4}[ ,.']?\d{1,4}([,./]\d{1,3})?", fullmatch=True))
def test_agrees_with_the_numbers_of_the_lists(text):
    ours, theirs = read_number(text), words.number(text)
    if isinstance(ours, Number) and theirs is not None:
        assert float(ours.value) == pytest.approx(theirs)


@settings(max_examples=200)
@given(st.decimals(-(10**6), 10**6, places=3))
def test_every_decimal_comes_back_as_it_was_written(value):
    number = read_number(format(value, "f"))
    assert number.value == Fraction(value)
    assert number.step == Fraction(1, 1000)


@pytest.mark.parametrize(
    ("value", "step", "text"),
    [
        (Fraction(1, 3), Fraction(0), "0.333333"),
        (Fraction("150.4626"), Fraction("0.9"), "150.5"),
        (Fraction(135), Fraction("0.01"), "135"),
        (Fraction("0.00412"), Fraction("0.001"), "0.0041"),
    ],
)
def test_shown(value, step, text):
    assert shown(value, step) == text
