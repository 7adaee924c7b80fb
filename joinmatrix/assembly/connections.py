"""Connection rows of several disciplines' lists to one connection for each identifier and side."""

import re
from collections.abc import Iterable, Iterator, Mapping, Sequence
from functools import lru_cache
from itertools import chain

from joinmatrix.assembly.gathered import Gathered
from joinmatrix.assembly.model import Conflict, Connection, Joint, Key, Repeat, gives_size
from joinmatrix.assembly.sides import Sides
from joinmatrix.lists import words
from joinmatrix.lists.table import ListKind, Source, Table, Trouble
from joinmatrix.names import folded, folds
from joinmatrix.place import Place
from joinmatrix.reference.spelling import one_spelling

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

_NO_COLUMNS: frozenset[str] = frozenset()
_BLANK = frozenset(("",))

Row = tuple[str, ...]
Values = tuple[tuple[str, Place], ...]  # what was written, and where


def read_connections(
    tables: Sequence[Table], joints: Iterable[Joint], sides: Sides, gathered: Gathered
) -> tuple[Connection, ...]:
    """Every connection that the lists give, in reading order."""
    rows_of: dict[Key, tuple[Source, ...]] = {}
    written: dict[int, list[Row]] = {}
    for table in tables:
        if table.kind is ListKind.CONNECTIONS:
            written[id(table)] = list(zip(*_columns(table), strict=True))
            _place_rows(table, sides, rows_of, gathered)
    merging = _Merging(written)
    values = [merging.row(number, rows) for number, rows in enumerate(rows_of.values())]
    names = {joint.key: joint.name for joint in joints}
    made = tuple(_connections(rows_of, values, merging.disputed, names, gathered))
    merging.report(made, gathered)
    return made


def _connections(
    rows_of: Mapping[Key, tuple[Source, ...]],
    values: Sequence[Row],
    disputed: Mapping[int, frozenset[str]],
    joint_names: Mapping[str, str],
    gathered: Gathered,
) -> Iterator[Connection]:
    """The connections of merged rows; what follows from a text is worked out once for each text."""
    joints = {text: folded(text) for text in {row[_JOINT] for row in values}}
    said = [(row[_CRITICAL], row[_TYPE], row[_SERVICE]) for row in values]
    critical = {texts: yes_or_default(*texts) for texts in set(said)}
    unclear: dict[Place, Trouble] = {}
    for number, (key, rows) in enumerate(rows_of.items()):
        row, is_critical = values[number], critical[said[number]]
        joint_key = joints[row[_JOINT]]
        joint = joint_names[joint_key]
        if is_critical is None:
            is_critical = True  # the careful reading of a word that nobody can be sure of
            place = next(row for row in rows if row.text("critical")).place("critical")
            unclear[place] = Trouble(
                place,
                f'critical "{row[_CRITICAL]}" is neither yes nor no; it is taken as yes',
                'write "yes" or "no"',
                joint=joint,
                sides=(key.side,),
                connections=(row[0],),
            )
        yield Connection._make(
            (key, row[0], joint, joint_key, *row[2:_CRITICAL], is_critical, *row[_PART:],
             rows, disputed.get(number, _NO_COLUMNS))
        )  # fmt: skip
    gathered.troubles.extend(unclear.values())


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
    table: Table, sides: Sides, rows_of: dict[Key, tuple[Source, ...]], gathered: Gathered
) -> None:
    """Put each row under the key of every connection that it stands for."""
    names, joints, side_texts = (table.column(name) for name in ("connection", "joint", "side"))
    fold = folds({*names, *joints})
    where = list(zip(joints, side_texts, strict=True))
    labels = {
        (joint, side): sides.labels(side, fold[joint]) if joint else ()
        for joint, side in set(where)
    }
    for index, (name, pair) in enumerate(zip(names, where, strict=True)):
        found = labels[pair]
        row = Source(table, index)
        if not found or not name:
            _refuse(row, sides, fold[pair[0]], gathered)
            continue
        first = (row,)
        for label in found:
            key = Key(fold[name], label)
            known = rows_of.setdefault(key, first)
            if known is not first:
                rows_of[key] = (*known, row)


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
    """Rows of one key to one; keeps what disagrees until all rows are seen.

    disputed  number of a connection -> the columns in which its rows disagree
    """

    def __init__(self, written: Mapping[int, Sequence[Row]]) -> None:
        self._written = written
        self.disputed: dict[int, frozenset[str]] = {}
        self._conflicts: dict[tuple[str, Values], list[int]] = {}
        self._repeats: dict[tuple[Source, ...], list[int]] = {}

    def row(self, number: int, rows: tuple[Source, ...]) -> Row:
        """The texts of a connection that one or several rows describe."""
        if len(rows) == 1:
            table, index = rows[0]
            return self._written[id(table)][index]
        lists: dict[int, list[Row]] = {}
        for table, index in rows:
            lists.setdefault(id(table), []).append(self._written[id(table)][index])
        merged: list[str] = []
        disputed, clashes = [], []
        for at, texts in enumerate(zip(*chain(*lists.values()), strict=True)):
            different = {*texts} - _BLANK
            if len(different) < 2:
                merged.append(next(iter(different), ""))
                continue
            merged.append(_chosen(different))
            if len({_comparable(FIELDS[at], text) for text in different}) < 2:
                continue
            if at == _REMARKS or (at == _PART and _different_halves(rows)):
                merged[at] = _together(different)
            else:
                disputed.append(FIELDS[at])
                if _lists_differ(lists.values(), at):
                    clashes.append(FIELDS[at])
        if disputed:
            self.disputed[number] = frozenset(disputed)
        for name in clashes:
            filled = [row for row in rows if _text(row, name)]
            said = tuple((_text(row, name), _cell(row, name)) for row in filled)
            plain = name.endswith(" size") and not any(row.text(name) for row in filled)
            self._conflicts.setdefault(("size" if plain else name, said), []).append(number)
        if len(lists) < len(rows):
            self._repeats.setdefault(rows, []).append(number)
        return tuple(merged)

    def report(self, made: Sequence[Connection], gathered: Gathered) -> None:
        """Hand over what disagrees or stands twice, once for all the sides it concerns."""
        for (column, values), numbers in self._conflicts.items():
            first = made[numbers[0]]
            labels = tuple(dict.fromkeys(made[number].side for number in numbers))
            gathered.conflicts.append(Conflict(first.id, first.joint, labels, column, values))
        for rows, numbers in self._repeats.items():
            first = made[numbers[0]]
            cells = tuple(row.place("connection") for row in _repeated(rows))
            labels = tuple(made[number].side for number in numbers)
            gathered.repeats.append(Repeat(first.id, first.joint, labels, cells))


def _lists_differ(lists: Iterable[list[Row]], at: int) -> bool:
    """Whether two lists disagree, and not only two rows of one list (which are a repeat)."""
    said = [{_comparable(FIELDS[at], row[at]) for row in rows} - _BLANK for rows in lists]
    said = [each for each in said if each]
    return len(said) > 1 and any(each != said[0] for each in said[1:])


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
    """A cell as two lists are compared: in one spelling, and yes and no in one word for each."""
    if column == "critical":
        answer = words.yes_no(text)
        return folded(text) if answer is None else str(answer)
    return one_spelling(column, text)


def yes_or_default(text: str, kind: str, service: str) -> bool | None:
    """Whether somebody other than the maker inspects: as written, else yes for flight controls.

    return  None when the text is neither yes nor no
    source  14 CFR 121.371(b) keeps worker and inspector apart; the rest is the custom of the trade
    """
    return words.yes_no(text) if text else is_flight_control(kind, service)


def is_flight_control(kind: str, service: str) -> bool:
    """Whether type or service names a control or trim rod, cable, tube, chain or linkage."""
    text = f"{kind} ; {service} {kind}".lower()
    # Most have neither word, and to look for two words is quicker than to try the pattern.
    return ("control" in text or "trim" in text) and _FLIGHT_CONTROL.search(text) is not None
