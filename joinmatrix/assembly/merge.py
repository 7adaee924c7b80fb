"""Lists in, one assembly out."""

from collections.abc import Iterable, Iterator

from joinmatrix.assembly.connections import read_connections
from joinmatrix.assembly.gathered import Gathered
from joinmatrix.assembly.lookalike_names import lookalike_names
from joinmatrix.assembly.model import Assembly
from joinmatrix.assembly.moments import Clock
from joinmatrix.assembly.record import chosen_unit, known_names, latest, read_entries
from joinmatrix.assembly.sides import read_joints
from joinmatrix.assembly.small_lists import (
    read_differences,
    read_people,
    read_runs,
    read_stages,
    read_temporary,
    read_tools,
)
from joinmatrix.errors import CallError
from joinmatrix.lists import words
from joinmatrix.lists.table import ListKind, Reading, Table

# What these do not name is unknown. A sheet of a blank workbook that nobody has filled in does not
# mean that nothing is known.
_NOT_GIVEN_EMPTY = frozenset(
    (ListKind.STAGES, ListKind.RECORD, ListKind.RUNS, ListKind.PEOPLE, ListKind.TOOLS)
)


def assemble(reading: Reading, *, as_of: str | None = None, unit: str | None = None) -> Assembly:
    """Merge everything that was read into one assembly.

    as_of   ISO date or time at which to judge; by default the latest time of the record
    unit    serial of the unit to look at; needed when the record holds several
    raises  CallError for a time that is none, or a unit that is missing or not chosen
    """
    tables = reading.tables
    gathered = Gathered(troubles=list(reading.troubles))
    serial = chosen_unit(tables, unit)
    joints, sides = read_joints(tables, gathered)
    connections = read_connections(tables, joints, sides, gathered)
    stages = read_stages(tables, sides, gathered)
    temporary = read_temporary(tables, sides, gathered)
    known = known_names(tables, connections, stages, temporary)
    by_key = {connection.key: connection for connection in connections}
    entries = read_entries(tables, by_key, known, sides, serial, gathered)
    gathered.troubles.extend(lookalike_names(connections))
    return Assembly(
        connections=connections,
        stages=stages,
        runs=read_runs(tables, sides, connections, gathered),
        joints=joints,
        differences=read_differences(tables, sides, gathered),
        temporary=temporary,
        people=read_people(tables, gathered),
        tools=read_tools(tables),
        entries=entries,
        given=frozenset(_given(tables)),
        aside=tuple(gathered.aside),
        unsure=gathered.unsure(),
        conflicts=tuple(gathered.conflicts),
        repeats=tuple(gathered.repeats),
        troubles=tuple(gathered.troubles),
        notes=tuple(gathered.notes),
        by_key=by_key,
        alike=sides.alike,
        unit=serial,
        plan_only=not entries,
        as_of=latest(entries) if as_of is None else _moment(as_of),
    )


def _given(tables: Iterable[Table]) -> Iterator[ListKind]:
    """The kinds of list that were given."""
    for table in tables:
        if table.rows or table.kind not in _NOT_GIVEN_EMPTY:
            yield table.kind


def _moment(text: str) -> int:
    """Minutes of a time that the caller gave; the end of the day for a bare date."""
    stamp = words.date_or_time(text)
    if stamp is None:
        raise CallError(f'"{text}" is not a time', 'write it as "2026-03-04" or "2026-03-04 10:30"')
    return Clock([stamp]).moment(stamp).high
