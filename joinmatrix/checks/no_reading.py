"""A limit is set and no reading is recorded, although the connection is made.

"Torqued" is a word; 142 in-lbf is proof. Each limit asks for one reading, from the latest making
on: what was read before it was opened or made again tells nothing about how it is now.

Where the lists give no limit and a published table covers the size and form, a note shows the
table's figures and their source. They are for the engineer to judge and pass or fail nothing.

Example: H-07 has the limit "torque 135..150 in-lbf", is recorded as made, and has no torque.

What clears it: record the reading (measure, value, unit), or measure again.

What it cannot see: whether the reading was really taken.
"""

from collections import defaultdict
from collections.abc import Iterator

from joinmatrix.assembly.model import Assembly, Connection, Key
from joinmatrix.assembly.standing import standings
from joinmatrix.checks.check import Check
from joinmatrix.findings import Finding, Kind, Severity
from joinmatrix.names import quoted_list
from joinmatrix.readings import Limit, Outcome, counting, judged, read_limits
from joinmatrix.readings.published import Published, published
from joinmatrix.routes import telling


def no_reading(assembly: Assembly) -> Iterator[Finding]:
    """One finding for each connection, on each side, with limits unanswered; notes of tables."""
    missing: defaultdict[Key, list[Limit]] = defaultdict(list)
    for each in judged(assembly):
        if each.outcome is Outcome.MISSING:
            missing[each.connection.key].append(each.limit)
    for key, limits in missing.items():
        yield _finding(assembly, assembly.by_key[key], limits)
    yield from _published(assembly)


def _finding(assembly: Assembly, connection: Connection, limits: list[Limit]) -> Finding:
    made = standings(assembly)[connection.key].made
    assert made is not None  # a limit is judged once its connection is made
    wanted = quoted_list(dict.fromkeys(limit.text for limit in limits))
    other = _other_measures(assembly, connection)
    return Finding(
        Kind.NO_READING,
        Severity.OPEN,
        f'"{connection.id}" is made, and no reading for {wanted} is recorded since{other}',
        "record what was read, with its unit, or measure again",
        (*connection.cells("limits"), made.cell()),
        joint=connection.joint,
        sides=(connection.side,),
        connections=(connection.id,),
    )


def _other_measures(assembly: Assembly, connection: Connection) -> str:
    """The measures that were recorded and that no limit names: perhaps one is only misspelt."""
    asked = {limit.key for limit in read_limits(connection.limits).limits}
    taken = counting(assembly).get(connection.key, ())
    others = [each.measure for each in taken if each.measure and each.key not in asked]
    return f"; there is one of {quoted_list(dict.fromkeys(others), 'and')}" if others else ""


def _published(assembly: Assembly) -> Iterator[Finding]:
    unread = {trouble.place for trouble in assembly.troubles}
    covered: defaultdict[tuple[str, Published], list[Connection]] = defaultdict(list)
    for connection in assembly.connections:
        if not connection.limits and not connection.disputed & _DECIDING:
            row = published(connection)
            if row is not None and not any(
                "limits" in each.table.numbers and each.place("limits") in unread
                for each in connection.rows
            ):  # a limit that cannot be read is told as such
                covered[connection.joint_key, row].append(connection)
    for (_, row), connections in covered.items():
        yield _note(row, connections)


_DECIDING = {"limits", "type", "from size", "to size", "from end", "to end"}


def _note(row: Published, connections: list[Connection]) -> Finding:
    names = telling.names_of(connections)
    few = quoted_list(names[:3], "and") if len(names) < 4 else f"{len(names)} connections"
    return Finding(
        Kind.NO_READING,
        Severity.NOTE,
        f"no limit is given for {few}; for {row.what} a published table has {row.values} "
        f"({row.source})",
        "give the limit of the approved data; the table decides nothing here",
        telling.cells(connections, "from size", "to size"),
        joint=telling.joint_of(connections),
        sides=telling.sides_of(connections),
        connections=names,
    )


CHECK = Check(Kind.NO_READING, no_reading)
