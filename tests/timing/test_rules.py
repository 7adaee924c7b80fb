"""Rule texts to clauses."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from joinmatrix.timing.durations import minutes_of
from joinmatrix.timing.rules import RuleReader, Unread
from joinmatrix.timing.vocabulary import EVERY, Known, Vocabulary, plain_vocabulary

NAMES = [
    "gear down", "Gear down and locked", "tail mate", "A", "B", "A and B", "before flight check",
    "power off, tagged", "H-1", "H-2", "R&R bay",
]  # fmt: skip
SIDED = Vocabulary({"wing mate": Known("Wing mate", frozenset("LR"))}, ("L", "R", "C"))
READER = RuleReader(plain_vocabulary(NAMES))


def said(rule) -> str:
    """Clauses in one line: "after A, B | at least 90 C"."""
    if isinstance(rule, Unread):
        return "unread"
    lines = []
    for clause in rule:
        minutes = f" {clause.minutes}" if clause.minutes else ""
        lines.append(f"{clause.word}{minutes} {' + '.join(map(str, clause.names))}")
    return " | ".join(lines)


@pytest.mark.parametrize(
    ("text", "expected"),
    [
        pytest.param("", "", id="blank"),
        pytest.param("any time", "", id="any-time"),
        pytest.param("Any Time; after A", "after A", id="any-time-and-more"),
        pytest.param("-", "", id="dash"),
        pytest.param("after gear down", "after gear down", id="after"),
        pytest.param("AFTER  Gear\u00a0Down", "after gear down", id="case-and-spaces"),
        pytest.param("not before tail mate", "after tail mate", id="not-before"),
        pytest.param("before tail mate", "before tail mate", id="before"),
        pytest.param("by tail mate", "before tail mate", id="by"),
        pytest.param("during tail mate", "during tail mate", id="during"),
        pytest.param("with H-1", "during H-1", id="with"),
        pytest.param("between A and tail mate", "after A | before tail mate", id="between"),
        pytest.param(
            "between gear down and locked and tail mate",
            "after Gear down and locked | before tail mate",
            id="between-with-and-in-a-name",
        ),
        pytest.param("between A and B", "after A | before B", id="between-backs-off"),
        pytest.param("after A and B", "after A and B", id="longest-name-wins"),
        pytest.param("after B and A", "after B + A", id="two-names"),
        pytest.param("after B & A, tail mate", "after B + A + tail mate", id="three-names"),
        pytest.param(
            "after gear down and before tail mate", "after gear down | before tail mate", id="and"
        ),
        pytest.param("after A; before tail mate", "after A | before tail mate", id="semicolon"),
        pytest.param("after A, before tail mate", "after A | before tail mate", id="comma"),
        pytest.param("after A\nbefore tail mate", "after A | before tail mate", id="two-lines"),
        pytest.param("after A before tail mate", "after A | before tail mate", id="no-join"),
        pytest.param("after gear\ndown", "after gear down", id="line-break-in-a-name"),
        pytest.param(
            "after before flight check", "after before flight check", id="clause-word-in-a-name"
        ),
        pytest.param(
            "after A, before flight check", "after A + before flight check", id="name-before-clause"
        ),
        pytest.param(
            "after power off, tagged; before A", "after power off, tagged | before A", id="comma-in"
        ),
        pytest.param("after R&R bay", "after R&R bay", id="ampersand-in-a-name"),
        pytest.param("at least 30 min after A", "at least 30 A", id="at-least-min"),
        pytest.param("at least 24 h after A", "at least 1440 A", id="at-least-h"),
        pytest.param("at least 2 days after A", "at least 2880 A", id="at-least-days"),
        pytest.param("at least 1.5 h after A", "at least 90 A", id="at-least-decimals"),
        pytest.param("at least a week after A", "at least 10080 A", id="at-least-a-week"),
        pytest.param("within 2 h of A", "within 120 A", id="within-of"),
        pytest.param("within 2 h after A", "within 120 A", id="within-after"),
        pytest.param(
            "at least 1 h after A and within 2 h of A", "at least 60 A | within 120 A", id="both"
        ),
        pytest.param("after the tail mate", "after tail mate", id="article"),
        pytest.param("after stage A", "after A", id="word-stage"),
        pytest.param("after A.", "after A", id="full-stop"),
    ],
)
def test_rule(text, expected):
    assert said(READER.rule(text)) == expected


@pytest.mark.parametrize(
    ("text", "found", "remedy"),
    [
        pytest.param("after gaer down", '"gaer down"', '"gear down"', id="misspelt"),
        pytest.param("after A, H-11", '"H-11"', '"H-1"', id="second-name"),
        pytest.param("after A then B", '"A then B"', "lists have it", id="no-joining-word"),
        pytest.param("gear down", "does not begin", '"after NAME"', id="no-clause"),
        pytest.param("within 24 h", '"24 h"', "min, h, d", id="within-what"),
        pytest.param("at least 2 shifts after A", '"2 shifts"', "min, h, d", id="shifts"),
        pytest.param("at least 1,500 h after A", '"1,500 h"', "min, h, d", id="two-readings"),
        pytest.param("between A", "two names", "NAME and NAME", id="between-one"),
        pytest.param("after", "does not begin", '"after NAME"', id="nothing-behind"),
        pytest.param("after A; ", None, None, id="trailing-semicolon-is-fine"),
    ],
)
def test_what_cannot_be_read(text, found, remedy):
    rule = READER.rule(text)
    if found is None:
        assert not isinstance(rule, Unread)
    else:
        assert isinstance(rule, Unread)
        assert found in rule.found
        assert text in rule.found
        if remedy != "lists have it":
            assert remedy in rule.remedy


@pytest.mark.parametrize(
    ("text", "sides"),
    [
        pytest.param("after wing mate", (), id="none"),
        pytest.param("after wing mate L", ("L",), id="letter"),
        pytest.param("after wing mate LH", ("L",), id="word"),
        pytest.param("after wing mate (right)", ("R",), id="brackets"),
        pytest.param("after wing mate L and R", ("L", "R"), id="two"),
        pytest.param("after wing mate L/R", ("L", "R"), id="slash"),
        pytest.param("after wing mate both", (EVERY,), id="both"),
    ],
)
def test_a_name_can_carry_its_side(text, sides):
    (clause,) = RuleReader(SIDED).rule(text)
    assert clause.names[0].sides == sides


def test_a_side_on_which_the_name_is_not():
    rule = RuleReader(SIDED).rule("after wing mate C")
    assert isinstance(rule, Unread)
    assert '"L"' in rule.remedy


def test_without_a_stages_list_unknown_names_are_stages():
    reader = RuleReader(plain_vocabulary(["gear down and locked"], unknown_are_stages=True))
    rule = reader.rule("after gear down and locked, Wing on; before tail on and nose on")
    assert said(rule) == "after gear down and locked + Wing on | before tail on + nose on"


def test_a_whole_cell_is_one_new_name():
    reader = RuleReader(plain_vocabulary(["A", "B"], unknown_are_stages=True))
    assert [str(name) for name in reader.name_list("Nose up and down")] == ["Nose up and down"]
    assert [str(name) for name in reader.name_list("A and B")] == ["A", "B"]


@pytest.mark.parametrize(
    ("text", "minutes"),
    [
        pytest.param("30 min", 30, id="min"),
        pytest.param("24h", 1440, id="no-space"),
        pytest.param("1 h 30 min", 90, id="two-parts"),
        pytest.param("1,5 hours", 90, id="decimal-comma"),
        pytest.param("an hour", 60, id="word"),
        pytest.param("3 shifts", None, id="shifts"),
        pytest.param("h", None, id="no-number"),
        pytest.param("1,500 h", None, id="two-readings"),
    ],
)
def test_minutes_of(text, minutes):
    assert minutes_of(text) == minutes


def test_long_lists_of_names_are_read():
    names = [f"S {number}" for number in range(900)]
    (clause,) = RuleReader(plain_vocabulary(names)).rule("after " + ", ".join(names))
    assert len(clause.names) == 900


@pytest.mark.parametrize(
    "part", ["A, ", "after A; ", "at least 5 h ", "between A and ", "and ", ","]
)
def test_a_text_without_end_is_refused_and_not_read_for_ever(part):
    for length in (200, 20_000):
        text = "after " + part * length
        for reader in (READER, RuleReader(plain_vocabulary([], unknown_are_stages=True))):
            found = reader.rule(text), reader.name_list(text)
            assert length == 200 or all(isinstance(each, Unread) for each in found)
            assert all(len(each.found) < 500 for each in found if isinstance(each, Unread))


NAME = st.sampled_from(NAMES)


@given(st.lists(st.tuples(st.sampled_from(["after", "before"]), NAME), min_size=1, max_size=5))
def test_clauses_come_back_as_they_were_written(clauses):
    text = "; ".join(f"{word} {name}" for word, name in clauses)
    assert said(READER.rule(text)) == " | ".join(f"{word} {name}" for word, name in clauses)


@given(st.text(alphabet="AB afterbon,;&\n12h-", max_size=40))
def test_no_text_stops_the_reading(text):
    for vocabulary in (plain_vocabulary(["A", "B", "A and B"]), plain_vocabulary([])):
        assert isinstance(RuleReader(vocabulary).rule(text), tuple)
    loose = RuleReader(plain_vocabulary(["A"], unknown_are_stages=True))
    assert isinstance(loose.rule(text), tuple)
    assert isinstance(loose.name_list(text), tuple)
