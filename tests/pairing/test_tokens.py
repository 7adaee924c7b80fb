"""Side words: whole runs of letters or digits, never letters inside a word."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from joinmatrix.pairing.tokens import OWN, distinguishing, side_words, words_of, words_of_lines

LEFT_RIGHT = ("L", "R")
BLADES = ("1", "2", "3")


@pytest.mark.parametrize(
    ("name", "side", "marked"),
    [
        pytest.param("fuel rail 12", "L", "fuel rail 12", id="letters-inside-words"),
        pytest.param("rl-12", "L", "rl-12", id="letters-of-a-run"),
        pytest.param("hyd-12r", "L", "hyd-12r", id="the-other-side-is-no-word-of-its-own"),
        pytest.param("hyd-12l", "L", "hyd-12*", id="at-the-end"),
        pytest.param("l-hyd-12", "L", "*-hyd-12", id="at-the-start"),
        pytest.param("hyd.l.12", "L", "hyd.*.12", id="in-the-middle"),
        pytest.param("12rh7", "R", "12*7", id="between-digits"),
        pytest.param("left hand aileron", "L", "* aileron", id="two-words"),
        pytest.param("stbd_lamp", "R", "*_lamp", id="underscore-parts"),
        pytest.param("lh-l1", "L", "*-*1", id="twice"),
        pytest.param("right angle box r", "R", "right angle box *", id="a-shape-is-no-side"),
        pytest.param("left-hand thread", "L", "left-hand thread", id="a-thread-is-no-side"),
    ],
)
def test_marked(name, side, marked):
    assert side_words(LEFT_RIGHT).marked([name], side) == [marked.replace("*", OWN)]


def test_many_names_at_once_do_not_run_into_each_other():
    names = ["h-right", "angle 3", "port", "l"]
    assert side_words(LEFT_RIGHT).marked(names, "R") == [f"h-{OWN}", "angle 3", "port", "l"]


def test_a_side_without_words_is_left_alone():
    assert side_words(LEFT_RIGHT).marked(["l-c-r"], "C") == ["l-c-r"]


@pytest.mark.parametrize(
    ("name", "side", "marked"),
    [
        pytest.param("t-21", "1", [], id="part-of-a-number"),
        pytest.param("t-1-21", "1", ["t-*-21"], id="one-number"),
        pytest.param("t-1-1", "1", ["t-*-1", "t-1-*"], id="one-at-a-time"),
        pytest.param("t-01", "1", ["t-*"], id="with-a-leading-zero"),
    ],
)
def test_marked_one_by_one(name, side, marked):
    found = [each for _, each in side_words(BLADES).marked_one_by_one(name, side)]
    assert found == [each.replace("*", OWN) for each in marked]


@pytest.mark.parametrize(
    ("labels", "marks"),
    [
        pytest.param(("1", "2", "3"), ("1", "2", "3"), id="numbers"),
        pytest.param(("blade 1", "blade 2"), ("1", "2"), id="numbered-words"),
        pytest.param(("fore", "aft"), ("fore", "aft"), id="words"),
        pytest.param(("upper", "lower east"), ("upper", "lower east"), id="of-different-shape"),
    ],
)
def test_distinguishing(labels, marks):
    assert tuple(distinguishing(labels).values()) == marks


@pytest.mark.parametrize(
    ("name", "found"),
    [
        pytest.param("gear down", None, id="none"),
        pytest.param("hyd-l", None, id="part-of-an-identifier"),
        pytest.param("gear down l", ("gear down", "L"), id="letter"),
        pytest.param("gear down (rh)", ("gear down", "R"), id="in-brackets"),
        pytest.param("l", None, id="nothing-but-the-side"),
    ],
)
def test_trailing(name, found):
    assert side_words(LEFT_RIGHT).trailing(name) == found


@pytest.mark.parametrize(
    ("labels", "one", "other", "same"),
    [
        pytest.param(LEFT_RIGHT, "41-7", "52-9", True, id="no-digit-is-a-side"),
        pytest.param(LEFT_RIGHT, "P-1", "Q-1", False, id="letters-are-kept"),
        pytest.param(BLADES, "41-7", "52-9", False, id="digits-are-sides"),
    ],
)
def test_texts_of_one_shape_mention_the_same(labels, one, other, same):
    words = side_words(labels)
    assert (words.shape(one) == words.shape(other)) is same
    if same:
        assert words.mentions(one) == words.mentions(other)


@pytest.mark.parametrize("side", LEFT_RIGHT)
@pytest.mark.parametrize("text", ["left", "lh 2", "port", "stbd", "starboard", "rhs", "right hand"])
def test_every_word_for_a_side_is_found_wherever_it_stands(text, side):
    own = {"L": ("left", "lh 2", "port"), "R": ("stbd", "starboard", "rhs", "right hand")}[side]
    assert (OWN in side_words(LEFT_RIGHT).marked_text(f"hyd {text} 3", side)) is (text in own)


@given(st.lists(st.from_regex(r"[a-z0-9 .,/-]{0,16}", fullmatch=True), min_size=1))
def test_words_of_many_texts_are_those_of_each(texts):
    assert list(words_of_lines("\n".join(texts))) == [words_of(text) for text in texts]


def test_a_duration_does_not_reach_into_the_next_text():
    assert list(words_of_lines("cure 12\nh line")) == [("cure", "12"), ("h", "line")]


@pytest.mark.parametrize(
    ("text", "words"),
    [
        pytest.param("cure 30 min", ("cure", "30 min"), id="minutes"),
        pytest.param("1.5h", ("1.5h",), id="hours"),
        pytest.param("12/5 h", ("12/5", "h"), id="a-fraction-has-no-hours"),
        pytest.param("1.2.3", ("1.2.3",), id="a-number-in-parts"),
        pytest.param("3 hoses", ("3", "hoses"), id="another-word"),
    ],
)
def test_words_of(text, words):
    assert words_of(text) == words
