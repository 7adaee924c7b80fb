"""The record, judged against the rules.

For every group of connections with the same rules, each bound is looked up once: what it refers
to happened at one time for all of them. What is left for each connection is to compare two
numbers.
"""

from collections import defaultdict
from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, field
from enum import Enum
from functools import lru_cache
from typing import NamedTuple

from joinmatrix.assembly.model import UNKNOWN_PAST, Act, Assembly, Connection, Entry, Key, Moment
from joinmatrix.assembly.standing import NOTHING_DONE, Standing, order_key, standings
from joinmatrix.lists.table import ListKind
from joinmatrix.timing.bounds import Bound, rules_of
from joinmatrix.timing.constraints import Owner, plan_of
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

Subject = tuple[str, Key]  # "connection", "stage" or "item", and its key


class Why(Enum):
    """What stands behind a judgement."""

    ORDER = "order"  # two recorded acts, compared
    MISSING = "missing"  # what must be done first is not recorded as done
    AGAIN = "again"  # what must be done first was begun again and is not done
    NO_START = "no start"  # the stage is recorded as done, and its start is not
    NO_RECORD = "no record"  # there is no record of stages at all
    UNDONE = "undone"  # a stage had to be done before something that has happened


class Judged(NamedTuple):
    """An act of which the record shows that it broke a bound, or does not show that it kept it.

    outcome  BROKEN or NOT_SHOWN
    act      the act that was judged
    entry    its entry; for a placing that nobody recorded, that of the making; None for UNDONE
    other    the entry that it was compared with, if there is one
    """

    subject: Subject
    bound: Bound
    outcome: Order
    why: Why
    act: Act
    entry: Entry | None
    other: Entry | None


class Unshown(NamedTuple):
    """What connections did beside a stage of which the record does not tell enough for any order.

    The cause lies with the stage, so they are kept together and not one by one.

    why    NO_START or NO_RECORD
    other  the entry of the stage that there is, if any
    """

    bound: Bound
    why: Why
    other: Entry | None
    connections: tuple[Connection, ...]


class Passed(NamedTuple):
    """An act that is not done although its time is over.

    other  the entry that ended its time; for a time that ran out, the one that it counts from
    """

    act: Act
    bound: Bound
    other: Entry


class Natural(NamedTuple):
    """Two steps of one connection, or of one stage, that are recorded in the wrong order."""

    subject: Subject
    early: Entry
    late: Entry


@dataclass(frozen=True, eq=False)
class Judgement:
    """Everything that the record breaks, leaves open or is late with.

    judged   those in `unshown` are left out
    passed   by subject: connections and temporary items
    """

    judged: tuple[Judged, ...] = ()
    unshown: tuple[Unshown, ...] = ()
    natural: tuple[Natural, ...] = ()
    passed: Mapping[Subject, tuple[Passed, ...]] = field(default_factory=dict)


@lru_cache(maxsize=8)
def judge(assembly: Assembly) -> Judgement:
    """The judgement on everything that is recorded; an empty one on a bare plan."""
    if assembly.plan_only:
        return Judgement()
    work = _Judge(assembly)
    judged = [*work.connections(), *work.stages(), *work.items()]
    natural = (*work.natural(), *work.slips())
    return Judgement(tuple(judged), tuple(work.unshown), natural, work.passed)


class _Against(NamedTuple):
    """A bound with all that the record says about what it refers to.

    surely    an act at this minute or beyond it (in the bound's direction) is certainly in order;
              None when that has to be looked at more closely
    compare   the order of an act's moment and the reference
    over      the entry that ends the time of an act that is not done; None while there is time
    idle      nothing that happened can break it yet, so that nobody needs to be looked at
    """

    bound: Bound
    surely: int | None
    compare: Callable[[Moment], tuple[Order, Why, Entry | None]]
    over: Entry | None
    idle: bool = False


class _Failed(NamedTuple):
    """A bound that an act broke, or that nothing shows it to have kept."""

    bound: Bound
    outcome: Order
    why: Why
    other: Entry | None


class _Outcome(NamedTuple):
    """What comes of an act at one moment, for every connection of a group.

    unshown      the bounds by stages of which the record does not tell enough
    connections  those with the act at this moment, where there are such bounds
    """

    failed: list[_Failed]
    unshown: list[_Failed]
    connections: list[Connection]


_NOT_KNOWN = (Order.NOT_SHOWN, Why.NO_RECORD, None)


class _Judge:
    """One record against one set of rules."""

    def __init__(self, assembly: Assembly) -> None:
        self._assembly = assembly
        self._rules = rules_of(assembly)
        self._standings = standings(assembly)
        self._episodes = episodes(assembly)
        self._no_record = ListKind.RECORD not in assembly.given
        self._against: dict[Bound, _Against] = {}
        self._vain = _in_circles(assembly)
        self.unshown: list[Unshown] = []
        self.passed: defaultdict[Subject, tuple[Passed, ...]] = defaultdict(tuple)

    # --- what carries rules ---

    def connections(self) -> Iterator[Judged]:
        """The steps of every connection that has rules."""
        for number, group in enumerate(self._rules.groups):
            if not group.bounds:
                continue
            vain = self._vain.get(Owner("connection", number), frozenset())
            by_act: defaultdict[Act, list[_Against]] = defaultdict(list)
            for bound in group.bounds:
                by_act[bound.act].append(self._look_up(bound))
            stand = [self._standings[member.key] for member in group.members]
            for act, against in by_act.items():
                late = tuple(
                    Passed(act, each.bound, each.over) for each in against if each.over is not None
                )
                binding = [each for each in against if not each.idle and each.bound not in vain]
                if binding or late:
                    yield from self._steps(act, binding, group.members, stand, late)

    def _steps(
        self,
        act: Act,
        against: Sequence[_Against],
        members: Sequence[Connection],
        stand: Sequence[Standing],
        late: tuple[Passed, ...],
    ) -> Iterator[Judged]:
        """One act of alike connections: what holds for one moment is worked out once."""
        recorded: dict[Moment, _Outcome] = {}
        placed_by: dict[Moment, _Outcome] = {}
        for member, standing in zip(members, stand, strict=True):
            entry, known = standing.inspected, recorded
            if act is Act.MADE:
                entry = standing.made
            elif act is Act.PLACED:
                entry = _placing(standing)
                known = recorded if entry is not None and entry.act is act else placed_by
            if entry is None:
                if late:
                    self.passed["connection", member.key] += late
                continue
            outcome = known.get(entry.when)
            if outcome is None:
                when = entry.when if known is recorded else _placed_by(entry.when)
                outcome = known[entry.when] = _outcome(against, when)
            for bound, found, why, other in outcome.failed:
                yield Judged(("connection", member.key), bound, found, why, act, entry, other)
            if outcome.unshown:
                outcome.connections.append(member)
        self._gather_unshown([*recorded.values(), *placed_by.values()])

    def _gather_unshown(self, outcomes: Iterable[_Outcome]) -> None:
        together: defaultdict[_Failed, list[Connection]] = defaultdict(list)
        for outcome in outcomes:
            for each in outcome.unshown:
                together[each] += outcome.connections
        for each, connections in together.items():
            self.unshown.append(Unshown(each.bound, each.why, each.other, tuple(connections)))

    def stages(self) -> Iterator[Judged]:
        """The latest start and end of every stage that has rules of its own."""
        for key, bounds in self._rules.stages.items():
            runs = self._episodes.get(key, ())
            vain = self._vain.get(Owner("stage", key=key), frozenset())
            for bound in bounds:
                if bound in vain:
                    continue
                against = self._look_up(bound)
                entry, when = _of_stage(runs, bound.act)
                if entry is None or when is None:
                    if against.over is not None:
                        yield Judged(
                            ("stage", key), bound, Order.BROKEN, Why.UNDONE, bound.act, None,
                            against.over,
                        )  # fmt: skip
                    continue
                found, why, other = against.compare(when)
                if found is not Order.SHOWN:
                    yield Judged(("stage", key), bound, found, why, bound.act, entry, other)

    def items(self) -> Iterator[Judged]:
        """The removal of every temporary item that has a rule for it."""
        removed = removals(self._assembly)
        for number, items in enumerate(self._rules.items):
            vain = self._vain.get(Owner("item", number), frozenset())
            against = [self._look_up(bound) for bound in items.bounds]
            for item in items.members:
                subject = ("item", item.key)
                entry = removed.get(item.key)
                if entry is None:
                    late = tuple(
                        Passed(Act.REMOVED, each.bound, each.over)
                        for each in against
                        if each.over is not None
                    )
                    if late:
                        self.passed[subject] = late
                    continue
                for each in against:
                    if each.bound in vain:
                        continue
                    found, why, other = each.compare(entry.when)
                    if found is not Order.SHOWN:
                        yield Judged(subject, each.bound, found, why, Act.REMOVED, entry, other)

    def natural(self) -> Iterator[Natural]:
        """Connections placed after they were made, or inspected before they were ever made."""
        for key, standing in self._standings.items():
            made = standing.made
            if made is None:
                continue
            placed = standing.placed
            if (
                placed is not None
                and placed.act is Act.PLACED
                and order(placed.when, made.when) is Order.BROKEN
            ):
                yield Natural(("connection", key), made, placed)
            inspected = standing.inspected or standing.lapsed
            if inspected is not None:
                first = standing.history[0]
                if first.act is not Act.MADE:
                    first = next(each for each in standing.history if each.act is Act.MADE)
                if order(first.when, inspected.when) is Order.BROKEN:
                    yield Natural(("connection", key), inspected, first)

    def slips(self) -> Iterator[Natural]:
        """Stages that are recorded as done before they were started."""
        for key, runs in self._episodes.items():
            for run in runs:
                if run.is_slip and run.done is not None:
                    yield Natural(("stage", key), run.done, run.entry)

    # --- what rules refer to ---

    def _look_up(self, bound: Bound) -> _Against:
        found = self._against.get(bound)
        if found is None:
            of_stage = bound.ref.subject == "stage"
            found = self._stage(bound) if of_stage else self._connection(bound)
            self._against[bound] = found
        return found

    def _stage(self, bound: Bound) -> _Against:
        if self._no_record:
            return _Against(bound, None, lambda _: _NOT_KNOWN, None)
        runs = self._episodes.get(bound.ref.key, ())
        if bound.after:
            return self._after_stage(bound, runs)
        if not runs:
            return _idle(bound)
        last = runs[-1]
        if bound.at is Act.STARTED:
            why = Why.ORDER if last.started is not None else Why.NO_START
            sure = last.start.low if last.started is not None else None

            def compare(when: Moment) -> tuple[Order, Why, Entry | None]:
                found = before_start(runs, when)
                return found, Why.ORDER if found is Order.BROKEN else why, last.entry

            return _Against(bound, sure, compare, last.entry)
        gap = bound.gap
        return _Against(
            bound,
            None,
            lambda when: (before_end(runs, when, gap), Why.ORDER, (last.done or runs[0].done)),
            self._run_out(last.done, gap),
        )

    def _after_stage(self, bound: Bound, runs: tuple[Episode, ...]) -> _Against:
        gap = bound.gap
        if not runs or (bound.at is Act.DONE and all(run.done is None for run in runs)):
            entry = runs[-1].entry if runs else None
            return _Against(bound, None, lambda _: (Order.BROKEN, Why.MISSING, entry), None)
        last = runs[-1]
        if bound.at is Act.STARTED:
            return _Against(
                bound,
                last.start.high + gap,
                lambda when: (after_start(runs, when, gap), Why.ORDER, runs[0].entry),
                None,
            )
        sure = last.done.when.high + gap if last.done is not None else None

        def compare(when: Moment) -> tuple[Order, Why, Entry | None]:
            found = after_end(runs, when, gap)
            if found is not Order.SHOWN and last.done is None:
                done = next(run.done for run in reversed(runs) if run.done is not None)
                if order(done.when, when, gap) is not Order.BROKEN:
                    return found, Why.AGAIN, last.entry
                return found, Why.ORDER, done
            return found, Why.ORDER, _nearest_end(runs, when)

        return _Against(bound, sure, compare, None)

    def _connection(self, bound: Bound) -> _Against:
        standing = self._standings.get(bound.ref.key, NOTHING_DONE)
        made, gap, numbered = standing.made, bound.gap, not bound.together
        if bound.after:
            # Opened and not made again since: what was done after its making was in order then.
            making = made or _latest_making(standing)
            if making is None:
                return _Against(bound, None, lambda _: (Order.BROKEN, Why.MISSING, None), None)
            return _Against(
                bound,
                making.when.high + gap,
                lambda when: (order(making.when, when, gap, numbered=numbered), Why.ORDER, making),
                None,
            )
        if made is None:
            return _idle(bound)
        return _Against(
            bound,
            made.when.low + gap,
            lambda when: (order(when, made.when, -gap, numbered=numbered), Why.ORDER, made),
            self._run_out(made, gap),
        )

    def _run_out(self, since: Entry | None, gap: int) -> Entry | None:
        """The entry that a time counts from, when the time has run out; at once without a gap."""
        if since is None or gap == 0:
            return since
        now = self._assembly.as_of
        return since if now is not None and now > since.when.high + gap else None


def _in_circles(assembly: Assembly) -> Mapping[Owner, frozenset[Bound]]:
    """The bounds that contradict each other, by what carries them.

    No record can keep to them, so that an act is no second fault. What is not done and can no
    longer be reached stays late by them all the same.
    """
    plan = plan_of(assembly)
    found: defaultdict[Owner, set[Bound]] = defaultdict(set)
    for number in {number for circle in plan.circles for number in circle.rules}:
        found[plan.rules[number].owner].update(plan.rules[number].bounds)
    return {owner: frozenset(bounds) for owner, bounds in found.items()}


def _idle(bound: Bound) -> _Against:
    """A bound by something that has not happened: every act is in order with it."""
    return _Against(bound, None, lambda _: (Order.SHOWN, Why.ORDER, None), None, idle=True)


def _outcome(against: Iterable[_Against], when: Moment) -> _Outcome:
    """Which bounds an act at a moment is not shown to have kept."""
    failed: list[_Failed] = []
    unshown: list[_Failed] = []
    for bound, sure, compare, *_ in against:
        if sure is not None and (when.low >= sure if bound.after else when.high <= sure):
            continue
        found, why, other = compare(when)
        of_the_stage = found is Order.NOT_SHOWN and why in (Why.NO_START, Why.NO_RECORD)
        if found is not Order.SHOWN:
            (unshown if of_the_stage else failed).append(_Failed(bound, found, why, other))
    return _Outcome(failed, unshown, [])


def _placing(standing: Standing) -> Entry | None:
    """The entry that shows a placing: its own, or that of a making that it was before."""
    placed, made = standing.placed, standing.made
    if placed is not None and (made is None or placed.act is Act.PLACED):
        return placed
    return made


def _placed_by(made: Moment) -> Moment:
    """When something was placed that nobody recorded: at some time before it was made."""
    return Moment(UNKNOWN_PAST, made.high, None, "")


def _of_stage(runs: tuple[Episode, ...], act: Act) -> tuple[Entry | None, Moment | None]:
    """The latest start or end of a stage."""
    if not runs:
        return None, None
    last = runs[-1]
    if act is Act.STARTED:
        return last.entry, last.start
    return last.done, last.done.when if last.done is not None else None


def _nearest_end(runs: tuple[Episode, ...], when: Moment) -> Entry | None:
    """The end that an act should have waited for: of the last episode begun by then."""
    begun = [run for run in runs if run.start.low <= when.high] or list(runs[:1])
    return begun[-1].done or next((run.done for run in runs if run.done is not None), None)


def _latest_making(standing: Standing) -> Entry | None:
    return next((each for each in reversed(standing.history) if each.act is Act.MADE), None)


@lru_cache(maxsize=8)
def removals(assembly: Assembly) -> Mapping[Key, Entry]:
    """The removal that counts of each temporary item that is off: the latest, not fitted since."""
    entries: defaultdict[Key, list[Entry]] = defaultdict(list)
    for entry in assembly.entries:
        if entry.subject == "item":
            entries[entry.key].append(entry)
    found: dict[Key, Entry] = {}
    for key, same in entries.items():
        # On one moment an item is fitted first and removed after.
        last = sorted(same, key=lambda each: (*order_key(each)[:3], each.act is Act.REMOVED))[-1]
        if last.act is Act.REMOVED:
            found[key] = last
    return found
