"""A tool was past its calibration date when it was used, or the reading is outside its range.

A wrench that nobody has checked for a year shows a number, not a torque; near the ends of its scale
it hardly shows that. The last day of a calibration belongs to it. The range is held against what
the tool showed, before any extension is reckoned with. Readings that were undone since are not
looked at.

Example: torque wrench TW-3 was calibrated until 1 March, and H-07 was torqued with it on 4 March.

What clears it: measure again with a tool that is in date and in range, or correct the tools list.

What it cannot see: a tool that was dropped, or that another one was used. Without a tools list it
does not run.

Source: FAA AC 43.13-1B par. 7-40: a torque wrench is calibrated at least once a year and after any
drop (second-hand); NASA-STD-5020B par. 4.8.4: in calibration before use, used within range.
"""

from collections import defaultdict
from collections.abc import Iterator, Mapping
from typing import NamedTuple

from joinmatrix.assembly.counting_acts import counting_acts
from joinmatrix.assembly.model import UNKNOWN_PAST, Assembly, Connection, Entry, Tool
from joinmatrix.assembly.moments import minutes_text
from joinmatrix.assembly.standing import standings
from joinmatrix.checks.check import Check
from joinmatrix.findings import Finding, Kind, Severity
from joinmatrix.lists.table import ListKind
from joinmatrix.names import folded, quoted_list
from joinmatrix.place import Place
from joinmatrix.readings.compare import Seen, seen
from joinmatrix.readings.ranges import in_range, range_text
from joinmatrix.readings.record import measurements
from joinmatrix.routes import telling


class _Fault(NamedTuple):
    """What is wrong with a tool: the one cause of any number of uses.

    what  "late", "no date" or "range"
    """

    tool: str
    what: str


class _Use(NamedTuple):
    """A tool used on a connection.

    place   the cell that names the tool, or that of a reading beyond its range
    showed  that reading as written
    """

    connection: Connection
    entry: Entry
    place: Place
    showed: str = ""


def out_of_calibration(assembly: Assembly) -> Iterator[Finding]:
    """One finding for each tool, fault, joint and side."""
    rows: defaultdict[str, list[Tool]] = defaultdict(list)
    for tool in assembly.tools:
        rows[tool.key].append(tool)
    uses: defaultdict[tuple[_Fault, str, str], list[_Use]] = defaultdict(list)
    stand = standings(assembly)
    for connection in assembly.connections:
        for entry in counting_acts(stand[connection.key]):
            for what, key, use in _faults(connection, entry, rows):
                uses[_Fault(key, what), connection.joint_key, connection.side].append(use)
    yield from telling.one_for_all_sides(
        _finding(fault, used, rows[fault.tool]) for (fault, _, _), used in uses.items()
    )


def _faults(
    connection: Connection, entry: Entry, rows: Mapping[str, list[Tool]]
) -> Iterator[tuple[str, str, _Use]]:
    """What is wrong with the tools of an act; a tool that no list has is left to `unlisted`."""
    dated: set[str] = set()
    for row in entry.rows:
        key = folded(row.text("tool"))
        if key in rows and key not in dated:
            dated.add(key)
            what = _date_fault(entry, rows[key])
            if what:
                yield what, key, _Use(connection, entry, row.place("tool"))
    for reading in measurements(entry):
        tools = rows.get(folded(reading.source.text("tool")), [])
        read = seen(reading)
        if isinstance(read, Seen):
            inside = [found for tool in tools if (found := in_range(read, tool)) is not None]
            if inside and not any(inside):
                showed = f"{read.number.text} {read.unit}".strip()
                yield "range", tools[0].key, _Use(connection, entry, reading.place, showed)


def _date_fault(entry: Entry, rows: list[Tool]) -> str:
    until = max(row.calibrated_until[:10] for row in rows)
    if not until:
        return "no date"
    if entry.when.low == UNKNOWN_PAST:
        return ""  # an act without a day cannot be held against one
    return "late" if minutes_text(entry.when.low)[:10] > until else ""


def _finding(fault: _Fault, uses: list[_Use], rows: list[Tool]) -> Finding:
    tool, connections = rows[0], [use.connection for use in uses]
    names = telling.names_of(connections)
    few = quoted_list(names, "and") if len(names) < 4 else f"{len(names)} connections"
    columns = ("low", "high") if fault.what == "range" else ("calibrated until",)
    listed = [row.row.place(column) for row in rows for column in columns]
    return Finding(
        Kind.OUT_OF_CALIBRATION,
        Severity.OPEN if fault.what == "no date" else Severity.HOLD,
        _message(fault.what, uses, rows, few),
        "write its calibration date in the tools list"
        if fault.what == "no date"
        else "measure again with a tool that is in date and in range, or correct the tools list",
        (*dict.fromkeys(use.place for use in uses), *dict.fromkeys(listed)),
        joint=connections[0].joint,
        sides=telling.sides_of(connections),
        connections=names,
        items=(tool.name,),
    )


def _message(what: str, uses: list[_Use], rows: list[Tool], few: str) -> str:
    name = f'tool "{rows[0].name}"'
    if what == "no date":
        return f"{name} was used on {few}, and the tools list does not say how long it is in date"
    if what == "range":
        ranges = " or ".join(dict.fromkeys(range_text(row) for row in rows))
        showed = " and ".join(dict.fromkeys(use.showed for use in uses))
        return f"{name} measures {ranges}; it is recorded with {showed} on {few}"
    until = max(row.calibrated_until[:10] for row in rows)
    first = min((use.entry.when for use in uses), key=lambda when: when.low).text
    when = f"on {first}" if len(uses) == 1 else f"from {first} on"
    return f"{name} was calibrated until {until}, and was used on {few} {when}"


CHECK = Check(Kind.OUT_OF_CALIBRATION, out_of_calibration, needs=ListKind.TOOLS, acts=True)
