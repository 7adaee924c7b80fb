"""What a stamp of the record tells."""

import pytest

from joinmatrix.assembly.model import UNKNOWN_FUTURE, UNKNOWN_PAST
from joinmatrix.assembly.moments import Clock, minutes_text

MIDNIGHT = 32_142_240  # minutes from 1970-01-01 to 2031-02-11, 22,321 days of 1,440


@pytest.mark.parametrize(
    ("stamp", "low", "high"),
    [
        pytest.param("2031-02-11", 0, 1439, id="a-date-is-the-whole-day"),
        pytest.param("2031-02-11T00:00", 0, 0, id="midnight-said"),
        pytest.param("2031-02-11T10:30", 630, 630, id="time"),
        pytest.param("2031-02-11T10:30:59", 630, 630, id="seconds-are-within-the-minute"),
        pytest.param("2031-02-11T10:30+02:00", 630, 630, id="one-offset-is-the-shop's-clock"),
    ],
)
def test_moment(stamp, low, high):
    moment = Clock([stamp]).moment(stamp)
    assert (moment.low - MIDNIGHT, moment.high - MIDNIGHT) == (low, high)


def test_blank_is_an_unknown_time():
    assert Clock([""]).moment("")[:2] == (UNKNOWN_PAST, UNKNOWN_FUTURE)


def test_different_offsets_are_moved_to_the_commonest():
    stamps = ["2031-02-11T10:30+01:00", "2031-02-11T10:30+01:00", "2031-02-11T10:30Z"]
    clock = Clock([*stamps, "2031-02-11T10:30"])
    assert [clock.moment(stamp).low - MIDNIGHT for stamp in stamps] == [630, 630, 690]
    assert clock.moment("2031-02-11T10:30").low - MIDNIGHT == 630


def test_minutes_are_shown_as_they_are_written():
    assert minutes_text(MIDNIGHT + 630) == "2031-02-11 10:30"
