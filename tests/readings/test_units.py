"""Spellings of units: what is one, what is not, and what is asked about."""

import subprocess
import sys

import pytest

from joinmatrix.readings.numbers import Unclear
from joinmatrix.readings.units import (
    _known,
    _registry,
    converted,
    read_unit,
    same_unit,
    unit_key,
)


@pytest.mark.parametrize(
    "spelling",
    [
        *("in-lbf", "in lb", "in. lbs.", "in·lbf", "lbf.in", "lbf-in", "inlb", "INLBF"),
        *("inch-pounds", "inch pound", "pound-inches", "lb in", "in*lbf", "in–lbf"),
    ],
)
def test_inch_pounds(spelling):
    assert same_unit(spelling, "in-lbf")


@pytest.mark.parametrize(
    ("one", "other"),
    [
        ("Nm", "N·m"),
        ("N.m", "newton metres"),
        ("nm", "N m"),
        ("ft. lbs.", "ft-lbf"),
        ("foot-pounds", "lbf ft"),
        ("kg·cm", "kgf cm"),
        ("mΩ", "mohm"),
        ("MΩ", "Mohm"),
        ("\u2126", "ohm"),
        ("µm", "μm"),
        ("PSI", "psi"),
        ("psig", "psi"),
        ("lb", "lbf"),
        ('"', "in"),
        ("°", "deg"),
        ("lbf/in²", "psi"),
        ("ea", ""),
        ("Clicks", "Clicks"),
    ],
)
def test_one_unit(one, other):
    assert same_unit(one, other)


@pytest.mark.parametrize(
    ("one", "other"),
    [
        ("in-lbf", "ft-lbf"),
        ("mohm", "Mohm"),
        ("mΩ", "MΩ"),
        ("in-lbf", ""),
        ("psi", "psia"),
        ("clicks", "turns"),
        ("min", "m"),
    ],
)
def test_two_units(one, other):
    assert not same_unit(one, other)


@pytest.mark.parametrize(
    ("one", "other", "equal"),
    [
        ("in-lbf", "IN. LB", True),
        ("mohm", "mΩ", True),
        ("mohm", "Mohm", False),
        ("VDC", "vdc", True),
        ("VDC", "VAC", False),
        ("VDC", "V", False),
        ("clicks", "clicks", True),
        ("clicks", "turns", False),
        ("in-lbf", "N m", False),
    ],
)
def test_units_as_limits_are_compared(one, other, equal):
    assert (unit_key(one) == unit_key(other)) is equal


@pytest.mark.parametrize("spelling", ["MOHM", "mOHM"])
def test_capitals_that_can_be_two_units_are_asked_about(spelling):
    assert isinstance(read_unit(spelling), Unclear)
    assert "megaohm or milliohm" in read_unit(spelling).found


@pytest.mark.parametrize("spelling", ["clicks", "mN", "m·N", "threads", "aft", "pin"])
def test_unknown(spelling):
    assert read_unit(spelling) is None


@pytest.mark.parametrize("quantity", sorted({unit.quantity for unit in _known()[0].values()}))
def test_units_of_one_quantity_convert_into_each_other(quantity):
    units = {unit for unit in _known()[0].values() if unit.quantity == quantity and unit.name}
    dimensions = {_registry().Unit(unit.name).dimensionality for unit in units}
    assert len(dimensions) <= 1, units


def test_another_quantity_is_refused():
    with pytest.raises(ValueError, match="no pressure"):
        converted(1, read_unit("in-lbf"), read_unit("psi"))


def test_the_units_library_is_not_loaded_for_spellings():
    code = (
        "import sys; from joinmatrix.readings.units import same_unit; "
        "assert same_unit('in lb', 'in-lbf'); assert 'pint' not in sys.modules"
    )
    subprocess.run([sys.executable, "-c", code], check=True)
