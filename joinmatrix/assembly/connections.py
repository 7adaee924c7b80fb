"""Connection rows of several disciplines' lists to one connection for each identifier and side."""

import re
from collections.abc import Iterable, Mapping, Sequence
from functools import lru_cache

from joinmatrix.assembly.gathered import Gathered
from joinmatrix.assembly.model import Conflict, Connection, Joint, Key, Repeat, gives_size
from joinmatrix.assembly.sides import Sides
from joinmatrix.lists import words
from joinmatrix.lists.table import ListKind, Source, Table, Trouble
from joinmatrix.names import folded
from joinmatrix.place import Place

# The columns of a connection, in the order of the fields of `Connection` from `id` on.
FIELDS = (
    "connection", "joint", "type", "service", "from", "to", "from size", "to size", "from end",
    "to end", "from key", "to key", "place", "timing", "inspect", "closed by", "limits",
    "critical", "part", "remarks",
)  # fmt: skip
_JOINT, _TYPE, _SERVICE = (FIELDS.index(name) for name in ("joint", "type", "service"))
_CRITICAL, _PART, _REMARKS = (FIELDS.index(name) for name in ("critical", "part", "remarks"))

# A control or trim rod, cable, tube, chain or linkage, in the word orders of parts lists:
# "trim cable", "control push-pull rod", "cable, elevator trim".
_PARTS = r"(?:rod|cable|tube|chain|linkage)s?"
_FLIGHT_CONTROL = re.compile(
    rf"\b(?:control|trim)(?:\s+(?:push|pull|push[- ]pull|torque|drive))?\s+{_PARTS}\b"
    rf"|\b{_PARTS}\s*[,(:-]\s*(?:\w+\s+)*(?:control|trim)\b",
    re.IGNORECASE,
)

Row = tuple[str, ...]
Values = tuple[tuple[str, Place], ...]  # what was written, and where


def read_connections(
    tables: Sequence[Table], joints: Iterable[Joint], sides: Sides, gathered: Gathered
) -> tuple[Connection, ...]:
    """Every connection that the lists give, in reading order."""
    rows_of: dict[Key, list[Source]] = {}
    packed: dict[int, list[Row]] = {}
    for table in tables:
        if table.kind is ListKind.CONNECTIONS:
            packed[id(table)] = list(zip(*_columns(table), strict=True))
            _place_rows(table, sides, rows_of, gathered)
    merging = _Merging(packed, {joint.key: joint.name for joint in joints}, gathered)
    made = [merging.connection(key, rows) for key, rows in rows_of.items()]
    merging.report()
    return tuple(made)


def _columns(table: Table) -> list[Sequence[str]]:
    """The columns of a list as `FIELDS` orders them; a plain `size` is that of the listed ends."""
    has_from, has_to = any(table.column("from")), any(table.column("to"))
    columns = {name: table.column(name) for name in FIELDS}
    if "size" in table.cells:
        sizes = table.cells["size"]
        halves = [("from size", has_from), ("to size", has_to)]
        for name, described in halves:
            if described or not (has_from or has_to):
                columns[name] = [
                    own or both for own, both in zip(columns[name], sizes, strict=True)
                ]
    return [columns[name] for name in FIELDS]


def _place_rows(
    table: Table, sides: Sides, rows_of: dict[Key, list[Source]], gathered: Gathered
) -> None:
    """Put each row under the key of every connection that it stands for."""
    names, joints, side_texts = (table.column(name) for name in ("connection", "joint", "side"))
    fold = {text: folded(text) for text in {*names, *joints}}
    labels = {
        pair: sides.labels(pair[1], fold[pair[0]])
        for pair in set(zip(joints, side_texts, strict=True))
    }
    for index, (name, joint, side) in enumerate(zip(names, joints, side_texts, strict=True)):
        found = labels[joint, side]
        if not found or not name or not joint:
            _refuse(Source(table, index), sides, fold[joint], gathered)
            continue
        row = Source(table, index)
        for label in found:
            key = Key(fold[name], label)
            if key in rows_of:
                rows_of[key].append(row)
            else:
                rows_of[key] = [row]


def _refuse(row: Source, sides: Sides, joint_key: str, gathered: Gathered) -> None:
    """Set a row aside that does not say which connection, at which joint or on which side it is."""
    name, joint, side = (row.text(column) for column in ("connection", "joint", "side"))
    for column, text in (("connection", name), ("joint", joint)):
        if not text:
            found = f"this row has no {column}" + (
                f', though it says "{name or side}"' if name or side else ""
            )
            gathered.refuse(row, column, found, f"write its {column}, or clear the row")
            return
    expected = sides.expected(joint_key)
    if side:
        found = f'side "{side}" of connection "{name}" is none that joint "{joint}" has'
        remedy = f"write {expected}, or declare it in the joints list under alike sides"
    else:
        found, remedy = f'connection "{name}" has no side', f"write {expected}"
    gathered.troubles.append(
        Trouble(row.place("side"), found, remedy, joint=joint, connections=(name,))
    )
    gathered.aside.append((row, found))


class _Merging:
    """Rows of one key to one connection; keeps what disagrees until all rows are seen."""

    def __init__(
        self, packed: Mapping[int, list[Row]], joint_names: Mapping[str, str], gathered: Gathered
    ) -> None:
        self._packed = packed
        self._joint_names = joint_names
        self._gathered = gathered
        self._conflicts: dict[tuple[str, Values], list[Connection]] = {}
        self._repeats: dict[tuple[Source, ...], list[Connection]] = {}
        self._unclear: dict[Place, Trouble] = {}

    def connection(self, key: Key, rows: list[Source]) -> Connection:
        """The connection that one or several rows describe."""
        first = rows[0]
        values = self._packed[id(first.table)][first.index]
        if len(rows) == 1:
            return self._finish(key, values, (first,), frozenset())
        lists: dict[int, list[Source]] = {}
        for row in rows:
            lists.setdefault(id(row.table), []).append(row)
        merged = list(values)
        clashes, disputed = [], []
        for number, name in enumerate(FIELDS):
            texts = [self._packed[id(row.table)][row.index][number] for row in rows]
            merged[number] = _chosen(texts)
            if len({_comparable(name, text) for text in texts if text}) < 2:
                continue
            if number == _REMARKS or (number == _PART and _different_halves(rows)):
                merged[number] = _together(texts)
            else:
                disputed.append(name)
                if self._lists_differ(lists.values(), number, name):
                    clashes.append(name)
        made = self._finish(key, tuple(merged), tuple(rows), frozenset(disputed))
        for name in clashes:
            filled = [row for row in rows if _text(row, name)]
            said = tuple((_text(row, name), _cell(row, name)) for row in filled)
            plain = name.endswith(" size") and not any(row.text(name) for row in filled)
            self._conflicts.setdefault(("size" if plain else name, said), []).append(made)
        if len(lists) < len(rows):
            self._repeats.setdefault(tuple(rows), []).append(made)
        return made

    def _lists_differ(self, lists: Iterable[list[Source]], number: int, name: str) -> bool:
        """Whether two lists disagree, and not only two rows of one list (which are a repeat)."""
        said = [
            {_comparable(name, self._packed[id(row.table)][row.index][number]) for row in rows}
            - {""}
            for rows in lists
        ]
        said = [each for each in said if each]
        return len(said) > 1 and any(each != said[0] for each in said[1:])

    def _finish(
        self, key: Key, values: Row, rows: tuple[Source, ...], disputed: frozenset[str]
    ) -> Connection:
        text = values[_CRITICAL]
        joint_key = folded(values[_JOINT])
        joint = self._joint_names[joint_key]
        critical = yes_or_default(text, values[_TYPE], values[_SERVICE])
        if critical is None:
            row = next(row for row in rows if row.text("critical"))
            critical = True  # the careful reading of a word that nobody can be sure of
            self._unclear[row.place("critical")] = Trouble(
                row.place("critical"),
                f'critical "{text}" is neither yes nor no; it is taken as yes',
                'write "yes" or "no"',
                joint=joint,
                sides=(key.side,),
                connections=(values[0],),
            )
        return Connection._make(
            (key, values[0], joint, joint_key, *values[2:_CRITICAL], critical, *values[_PART:],
             rows, disputed)
        )  # fmt: skip

    def report(self) -> None:
        """Hand over what disagrees or stands twice, once for all the sides it concerns."""
        for (column, values), made in self._conflicts.items():
            labels = tuple(dict.fromkeys(each.side for each in made))
            self._gathered.conflicts.append(
                Conflict(made[0].id, made[0].joint, labels, column, values)
            )
        for rows, twice in self._repeats.items():
            cells = tuple(row.place("connection") for row in _repeated(rows))
            labels = tuple(each.side for each in twice)
            self._gathered.repeats.append(Repeat(twice[0].id, twice[0].joint, labels, cells))
        self._gathered.troubles.extend(self._unclear.values())


def _chosen(texts: Iterable[str]) -> str:
    """The text to go on with where rows differ: never a matter of which was read first."""
    return min(filter(None, texts), key=lambda text: (folded(text), text), default="")


def _together(texts: Iterable[str]) -> str:
    return " | ".join(sorted(set(filter(None, texts))))


def _repeated(rows: Iterable[Source]) -> list[Source]:
    """The rows whose list has another of them."""
    rows = list(rows)
    tables = [id(row.table) for row in rows]
    return [row for row in rows if tables.count(id(row.table)) > 1]


def _different_halves(rows: Iterable[Source]) -> bool:
    """Each list describes one half only: then each half has a part of its own."""
    return all(bool(row.text("from")) != bool(row.text("to")) for row in rows)


def _text(row: Source, name: str) -> str:
    return row.text(name) or (row.text("size") if gives_size(row, name) else "")


def _cell(row: Source, name: str) -> Place:
    return row.place("size" if gives_size(row, name) else name)


@lru_cache(maxsize=1 << 16)
def _comparable(column: str, text: str) -> str:
    """A cell as two lists are compared: case, spaces and the words for yes and no apart."""
    if column == "critical":
        answer = words.yes_no(text)
        return folded(text) if answer is None else str(answer)
    return folded(text)


def yes_or_default(text: str, kind: str, service: str) -> bool | None:
    """Whether somebody other than the maker inspects: as written, else yes for flight controls.

    return  None when the text is neither yes nor no
    source  14 CFR 121.371(b) keeps worker and inspector apart; the rest is the custom of the trade
    """
    return words.yes_no(text) if text else is_flight_control(kind, service)


def is_flight_control(kind: str, service: str) -> bool:
    """Whether type or service names a control or trim rod, cable, tube, chain or linkage."""
    return _FLIGHT_CONTROL.search(f"{kind} ; {service} {kind}") is not None
