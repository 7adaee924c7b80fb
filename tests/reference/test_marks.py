"""Marks that only the typesetting makes different."""

import pytest

from joinmatrix.reference.marks import plain


@pytest.mark.parametrize(
    ("text", "expected"),
    [
        pytest.param(" AN-8  Tube ", "an-8 tube", id="plain"),
        pytest.param("1½", "1 1/2", id="fraction-behind-its-whole"),
        pytest.param("1 ½", "1 1/2", id="fraction-apart"),
        pytest.param("½", "1/2", id="fraction-alone"),
        pytest.param("12⅞ in", "12 7/8 in", id="eighths"),
        pytest.param("‑8 –8 −8 ‐8", "-8 -8 -8 -8", id="dashes"),
        pytest.param("2” 2″ 2′′ 2'' 2’’", '2" 2" 2" 2" 2"', id="inches"),
        pytest.param("2’ 2′", "2' 2'", id="feet"),
        pytest.param("37º 37˚ 37°", "37° 37° 37°", id="degrees"),
        pytest.param("M10×1", "m10x1", id="times"),
    ],
)
def test_plain(text, expected):
    assert plain(text) == expected
