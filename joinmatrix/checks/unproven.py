"""The record does not show an order that a rule asks for, or one tick stands for several sides.

What is not shown may well have been done in order; but whoever signs cannot prove it from the
rows. So it is something to know while work goes on, and it holds the sign-off. Two acts on one
date without times are not shown, nor is a tick without a date, nor anything beside a stage of
which only the end is recorded.

Example: H-07 says "after gear down", and both are recorded on 4 March without a time.

What clears it: add the times, or the running numbers, to the record.

What it cannot see: an order that nobody asked for.
"""

from collections import Counter, defaultdict
from collections.abc import Iterable, Iterator, Sequence, Set
from dataclasses import dataclass, field
from typing import NamedTuple

from joinmatrix.assembly.model import Act, Assembly, Entry, Key
from joinmatrix.assembly.moments import minutes_text
from joinmatrix.checks.check import Check
from joinmatrix.findings import Finding, Kind, Severity
from joinmatrix.lists.table import Source, Table
from joinmatrix.place import Place
from joinmatrix.routes.telling import one_for_all_sides
from joinmatrix.timing.bounds import Ref, RuleText, rule_cells
from joinmatrix.timing.judge import Judged, Subject, Why, judge
from joinmatrix.timing.order import Order
from joinmatrix.timing.stages import names_of
from joinmatrix.timing.wording import (
    about,
    cells_of,
    demand,
    items_by_key,
    on_text,
    ref_text,
    said,
    some_of,
)


class _Gap(NamedTuple):
    """What the record lacks of a stage, so that it shows no order with it.

    why  NO_START or NO_RECORD
    """

    stage: Key
    why: Why


@dataclass(slots=True)
class _Beside:
    """All that is not shown to be in order with a stage.

    ends    entries of the stage that there are
    rules   connections with the rules that name it
    judged  of other things, and of the stage itself
    """

    ends: list[Entry] = field(default_factory=list)
    rules: dict[Key, tuple[RuleText, ...]] = field(default_factory=dict)
    judged: list[Judged] = field(default_factory=list)


def unproven(assembly: Assembly) -> Iterator[Finding]:
    """One finding for each act and what it is measured by, or for each stage that shows nothing."""
    if not assembly.plan_only:
        yield from one_for_all_sides(_findings(assembly))
        yield from _one_tick_for_several(assembly)
        yield from one_for_all_sides(_at_impossible_times(assembly))


def _findings(assembly: Assembly) -> Iterator[Finding]:
    alone: dict[tuple[Subject, Ref], list[Judged]] = {}
    shared: defaultdict[_Gap, _Beside] = defaultdict(_Beside)
    judgement = judge(assembly)
    broken = {
        (judged.subject, judged.bound.ref)
        for judged in judgement.judged
        if judged.outcome is Order.BROKEN
    }
    for unshown in judgement.unshown:
        ref, rule = unshown.bound.ref, unshown.bound.rule
        keys = [
            connection.key
            for connection in unshown.connections
            if not broken or (("connection", connection.key), ref) not in broken
        ]
        if keys:
            _add(shared[_Gap(ref.key, unshown.why)], keys, rule, unshown.other)
    for judged in judgement.judged:
        subject, ref = judged.subject, judged.bound.ref
        if judged.outcome is not Order.NOT_SHOWN or (subject, ref) in broken:
            continue
        gap = _gap(judged)
        if gap is not None:
            shared[gap].judged.append(judged)
        else:
            alone.setdefault((subject, ref), []).append(judged)
    for (subject, ref), same in alone.items():
        yield _not_shown(assembly, subject, ref, same)
    for gap, beside in shared.items():
        yield _shown_by_no_stage(assembly, gap, beside)


def _add(beside: _Beside, keys: Iterable[Key], rule: RuleText, end: Entry | None) -> None:
    """Put connections with one rule beside a stage."""
    rules = beside.rules
    for key in keys:
        known = rules.get(key, ())
        if rule not in known:
            rules[key] = (*known, rule)
    if end is not None:
        beside.ends.append(end)


def _gap(judged: Judged) -> _Gap | None:
    """The gap in the record of a stage that leaves the order open, if that is the cause."""
    kind, key = judged.subject
    if judged.why in (Why.NO_START, Why.NO_RECORD):
        return _Gap(judged.bound.ref.key, judged.why)
    if kind == "stage" and judged.entry is not None and judged.entry.act is not judged.act:
        return _Gap(key, Why.NO_START)
    return None


def _not_shown(assembly: Assembly, subject: Subject, ref: Ref, same: Sequence[Judged]) -> Finding:
    who = about(assembly, subject)
    other = ref_text(assembly, ref, who.side)
    first = same[0]
    rules = dict.fromkeys(judged.bound.rule for judged in same)
    written = " and ".join(dict.fromkeys(said(rule) for rule in rules))
    stages = who.stages
    if ref.subject == "stage":
        stages += about(assembly, ("stage", ref.key)).stages
    return Finding(
        Kind.UNPROVEN,
        Severity.NOTE,
        f"the record does not show that {who.name} was {first.act} {demand(first.bound, other)}: "
        f"{_because(first, who.name, other)}; {written}",
        "add the times, or the running numbers, to the record",
        cells_of(
            (judged.entry for judged in same),
            who.rows,
            rules,
            (judged.other for judged in same),
        ),
        joint=who.joint,
        sides=(who.side,) if who.side else (),
        connections=who.connections,
        stages=tuple(dict.fromkeys(stages)),
        items=who.items,
    )


def _because(judged: Judged, name: str, other: str) -> str:
    entry, at = judged.entry, judged.other
    if entry is not None and entry.act is not judged.act:
        return f"its {_noun(judged.act)} is not recorded"
    if entry is not None and not entry.when.text:
        return f"its {_noun(judged.act)} has no date"
    if at is not None and not at.when.text:
        return f"{other} has no date"
    if entry is not None and at is not None and entry.when.text == at.when.text:
        return f"both are recorded on {entry.when.text}"
    mine = entry.when.text if entry is not None else ""
    theirs = at.when.text if at is not None else ""
    return f"{name} is recorded on {mine} and {other} on {theirs}"


def _noun(act: Act) -> str:
    nouns = {Act.PLACED: "placing", Act.MADE: "making", Act.INSPECTED: "inspection"}
    nouns |= {Act.STARTED: "start", Act.DONE: "end", Act.REMOVED: "removal"}
    return nouns.get(act, act.value)


def _shown_by_no_stage(assembly: Assembly, gap: _Gap, beside: _Beside) -> Finding:
    """The same gap in the record of a stage leaves the order of all these with it open."""
    stage = about(assembly, ("stage", gap.stage))
    measured = {_measured(judged, gap) for judged in beside.judged} - {("stage", gap.stage)}
    keys = {*beside.rules, *(key for kind, key in measured if kind == "connection")}
    connections = [assembly.by_key[key] for key in sorted(keys)]
    others = [about(assembly, each) for each in sorted(measured) if each[0] != "connection"]
    names = dict.fromkeys([f'"{each.id}"' for each in connections])
    names.update(dict.fromkeys(each.name for each in others))
    if gap.why is Why.NO_RECORD:
        missing = f"no stage is recorded, {stage.name} not either"
        clears = f"record when {stage.name} was done"
    else:
        missing = f"the record has the end of {stage.name} and not its start"
        clears = f"record when {stage.name} was started"
    joints = {each.joint for each in connections} | {each.joint for each in others}
    sides = {each.side for each in connections} | {each.side for each in others if each.items}
    return Finding(
        Kind.UNPROVEN,
        Severity.NOTE,
        f"{missing}, so nothing shows that {some_of(names)} "
        f"{'was' if len(names) == 1 else 'were'} done in order with it",
        clears,
        tuple(dict.fromkeys(_cells_of_gap(assembly, gap, beside))),
        joint=joints.pop() if len(joints) == 1 else "",
        sides=(stage.side,) if stage.side else tuple(sorted(sides)),
        connections=tuple(dict.fromkeys(each.id for each in connections)),
        stages=tuple(dict.fromkeys([*stage.stages, *(n for each in others for n in each.stages)])),
        items=tuple(dict.fromkeys(name for each in others for name in each.items)),
    )


def _measured(judged: Judged, gap: _Gap) -> Subject:
    """What is not shown to be in order with the stage of a gap: the other end of the rule."""
    own = judged.subject == ("stage", gap.stage)
    return (judged.bound.ref.subject, judged.bound.ref.key) if own else judged.subject


def _cells_of_gap(assembly: Assembly, gap: _Gap, beside: _Beside) -> Iterator[Place]:
    """The end that is recorded, then rule by rule, then what the stage's own are measured by."""
    stage = ("stage", gap.stage)
    yield from (end.cell() for end in beside.ends)
    ends = [judged.entry if judged.subject == stage else judged.other for judged in beside.judged]
    yield from (end.cell() for end in ends if end is not None)
    for key in sorted(beside.rules):
        for rule in beside.rules[key]:
            yield from rule_cells(assembly.by_key[key].rows, rule)
    for judged in sorted(beside.judged, key=lambda judged: judged.subject):
        yield from cells_of((), about(assembly, judged.subject).rows, [judged.bound.rule], ())
    for judged in beside.judged:
        if judged.subject == stage and judged.other is not None:
            yield judged.other.cell()


def _one_tick_for_several(assembly: Assembly) -> Iterator[Finding]:
    several = _rows_of_several(assembly)
    together: dict[tuple[tuple[Source, ...], Act, str], list[Entry]] = {}
    for entry in assembly.entries if several else ():
        if entry.tick and entry.rows[0] in several:
            together.setdefault((entry.rows, entry.act, entry.key.name), []).append(entry)
    for (_, act, _), entries in together.items():
        if len(entries) < 2:
            continue
        connection = assembly.by_key[entries[0].key]
        sides = tuple(entry.key.side for entry in entries)
        yield Finding(
            Kind.UNPROVEN,
            Severity.NOTE,
            f'one tick says that "{connection.id}" was {act} on {" and ".join(sides)}; it does '
            "not show that each side was",
            "record each side by itself",
            (entries[0].cell(),),
            joint=connection.joint,
            sides=sides,
            connections=(connection.id,),
        )


def _rows_of_several(assembly: Assembly) -> Set[Source]:
    """The rows that stand for more than one connection."""
    uses = Counter(row for connection in assembly.connections for row in connection.rows)
    return {row for row, times in uses.items() if times > 1}


def _at_impossible_times(assembly: Assembly) -> Iterator[Finding]:
    """Entries that lie ahead of the time looked at, or before the first entry by its number.

    Such a date is wrong, one way or the other, and shows no order. Each list of the record has
    numbers of its own.
    """
    now = assembly.as_of
    first: dict[Table, Entry] = {}
    for entry in assembly.entries:
        if entry.when.seq is not None:
            known = first.setdefault(entry.rows[0].table, entry)
            if entry.when.seq < (known.when.seq or 0.0):
                first[entry.rows[0].table] = entry
    for entry in assembly.entries:
        when = entry.when
        if not when.text:
            continue
        if now is not None and when.low > now:
            ahead = f"later than {minutes_text(now)}, the time that is looked at"
            yield from _wrong_time(assembly, entry, ahead, ())
        elif when.seq is not None:
            opening = first[entry.rows[0].table]
            if when.seq > (opening.when.seq or 0.0) and when.high < opening.when.low:
                early = f"before the first entry by its number, of {opening.when.text}"
                yield from _wrong_time(assembly, entry, early, (opening.cell("when"),))


def _wrong_time(
    assembly: Assembly, entry: Entry, said: str, others: tuple[Place, ...]
) -> Iterator[Finding]:
    keys: tuple[Key, ...] = (entry.key,)
    if entry.subject == "stage":
        keys = names_of(assembly).keys_of_entry(entry.key)
    for key in keys:
        if _is_unlisted(assembly, entry.subject, key):
            continue
        who = about(assembly, (entry.subject, key))
        yield Finding(
            Kind.UNPROVEN,
            Severity.NOTE,
            f"{who.name} is recorded as {entry.act}{on_text(entry.when)}, {said}",
            "correct the date or the number in the record",
            (entry.cell("when"), *others),
            joint=who.joint,
            sides=(who.side,) if who.side else (),
            connections=who.connections,
            stages=who.stages,
            items=who.items,
        )


def _is_unlisted(assembly: Assembly, subject: str, key: Key) -> bool:
    if subject == "connection":
        return key not in assembly.by_key
    return subject == "item" and key not in items_by_key(assembly)


CHECK = Check(Kind.UNPROVEN, unproven, acts=True)
