"""What the record shows of an order."""

import pytest

from joinmatrix.assembly.model import UNKNOWN_FUTURE, UNKNOWN_PAST, Act, Entry, Key, Moment
from joinmatrix.timing.order import (
    Episode,
    Order,
    after_end,
    after_start,
    before_end,
    before_start,
    episodes,
    order,
)
from tests.builders import assembly_of, table

SHOWN, BROKEN, OPEN = Order.SHOWN, Order.BROKEN, Order.NOT_SHOWN
DAY = 24 * 60


def at(day, minute=None, seq=None):
    """A day, or a minute of a day."""
    if minute is None:
        return Moment(day * DAY, day * DAY + DAY - 1, seq, f"day {day}")
    return Moment(day * DAY + minute, day * DAY + minute, seq, f"day {day} {minute}")


SOME_TIME = Moment(UNKNOWN_PAST, UNKNOWN_FUTURE, None, "")


@pytest.mark.parametrize(
    ("first", "then", "gap", "expected"),
    [
        pytest.param(at(4), at(5), 0, SHOWN, id="next-day"),
        pytest.param(at(5), at(4), 0, BROKEN, id="day-before"),
        pytest.param(at(4), at(4), 0, OPEN, id="one-date"),
        pytest.param(at(4, 600), at(4, 600), 0, SHOWN, id="same-minute"),
        pytest.param(at(4, 600), at(4, 599), 0, BROKEN, id="minute-before"),
        pytest.param(at(4), at(4, 600), 0, OPEN, id="date-and-minute"),
        pytest.param(at(4, seq=1), at(4, seq=2), 0, SHOWN, id="seq-in-order"),
        pytest.param(at(4, seq=2), at(4, seq=1), 0, BROKEN, id="seq-against"),
        pytest.param(at(4, seq=2), at(4, seq=2), 0, OPEN, id="same-seq"),
        pytest.param(at(4, 600, seq=2), at(4, 600, seq=1), 0, SHOWN, id="minute-goes-before-seq"),
        pytest.param(at(4, 600, seq=2), at(4, seq=1), 0, BROKEN, id="seq-with-one-time"),
        pytest.param(at(5, seq=1), at(4, seq=2), 0, BROKEN, id="date-goes-before-seq"),
        pytest.param(SOME_TIME, at(4), 0, OPEN, id="first-not-known"),
        pytest.param(at(4), SOME_TIME, 0, OPEN, id="then-not-known"),
        pytest.param(at(4, 600), at(4, 720), 120, SHOWN, id="lag-kept"),
        pytest.param(at(4, 600), at(4, 719), 120, BROKEN, id="lag-broken"),
        pytest.param(at(4), at(5), DAY, OPEN, id="lag-of-a-day-between-dates"),
        pytest.param(at(4), at(6), DAY, SHOWN, id="lag-of-a-day-over-two-dates"),
        pytest.param(at(4, seq=1), at(4, seq=2), 60, OPEN, id="seq-shows-no-lag"),
    ],
)
def test_order(first, then, gap, expected):
    assert order(first, then, gap) is expected


def run(started, done):
    def entry(act, when):
        return when and Entry("stage", Key("s", ""), "s", act, when, "", False, ())

    return Episode(entry(Act.STARTED, started), entry(Act.DONE, done))


ONCE = (run(at(4, 600), at(4, 900)),)
TWICE = (run(at(4), at(5)), run(at(8), at(9)))
AGAIN = (run(at(4), at(5)), run(at(8), None))
SLIP = (run(at(4, 600), at(4, 480)),)
ONLY_DONE = (run(None, at(5)),)
BEGUN = (run(at(4), None),)


@pytest.mark.parametrize(
    ("judge", "runs", "when", "expected"),
    [
        pytest.param(after_end, ONCE, at(4, 900), SHOWN, id="at-its-end"),
        pytest.param(after_end, ONCE, at(4, 899), BROKEN, id="before-its-end"),
        pytest.param(after_end, ONCE, at(4), OPEN, id="that-day"),
        pytest.param(after_end, BEGUN, at(6), BROKEN, id="not-done"),
        pytest.param(after_end, TWICE, at(6), SHOWN, id="between-two-episodes"),
        pytest.param(after_end, TWICE, at(8), OPEN, id="on-the-day-of-the-second-start"),
        pytest.param(after_end, TWICE, at(10), SHOWN, id="after-the-second"),
        pytest.param(after_end, TWICE, at(3), BROKEN, id="before-the-first"),
        pytest.param(after_end, AGAIN, at(6), SHOWN, id="before-it-began-again"),
        pytest.param(after_end, AGAIN, at(10), BROKEN, id="while-begun-again"),
        pytest.param(after_end, SLIP, at(5), SHOWN, id="slip-after-its-end"),
        pytest.param(after_end, SLIP, at(3), BROKEN, id="slip-before-both"),
        pytest.param(after_start, SLIP, at(4, 500), SHOWN, id="slip-before-its-start"),
        pytest.param(before_end, SLIP, at(5), SHOWN, id="slip-past-its-end"),
        pytest.param(before_start, SLIP, at(4, 500), SHOWN, id="slip-between"),
        pytest.param(before_start, SLIP, at(5), BROKEN, id="slip-after-both"),
        pytest.param(after_start, ONCE, at(4, 600), SHOWN, id="at-its-start"),
        pytest.param(after_start, ONCE, at(4, 599), BROKEN, id="before-its-start"),
        pytest.param(after_start, ONLY_DONE, at(4), OPEN, id="start-not-recorded"),
        pytest.param(after_start, ONLY_DONE, at(6), SHOWN, id="after-its-end-is-after-its-start"),
        pytest.param(before_start, ONCE, at(4, 600), SHOWN, id="before-at-its-start"),
        pytest.param(before_start, ONCE, at(4, 601), BROKEN, id="before-after-its-start"),
        pytest.param(before_start, TWICE, at(6), SHOWN, id="before-the-latest-start"),
        pytest.param(before_start, ONLY_DONE, at(4), OPEN, id="before-a-start-not-recorded"),
        pytest.param(before_start, ONLY_DONE, at(6), BROKEN, id="after-the-end"),
        pytest.param(before_end, ONCE, at(4, 900), SHOWN, id="before-its-end"),
        pytest.param(before_end, ONCE, at(4, 901), BROKEN, id="past-its-end"),
        pytest.param(before_end, BEGUN, at(9), SHOWN, id="it-goes-on"),
        pytest.param(before_end, TWICE, at(6), BROKEN, id="between-the-episodes"),
        pytest.param(before_end, AGAIN, at(9), SHOWN, id="in-the-second-episode"),
    ],
)
def test_orders_against_a_stage(judge, runs, when, expected):
    assert judge(runs, when) is expected


CONNECTIONS = table("connections", "connection|joint|side|type\nH-1|fin|L|line")


@pytest.mark.parametrize(
    ("rows", "expected"),
    [
        pytest.param(["2026-03-04|started", "2026-03-05|done"], ["sd"], id="once"),
        pytest.param(["2026-03-05|done", "2026-03-04|started"], ["sd"], id="rows-in-any-order"),
        pytest.param(["2026-03-04 08:00|started", "2026-03-04|done"], ["sd"], id="day-and-time"),
        pytest.param(["2026-03-04|started", "|done"], ["sd"], id="end-at-no-time"),
        pytest.param(["2026-03-04|started"], ["s-"], id="goes-on"),
        pytest.param(["2026-03-04|done"], ["-d"], id="only-done"),
        pytest.param(
            ["2026-03-04|started", "2026-03-05|done", "2026-03-06|started", "2026-03-07|done"],
            ["sd", "sd"],
            id="twice",
        ),
        pytest.param(["2026-03-04|started", "2026-03-05|started"], ["s-"], id="two-shifts"),
        pytest.param(["2026-03-04|done", "2026-03-05|done"], ["-d", "-d"], id="done-twice"),
        pytest.param(["2026-03-04|done", "2026-03-05|started"], ["sd"], id="done-before-it-began"),
        pytest.param(
            ["2026-03-03|started", "2026-03-04|done", "2026-03-05|started"],
            ["sd", "s-"],
            id="begun-again",
        ),
    ],
)
def test_episodes(rows, expected):
    record = "when|act|stage\n" + "\n".join(f"{row}|mate" for row in rows)
    found = episodes(assembly_of(CONNECTIONS, table("record", record)))
    marks = [
        ("s" if each.started else "-") + ("d" if each.done else "-")
        for each in found[Key("mate", "")]
    ]
    assert marks == expected


def test_seq_decides_within_a_day():
    record = "when|seq|act|stage\n2026-03-04|3|started|mate\n2026-03-04 10:00|2|done|mate"
    record += "\n2026-03-04 08:00|1|started|mate"
    found = episodes(assembly_of(CONNECTIONS, table("record", record)))[Key("mate", "")]
    assert [bool(each.done) for each in found] == [True, False]
