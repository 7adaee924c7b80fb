"""A temporary item has not been removed; it holds when its time has passed.

A cap left on a line, a lock pin left in a control, a sling left in a bay: nothing looks missing,
and the first flight or the first run finds it. An item holds when a stage has started that its
removal had to precede, and when it blanks off a connection that is recorded as made: one of the
two cannot be true.

Example: cap "CAP-12" blanks off line H-07 and must come off before "tail cone mate"; the mate was
started, and nobody has recorded its removal.

What clears it: take it off and record that.

What it cannot see: an item that no list names, or one that was taken off and put back without a
record. Without a temporary list it does not run.
"""

from collections import defaultdict
from collections.abc import Iterable, Iterator, Mapping
from typing import NamedTuple

from joinmatrix.assembly.model import Act, Assembly, Connection, Entry, Key, Temporary
from joinmatrix.assembly.standing import standings
from joinmatrix.checks.check import Check
from joinmatrix.findings import Finding, Kind, Severity
from joinmatrix.lists.table import ListKind
from joinmatrix.names import quoted_list
from joinmatrix.place import Place
from joinmatrix.routes import telling
from joinmatrix.timing.bounds import scope
from joinmatrix.timing.judge import Passed, judge, removals
from joinmatrix.timing.late import late_cells, late_stages, why_late
from joinmatrix.timing.order import Order, order
from joinmatrix.timing.rules import Unread
from joinmatrix.timing.stages import names_of, rule_names
from joinmatrix.timing.wording import on_text


class _Blanked(NamedTuple):
    """A connection that an item blanks off, and its making."""

    connection: Connection
    made: Entry


def left_fitted(assembly: Assembly) -> Iterator[Finding]:
    """One finding for each item that is not off, and for each that came off too late to be true."""
    yield from telling.one_for_all_sides(_findings(assembly))


def _findings(assembly: Assembly) -> Iterator[Finding]:
    off, passed = removals(assembly), judge(assembly).passed
    history = _history(assembly)
    for item in assembly.temporary:
        blanked = list(_blanked(assembly, item))
        removed = off.get(item.key)
        if removed is not None:
            yield from _off_too_late(item, removed, _not_in_rule(assembly, item, blanked))
            continue
        late = [
            each
            for each in passed.get(("item", item.key), ())
            if each.bound.rule.column != "connection"  # told below, with the making
        ]
        yield _on(assembly, item, history.get(item.key, []), late, blanked)


def _history(assembly: Assembly) -> Mapping[Key, list[Entry]]:
    found: defaultdict[Key, list[Entry]] = defaultdict(list)
    for entry in assembly.entries:
        if entry.subject == "item":
            found[entry.key].append(entry)
    return found


def _blanked(assembly: Assembly, item: Temporary) -> Iterator[_Blanked]:
    """The connections behind an item that are recorded as made."""
    if not item.connection:
        return
    names = names_of(assembly)
    read = names.reader.name_list(item.connection)
    for name in () if isinstance(read, Unread) else read:
        for ref in scope(names, name, item.key.side):
            made = standings(assembly)[ref.key].made if ref.subject == "connection" else None
            if made is not None:
                yield _Blanked(assembly.by_key[ref.key], made)


def _on(
    assembly: Assembly,
    item: Temporary,
    history: list[Entry],
    late: list[Passed],
    blanked: list[_Blanked],
) -> Finding:
    message, acts = _state(item, history)
    if late:
        message += "; " + why_late(assembly, item.key.side, late[0])
    if blanked:
        names = quoted_list([each.connection.id for each in blanked], "and")
        verb = "is" if len(blanked) == 1 else "are"
        message += (
            f"; it blanks off {names}, which {verb} recorded as made"
            f"{on_text(blanked[0].made.when)}: both cannot be true"
        )
    clears = f'take off "{item.name}" and record its removal'
    if late or blanked:
        clears = (
            f'find out whether "{item.name}" is off; if so record its removal, if not take it off '
            "before work goes on, opening up again what is in the way"
        )
    places = (
        *(row.place("temporary item") for row in item.rows),
        *(entry.cell() for entry in acts),
        *late_cells(item.rows, late),
        *(each.made.cell() for each in blanked),
    )
    severity = Severity.HOLD if late or blanked else Severity.OPEN
    return _finding(item, severity, message, clears, places, blanked, late_stages(late))


def _state(item: Temporary, history: list[Entry]) -> tuple[str, list[Entry]]:
    """How the item stands, and the entries that say so."""
    what = f'"{item.name}"' + (f" ({item.type})" if item.type else "")
    fitted = [entry for entry in history if entry.act is Act.FITTED]
    removed = [entry for entry in history if entry.act is Act.REMOVED]
    if not fitted:
        return f"{what} is not recorded as removed", []
    on = max(fitted, key=lambda entry: entry.when.low)
    if not removed:
        return f"{what} was fitted{on_text(on.when)} and is not removed", [on]
    before = max(removed, key=lambda entry: entry.when.low)
    return (
        f"{what} was removed{on_text(before.when)} and fitted{on_text(on.when)}, so it is on",
        [on, before],
    )


def _not_in_rule(
    assembly: Assembly, item: Temporary, blanked: list[_Blanked]
) -> Iterator[_Blanked]:
    """Those that no rule for its removal names: against the others the removal is judged anyway.

    Without a rule that is each of them.
    """
    if item.remove:
        named = {name.key for name in rule_names(names_of(assembly).reader, item.remove)}
        yield from (each for each in blanked if each.connection.key.name not in named)


def _off_too_late(
    item: Temporary, removed: Entry, blanked: Iterable[_Blanked]
) -> Iterator[Finding]:
    """A note where the record takes an item off after what it blanks off was made."""
    for each in blanked:
        if order(removed.when, each.made.when) is Order.BROKEN:
            message = (
                f'"{item.name}" blanks off "{each.connection.id}", which was made'
                f"{on_text(each.made.when)}; it is recorded as removed only{on_text(removed.when)}"
            )
            clears = f'look whether "{each.connection.id}" is made, and correct the record'
            places = (removed.cell(), each.made.cell())
            yield _finding(item, Severity.NOTE, message, clears, places, [each])


def _finding(
    item: Temporary,
    severity: Severity,
    message: str,
    clears: str,
    places: tuple[Place, ...],
    blanked: list[_Blanked],
    stages: tuple[str, ...] = (),
) -> Finding:
    connections = [each.connection for each in blanked]
    return Finding(
        Kind.LEFT_FITTED,
        severity,
        message,
        clears,
        tuple(dict.fromkeys(places)),
        joint=item.joint or telling.joint_of(connections),
        sides=(item.key.side,) if item.key.side else (),
        connections=telling.names_of(connections),
        stages=stages,
        items=(item.name,),
    )


CHECK = Check(Kind.LEFT_FITTED, left_fitted, needs=ListKind.TEMPORARY, acts=True)
