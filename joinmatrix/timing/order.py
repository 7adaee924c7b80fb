"""Whether the record shows that one act was not before another.

What is recorded is often less than a minute: a bare date is that whole day, a tick without a date
is any time. So the answer has three values, and only a certain order is called broken.
"""

from collections import defaultdict
from collections.abc import Iterable, Mapping
from enum import Enum
from functools import lru_cache
from typing import NamedTuple

from joinmatrix.assembly.model import UNKNOWN_PAST, Act, Assembly, Entry, Key, Moment
from joinmatrix.timing.stages import names_of

DAY = 24 * 60  # minutes


class Order(Enum):
    """What the record says about an order."""

    SHOWN = "shown"
    BROKEN = "broken"
    NOT_SHOWN = "not shown"


def order(first: Moment, then: Moment, gap: int = 0, *, numbered: bool = True) -> Order:
    """Whether `then` is at `first` plus a gap, or later.

    gap       minutes; below zero it is by how much `then` may be earlier
    numbered  whether the shop's own numbers count: they give an order, and never one moment

    The same minute is in order. The shop's own numbers decide only between two acts of one date
    of which at least one has no time.
    """
    if then.low >= first.high + gap:
        return Order.SHOWN
    if then.high < first.low + gap:
        return Order.BROKEN
    if gap == 0 and numbered and _one_date(first, then):
        return _by_number(first.seq, then.seq)
    return Order.NOT_SHOWN


def _by_number(first: float | None, then: float | None) -> Order:
    if first is None or then is None or first == then:
        return Order.NOT_SHOWN
    return Order.SHOWN if first < then else Order.BROKEN


def _one_date(one: Moment, other: Moment) -> bool:
    return one.low // DAY == one.high // DAY == other.low // DAY == other.high // DAY


def any_of(orders: Iterable[Order]) -> Order:
    """Shown when one is, broken when all are."""
    worst = Order.BROKEN
    for each in orders:
        if each is Order.SHOWN:
            return each
        if each is Order.NOT_SHOWN:
            worst = each
    return worst


def all_of(orders: Iterable[Order]) -> Order:
    """Broken when one is, shown when all are."""
    best = Order.SHOWN
    for each in orders:
        if each is Order.BROKEN:
            return each
        if each is Order.NOT_SHOWN:
            best = each
    return best


class Episode(NamedTuple):
    """One time that a stage was gone through; a panel that is opened again has a second one."""

    started: Entry | None
    done: Entry | None

    @property
    def entry(self) -> Entry:
        """The entry that shows that the stage was begun."""
        entry = self.started or self.done
        assert entry is not None
        return entry

    @property
    def start(self) -> Moment:
        """When it started, as far as is known: not after it was done."""
        if self.started is not None:
            return self.started.when
        assert self.done is not None
        return Moment(UNKNOWN_PAST, self.done.when.high, None, "")

    @property
    def is_slip(self) -> bool:
        """Whether it is recorded as done before it was started: one of the two times is wrong."""
        if self.started is None or self.done is None:
            return False
        return order(self.started.when, self.done.when) is Order.BROKEN


@lru_cache(maxsize=8)
def episodes(assembly: Assembly) -> Mapping[Key, tuple[Episode, ...]]:
    """The episodes of each stage that the record mentions, earliest first."""
    names = names_of(assembly)
    entries: defaultdict[Key, list[Entry]] = defaultdict(list)
    for entry in assembly.entries:
        if entry.subject == "stage":
            for key in names.keys_of_entry(entry.key):
                entries[key].append(entry)
    return {key: _paired(tuple(_episodes(_sorted(same)))) for key, same in entries.items()}


def _sorted(entries: Iterable[Entry]) -> list[Entry]:
    """Earliest first. Within a day the shop's numbers decide where a time is missing."""
    by_day: defaultdict[int, list[Entry]] = defaultdict(list)
    for entry in entries:
        by_day[_likely(entry) // DAY].append(entry)
    found: list[Entry] = []
    for day in sorted(by_day):
        same = by_day[day]
        numbered = all(entry.when.seq is not None for entry in same)
        if numbered and any(entry.when.low != entry.when.high for entry in same):
            found += sorted(same, key=lambda entry: entry.when.seq or 0.0)
        else:
            found += sorted(same, key=lambda entry: (_likely(entry), entry.act is Act.DONE))
    return found


def _likely(entry: Entry) -> int:
    """A start without a time is taken as early as can be, an end as late as can be."""
    return entry.when.high if entry.act is Act.DONE else entry.when.low


def _episodes(entries: Iterable[Entry]) -> Iterable[Episode]:
    started: Entry | None = None
    done: Entry | None = None
    for entry in entries:
        if entry.act is Act.STARTED:
            if done is not None:
                yield Episode(started, done)
                started, done = entry, None
            started = started or entry
        elif entry.act is Act.DONE:
            if done is not None:
                yield Episode(started, done)
                started = None
            done = entry
    if started is not None or done is not None:
        yield Episode(started, done)


def _paired(runs: tuple[Episode, ...]) -> tuple[Episode, ...]:
    """An end without a start and a start without an end, and nothing else, are one episode.

    One of them has a wrong time; nobody starts a stage again that was never started.
    """
    if len(runs) == 2 and runs[0].started is None and runs[1].done is None:
        return (Episode(runs[1].started, runs[0].done),)
    return runs


def after_start(runs: tuple[Episode, ...], when: Moment, gap: int = 0) -> Order:
    """Whether an act is not before a start of a stage; one with a wrong time is given credit."""
    return any_of(
        Order.SHOWN
        if run.is_slip
        else order(run.start, when, gap)
        if run.started is not None or run.done is None
        else _after_unseen_start(run, when, gap)
        for run in runs
    )


def _after_unseen_start(run: Episode, when: Moment, gap: int) -> Order:
    """The start is not recorded; it was before the end."""
    found = order(run.start, when, gap)
    return Order.SHOWN if found is Order.SHOWN else Order.NOT_SHOWN


def after_end(runs: tuple[Episode, ...], when: Moment, gap: int = 0) -> Order:
    """Whether an act is not before the end of a stage, in the episode that it falls in.

    Broken as well when no episode has an end.
    """
    return any_of(
        all_of((order(run.done.when, when, gap), _before_next(runs, number, when)))
        for number, run in enumerate(runs)
        if run.done is not None
    )


def _before_next(runs: tuple[Episode, ...], number: int, when: Moment) -> Order:
    if number + 1 == len(runs):
        return Order.SHOWN
    return order(when, runs[number + 1].start)


def before_start(runs: tuple[Episode, ...], when: Moment) -> Order:
    """Whether an act is not after the latest start of a stage."""
    return order(when, runs[-1].start)


def before_end(runs: tuple[Episode, ...], when: Moment, gap: int = 0) -> Order:
    """Whether an act is not after the end of a stage and a gap, in the episode that it falls in.

    A stage that is not done yet leaves it open: nothing is broken. Nor is it where the end has a
    wrong time, or perhaps the start.
    """
    return any_of(_within(runs, number, when, gap) for number in range(len(runs)))


def _within(runs: tuple[Episode, ...], number: int, when: Moment, gap: int) -> Order:
    run = runs[number]
    not_early = Order.SHOWN if number == 0 else order(run.start, when)
    if run.done is None or run.is_slip:
        return not_early
    return all_of((not_early, order(when, run.done.when, -gap)))
