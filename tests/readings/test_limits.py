"""The words of a limits cell."""

from fractions import Fraction

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from joinmatrix.names import folded
from joinmatrix.readings.limits import _NOTHING, Limits, amount, read_limits


def plain(limit):
    """Measure, bounds, unit and wanted text, short enough for a table of cases."""
    low = None if limit.low is None else float(limit.low)
    high = None if limit.high is None else float(limit.high)
    return limit.measure, low, high, limit.unit, limit.wanted


@pytest.mark.parametrize("text", ["", "-", "n/a", "none", "N/A", " "])
def test_no_limit(text):
    assert read_limits(text) == Limits((), ())


@pytest.mark.parametrize(
    ("text", "expected"),
    [
        ("135..150 in-lbf", ("", 135, 150, "in-lbf", "")),
        ("torque 135..150 in-lbf", ("torque", 135, 150, "in-lbf", "")),
        ("torque: 135 … 150 in-lbf", ("torque", 135, 150, "in-lbf", "")),
        ("torque = 135 to 150 in lb", ("torque", 135, 150, "in lb", "")),
        ("135-150 in-lbf", ("", 135, 150, "in-lbf", "")),
        ("135–150 N·m", ("", 135, 150, "N·m", "")),
        ("135 in-lbf - 150 in-lbf", ("", 135, 150, "in-lbf", "")),
        ("135..150in-lbf", ("", 135, 150, "in-lbf", "")),
        ("1,5..2,5 N·m", ("", 1.5, 2.5, "N·m", "")),
        ("-5..5 deg", ("", -5, 5, "deg", "")),
        ("1/2 .. 3/4 in", ("", 0.5, 0.75, "in", "")),
        ("12½..13 in", ("", 12.5, 13, "in", "")),
        ("threads >= 1", ("threads", 1, None, "", "")),
        ("threads ≥ 1,5", ("threads", 1.5, None, "", "")),
        ("<= 2.5 mohm", ("", None, 2.5, "mohm", "")),
        ("max 3 mm", ("", None, 3, "mm", "")),
        ("gap 3 mm max", ("gap", None, 3, "mm", "")),
        ("at least 30 min", ("", 30, None, "min", "")),
        ("12 ± 0.5 mm", ("", 11.5, 12.5, "mm", "")),
        ("12 +/- 0.5 mm", ("", 11.5, 12.5, "mm", "")),
        ("12 mm ± 0.5 mm", ("", 11.5, 12.5, "mm", "")),
        ("12 +0.5/-0.2 mm", ("", 11.8, 12.5, "mm", "")),
        ("140 in-lbf ± 5 %", ("", 133, 147, "in-lbf", "")),
        ("50 ± 5 %", ("", 45, 55, "%", "")),
        ("135 <= torque <= 150 in-lbf", ("torque", 135, 150, "in-lbf", "")),
        ("slot = aft", ("slot", None, None, "", "aft")),
        ("turns = 3", ("turns", 3, 3, "", "")),
        ("pin 3 resistance <= 2 ohm", ("pin 3 resistance", None, 2, "ohm", "")),
    ],
)
def test_one_limit(text, expected):
    limits, unclear = read_limits(text)
    assert unclear == ()
    assert [plain(limit) for limit in limits] == [expected]


@pytest.mark.parametrize("mark", [";", "; ", "\n", ";;"])
def test_several_limits(mark):
    limits, unclear = read_limits(mark.join(["torque 135..150 in-lbf", "threads >= 1", "slot=aft"]))
    assert unclear == ()
    assert [limit.measure for limit in limits] == ["torque", "threads", "slot"]


@pytest.mark.parametrize(("text", "beyond"), [("> 5 mm", (True, False)), ("< 5 mm", (False, True))])
def test_bound_that_is_itself_outside(text, beyond):
    limit = read_limits(text).limits[0]
    assert (limit.above_low, limit.below_high) == beyond


@pytest.mark.parametrize(
    ("text", "found"),
    [
        ("as per drawing", "is not understood"),
        ("142 in-lbf", "is not understood"),
        ("30..36 lbf at 20 °C", "is not understood"),
        ("150..135 in-lbf", "starts above its end"),
        ("135 in-lbf..150 N·m", "two units"),
        ("1,500..2,500 N", "can be 1.500 or 1500"),
        ("5..6 MOHM", "megaohm or milliohm"),
    ],
)
def test_unclear(text, found):
    limits, unclear = read_limits(text)
    assert limits == ()
    assert len(unclear) == 1
    assert found in unclear[0].found
    assert text in unclear[0].found


def test_what_is_clear_beside_something_unclear_still_counts():
    limits, unclear = read_limits("torque 135..150 in-lbf; as per drawing")
    assert [limit.measure for limit in limits] == ["torque"]
    assert len(unclear) == 1


def test_a_text_is_understood_once():
    assert read_limits("torque 1..2 N·m") is read_limits("torque 1..2 N·m")


@pytest.mark.parametrize(
    ("text", "value", "unit"),
    [("4.5 in", "4.5", "in"), ("100mm", 100, "mm"), ("-1.5 in", "-1.5", "in"), ("12", 12, "")],
)
def test_amount(text, value, unit):
    number, behind = amount(text)
    assert (number.value, behind) == (Fraction(value), unit)


@settings(max_examples=300)
@given(st.text(alphabet="135. -–,;=<>±+/% mintorqueslb·°½\n", max_size=40))
def test_every_part_is_either_a_limit_or_unclear(text):
    limits, unclear = read_limits(text)
    parts = [part for part in text.replace("\n", ";").split(";") if part.strip()]
    if folded(text) not in _NOTHING:
        assert len(limits) + len(unclear) == len(parts)


@pytest.mark.parametrize("text", ["1 " * 16_000, "torque 1..." * 3_000, "a" * 32_767, "1-" * 99])
def test_a_page_of_text_is_read_at_once(text):
    assert len(read_limits(text).unclear) == 1


@settings(max_examples=100)
@given(
    st.decimals(0, 10_000, places=2),
    st.decimals(0, 10_000, places=2),
    st.sampled_from(["in-lbf", "N·m", "mm", "°C", ""]),
    st.sampled_from(["..", " .. ", " to ", "-", " – "]),
)
def test_a_range_reads_as_it_was_written(low, step, unit, mark):
    limits, unclear = read_limits(f"torque {low}{mark}{low + step} {unit}")
    assert unclear == ()
    assert (limits[0].low, limits[0].high) == (Fraction(low), Fraction(low + step))
    assert limits[0].unit == unit
