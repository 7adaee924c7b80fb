"""How rules and moments read."""

import pytest

from joinmatrix.assembly.model import Act, Key
from joinmatrix.timing.bounds import Bound, Ref, RuleText
from joinmatrix.timing.wording import demand, duration_text, named, said

REF = Ref("stage", Key("seal", ""))


@pytest.mark.parametrize(
    ("minutes", "text"),
    [(5, "5 min"), (60, "1 h"), (90, "1 h 30 min"), (1440, "24 h"), (2880, "2 days")],
)
def test_durations(minutes, text):
    assert duration_text(minutes) == text


@pytest.mark.parametrize(
    ("after", "at", "gap", "text"),
    [
        pytest.param(True, Act.DONE, 0, 'after "seal" is done', id="after"),
        pytest.param(True, Act.STARTED, 0, 'after "seal" has started', id="after-its-start"),
        pytest.param(False, Act.STARTED, 0, 'before "seal" starts', id="before"),
        pytest.param(True, Act.DONE, 60, 'at least 1 h after "seal" is done', id="at-least"),
        pytest.param(False, Act.DONE, 60, 'within 1 h after "seal" is done', id="within"),
    ],
)
def test_demands(after, at, gap, text):
    bound = Bound(Act.MADE, after, REF, at, gap, False, RuleText("timing", "", 0))
    assert demand(bound, '"seal"') == text


@pytest.mark.parametrize(
    ("column", "text"),
    [
        pytest.param("timing", 'its timing says "X"', id="timing"),
        pytest.param("place", 'its rule for placing says "X"', id="place"),
        pytest.param("closed by", 'it is closed by "X"', id="closed-by"),
        pytest.param("connection", 'it blanks off "X"', id="blanks-off"),
    ],
)
def test_rules_as_written(column, text):
    assert said(RuleText(column, "X", 0)) == text


def test_sides_that_go_without_saying():
    assert named("mate", Key("mate", "L"), "L") == '"mate"'
    assert named("mate", Key("mate", "R"), "L") == '"mate" R'
    assert named("mate", Key("mate", ""), "L") == '"mate"'
