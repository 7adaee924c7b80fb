"""Cells that say the same in another spelling."""

import pytest

from joinmatrix.reference.spelling import one_spelling

EQUAL = [
    pytest.param("from size", "-8", "-08", id="zero"),
    pytest.param("from size", "-8", '1/2"', id="dash-and-inches"),
    pytest.param("to size", '3/8"', "3/8 in", id="inch-mark"),
    pytest.param("to size", '1 1/2"', "1.5 in", id="fraction-and-decimal"),
    pytest.param("to size", "1½”", "1.5 in", id="typeset"),
    pytest.param("from size", "12.7 mm", "1/2 in", id="exact-mm"),
    pytest.param("from size", "3/8 in (9.5 mm)", "-6", id="rounded-mm-beside-it"),
    pytest.param("from size", "-8 (1/2 in)", "1/2 in", id="said-twice"),
    pytest.param("from size", "15", "D", id="shell"),
    pytest.param("from size", "D35", "15-35", id="shell-and-insert"),
    pytest.param("from size", "DN 25 pipe", "DN25", id="a-bore-is-of-a-pipe"),
    pytest.param("from end", "male", "M", id="letter"),
    pytest.param("from end", "pin", "pins", id="plural"),
    pytest.param("to end", "37 flare", "flare 37", id="order"),
    pytest.param("to end", "37°", "37 deg", id="bare-angle"),
    pytest.param("from end", "end A", "A", id="designation"),
    pytest.param("from key", "A", "key A", id="key"),
    pytest.param("to key", "90 deg", "90º", id="clocking"),
    pytest.param("type", "Line", " line", id="other-columns-are-folded"),
    pytest.param("from size", "", " ", id="blank"),
]

DIFFERENT = [
    pytest.param("from size", "-8", "-6", id="size"),
    pytest.param("from size", "13 mm", "1/2 in", id="whole-mm"),
    pytest.param("from size", "9.5 mm", "3/8 in", id="equal-once-rounded"),
    pytest.param("from size", "-8 (1/2 in)", "-8 (5/8 in)", id="said-twice-and-one-is-wrong"),
    pytest.param("from size", "1/2 in pipe", "1/2 in tube", id="pipe-and-tube"),
    pytest.param("from size", "-8 hose", "-8", id="hose"),
    pytest.param("from size", "1/4-28 UNF-3A", "1/4-28 UNF-2A", id="class-of-a-thread"),
    pytest.param("from size", "AN-8", "AN8", id="words"),
    pytest.param("from size", "8", "-8", id="no-family"),
    pytest.param("from size", "NPS 1", "DN25", id="known-from-memory-only"),
    pytest.param("from size", "tube", "pipe", id="no-number"),
    pytest.param("from end", "pin", "socket", id="end"),
    pytest.param("from end", "pin +", "pin -", id="poles"),
    pytest.param("from end", "flare 37 nut", "flare 37 tube", id="what-stands-there"),
    pytest.param("from end", "fork type A", "fork type B", id="designation"),
    pytest.param("from end", "fork type A", "fork", id="designation-on-one"),
    pytest.param("from end", "nut", "tube", id="words-that-say-nothing"),
    pytest.param("from key", "A", "B", id="key"),
    pytest.param("from key", "no key", "key", id="no-key"),
    pytest.param("part", "-8", "-08", id="part-numbers-are-no-sizes"),
    pytest.param("from", "pin", "pins", id="ports-are-no-ends"),
]


@pytest.mark.parametrize(("column", "one", "other"), EQUAL)
def test_equal(column, one, other):
    assert one_spelling(column, one) == one_spelling(column, other)


@pytest.mark.parametrize(("column", "one", "other"), DIFFERENT)
def test_different(column, one, other):
    assert one_spelling(column, one) != one_spelling(column, other)


@pytest.mark.parametrize("column", ["from size", "from end", "from key", "type"])
@pytest.mark.parametrize("text", ["tube", "end", "key", "no.", "A", "()", "°", "+", '"'])
def test_nothing_but_a_blank_is_blank(column, text):
    assert one_spelling(column, text)
    assert one_spelling(column, "  ") == ""
