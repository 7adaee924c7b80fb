"""The torque wrench with an extension against worked examples of published manuals."""

from fractions import Fraction

import pytest

from joinmatrix.readings.numbers import read_number
from joinmatrix.readings.wrench import correction
from joinmatrix.reference.torque import at_nut, setting

# wanted, wrench length, extension, setting as printed, source
EXAMPLES = [
    pytest.param(
        "100", "12 in", "6 in", "66.7", id="NAVEDTRA 14315, figures 3-44 and 3-45"
    ),
    pytest.param("300", "10 in", "4 in", "214", id="US Army TM 1-1500-204-23-9, fig 8-16"),
    pytest.param(
        "135", "10 in", "1.5 in", "117.39",
        id="a light helicopter's maintenance manual p. 20.4, 25 Oct 2010, lengthening",
    ),
    pytest.param(
        "135", "10 in", "-1.5 in", "158.82",
        id="a light helicopter's maintenance manual p. 20.4, 25 Oct 2010, shortening",
    ),
    pytest.param(
        "30", "1 ft", "3 in", "24",
        id="a light aircraft's maintenance manual par. 2-90, 28 Feb 1989",
    ),
    pytest.param(
        "3.9", "200 mm", "50 mm", "3.12", id="a turboshaft engine's manual 70-02-00 p. 202"
    ),
    pytest.param("40", "12 in", "4 in", "30", id="US Army TM 9-2350-277-40&P, wp 0004"),
]  # fmt: skip


@pytest.mark.parametrize(("wanted", "wrench", "extension", "printed"), EXAMPLES)
def test_setting_is_as_printed(wanted, wrench, extension, printed):
    factor = correction(extension, wrench).factor
    number = read_number(printed)
    assert abs(read_number(wanted).value / factor - number.value) <= number.step / 2


@pytest.mark.parametrize(("wanted", "wrench", "extension", "printed"), EXAMPLES)
def test_printed_setting_gives_the_wanted_torque(wanted, wrench, extension, printed):
    # What a shop writes down is the printed setting: it must count as the torque that was wanted.
    factor = correction(extension, wrench).factor
    number = read_number(printed)
    nut, half = number.value * factor, number.step / 2 * factor
    assert abs(nut - read_number(wanted).value) <= half


def test_at_a_right_angle_nothing_is_corrected():
    # The same sources: only the part of the extension along the wrench counts.
    assert correction("4 in at 90°", "10 in").factor == 1
    assert correction("4 in at 180 deg", "10 in").factor == Fraction(6, 10)


def test_setting_and_torque_undo_each_other():
    lever, reach = Fraction(10), Fraction(3, 2)
    assert at_nut(setting(Fraction(135), lever, reach), lever, reach) == 135
