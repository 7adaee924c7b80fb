"""What the cell of a tick says, and what is no tick."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from joinmatrix.lists.ticks import Tick, is_no_name, no_tick, tick


@pytest.mark.parametrize(
    ("text", "said"),
    [
        *[(text, Tick(False)) for text in ("", "no", "-", "n/a", "N/A", "NA", "open", "blank")],
        *[(text, Tick(True)) for text in ("x", "X", "yes", "✓", "done", "Made", "OK", "TRUE")],
        ("2026-03-04", Tick(True, on="2026-03-04")),
        ("4 Mar 2026 10:30", Tick(True, on="2026-03-04T10:30")),
        ("AB", Tick(True, by="AB")),
        ("J.S.", Tick(True, by="JS")),
        ("AB 2026-03-04", Tick(True, on="2026-03-04", by="AB")),
        ("2026-03-04 / AB", Tick(True, on="2026-03-04", by="AB")),
        ("x 2026-03-04", Tick(True, on="2026-03-04")),
        ("ABCDE", None),
        ("smith", None),
        ("see note 4", None),
    ],
)
def test_tick(text, said):
    assert tick(text) == said


@pytest.mark.parametrize(
    "word",
    ["NIL", "NOT", "TODO", "TBD", "OPEN", "N.A.", "N.A", "not yet", "incomplete", "None", "n/a"],
)
def test_words_that_say_not_done(word):
    assert tick(word) == Tick(done=False)


@pytest.mark.parametrize("word", ["O.K.", "OK", "DONE", "PASS", "YES", "Y"])
def test_words_in_capitals_that_say_done(word):
    assert tick(word) == Tick(done=True)


@pytest.mark.parametrize(
    ("words", "why"),
    [
        pytest.param(
            ["FAIL", "REJ", "NOK", "BAD", "LEAK", "DEF", "SNAG", "U/S", "FAIL 2031-03-04", "REJ."],
            "tells of a refusal",
            id="refusal",
        ),
        pytest.param(["failed leak test", "not ok", "Leak!"], "tells of a refusal", id="in-words"),
        pytest.param(
            ["HOLD", "TBC", "TBA", "WIP", "LATE", "WAIT", "PART", "VOID", "STOP", "MISS", "NR"],
            "as well as initials",
            id="remark",
        ),
        pytest.param(["O", "F", "NG", "HOLD 2031-03-04"], "as well as initials", id="short"),
        pytest.param(
            ["L", "R", "LH", "RH", "P", "S", "PORT", "STBD", "C", "LR", "L/R", "L 2031-03-04"],
            "names a side",
            id="side",
        ),
        pytest.param(["?", "N/K", "see note 4", "hold"], "is not understood", id="anything-else"),
    ],
)
def test_words_that_are_no_tick(words, why):
    for word in words:
        assert tick(word) is None
        assert word in no_tick(word).found
        assert why in no_tick(word).found
        assert "leave it blank" in no_tick(word).remedy


@pytest.mark.parametrize(
    ("text", "expected"),
    [
        ("TBD", True),
        ("HOLD", True),
        ("n/a", False),
        ("A. Berg", False),
        ("AB", False),
        ("S", False),
    ],
)
def test_what_is_no_name(text, expected):
    assert is_no_name(text) is expected


@given(st.text(max_size=40))
def test_no_text_is_too_odd(text):
    tick(text)
