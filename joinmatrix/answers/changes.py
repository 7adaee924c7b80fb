"""What a new issue of the lists adds, drops and alters, and which recorded work it undoes.

Both issues are held against one record: that of the new issue, or that of the old one when the new
comes without. What the record breaks or no longer proves under the new lists, and did not under
the old ones, is what the new issue undoes.
"""

from collections import Counter, defaultdict
from collections.abc import Callable, Hashable, Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from typing import NamedTuple

from joinmatrix.assembly.connections import FIELDS
from joinmatrix.assembly.model import Assembly, Connection, Entry, Key
from joinmatrix.assembly.standing import standings
from joinmatrix.checks.registry import ALL
from joinmatrix.findings import Finding, Kind, Severity
from joinmatrix.lists.table import ListKind, Source
from joinmatrix.names import folded
from joinmatrix.place import Place
from joinmatrix.reference.spelling import one_spelling
from joinmatrix.routes import telling
from joinmatrix.timing.wording import on_text

# Columns that say what is joined and how; an inspection looked at exactly these.
PHYSICAL = (
    "type", "from", "to", "from size", "to size", "from end", "to end", "from key", "to key",
)  # fmt: skip
# Kinds that can be about what the record says, as against the lists alone.
_OF_RECORD = frozenset(
    (
        Kind.MIS_SEQUENCED, Kind.UNPROVEN, Kind.CROSSED, Kind.BROKEN_ROUTE, Kind.JOINED_ROUTES,
        Kind.SELF_INSPECTED, Kind.OUT_OF_LIMITS, Kind.NO_READING, Kind.UNLISTED,
        Kind.NOT_AUTHORISED, Kind.OUT_OF_CALIBRATION, Kind.UNREADABLE,
    )
)  # fmt: skip
# Lists that a new issue may leave out: then the old ones still stand.
_CARRIED: Mapping[ListKind, str] = {
    ListKind.STAGES: "stages",
    ListKind.RUNS: "runs",
    ListKind.DIFFERENCES: "differences",
    ListKind.TEMPORARY: "temporary",
    ListKind.PEOPLE: "people",
    ListKind.TOOLS: "tools",
}


class Listed(NamedTuple):
    """A thing that one of the two issues has and the other has not.

    what    the list it is in: "connection", "stage", "run", ...
    places  its cells
    """

    what: str
    name: str
    side: str
    joint: str
    places: tuple[Place, ...]


class Altered(NamedTuple):
    """A column that the two issues have differently; "connection" for a new identifier.

    name    in the new issue
    places  the old cells, then the new ones
    """

    what: str
    name: str
    side: str
    joint: str
    column: str
    old: str
    new: str
    places: tuple[Place, ...]


@dataclass(frozen=True)
class Changes:
    """What became of the lists from one issue to the next.

    undone       findings on recorded work that the new issue brings about
    not_compared kinds of list that only one of the two issues has
    """

    added: tuple[Listed, ...] = ()
    dropped: tuple[Listed, ...] = ()
    altered: tuple[Altered, ...] = ()
    undone: tuple[Finding, ...] = ()
    not_compared: tuple[ListKind, ...] = ()

    @property
    def exit_code(self) -> int:
        """1 when recorded work no longer holds, else 0."""
        return int(any(finding.severity is Severity.HOLD for finding in self.undone))


class _Thing(NamedTuple):
    """One row of either issue, made comparable.

    key     what it is known by within its list
    values  the texts of the columns of its list
    rows    where it was read, and the heading of its name
    like    what is as good as a name where the name is new; None where nothing is
    """

    key: Hashable
    name: str
    side: str
    joint: str
    values: tuple[str, ...]
    rows: tuple[Source, ...]
    heading: str
    like: tuple[Hashable, ...]

    def cells(self, column: str = "") -> tuple[Place, ...]:
        """The cells of a column; those of the name where the list does not have it."""
        return tuple(row.place(self._heading(row, column)) for row in self.rows)

    def _heading(self, row: Source, column: str) -> str:
        either = (column, "size", "from size") if column.endswith("size") else (column,)
        return next((name for name in either if name in row.table.numbers), self.heading)


class _Kind(NamedTuple):
    """A kind of list: how its things are compared."""

    what: str
    given: ListKind
    columns: tuple[str, ...]
    things: Callable[[Assembly], Iterator[_Thing]]


def changes(old: Assembly, new: Assembly) -> Changes:
    """Everything that differs between two issues of the lists; see the module."""
    added: list[Listed] = []
    dropped: list[Listed] = []
    altered: list[Altered] = []
    renamed: dict[Key, Key] = {}
    not_compared: list[ListKind] = []
    for kind in _KINDS:
        if (kind.given in old.given) != (kind.given in new.given):
            not_compared.append(kind.given)
            continue
        before = {thing.key: thing for thing in kind.things(old)}
        after = {thing.key: thing for thing in kind.things(new)}
        gone = [thing for key, thing in before.items() if key not in after]
        come = [thing for key, thing in after.items() if key not in before]
        pairs = list(_renamed(gone, come))
        for was, now in pairs:
            altered.append(_new_name(kind, was, now))
            if kind.what == "connection":
                renamed[_key(was)] = _key(now)
        paired = {id(thing) for pair in pairs for thing in pair}
        dropped += [_listed(kind, thing) for thing in gone if id(thing) not in paired]
        added += [_listed(kind, thing) for thing in come if id(thing) not in paired]
        pairs += [(thing, after[key]) for key, thing in before.items() if key in after]
        for was, now in pairs:
            if was.values != now.values:
                altered += _altered(kind, was, now)
    return Changes(
        tuple(added),
        tuple(dropped),
        tuple(altered),
        tuple(_undone(old, new, renamed)),
        tuple(not_compared),
    )


def _key(thing: _Thing) -> Key:
    return Key(folded(thing.name), thing.side)


def _listed(kind: _Kind, thing: _Thing) -> Listed:
    return Listed(kind.what, thing.name, thing.side, thing.joint, thing.cells())


def _new_name(kind: _Kind, was: _Thing, now: _Thing) -> Altered:
    return Altered(
        kind.what, now.name, now.side, now.joint, kind.what, was.name, now.name,
        (*was.cells(), *now.cells()),
    )  # fmt: skip


def _altered(kind: _Kind, was: _Thing, now: _Thing) -> Iterator[Altered]:
    differing = {
        column: (one, other)
        for column, one, other in zip(kind.columns, was.values, now.values, strict=True)
        if one != other and folded(one) != folded(other)
    }
    if "from size" in differing and differing["from size"] == differing.get("to size"):
        # A plain size is that of both ends, and one change.
        differing = {column: pair for column, pair in differing.items() if column != "to size"}
        differing = {
            "size" if column == "from size" else column: pair for column, pair in differing.items()
        }
    for column, (one, other) in differing.items():
        yield Altered(
            kind.what, now.name, now.side, now.joint, column, one, other,
            (*was.cells(column), *now.cells(column)),
        )  # fmt: skip


def _renamed(gone: Sequence[_Thing], come: Sequence[_Thing]) -> Iterator[tuple[_Thing, _Thing]]:
    """Things with a new name: what is as good as a name belongs to one of each, and to no other.

    The first sign (both ports) is tried on all before the next (everything else being equal).
    """
    if not gone or not come:
        return
    taken: set[int] = set()
    for number in range(max(len(thing.like) for thing in (*gone, *come))):
        before, after = _by_sign(gone, number, taken), _by_sign(come, number, taken)
        for sign, ours in before.items():
            theirs = after.get(sign, [])
            if len(ours) == len(theirs) == 1:
                taken |= {id(ours[0]), id(theirs[0])}
                yield ours[0], theirs[0]


def _by_sign(
    things: Iterable[_Thing], number: int, taken: set[int]
) -> dict[Hashable, list[_Thing]]:
    found: defaultdict[Hashable, list[_Thing]] = defaultdict(list)
    for thing in things:
        sign = thing.like[number] if number < len(thing.like) else None
        if sign is not None and id(thing) not in taken:
            found[sign].append(thing)
    return found


# --- the lists made comparable -----------------------------------------------------------------

_COLUMNS = FIELDS[1:]  # of a connection, without its identifier
_AT = {name: number for number, name in enumerate(_COLUMNS)}


def _connections(assembly: Assembly) -> Iterator[_Thing]:
    for each in assembly.connections:
        # The fields of a connection stand as in FIELDS, with the folded joint behind the joint.
        values = (
            each.joint,
            *each[4:19],
            "yes" if each.critical else "no",
            each.part,
            each.remarks,
        )
        yield _Thing(
            each.key, each.id, each.key.side, each.joint, values, each.rows, "connection",
            (_ports_of(each), _all_else(each, values)),
        )  # fmt: skip


def _ports_of(each: Connection) -> Hashable:
    if not each.from_port or not each.to_port:
        return None
    ends = frozenset((folded(each.from_port), folded(each.to_port)))
    return each.joint_key, each.key.side, ends


def _all_else(each: Connection, values: tuple[str, ...]) -> Hashable:
    """Everything but name, ports, part and remarks; too little when hardly anything is filled."""
    plain = values[: _AT["part"]]
    filled = [text for text in plain if text]
    said = tuple(
        folded(text)
        for name, text in zip(_COLUMNS, plain, strict=False)
        if name not in ("from", "to")
    )
    return (each.key.side, said) if len(filled) > 4 else None


def _stages(assembly: Assembly) -> Iterator[_Thing]:
    for each in assembly.stages:
        values = (each.timing, each.after)
        like = (each.key.side, *map(folded, values)) if any(values) else None
        yield _Thing(each.key, each.name, each.key.side, "", values, each.rows, "stage", (like,))


def _runs(assembly: Assembly) -> Iterator[_Thing]:
    seen: Counter[Hashable] = Counter()
    for each in assembly.runs:
        ends = frozenset((each.start, each.end))
        seen[ends] += 1  # the same run twice is two things
        side = each.start.side if each.start.side == each.end.side else ""
        yield _Thing(
            (ends, seen[ends]), f"{each.from_port} - {each.to_port}", side, "",
            (each.service, each.half), (each.row,), "from", (),
        )  # fmt: skip


def _temporary(assembly: Assembly) -> Iterator[_Thing]:
    for each in assembly.temporary:
        values = (each.joint, each.type, each.connection, each.remove)
        yield _Thing(
            each.key, each.name, each.key.side, each.joint, values, each.rows, "temporary item", ()
        )


def _differences(assembly: Assembly) -> Iterator[_Thing]:
    for each in assembly.differences:
        name = each.connection or each.service
        key = tuple(
            map(folded, (each.joint, each.connection, each.service, each.side, each.column))
        )
        values = (each.reason, each.approved_by)
        heading = "connection" if each.connection else "service"
        yield _Thing(key, name, each.side, each.joint, values, (each.row,), heading, ())


def _people(assembly: Assembly) -> Iterator[_Thing]:
    seen: Counter[Hashable] = Counter()
    for each in assembly.people:
        key = (each.key, each.may)
        seen[key] += 1
        yield _Thing(
            (key, seen[key]), f"{each.name} ({each.may})", "", "", (each.until,), (each.row,),
            "person", (),
        )  # fmt: skip


def _tools(assembly: Assembly) -> Iterator[_Thing]:
    seen: Counter[str] = Counter()
    for each in assembly.tools:
        seen[each.key] += 1
        values = (each.calibrated_until, each.low, each.high, each.unit)
        yield _Thing((each.key, seen[each.key]), each.name, "", "", values, (each.row,), "tool", ())


_KINDS = (
    _Kind("connection", ListKind.CONNECTIONS, _COLUMNS, _connections),
    _Kind("stage", ListKind.STAGES, ("timing", "after"), _stages),
    _Kind("run", ListKind.RUNS, ("service", "half"), _runs),
    _Kind(
        "temporary item", ListKind.TEMPORARY, ("joint", "type", "connection", "remove"), _temporary
    ),
    _Kind("agreed difference", ListKind.DIFFERENCES, ("reason", "approved by"), _differences),
    _Kind("person", ListKind.PEOPLE, ("until",), _people),
    _Kind("tool", ListKind.TOOLS, ("calibrated until", "low", "high", "unit"), _tools),
)

# --- what the new issue undoes -----------------------------------------------------------------


def _undone(old: Assembly, new: Assembly, renamed: Mapping[Key, Key]) -> list[Finding]:
    source = old if new.plan_only else new
    if source.plan_only:
        return []
    back = {now: was for was, now in renamed.items()}
    before = _with_record(old, source, back)
    after = _with_record(_carried(old, new), source, renamed)
    known = {_sign(finding) for finding in _findings(before)}
    # A finding on a connection with a new name is the one that it had under its old name.
    names = {now.name: was.name for was, now in renamed.items()}
    found = [
        finding
        for finding in _findings(after)
        if _sign(finding) not in known and _sign(finding, names) not in known
    ]
    found += _no_longer_covered(before, after, renamed)
    return sorted(found, key=lambda finding: finding.sort_key)


def _carried(old: Assembly, new: Assembly) -> Assembly:
    """The new issue, with those lists of the old one that it does not have."""
    kept = [kind for kind in _CARRIED if kind in old.given and kind not in new.given]
    fields = {_CARRIED[kind]: getattr(old, _CARRIED[kind]) for kind in kept}
    return replace(new, given=new.given | frozenset(kept), **fields)


def _with_record(lists: Assembly, source: Assembly, names: Mapping[Key, Key]) -> Assembly:
    """The lists of one issue with the record of another, its names brought over."""

    def brought_over(entry: Entry) -> Entry:
        if entry.subject != "connection" or entry.key in lists.by_key or entry.key not in names:
            return entry
        return entry._replace(key=names[entry.key])

    record = {ListKind.RECORD} & source.given
    return replace(
        lists,
        entries=tuple(map(brought_over, source.entries)),
        given=lists.given | record,
        plan_only=False,
        as_of=source.as_of,
        unit=source.unit,
    )


def _findings(assembly: Assembly) -> Iterator[Finding]:
    """What the checks say of the recorded work."""
    recorded = {entry.key.name for entry in assembly.entries if entry.subject == "connection"}
    for check in ALL:
        if check.kind in _OF_RECORD and (check.needs is None or check.needs in assembly.given):
            for finding in check.run(assembly):
                counts = finding.severity is not Severity.NOTE or finding.kind is Kind.UNPROVEN
                about = {folded(name) for name in finding.connections}
                if counts and (about & recorded or not about):
                    yield finding


def _sign(finding: Finding, names: Mapping[str, str] | None = None) -> Hashable:
    """What makes a finding the same in both issues, whatever its words and cells."""
    connections = frozenset(map(folded, finding.connections))
    if names is not None:
        connections = frozenset(names.get(name, name) for name in connections)
    return (
        finding.kind, folded(finding.joint), frozenset(finding.sides), connections,
        frozenset(map(folded, finding.stages)), frozenset(map(folded, finding.items)),
    )  # fmt: skip


def _no_longer_covered(
    before: Assembly, after: Assembly, renamed: Mapping[Key, Key]
) -> Iterator[Finding]:
    """Connections that were made or inspected as something else than is listed now."""
    stand = standings(after)
    for was in before.connections:
        now = after.by_key.get(renamed.get(was.key, was.key))
        if now is None or stand[now.key].made is None:
            continue
        columns = [column for column in PHYSICAL if _other_thing(was, now, column)]
        if columns:
            yield _as_something_else(was, now, columns, after)


def _other_thing(was: Connection, now: Connection, column: str) -> bool:
    """Whether both issues say what it is, and differently.

    Filling a blank undoes nothing, and neither does another spelling.
    """
    one, other = (one_spelling(column, _value(each, column)) for each in (was, now))
    return bool(one) and bool(other) and one != other


_FIELD_OF = {"from": "from_port", "to": "to_port"}


def _value(connection: Connection, column: str) -> str:
    return str(getattr(connection, _FIELD_OF.get(column, column.replace(" ", "_"))))


def _as_something_else(
    was: Connection, now: Connection, columns: Sequence[str], after: Assembly
) -> Finding:
    standing = standings(after)[now.key]
    act = standing.inspected or standing.made
    assert act is not None  # only what is made comes here
    name = f'"{now.id}"' if was.id == now.id else f'"{now.id}" (before: "{was.id}")'
    differs = "; ".join(_from_to(was, now, column) for column in columns)
    inspected = standing.inspected is not None
    return Finding(
        Kind.LAPSED if inspected else Kind.UNINSPECTED,
        Severity.HOLD if inspected else Severity.OPEN,
        f"{name} was {act.act}{on_text(act.when)} as the old issue has it, and the new one alters "
        f"it: {differs}",
        "look whether what is there is what the new issue asks for; make it again if not, and "
        "inspect it",
        (*telling.cells((now,), *columns), act.cell(), *telling.cells((was,), *columns)),
        joint=now.joint,
        sides=(now.side,),
        connections=(now.id,),
    )


def _from_to(was: Connection, now: Connection, column: str) -> str:
    return f'{column} "{_value(was, column)}" became "{_value(now, column)}"'
