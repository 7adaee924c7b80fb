"""Keying positions."""

import pytest

from joinmatrix.reference.keys import compare, shell_codes
from joinmatrix.reference.match import Match


@pytest.mark.parametrize(
    ("one", "other", "fits"),
    [
        pytest.param("A", "a", True, id="same-letter"),
        pytest.param("N", "normal", True, id="normal-as-word"),
        pytest.param("key A", "pos. A", True, id="words-around-it"),
        pytest.param("30 deg", "30°", True, id="degrees"),
        pytest.param("12 o'clock", "12 o’clock", True, id="clock"),
        pytest.param("PA", "SA", True, id="with-contacts"),
        pytest.param("PA", "PA", False, id="pins-on-both"),
        pytest.param("PA", "SB", False, id="with-contacts-other-key"),
        pytest.param("keyed", "key", True, id="keyed-somehow"),
        pytest.param("keyed", "no key", False, id="keyed-and-not"),
        pytest.param("A", "B", False, id="other-letter"),
        pytest.param("30", "60", False, id="other-angle"),
    ],
)
def test_compare(one, other, fits):
    expected = Match.FITS if fits else Match.DIFFERS
    assert compare(one, other).match is expected
    assert compare(other, one).match is expected


def test_angles_are_told_for_a_known_shell():
    assert "113, 156, 182, 292" in compare("A", "N", 15).why
    assert "degrees" not in compare("A", "N").why


def test_shell_letters_leave_out_i():
    assert shell_codes()["H"] == 23
    assert shell_codes()["J"] == 25
    assert "I" not in shell_codes()
