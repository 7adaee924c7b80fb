"""Sizes, threads and keys against published figures."""

from fractions import Fraction
from itertools import combinations

import pytest

from joinmatrix.reference.keys import key_angles
from joinmatrix.reference.match import Match
from joinmatrix.reference.sizes import compare, flare_threads


@pytest.mark.parametrize(
    ("dash", "outside"),
    [
        # FAA handbook, chapter 7 slides: -10 is 5/8 in; US Army TM 55-1520-240-23-1, par. 1-13,
        # prints tube outside diameters beside the dash sizes of tube nuts.
        ("-4", "1/4"), ("-6", "3/8"), ("-8", "1/2"), ("-10", "5/8"), ("-12", "3/4"),
        ("-16", "1 in"), ("-20", "1-1/4"),
    ],
)  # fmt: skip
def test_dash_sizes(dash, outside):
    assert compare(dash, outside).match is Match.FITS


@pytest.mark.parametrize(
    ("dash", "thread"),
    [
        # An engine workshop manual: 37 degree nut table p. 23, straight thread table p. 21.
        ("-2", "5/16-24"), ("-3", "3/8-24"), ("-4", "7/16-20"), ("-5", "1/2-20"), ("-6", "9/16-18"),
        ("-8", "3/4-16"), ("-10", "7/8-14"), ("-12", "1-1/16-12"), ("-16", "1-5/16-12"),
        ("-32", "2-1/2-12"),
    ],
)  # fmt: skip
def test_threads_of_37_degree_fittings(dash, thread):
    found = compare(dash, thread, "flare 37")
    assert found.match is Match.FITS
    assert found.sure == "seen"


def test_bolt_threads_are_no_tube_threads():
    """A chart in circulation prints the bolts AN3 and AN4 (10-32, 1/4-28) as tube sizes."""
    assert compare("-3", "10-32", "flare 37").match is Match.DIFFERS
    assert compare("-4", "1/4-28", "flare 37").match is Match.DIFFERS


def test_a_dash_is_a_sixteenth_in_every_row():
    for row in flare_threads():
        assert Fraction(-int(row.dash), 16) == row.outside


def test_key_angles():
    """MIL-DTL-38999 Series III, table 28 of a connector maker's catalogue."""
    table = key_angles()
    assert len(table) == 54
    assert table[9, "N"].angles == (105, 140, 215, 265)
    assert {table[shell, "N"].angles for shell in (11, 13, 15)} == {(95, 141, 208, 236)}
    assert {table[shell, "N"].angles for shell in (17, 19, 21, 23, 25)} == {(80, 142, 196, 293)}


def test_no_two_positions_of_a_shell_can_be_confused():
    """Some key is ten degrees apart at least; computed from the same table."""
    for shell in {shell for shell, _ in key_angles()}:
        rows = [row.angles for (each, _), row in key_angles().items() if each == shell]
        for one, other in combinations(rows, 2):
            assert max(abs(a - b) for a, b in zip(one, other, strict=True)) >= 10
