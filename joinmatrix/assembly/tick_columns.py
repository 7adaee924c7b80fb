"""The tick columns of connections lists to acts."""

from collections.abc import Iterable, Iterator, Mapping, Sequence
from typing import NamedTuple

from joinmatrix.assembly.gathered import Gathered
from joinmatrix.assembly.model import Act, Connection, Entry
from joinmatrix.assembly.moments import Clock
from joinmatrix.assembly.sides import Sides
from joinmatrix.lists.table import ListKind, Source, Table, Trouble
from joinmatrix.lists.ticks import (
    X_OR_BLANK,
    NoTick,
    Tick,
    a_side,
    is_no_name,
    is_nothing,
    no_tick,
    tick,
)
from joinmatrix.names import folded, quoted_list

_TICKS = (Act.MADE, Act.INSPECTED)
_MOST_INITIALS = 5  # of one column, in the note that they were taken for initials

_Cells = tuple[str, str, str]  # the texts of a tick, of its date and of its name


class _Known(NamedTuple):
    """What tells whose initials and which sides there are.

    labels  folded labels of all sides
    people  folded names of the people list
    """

    sides: Sides
    labels: frozenset[str]
    people: frozenset[str]


class _Meant(NamedTuple):
    """What a tick, its date and its name say together.

    initials  those that stand in the tick itself, and are in no people list
    part      which of the cells is not understood
    why       what is wrong with it, None when all is understood
    """

    tick: Tick
    initials: str = ""
    part: int = 0
    why: NoTick | None = None


def entries_of_ticks(
    tables: Sequence[Table],
    connections: Iterable[Connection],
    clock: Clock,
    sides: Sides,
    gathered: Gathered,
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
    labels = frozenset(folded(each) for alike in sides.alike.values() for each in alike)
    known = _Known(sides, labels, _people(tables))
    for table in ticked:
        for act in _TICKS:
            yield from _entries(table, act, listed[id(table)], clock, known, gathered)


def _people(tables: Iterable[Table]) -> frozenset[str]:
    lists = (table for table in tables if table.kind is ListKind.PEOPLE)
    return frozenset(folded(name) for table in lists for name in table.column("person") if name)


def _entries(
    table: Table,
    act: Act,
    listed: Sequence[Sequence[Connection]],
    clock: Clock,
    known: _Known,
    gathered: Gathered,
) -> Iterator[Entry]:
    """The acts that the columns of one act stand for.

    listed  the connections of each row
    """
    names = (act.value, f"{act.value} on", f"{act.value} by")
    if not any(name in table.cells for name in names):
        return
    mark, on, by = (table.column(name) for name in names)
    texts: list[_Cells] = list(zip(mark, on, by, strict=True))
    meant = {text: _meant(text, known.people) for text in set(texts)}
    done = {
        text: (clock.moment(each.tick.on), each.tick.by)
        for text, each in meant.items()
        if each.tick.done
    }
    unclear = {text: (each.part, each.why) for text, each in meant.items() if each.why}
    labels = {text for text in done if folded(text[0]) in known.labels}
    for index, (text, connections) in enumerate(zip(texts, listed, strict=True)):
        if unclear and text in unclear:
            part, why = unclear[text]
            _report(Source(table, index), names[part], why, connections, gathered)
        if text not in done:
            continue
        if labels and text in labels and _is_a_side(text[0], meant[text], connections, known):
            _report(Source(table, index), names[0], a_side(text[0]), connections, gathered)
            continue
        when, name = done[text]
        for each in connections:
            rows = each.rows if len(each.rows) == 1 else (Source(table, index),)
            yield Entry("connection", each.key, each.id, act, when, name, True, rows)
    if not known.people:
        _note_initials(table, act, texts, meant, gathered)


def _is_a_side(mark: str, meant: _Meant, connections: Sequence[Connection], known: _Known) -> bool:
    """Whether a tick may name one of the sides of its joint instead: "A" does, and so may "1".

    A mark that could be a tick just as well is in doubt only where the row is for several sides.
    """
    if not connections or not (meant.initials or len(connections) > 1):
        return False
    return folded(mark) in map(folded, known.sides.of_joint(connections[0].joint_key))


def _report(
    row: Source, column: str, why: NoTick, connections: Sequence[Connection], gathered: Gathered
) -> None:
    gathered.troubles.append(
        Trouble(
            row.place(column),
            f"{column} {why.found}",
            why.remedy,
            joint=connections[0].joint if connections else "",
            sides=tuple(each.side for each in connections),
            connections=(row.text("connection"),),
        )
    )


def _note_initials(
    table: Table,
    act: Act,
    texts: Sequence[_Cells],
    meant: Mapping[_Cells, _Meant],
    gathered: Gathered,
) -> None:
    """Say what was taken for initials, where no people list can tell."""
    found = sorted({each.initials for each in meant.values()} - {""})
    if not found:
        return
    first = next(at for at, text in enumerate(texts) if meant[text].initials)
    names = quoted_list(found[:_MOST_INITIALS], "and")
    if more := found[_MOST_INITIALS:]:
        names += f", and {len(more)} more,"
    was = "was" if len(found) == 1 else "were"
    words = f"{act}: {names} {was} taken for the initials of who did it"
    gathered.notes.append((table.place(first, act.value), words))


# --- what the cells of one tick say together ---------------------------------------------------

_MARK, _NAME = 0, 2  # of the texts of a tick


def _meant(text: _Cells, people: frozenset[str]) -> _Meant:
    mark, on, by = text
    found = tick(mark)
    if found is None and folded(mark) in people:
        found = Tick(done=True, by=mark)
    if found is None:
        return _Meant(Tick(done=False), why=no_tick(mark))
    no_name = is_no_name(by) and folded(by) not in people
    name = "" if no_name or is_nothing(by) else by
    if mark and not found.done:
        return _Meant(found, why=_signed_all_the_same(mark) if on or name else None)
    if on and found.on and on != found.on:
        return _Meant(Tick(done=False), why=_two_dates(found.on, on))
    said = Tick(bool(mark or on or name), on or found.on, name or found.by)
    initials = "" if folded(found.by) in people else found.by
    if no_name:
        return _Meant(said, initials, _NAME, _without_name(by, done=said.done))
    return _Meant(said, initials)


def _signed_all_the_same(mark: str) -> NoTick:
    return NoTick(f'says "{mark}", and yet it is dated or signed', X_OR_BLANK)


def _two_dates(one: str, other: str) -> NoTick:
    return NoTick(f'gives two dates, "{one}" and "{other}"', X_OR_BLANK)


def _without_name(by: str, *, done: bool) -> NoTick:
    if done:
        return NoTick(f'"{by}" is no name', "write who did it, or leave it blank")
    return NoTick(
        f'"{by}" is no name, so it is not taken as done',
        "write who did it, or leave it blank when it is not done",
    )
