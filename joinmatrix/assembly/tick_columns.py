"""The tick columns of connections lists to acts."""

from collections.abc import Iterable, Iterator, Sequence

from joinmatrix.assembly.gathered import Gathered
from joinmatrix.assembly.model import Act, Connection, Entry, Moment
from joinmatrix.assembly.moments import Clock
from joinmatrix.lists.table import ListKind, Source, Table, Trouble
from joinmatrix.lists.ticks import Tick, tick

_TICKS = (Act.MADE, Act.INSPECTED)


def entries_of_ticks(
    tables: Sequence[Table], connections: Iterable[Connection], clock: Clock, gathered: Gathered
) -> Iterator[Entry]:
    """The acts that the tick columns of all connections lists stand for, in row order."""
    ticked = [
        table
        for table in tables
        if table.kind is ListKind.CONNECTIONS
        and any(act.value in name for act in _TICKS for name in table.cells)
    ]
    if not ticked:
        return
    listed: dict[int, list[tuple[Connection, ...]]] = {
        id(table): [()] * len(table.rows) for table in ticked
    }
    for connection in connections:
        for table, index in connection.rows:
            rows = listed.get(id(table))
            if rows is not None:
                rows[index] += (connection,)
    for table in ticked:
        yield from _ticks(table, listed[id(table)], clock, gathered)


def _ticks(
    table: Table, listed: Sequence[Sequence[Connection]], clock: Clock, gathered: Gathered
) -> Iterator[Entry]:
    """The acts that the tick columns of a connections list stand for.

    listed  the connections of each row
    """
    for act in _TICKS:
        names = (act.value, f"{act.value} on", f"{act.value} by")
        if not any(name in table.cells for name in names):
            continue
        texts = list(zip(*(table.column(name) for name in names), strict=True))
        done: dict[tuple[str, ...], tuple[Moment, str]] = {}
        unclear: dict[tuple[str, ...], str] = {}
        for text in set(texts):
            tick = _tick(*text)
            if isinstance(tick, str):
                unclear[text] = tick
            elif tick.done:
                done[text] = (clock.moment(tick.on), tick.by)
        for index, (text, connections) in enumerate(zip(texts, listed, strict=True)):
            if text in done:
                when, by = done[text]
                for each in connections:
                    rows = each.rows if len(each.rows) == 1 else (Source(table, index),)
                    yield Entry("connection", each.key, each.id, act, when, by, True, rows)
            elif text in unclear:
                row = Source(table, index)
                column = names[0] if text[0] else names[1]
                gathered.troubles.append(
                    Trouble(
                        row.place(column),
                        f"{act.value} {unclear[text]}",
                        'write "x" or a date when it is done, and leave it blank when it is not',
                        connections=(row.text("connection"),),
                    )
                )


def _tick(mark: str, on: str, by: str) -> Tick | str:
    """What a tick, its date and its name say together; a sentence when they do not agree."""
    found = tick(mark)
    if found is None:
        return f'"{mark}" is not understood as a tick'
    if not mark:
        return Tick(bool(on or by), on, by)
    if not found.done:
        if on or by:
            return f'says "{mark}", and yet it is dated or signed'
        return found
    if on and found.on and on != found.on:
        return f'gives two dates, "{found.on}" and "{on}"'
    return Tick(True, on or found.on, by or found.by)
