"""The cells of a wrench with an extension."""

import pytest

from joinmatrix.readings.wrench import NO_CORRECTION, correction


@pytest.mark.parametrize("extension", ["", "-", "none", "no", "0", "0 in", "N/A"])
def test_no_extension(extension):
    assert correction(extension, "") == NO_CORRECTION
    assert correction(extension, "10 in") == NO_CORRECTION


@pytest.mark.parametrize(
    ("extension", "wrench", "factor"),
    [
        ("1.5 in", "10 in", 1.15),
        ("-1.5 in", "10 in", 0.85),
        ("4", "10", 1.4),
        ("50 mm", "200 mm", 1.25),
        ("2 in", "254 mm", 1.2),
        ("4 in at 60°", "10 in", 1.2),
        ("4 in @ 90 deg", "10 in", 1.0),
    ],
)
def test_factor(extension, wrench, factor):
    found = correction(extension, wrench)
    assert found.unclear is None
    assert float(found.factor) == pytest.approx(factor)


@pytest.mark.parametrize(
    ("extension", "wrench", "column", "found"),
    [
        ("4 in", "", "extension", "length of the wrench is not given"),
        ("long", "10 in", "extension", "is not a length"),
        ("4 in", "standard", "wrench length", "is not a length"),
        ("4 psi", "10 in", "extension", "is not a length"),
        ("4", "10 in", "extension", "not in one unit"),
        ("-10 in", "10 in", "extension", "leaves no lever"),
        ("4 in", "0 in", "extension", "leaves no lever"),
    ],
)
def test_unclear(extension, wrench, column, found):
    correction_ = correction(extension, wrench)
    assert correction_.column == column
    assert found in correction_.unclear.found
    assert correction_.factor == 1
