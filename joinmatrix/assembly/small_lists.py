"""The lists beside the connections: stages, runs, differences, temporary items, people, tools."""

from collections import defaultdict
from collections.abc import Iterable, Iterator, Mapping, Sequence

from joinmatrix.assembly.gathered import Gathered
from joinmatrix.assembly.model import (
    Conflict,
    Connection,
    Difference,
    Key,
    Person,
    Run,
    Stage,
    Temporary,
    Tool,
)
from joinmatrix.assembly.sides import CENTRE, Sides
from joinmatrix.lists.table import ListKind, Source, Table
from joinmatrix.names import folded, nearest, quoted_list

# The columns in which alike sides are compared, and which an agreed difference may name.
COMPARED = (
    "type", "service", "size", "from size", "to size", "from end", "to end", "from key", "to key",
    "place", "timing", "inspect", "closed by", "limits", "critical",
)  # fmt: skip
_EXISTENCE = {"", "existence", "exists"}
# What a blank workbook offers; the sets below have all that is understood.
MAY = ("make", "inspect", "make and inspect")
_MAKE = {"make", "made", "making", "work", "mechanic"}
_INSPECT = {"inspect", "inspected", "inspection", "inspector"}
_BOTH = {"both", "all", "make and inspect", "make, inspect", "make/inspect", "make & inspect"}


def _rows(tables: Sequence[Table], kind: ListKind) -> Iterator[Source]:
    for table in tables:
        if table.kind is kind:
            for index in range(len(table.rows)):
                yield Source(table, index)


def _labels(
    row: Source,
    sides: Sides,
    gathered: Gathered,
    joint_key: str | None = None,
    column: str = "side",
) -> tuple[str, ...] | None:
    """The labels of a side cell, () when blank; None when the row had to be set aside."""
    text = row.text(column)
    labels = sides.labels(text, joint_key)
    if labels is None:
        found = f'{column} "{text}" is none that any list declares'
        gathered.refuse(row, column, found, f"write {sides.expected(joint_key)}")
    return labels


def read_stages(tables: Sequence[Table], sides: Sides, gathered: Gathered) -> tuple[Stage, ...]:
    """The stages of the stages lists, one for each side; the same stage in two lists is one."""
    rows_of: defaultdict[Key, list[Source]] = defaultdict(list)
    for row in _rows(tables, ListKind.STAGES):
        labels = _labels(row, sides, gathered)
        if labels is not None:
            for label in labels or ("",):
                rows_of[Key(folded(row.text("stage")), label)].append(row)
    merged = _merged(rows_of, ("timing", "after"), "stage", gathered)
    return tuple(
        Stage(key, rows[0].text("stage"), **merged[key], rows=tuple(rows))
        for key, rows in rows_of.items()
    )


def read_runs(
    tables: Sequence[Table], sides: Sides, connections: Iterable[Connection], gathered: Gathered
) -> tuple[Run, ...]:
    """The fixed lines inside the halves, one for each side that a row stands for."""
    if not any(table.kind is ListKind.RUNS for table in tables):
        return ()
    port_sides: defaultdict[str, list[str]] = defaultdict(list)
    for connection in connections:
        for port in (connection.from_port, connection.to_port):
            if port and connection.side not in port_sides[name := folded(port)]:
                port_sides[name].append(connection.side)
    runs = []
    for row in _rows(tables, ListKind.RUNS):
        blank = next((column for column in ("from", "to") if not row.text(column)), None)
        if blank:
            found = f'this run has no "{blank}" port'
            gathered.refuse(row, blank, found, "name the port at each of its ends")
            continue
        pairs = _run_sides(row, sides, port_sides, gathered)
        start, end = row.text("from"), row.text("to")
        for one, other in pairs or ():
            runs.append(
                Run(
                    Key(folded(start), one), Key(folded(end), other), start, end,
                    row.text("service"), row.text("half"), row,
                )
            )  # fmt: skip
    return tuple(runs)


def _run_sides(
    row: Source, sides: Sides, port_sides: Mapping[str, Sequence[str]], gathered: Gathered
) -> list[tuple[str, str]] | None:
    """The side of each end, for each side that a run stands for; None when it is set aside."""
    labels = _labels(row, sides, gathered)
    ends = [_labels(row, sides, gathered, column=f"{end} side") for end in ("from", "to")]
    if labels is None or ends[0] is None or ends[1] is None:
        return None
    if not labels and not ends[0] and not ends[1]:
        return _where_its_ports_are(row, port_sides, gathered)
    ones, others = ends[0] or labels or ends[1], ends[1] or labels or ends[0]
    if len(ones) == len(others):
        return list(zip(ones, others, strict=True))
    return [(one, other) for one in ones for other in others]


def _where_its_ports_are(
    row: Source, port_sides: Mapping[str, Sequence[str]], gathered: Gathered
) -> list[tuple[str, str]]:
    """The sides on which both ports are listed; else each side of the one with each of the other.

    A port that no connection has lies on the side of the one that is known, or on the centre line.
    """
    one, other = (port_sides.get(folded(row.text(end)), ()) for end in ("from", "to"))
    both = [label for label in one if label in other]
    if both:
        return [(label, label) for label in both]
    known = one or other or (CENTRE,)
    pairs = [(mine, yours) for mine in one or known for yours in other or known]
    if not (one and other):
        pairs = [(label, label) for label in known]
    labels = tuple(dict.fromkeys(label for pair in pairs for label in pair))
    sentence = f"this run names no side; it is taken on {quoted_list(labels, 'and')}"
    gathered.notes.append((row.place("from"), sentence))
    return pairs


def read_differences(
    tables: Sequence[Table], sides: Sides, gathered: Gathered
) -> tuple[Difference, ...]:
    """The left/right differences that engineering has accepted."""
    differences: list[Difference] = []
    for row in _rows(tables, ListKind.DIFFERENCES):
        if not row.text("connection") and not row.text("service"):
            found = "this agreed difference names no connection and no service"
            gathered.refuse(row, "connection", found, "name the connection that may differ")
            continue
        joint_key = folded(row.text("joint")) if row.text("joint") else None
        labels = _labels(row, sides, gathered, joint_key)
        if labels is None:
            continue
        column = folded(row.text("column"))
        if column not in COMPARED and column not in _EXISTENCE:
            near = nearest(column, COMPARED) or COMPARED
            found = f'column "{row.text("column")}" is none in which sides are compared'
            remedy = f"write {quoted_list(near)}, or leave it blank for its existence"
            gathered.refuse(row, "column", found, remedy)
            continue
        differences.extend(
            Difference(
                row.text("joint"),
                row.text("connection"),
                row.text("service"),
                label,
                "" if column in _EXISTENCE else column,
                row.text("reason"),
                row.text("approved by"),
                row,
            )
            for label in labels or ("",)
        )
    return tuple(differences)


def read_temporary(
    tables: Sequence[Table], sides: Sides, gathered: Gathered
) -> tuple[Temporary, ...]:
    """The items that must come off again, one for each side; one item in two lists is one."""
    rows_of: defaultdict[Key, list[Source]] = defaultdict(list)
    for row in _rows(tables, ListKind.TEMPORARY):
        joint = row.text("joint")
        labels = _labels(row, sides, gathered, folded(joint) if joint else None)
        for label in () if labels is None else labels or ("",):
            rows_of[Key(folded(row.text("temporary item")), label)].append(row)
    columns = ("joint", "type", "connection", "remove")
    merged = _merged(rows_of, columns, "temporary item", gathered)
    return tuple(
        Temporary._make((key, rows[0].text("temporary item"), *merged[key].values(), tuple(rows)))
        for key, rows in rows_of.items()
    )


def _merged(
    rows_of: Mapping[Key, Sequence[Source]],
    columns: Sequence[str],
    name_column: str,
    gathered: Gathered,
) -> dict[Key, dict[str, str]]:
    """The texts of rows that stand for one thing; where they differ, a conflict says so."""
    clashes: dict[tuple[str, tuple[Source, ...]], list[str]] = {}
    merged: dict[Key, dict[str, str]] = {}
    for key, rows in rows_of.items():
        merged[key] = {}
        for column in columns:
            filled = tuple(row for row in rows if row.text(column))
            texts = {folded(row.text(column)) for row in filled}
            merged[key][column] = min((row.text(column) for row in filled), key=folded, default="")
            if len(texts) > 1:
                clashes.setdefault((column, filled), []).append(key.side)
    for (column, filled), sides in clashes.items():
        values = tuple((row.text(column), row.place(column)) for row in filled)
        on = tuple(side for side in sides if side)
        gathered.conflicts.append(Conflict(filled[0].text(name_column), "", on, column, values))
    return merged


def read_people(tables: Sequence[Table], gathered: Gathered) -> tuple[Person, ...]:
    """Who may make and who may inspect, an entry for each."""
    people: list[Person] = []
    for row in _rows(tables, ListKind.PEOPLE):
        text = folded(row.text("may"))
        parts = {part.strip() for part in text.replace("/", ",").replace(";", ",").replace("&", ",")
                 .replace(" and ", ",").split(",")}  # fmt: skip
        may = ["make"] if parts & _MAKE or text in _BOTH else []
        may += ["inspect"] if parts & _INSPECT or text in _BOTH else []
        if not may:
            found = f'what "{row.text("person")}" may do is written "{row.text("may")}"'
            gathered.refuse(row, "may", found, 'write "make", "inspect" or "make, inspect"')
        name = row.text("person")
        people.extend(Person(folded(name), name, each, row.text("until"), row) for each in may)
    return tuple(people)


def read_tools(tables: Sequence[Table]) -> tuple[Tool, ...]:
    """The measuring tools."""
    return tuple(
        Tool(
            folded(row.text("tool")), row.text("tool"), row.text("calibrated until"),
            row.text("low"), row.text("high"), row.text("unit"), row,
        )
        for row in _rows(tables, ListKind.TOOLS)
    )  # fmt: skip
