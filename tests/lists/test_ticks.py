"""What the cell of a tick says."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from joinmatrix.lists.ticks import Tick, tick


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


@given(st.text(max_size=40))
def test_no_text_is_too_odd(text):
    tick(text)
