"""The record and the tick columns to acts: who did what to which connection, stage or item."""

from collections import defaultdict
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass

from joinmatrix.assembly.gathered import Gathered
from joinmatrix.assembly.model import (
    UNKNOWN_PAST,
    Act,
    Conflict,
    Connection,
    Entry,
    Key,
    Moment,
    Stage,
    Temporary,
)
from joinmatrix.assembly.moments import Clock
from joinmatrix.assembly.sides import Sides
from joinmatrix.assembly.tick_columns import entries_of_ticks
from joinmatrix.errors import CallError
from joinmatrix.lists import words
from joinmatrix.lists.table import ListKind, Source, Table, Trouble
from joinmatrix.names import folded, quoted_list

# Which acts can be done to what, in the words of the record.
ACTS_OF = {
    "connection": (Act.PLACED, Act.MADE, Act.MEASURED, Act.INSPECTED, Act.OPENED),
    "stage": (Act.STARTED, Act.DONE),
    "item": (Act.FITTED, Act.REMOVED),
}
_SUBJECT_OF = {act: subject for subject, acts in ACTS_OF.items() for act in acts}
# What has to happen between an act and the same act done anew.
_UNDOES = {
    Act.PLACED: Act.OPENED,
    Act.MADE: Act.OPENED,
    Act.MEASURED: Act.OPENED,
    Act.INSPECTED: Act.OPENED,
    Act.OPENED: Act.MADE,
    Act.STARTED: Act.DONE,
    Act.DONE: Act.STARTED,
    Act.FITTED: Act.REMOVED,
    Act.REMOVED: Act.FITTED,
}


@dataclass(frozen=True, slots=True)
class Known:
    """What the lists have, for finding what an entry is about.

    sides_of  subject -> folded name -> the sides on which it is listed
    joint_of  folded name of a connection or item -> folded name of its joint
    """

    sides_of: Mapping[str, Mapping[str, tuple[str, ...]]]
    joint_of: Mapping[str, str]


def known_names(
    tables: Sequence[Table],
    connections: Iterable[Connection],
    stages: Iterable[Stage],
    temporary: Iterable[Temporary],
) -> Known:
    """What the entries of these record lists can be about; connections that none names are left."""
    used = {
        folded(name)
        for table in tables
        if table.kind is ListKind.RECORD
        for name in set(table.column("connection"))
    }
    named = [each for each in connections if each.key.name in used] if used else []
    sides_of: dict[str, dict[str, tuple[str, ...]]] = {subject: {} for subject in ACTS_OF}
    listed = (
        ("connection", (each.key for each in named)),
        ("stage", (each.key for each in stages)),
        ("item", (each.key for each in temporary)),
    )
    for subject, keys in listed:
        sides = sides_of[subject]
        for key in keys:
            sides[key.name] = (*sides.get(key.name, ()), key.side)
    joint_of = {item.key.name: folded(item.joint) for item in reversed(list(temporary))}
    joint_of.update((each.key.name, each.joint_key) for each in named)
    return Known(sides_of, joint_of)


def units_of(tables: Sequence[Table]) -> list[str]:
    """The unit serials that the record names, as first written, in reading order."""
    serials: dict[str, str] = {}
    for table in tables:
        if table.kind is ListKind.RECORD:
            for text in dict.fromkeys(table.column("unit serial")):
                if text:
                    serials.setdefault(folded(text), text)
    return list(serials.values())


def chosen_unit(tables: Sequence[Table], unit: str | None) -> str:
    """The unit to look at, "" when the record names none.

    raises  CallError when the record holds several and none is chosen, or not the chosen one
    """
    serials = units_of(tables)
    if unit is None:
        if len(serials) > 1:
            raise CallError(
                f"the record holds several units: {quoted_list(serials, 'and')}",
                f'say which one with --unit, as --unit "{serials[0]}"',
            )
        return serials[0] if serials else ""
    for serial in serials:
        if folded(serial) == folded(unit):
            return serial
    have = f"it has {quoted_list(serials, 'and')}" if serials else "it names no unit serial"
    raise CallError(f'unit "{unit}" is not in the record', have)


class _Reader:
    """Rows of the record to entries."""

    def __init__(self, clock: Clock, sides: Sides, known: Known, gathered: Gathered) -> None:
        self._clock = clock
        self._sides = sides
        self._known = known
        self._gathered = gathered

    def entries(self, table: Table, unit: str, several: bool) -> Iterator[Entry]:
        """The entries of one record list for one unit."""
        serial = folded(unit)
        serials = table.column("unit serial")
        for index in range(len(table.rows)):
            row = Source(table, index)
            if unit and serials[index] and folded(serials[index]) != serial:
                self._gathered.aside.append((row, f'another unit: "{serials[index]}"'))
            elif several and not serials[index]:
                found = "this entry has no unit serial, and the record holds several units"
                self._gathered.refuse(row, "unit serial", found, f'write the serial, as "{unit}"')
            else:
                yield from self._entry(row)

    def _entry(self, row: Source) -> Iterator[Entry]:
        act = self._act(row)
        if act is None:
            return
        subject = _SUBJECT_OF[act]
        name = row.text(subject)
        if not name:
            self._refuse_subject(row, act)
            return
        key_name, labels = self._labels(row, subject, name)
        if labels is None:
            return
        when = self._clock.moment(row.text("when"), self._seq(row))
        for label in labels:
            yield Entry(
                subject, Key(key_name, label), name, act, when, row.text("by"), False, (row,)
            )

    def _act(self, row: Source) -> Act | None:
        text = row.text("act")
        word = words.act_word(text)
        if word is not None:
            return Act(word)
        filled = [subject for subject in ACTS_OF if row.text(subject)]
        allowed = [act.value for subject in filled or ACTS_OF for act in ACTS_OF[subject]]
        found = f'act "{text}" is not understood' if text else "this entry has no act"
        self._gathered.refuse(row, "act", found, f"write {quoted_list(allowed)}")
        return None

    def _refuse_subject(self, row: Source, act: Act) -> None:
        filled = [subject for subject in ACTS_OF if row.text(subject)]
        wanted = _SUBJECT_OF[act]
        if not filled:
            found, remedy = f'"{act}" is recorded without saying of what', f"name the {wanted}"
        else:
            other = filled[0]
            found = f'a {other} cannot be "{row.text("act")}"'
            allowed = quoted_list(act.value for act in ACTS_OF[other])
            remedy = f"write {allowed}, or name a {wanted} in place of the {other}"
        self._gathered.refuse(row, "act", found, remedy)

    def _labels(self, row: Source, subject: str, name: str) -> tuple[str, tuple[str, ...] | None]:
        """The folded name and the sides that an entry means; None when it is set aside."""
        key_name, text = folded(name), row.text("side")
        sides_of = self._known.sides_of[subject]
        if key_name not in sides_of and not text:
            key_name, text = self._with_trailing_side(key_name, sides_of)
        listed = sides_of.get(key_name, ())
        joint_key = self._known.joint_of.get(key_name) if subject != "stage" else None
        labels = self._sides.labels(text, joint_key)
        if labels is None:
            found = f'side "{text}" is not understood'
            expected = self._sides.expected(joint_key)
            self._gathered.refuse(row, "side", found, f"write {expected}")
            return key_name, None
        if labels:
            both = [label for label in labels if label in listed]
            return key_name, tuple(both) if len(labels) > 1 and both else labels
        if subject == "stage":
            return key_name, listed or ("",)
        if len(listed) > 1:
            on = quoted_list(listed, "and")
            found = f'{subject} "{name}" is on sides {on}, and this entry names none'
            self._gathered.refuse(row, "side", found, f"write {quoted_list(listed)}")
            return key_name, None
        return key_name, listed or ("",)

    @staticmethod
    def _with_trailing_side(name: str, sides_of: Mapping[str, tuple[str, ...]]) -> tuple[str, str]:
        """A stage "outer wing mate L" is the stage "outer wing mate" on its side L."""
        base, _, last = name.rpartition(" ")
        return (base, last) if base in sides_of else (name, "")

    def _seq(self, row: Source) -> float | None:
        text = row.text("seq")
        number = words.number(text) if text else None
        if text and number is None:
            self._gathered.troubles.append(
                Trouble(row.place("seq"), f'seq "{text}" is not a number', "write a number")
            )
        return number


def read_entries(
    tables: Sequence[Table],
    by_key: Mapping[Key, Connection],
    known: Known,
    sides: Sides,
    unit: str,
    gathered: Gathered,
) -> tuple[Entry, ...]:
    """Every act that the record and the ticks give, in row order; one act, one entry."""
    clock = Clock(_stamps(tables))
    if clock.offset is not None:
        first = next(table for table in tables if table.kind is ListKind.RECORD)
        sentence = f"times with different offsets from UTC were all moved to UTC{_signed(clock)}"
        gathered.notes.append((Source(first, 0).place("when"), sentence))
    reader = _Reader(clock, sides, known, gathered)
    several = len(units_of(tables)) > 1
    recorded: list[Entry] = []
    for table in tables:
        if table.kind is ListKind.RECORD:
            recorded.extend(reader.entries(table, unit, several))
    recorded = _one_act_each(recorded)
    ticks = list(entries_of_ticks(tables, by_key.values(), clock, sides, gathered))
    if not _in_one_row_each(by_key):
        ticks = _one_act_each(ticks)
    return tuple(_with_ticks(recorded, ticks, by_key, gathered))


def _in_one_row_each(by_key: Mapping[Key, Connection]) -> bool:
    """Whether no connection stands in two rows, so that no two ticks can be of one act."""
    return all(len(connection.rows) == 1 for connection in by_key.values())


def _signed(clock: Clock) -> str:
    minutes = int((clock.offset.total_seconds() if clock.offset else 0) // 60)
    return f"{'-' if minutes < 0 else '+'}{abs(minutes) // 60:02}:{abs(minutes) % 60:02}"


def _stamps(tables: Sequence[Table]) -> Iterator[str]:
    for table in tables:
        if table.kind is ListKind.RECORD:
            yield from table.column("when")


def _one_act_each(entries: list[Entry]) -> list[Entry]:
    """Entries of the same thing, side, act and time are one act, read from several rows.

    Unless the running numbers of that day say that it was undone in between.
    """
    if _each_once(entries):
        return entries
    undone: defaultdict[tuple[Key, Act, int, int], list[float]] = defaultdict(list)
    for entry in entries:
        if entry.when.seq is not None:
            undone[entry.key, entry.act, *entry.when[:2]].append(entry.when.seq)
    merged: dict[tuple[str, Key, Act, int, int, int], Entry] = {}
    for entry in entries:
        low, high, seq, _ = entry.when
        between = undone.get((entry.key, _UNDOES[entry.act], low, high), ())
        times_undone = sum(other < seq for other in between) if seq is not None else 0
        key = (entry.subject, entry.key, entry.act, low, high, times_undone)
        known = merged.get(key)
        if known is None:
            merged[key] = entry
        else:
            by = _first_name(known.by, entry.by)
            merged[key] = known._replace(rows=known.rows + entry.rows, by=by)
    return list(merged.values())


def _each_once(entries: Sequence[Entry]) -> bool:
    """Whether no act of anything stands twice, as in nearly every tick sheet."""
    seen: defaultdict[Act, set[Key]] = defaultdict(set)
    for act in {entry.act for entry in entries}:
        seen[act] = {entry.key for entry in entries if entry.act is act}
    return sum(map(len, seen.values())) == len(entries)


def _first_name(*names: str) -> str:
    """One of several signatures of an act, the same whatever the order of the rows."""
    return min(filter(None, names), key=lambda name: (folded(name), name), default="")


def _with_ticks(
    recorded: list[Entry],
    ticks: list[Entry],
    by_key: Mapping[Key, Connection],
    gathered: Gathered,
) -> Iterator[Entry]:
    """The entries of the record, and the ticks of acts that it does not have.

    A tick and an entry of the same act are one act; when their dates or names differ, the two
    lists disagree, and the record counts. But where the record has it undone between the two dates,
    it was done twice.
    """
    of_act: defaultdict[tuple[Key, Act], list[int]] = defaultdict(list)
    for number, entry in enumerate(recorded):
        if entry.subject == "connection":
            of_act[entry.key, entry.act].append(number)
    if not of_act:
        yield from recorded
        yield from _ticks_agreed(ticks, by_key, gathered)
        return
    alone = []
    clashes: dict[tuple[str, Source], list[tuple[Entry, Entry]]] = {}
    for tick in ticks:
        undone = [recorded[number] for number in of_act.get((tick.key, _UNDOES[tick.act]), ())]
        numbers = [
            number
            for number in of_act.get((tick.key, tick.act), ())
            if not any(_between(tick.when, recorded[number].when, each.when) for each in undone)
        ]
        if not numbers:
            alone.append(tick)
            continue
        same = [number for number in numbers if _same_day(recorded[number].when, tick.when)]
        number = same[-1] if same else numbers[-1]
        entry = recorded[number]
        if not same:
            clashes.setdefault((f"{tick.act} on", tick.rows[0]), []).append((tick, entry))
        elif tick.by and entry.by and folded(tick.by) != folded(entry.by):
            clashes.setdefault((f"{tick.act} by", tick.rows[0]), []).append((tick, entry))
        else:
            recorded[number] = entry._replace(by=entry.by or tick.by)
    for (column, row), pairs in clashes.items():
        gathered.conflicts.append(_clash(column, row, pairs, by_key))
    yield from recorded
    yield from _ticks_agreed(alone, by_key, gathered)


def _between(one: Moment, other: Moment, when: Moment) -> bool:
    """Whether a dated act can have been between two others that are not of one moment."""
    if _same_day(one, other) or when.low == UNKNOWN_PAST:
        return False
    first, last = sorted((one, other), key=lambda moment: moment.low)
    return first.low <= when.high and when.low <= last.high


def _same_day(recorded: Moment, tick: Moment) -> bool:
    return tick.low <= recorded.high and recorded.low <= tick.high


def _clash(
    column: str, row: Source, pairs: list[tuple[Entry, Entry]], by_key: Mapping[Key, Connection]
) -> Conflict:
    tick, entry = pairs[0]
    by = column.endswith(" by")
    cell = row.place(column) if row.text(column) else tick.cell()
    values = (
        (tick.by if by else tick.when.text, cell),
        (entry.by if by else entry.when.text, entry.cell("by" if by else "when")),
    )
    labels = tuple(each.key.side for each, _ in pairs)
    return Conflict(tick.name, by_key[tick.key].joint, labels, column, values)


def _ticks_agreed(
    ticks: list[Entry], by_key: Mapping[Key, Connection], gathered: Gathered
) -> Iterator[Entry]:
    """Ticks of one act in several lists are one act; different dates are a conflict."""
    if _in_one_row_each(by_key) or _each_once(ticks):
        yield from ticks
        return
    of_act: defaultdict[tuple[Key, Act], list[Entry]] = defaultdict(list)
    for tick in ticks:
        of_act[tick.key, tick.act].append(tick)
    seen: dict[tuple[Source, ...], tuple[list[str], list[Entry], str]] = {}
    for same in of_act.values():
        best = max(same, key=lambda tick: tick.when.low)
        dated = [tick for tick in same if tick.when.low != UNKNOWN_PAST]
        rows = tuple(row for tick in same for row in tick.rows)
        yield best._replace(rows=rows, by=_first_name(*(tick.by for tick in same)))
        if len({tick.when.low for tick in dated}) > 1:
            column = f"{best.act} on"
            seen.setdefault(rows, ([], dated, column))[0].append(best.key.side)
    for labels, dated, column in seen.values():
        values = tuple((tick.when.text, tick.cell()) for tick in dated)
        joint = by_key[dated[0].key].joint
        gathered.conflicts.append(Conflict(dated[0].name, joint, tuple(labels), column, values))


def latest(entries: Iterable[Entry]) -> int | None:
    """The latest time that the entries show for certain, minutes; None when none has a time."""
    return max({entry.when.low for entry in entries} - {UNKNOWN_PAST}, default=None)
