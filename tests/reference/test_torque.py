"""The copied torque tables: whole, and without the slips that copies of them have."""

from fractions import Fraction

import pytest

from joinmatrix.reference.torque import at_nut, bolt_torques, tube_nut_torques


@pytest.mark.parametrize("row", bolt_torques().values(), ids=bolt_torques())
def test_bolt_row_holds_what_all_rows_hold(row):
    # AC 43.13-1B table 7-1: the most for a shear nut is 0.58 to 0.63 of that for a tension nut, and
    # the recommended torque never passes the most. A copy that prints 12 for 21 fails here.
    assert 0.58 <= round(row.shear_most / row.tension_most, 2) <= 0.63
    assert row.tension.low < row.tension.high <= row.tension_most
    assert row.shear.low < row.shear.high <= row.shear_most
    assert row.sure == "seen"
    assert row.source.startswith("FAA AC 43.13-1B")


def test_bolt_table_is_whole():
    series = [row.series for row in bolt_torques().values()]
    assert (series.count("fine"), series.count("coarse")) == (14, 11)
    assert [row.thread for row in bolt_torques().values() if row.estimated] == [
        "1-14", "1-1/8-12", "1-1/4-12",
    ]  # fmt: skip


@pytest.mark.parametrize(
    ("thread", "tension", "shear", "most"),
    [
        ("10-32", (20, 25), (12, 15), (40, 25)),
        ("1/4-28", (50, 70), (30, 40), (100, 60)),
        ("5/16-24", (100, 140), (60, 85), (225, 140)),
        ("3/8-24", (160, 190), (95, 110), (390, 240)),
        ("1/2-20", (480, 690), (290, 410), (1100, 660)),
        ("10-24", (20, 25), (12, 15), (35, 21)),
        ("3/8-16", (160, 185), (95, 100), (275, 170)),
    ],
)
def test_bolt_rows_as_printed(thread, tension, shear, most):
    row = bolt_torques()[thread]
    assert (row.tension, row.shear) == (tension, shear)
    assert (row.tension_most, row.shear_most) == most


@pytest.mark.parametrize(
    ("dash", "outside", "aluminium", "steel", "hose"),
    [
        ("-4", "1/4", (50, 65), (135, 150), (100, 120)),
        ("-6", "3/8", (100, 125), (270, 300), (210, 250)),
        ("-8", "1/2", (210, 250), (450, 500), (340, 420)),
        ("-10", "5/8", (300, 350), (650, 700), (400, 480)),
        ("-12", "3/4", (425, 500), (900, 1000), (725, 850)),
        ("-16", "1", (600, 700), (1200, 1400), (900, 1150)),
        ("-20", "1-1/4", (680, 800), (1200, 1400), (950, 1150)),
    ],
)
def test_tube_nut_rows_as_printed(dash, outside, aluminium, steel, hose):
    row = tube_nut_torques()[dash]
    assert row.tube_outside == outside
    assert (row.aluminium, row.steel, row.hose) == (aluminium, steel, hose)


def test_tube_outside_is_the_dash_in_sixteenths():
    for dash, row in tube_nut_torques().items():
        whole, _, part = row.tube_outside.rpartition("-")
        inches = Fraction(int(whole or 0)) + Fraction(part)
        assert inches * 16 == int(dash.lstrip("-"))


@pytest.mark.parametrize(("lever", "extension"), [(0, 1), (-1, 3), (10, -10), (10, -12)])
def test_without_a_lever_there_is_no_torque(lever, extension):
    with pytest.raises(ValueError, match="no lever"):
        at_nut(Fraction(1), Fraction(lever), Fraction(extension))
