"""The assembly as its lists describe it: what crosses which joint, when, and what was done.

The mass records are named tuples: they are immutable, cost a third of a dataclass to make, and a
list of a million connections is made of them.
"""

from collections.abc import Mapping
from dataclasses import dataclass, field
from enum import StrEnum
from typing import NamedTuple

from joinmatrix.lists.table import ListKind, Source, Trouble
from joinmatrix.names import folded
from joinmatrix.place import Place

# Minutes; earlier and later than anything that can be written in a record.
UNKNOWN_PAST = -(10**12)
UNKNOWN_FUTURE = 10**12


class Act(StrEnum):
    """What can be recorded. The first three are the steps of a connection, in their order."""

    PLACED = "placed"
    MADE = "made"
    INSPECTED = "inspected"
    MEASURED = "measured"
    OPENED = "opened"
    FITTED = "fitted"
    REMOVED = "removed"
    STARTED = "started"
    DONE = "done"

    # Acts are looked up by the hundred thousand; the hash of an enumeration is slow.
    __hash__ = str.__hash__


class Key(NamedTuple):
    """What a connection, port, stage or temporary item is known by.

    name  folded: trimmed, single spaces, no case, one Unicode form
    side  the side's label; "" for a stage that is once for all
    """

    name: str
    side: str


class Connection(NamedTuple):
    """One thing made across a joint on one side, merged from every list that has it.

    Texts are as written. A blank is "". Ports are given on this connection's own side.
    key        folded identifier and side
    joint_key  folded name of the joint
    rows       the rows it was read from, first list first
    disputed   columns on which the lists disagree (a `conflict` finding says so)
    """

    key: Key
    id: str
    joint: str
    joint_key: str
    type: str
    service: str
    from_port: str
    to_port: str
    from_size: str
    to_size: str
    from_end: str
    to_end: str
    from_key: str
    to_key: str
    place: str
    timing: str
    inspect: str
    closed_by: str
    limits: str
    critical: bool
    part: str
    remarks: str
    rows: tuple[Source, ...]
    disputed: frozenset[str] = frozenset()

    @property
    def side(self) -> str:
        """The side's label: L, R, C, or one that the joints list declares."""
        return self.key.side

    @property
    def from_key_port(self) -> Key:
        """The key of the port on the one half."""
        return Key(folded(self.from_port), self.key.side)

    @property
    def to_key_port(self) -> Key:
        """The key of the port on the other half."""
        return Key(folded(self.to_port), self.key.side)

    def cells(self, column: str) -> tuple[Place, ...]:
        """The filled cells of a column ("from size") in every list; the id cells if none is.

        A size stands under `from size` or `to size`, or under a plain `size`, which in a list of
        one half is that half's.
        """
        filled = [row.place(column) for row in self.rows if row.text(column)]
        filled += [row.place("size") for row in self.rows if gives_size(row, column)]
        return tuple(filled) or self.id_cells

    @property
    def id_cells(self) -> tuple[Place, ...]:
        """The cells of the identifier, one for each list."""
        return tuple(row.place("connection") for row in self.rows)

    def __str__(self) -> str:
        return f"{self.id} {self.key.side}"


def gives_size(row: Source, column: str) -> bool:
    """Whether the plain `size` of a row is that of the end that the column is about."""
    if column not in ("from size", "to size") or row.text(column) or not row.text("size"):
        return False
    own, other = ("from", "to") if column == "from size" else ("to", "from")
    return bool(row.text(own)) or not row.text(other)


class Stage(NamedTuple):
    """A named step of the build-up, on one side or ("") once for all.

    rows   empty when no stages list names it
    """

    key: Key
    name: str
    timing: str
    after: str
    rows: tuple[Source, ...]

    def __str__(self) -> str:
        return f"{self.name} {self.key.side}".rstrip()


class Run(NamedTuple):
    """A fixed line inside one half between two ports; it needs no making."""

    start: Key
    end: Key
    from_port: str
    to_port: str
    service: str
    half: str
    row: Source


class Joint(NamedTuple):
    """A joint and its alike sides. `rows` is empty when no joints list names it."""

    key: str
    name: str
    alike_sides: tuple[str, ...]
    rows: tuple[Source, ...]


class Difference(NamedTuple):
    """A left/right difference that engineering has accepted.

    side    where the connection exists; "" when not said
    column  the column that may differ; "" for its existence
    """

    joint: str
    connection: str
    service: str
    side: str
    column: str
    reason: str
    approved_by: str
    row: Source


class Temporary(NamedTuple):
    """A cap, plug, lock pin, brace or sling that must come off again, on one side."""

    key: Key
    name: str
    joint: str
    type: str
    connection: str
    remove: str
    rows: tuple[Source, ...]


class Person(NamedTuple):
    """What a person may do ("make", "inspect"), and to which day ("" for ever)."""

    key: str
    name: str
    may: str
    until: str
    row: Source


class Tool(NamedTuple):
    """A measuring tool, the last day of its calibration and its range."""

    key: str
    name: str
    calibrated_until: str
    low: str
    high: str
    unit: str
    row: Source


class Moment(NamedTuple):
    """When something was done, as far as the record tells.

    low, high  minutes since 1970-01-01T00:00; equal when the minute is known, a whole day when
               only the date is, `UNKNOWN_PAST` and `UNKNOWN_FUTURE` when nothing is
    seq        the shop's own running number; breaks ties
    text       as the report shows it: "2026-03-04 10:30", "2026-03-04", ""
    """

    low: int
    high: int
    seq: float | None
    text: str


class Entry(NamedTuple):
    """One act of the record, or one tick of a tick sheet.

    subject  "connection", "stage" or "item": which list `key` belongs to
    tick     True when it comes from a tick column
    rows     the row or rows it was read from (several readings of one making are one act)
    """

    subject: str
    key: Key
    name: str
    act: Act
    when: Moment
    by: str
    tick: bool
    rows: tuple[Source, ...]

    def cell(self, column: str = "act") -> Place:
        """The cell to look at first: of the record's column, or of the tick."""
        row = self.rows[0]
        if not self.tick:
            return row.place(column)
        base = self.act.value  # "made" or "inspected"
        for name in (base, f"{base} on", f"{base} by"):
            if row.text(name):
                return row.place(name)
        return row.place(base)


@dataclass(frozen=True, slots=True)
class Conflict:
    """Two lists that disagree on a column of one connection.

    sides   the sides on which they do ("both" rows disagree on all of them at once)
    values  as written, with the cell of each
    """

    id: str
    joint: str
    sides: tuple[str, ...]
    column: str
    values: tuple[tuple[str, Place], ...]


@dataclass(frozen=True, slots=True)
class Repeat:
    """The same connection and side twice in one list."""

    id: str
    joint: str
    sides: tuple[str, ...]
    places: tuple[Place, ...]


@dataclass(frozen=True, eq=False)
class Assembly:
    """Everything that the lists and the record of one unit say, merged; nothing in it changes.

    Compared and hashed by identity, so that what is worked out from it can be kept beside it.

    connections  in reading order
    stages       with those that only rules or the record name, when there is no stages list
    entries      in the order of the rows
    given        the kinds of list that were given
    aside        rows that the lists gave and that could not be used, with the reason
    unsure       what such rows name: "connection", "stage", "item" or "person" -> folded name ->
                 the name as written. A list has it, so nothing more is said of who names it
    notes        how something was merged, beside the notes of the reading
    by_key       the connections by their keys
    alike        folded name of a joint -> its alike sides
    unit         the serial that the record is about, "" when none is given
    plan_only    no act is recorded anywhere
    as_of        minutes; the latest time of the record, or what the caller said
    """

    connections: tuple[Connection, ...] = ()
    stages: tuple[Stage, ...] = ()
    runs: tuple[Run, ...] = ()
    joints: tuple[Joint, ...] = ()
    differences: tuple[Difference, ...] = ()
    temporary: tuple[Temporary, ...] = ()
    people: tuple[Person, ...] = ()
    tools: tuple[Tool, ...] = ()
    entries: tuple[Entry, ...] = ()
    given: frozenset[ListKind] = frozenset()
    aside: tuple[tuple[Source, str], ...] = ()
    unsure: Mapping[str, Mapping[str, str]] = field(default_factory=dict)
    conflicts: tuple[Conflict, ...] = ()
    repeats: tuple[Repeat, ...] = ()
    troubles: tuple[Trouble, ...] = ()
    notes: tuple[tuple[Place, str], ...] = ()
    by_key: Mapping[Key, Connection] = field(default_factory=dict)
    alike: Mapping[str, tuple[str, ...]] = field(default_factory=dict)
    unit: str = ""
    plan_only: bool = True
    as_of: int | None = None

    def is_unsure(self, subject: str, name: str) -> bool:
        """Whether a list has this folded name in a row that could not be used."""
        return name in self.unsure.get(subject, {})
