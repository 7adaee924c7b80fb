"""Unit factors against published ones, to every digit that is printed there.

Source: exact definitions of the international pound (0.45359237 kg), inch (25.4 mm), standard
gravity (9.80665 m/s2) and bar, as in NIST SP 811 appendix B; the shorter figures as printed in the
unit tables of a US naval handbook, appendix B.
"""

from fractions import Fraction

import pytest

from joinmatrix.readings.numbers import read_number
from joinmatrix.readings.units import Unit, converted, read_unit

# From the definitions alone, so that neither the units library nor a rounded figure is the judge.
POUND_FORCE = Fraction("0.45359237") * Fraction("9.80665")
INCH = Fraction("0.0254")
EXACT = {
    ("lbf", "N"): POUND_FORCE,
    ("in-lbf", "N·m"): POUND_FORCE * INCH,
    ("ft-lbf", "N·m"): POUND_FORCE * INCH * 12,
    ("kgf", "N"): Fraction("9.80665"),
    ("kgf·cm", "N·m"): Fraction("0.0980665"),
    ("kgf·m", "N·m"): Fraction("9.80665"),
    ("bar", "Pa"): Fraction(100_000),
    ("inch", "mm"): Fraction("25.4"),
    ("ft-lbf", "in-lbf"): Fraction(12),
}
PUBLISHED = [
    ("lbf", "N", "4.4482216152605"),
    ("lbf", "N", "4.44822"),
    ("in-lbf", "N·m", "0.1129848290276167"),
    ("in-lbf", "N·m", "0.112985"),
    ("ft-lbf", "N·m", "1.3558179483314004"),
    ("ft-lbf", "N·m", "1.3558"),
    ("kgf", "N", "9.80665"),
    ("kgf·cm", "N·m", "0.0980665"),
    ("kgf·m", "N·m", "9.80665"),
    ("psi", "Pa", "6894.757293168361"),
    ("psi", "Pa", "6894.757"),
    ("bar", "Pa", "100000"),
    ("ft-lbf", "in-lbf", "12"),
    ("inch", "mm", "25.4"),
]
# Quotients, worked out by their publisher in numbers of 53 bits: the last digit carries that.
WORKED_OUT = [
    ("bar", "psi", "14.503773773020923"),
    ("N·m", "in-lbf", "8.850745791327185"),
    ("N·m", "ft-lbf", "0.7375621492772654"),
    ("kgf·cm", "in-lbf", "0.8679616621451874"),
]
# Both units are printed side by side: an ultralight maker's manual, 21 Sep 2005, table 12.
PRINTED_TOGETHER = [
    ("20", "2.3"),
    ("25", "2.8"),
    ("50", "5.6"),
    ("70", "7.9"),
    ("480", "54.2"),
    ("690", "78"),
]


def factor(one, other):
    given, wanted = read_unit(one), read_unit(other)
    assert isinstance(given, Unit)
    assert isinstance(wanted, Unit)
    return converted(Fraction(1), given, wanted)


@pytest.mark.parametrize(("one", "other"), EXACT, ids=" to ".join)
def test_is_exact_by_definition(one, other):
    assert factor(one, other) == EXACT[one, other]


@pytest.mark.parametrize(("one", "other", "printed"), PUBLISHED)
def test_agrees_with_every_printed_digit(one, other, printed):
    number = read_number(printed)
    assert abs(factor(one, other) - number.value) <= number.step / 2


@pytest.mark.parametrize(("one", "other", "printed"), WORKED_OUT)
def test_agrees_to_the_precision_of_a_quotient(one, other, printed):
    number = read_number(printed)
    assert abs(factor(one, other) - number.value) <= number.value * Fraction(1, 2**52)


@pytest.mark.parametrize(("inch_pounds", "newton_metres"), PRINTED_TOGETHER)
def test_agrees_with_a_table_that_prints_both(inch_pounds, newton_metres):
    printed = read_number(newton_metres)
    worked_out = read_number(inch_pounds).value * factor("in-lbf", "N·m")
    assert abs(worked_out - printed.value) <= printed.step


def test_a_temperature_difference_is_no_temperature():
    # A kelvin is 1.8 degrees Fahrenheit; 0 °C is 32 °F.
    celsius, fahrenheit = read_unit("°C"), read_unit("°F")
    assert converted(Fraction(0), celsius, fahrenheit) == 32
    assert converted(Fraction(100), celsius, fahrenheit) == 212
    step = converted(Fraction(1), celsius, fahrenheit) - converted(Fraction(0), celsius, fahrenheit)
    assert step == Fraction("1.8")
