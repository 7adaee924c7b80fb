"""What the record says each made connection was actually mated to."""

import re
from collections import defaultdict
from collections.abc import Collection, Iterable, Iterator, Mapping
from dataclasses import dataclass
from functools import lru_cache
from typing import NamedTuple

from joinmatrix.assembly.model import Act, Assembly, Connection, Entry, Key
from joinmatrix.assembly.ports import Ports, designed_routes, links_of_routes, port_names, ports
from joinmatrix.assembly.standing import Standing, standings
from joinmatrix.lists import words
from joinmatrix.lists.table import Source, Trouble
from joinmatrix.names import Nearest, folded, quoted_list
from joinmatrix.place import Place

COLUMN = "mated to"
# Between several ports in one cell: one mark at a time, for a port can be called "J1/P1"; then all.
_MARKS = (r"\s+and\s+", "&", ",", ";", "/", r"\+")
_BETWEEN_PORTS = tuple(re.compile(mark, re.IGNORECASE) for mark in (*_MARKS, "|".join(_MARKS)))


class Mate(NamedTuple):
    """A made connection that was found at another port than the listed one.

    port        the port that was found
    start, end  the two ports that are joined in truth. `mated to` is the port at the other end:
                seen from `from`, except where a port of the joint's `from` half is named; then the
                entry was written at the other half, and it is seen from `to`
    cells       the `mated to` cells that say so
    """

    connection: Connection
    port: Key
    start: Key
    end: Key
    cells: tuple[Place, ...]

    @property
    def missed(self) -> Key:
        """The listed port that was not found at the other end."""
        listed = self.connection
        return listed.to_key_port if self.end == self.port else listed.from_key_port


class Doubled(NamedTuple):
    """A made connection that the record mates to several ports at once."""

    connection: Connection
    ports: tuple[Key, ...]
    cells: tuple[Place, ...]


class SelfMated(NamedTuple):
    """A made connection whose port the record mates to itself."""

    connection: Connection
    cells: tuple[Place, ...]


@dataclass(frozen=True, slots=True)
class Mates:
    """What `mated to` adds to the lists.

    wrong      made, and found at another port than listed
    doubled    two different ports since the latest making
    to_itself  a port found at its own other end
    faults     texts that name no port
    """

    wrong: tuple[Mate, ...] = ()
    doubled: tuple[Doubled, ...] = ()
    to_itself: tuple[SelfMated, ...] = ()
    faults: tuple[Trouble, ...] = ()


def faults(assembly: Assembly) -> tuple[Trouble, ...]:
    """Cells of the record that name a port which no list has."""
    return mates(assembly).faults


@lru_cache(maxsize=8)
def mates(assembly: Assembly) -> Mates:
    """What the record says about the other end of each connection that is made now."""
    if assembly.plan_only:
        return Mates()
    named = {entry.key for entry in assembly.entries if _mate_rows(entry)}
    if not named:
        return Mates()
    reader = _Reader(assembly)
    standing = standings(assembly)
    for key in named:
        if key in standing and standing[key].made is not None:
            reader.read(assembly.by_key[key], standing[key])
    return reader.mates()


def _mate_rows(entry: Entry) -> list[Source]:
    """The rows of an entry that say what was found at the other end."""
    if entry.subject != "connection" or entry.tick:
        return []
    return [row for row in entry.rows if row.text(COLUMN)]


def _since_made(standing: Standing) -> Iterator[Source]:
    """Rows with a `mated to`, from the making that counts on: whoever looks later may find it."""
    counts = False
    for entry in standing.history:
        counts = counts or entry is standing.made
        if counts and entry.act is not Act.PLACED:
            yield from _mate_rows(entry)


def said_ports(assembly: Assembly, connection: Connection) -> tuple[tuple[str, Place], ...]:
    """What the record says a connection made now was found at, as written, with the cells."""
    standing = standings(assembly)[connection.key]
    if standing.made is None:
        return ()
    return tuple((row.text(COLUMN), row.place(COLUMN)) for row in _since_made(standing))


class _Reader:
    """Sorts what the record says by what it comes to."""

    def __init__(self, assembly: Assembly) -> None:
        self._assembly = assembly
        self._wrong: list[Mate] = []
        self._doubled: list[Doubled] = []
        self._to_itself: list[SelfMated] = []
        self._faults: list[Trouble] = []

    def mates(self) -> Mates:
        """All that was read, in reading order of the connections."""
        found: list[Mate | Doubled | SelfMated]
        found = [*self._wrong, *self._doubled, *self._to_itself]
        keys = {each.connection.key for each in found}
        order = {key: number for number, key in enumerate(self._assembly.by_key) if key in keys}

        def rank(each: Mate | Doubled | SelfMated) -> int:
            return order[each.connection.key]

        return Mates(
            tuple(sorted(self._wrong, key=rank)),
            tuple(sorted(self._doubled, key=rank)),
            tuple(sorted(self._to_itself, key=rank)),
            tuple(sorted(self._faults, key=lambda each: each.place)),
        )

    def read(self, connection: Connection, standing: Standing) -> None:
        """What the rows since the latest making say about one connection."""
        if bool(connection.from_port) != bool(connection.to_port):
            return  # one-ended, which is the fault to settle first
        found: defaultdict[Key, list[Place]] = defaultdict(list)
        for row in _since_made(standing):
            for port in self._ports(connection, row):
                found[port].append(row.place(COLUMN))
        start, end = connection.from_key_port, connection.to_key_port
        if not connection.from_port or not connection.to_port or start == end:
            return  # without ports, or listed as its own mate: that is the fault to settle first
        if connection.disputed & {"from", "to"}:
            return
        cells = tuple(dict.fromkeys(place for places in found.values() for place in places))
        if start in found:
            self._to_itself.append(SelfMated(connection, tuple(found[start])))
        elif len(found) > 1:
            self._doubled.append(Doubled(connection, tuple(found), cells))
        elif found and end not in found:
            (port,) = found
            self._wrong.append(self._mate(connection, port, cells))

    def _mate(self, connection: Connection, port: Key, cells: tuple[Place, ...]) -> Mate:
        if self._on_from_half(connection, port):
            return Mate(connection, port, port, connection.to_key_port, cells)
        return Mate(connection, port, connection.from_key_port, port, cells)

    def _on_from_half(self, connection: Connection, port: Key) -> bool:
        """Whether the connection's own joint has the port as a `from`, and not as a `to`.

        At another joint the same half may be the other one: a wing is `to` at its root and `from`
        at its tip.
        """
        known = ports(self._assembly)
        number, found = known.number(port), False
        route = designed_routes(self._assembly)[number]
        for index in links_of_routes(self._assembly).get(route, ()):
            link = known.link(index)
            if isinstance(link, Connection) and link.joint_key == connection.joint_key:
                if known.ends[index] == number:
                    return False
                found = found or known.starts[index] == number
        return found

    def _ports(self, connection: Connection, row: Source) -> Collection[Key]:
        """The port that a row names, or several; what names none becomes a fault."""
        text = row.text(COLUMN)
        candidates = self._meant(connection, text)
        if len(candidates) == 1:
            return candidates
        if not candidates and (several := self._several(connection, text)):
            return several
        self._faults.append(
            Trouble(
                row.place(COLUMN),
                *unknown_port(self._assembly, text, connection.side),
                joint=connection.joint,
                sides=(connection.side,),
                connections=(connection.id,),
            )
        )
        return ()

    def _meant(self, connection: Connection, text: str) -> tuple[Key, ...]:
        if folded(text) == folded(connection.to_port):
            return (connection.to_key_port,)
        return candidate_ports(self._assembly, text, connection.side)

    def _several(self, connection: Connection, text: str) -> dict[Key, None]:
        """The ports in "W3 and W4" or "W3, W4"; none where a part of the text is no single port.

        Its own `from` beside another is where it comes from: "H1/W1" is H1 mated to W1.
        """
        own = connection.from_key_port
        for separator in _BETWEEN_PORTS:
            parts = [part for part in separator.split(text) if part.strip()]
            meant = [self._meant(connection, part) for part in parts]
            if len(parts) > 1 and all(len(ports) == 1 for ports in meant):
                named = dict.fromkeys(port for ports in meant for port in ports)
                return {port: None for port in named if port != own} or named
        return {}


def candidate_ports(assembly: Assembly, text: str, side: str | None) -> tuple[Key, ...]:
    """The ports that a text can mean, seen from a side: one is an answer, several are not.

    side  None when there is no side to see it from
    The port of that name on the own side; else the side that the text itself names ("B7 R"); else
    the sides that have a port of that name.
    """
    known = ports(assembly)
    name = folded(text)
    if side is not None and Key(name, side) in known:
        return (Key(name, side),)
    sides_of = _sides_of_names(assembly)
    if name in sides_of:
        return tuple(Key(name, each) for each in sides_of[name])
    return tuple(
        Key(rest, label)
        for rest, label in _with_side(name, ports(assembly))
        if Key(rest, label) in known
    )


def unknown_port(assembly: Assembly, text: str, side: str | None) -> tuple[str, str]:
    """What is wrong with a text that means no single port, and what to write instead."""
    candidates = candidate_ports(assembly, text, side)
    if candidates:
        labels = [each.side for each in candidates]
        return (
            f'port "{text}" is on sides {quoted_list(labels, "and")}, and nothing says on which',
            f'write the side behind the name, as "{text} {labels[0]}"',
        )
    near = _nearest_port(assembly, text, side)
    advice = f"write {quoted_list(near)}, or" if near else "correct the name, or"
    return (
        f'port "{text}" is in no list',
        f"{advice} add the port to the connections or runs",
    )


def _nearest_port(assembly: Assembly, text: str, side: str | None) -> list[str]:
    """The names most like a text, those of the side that it names or is seen from first."""
    for name, label in _with_side(folded(text), ports(assembly)):
        if near := _nearest_on(assembly, label)(name):
            return [_with_label(assembly, each, label) for each in near]
    return _nearest_on(assembly, side)(text) or _nearest_on(assembly, None)(text)


def _with_label(assembly: Assembly, name: str, label: str) -> str:
    """A port with its side behind it, unless its name says the side already."""
    says = any(True for _ in _with_side(folded(name), ports(assembly)))
    return name if says else f"{name} {label}"


@lru_cache(maxsize=8)
def _nearest_on(assembly: Assembly, side: str | None) -> Nearest:
    """Finds ports of one side, or of all."""
    return Nearest(
        name for key, name in port_names(assembly).items() if side is None or key.side == side
    )


@lru_cache(maxsize=8)
def _sides_of_names(assembly: Assembly) -> Mapping[str, tuple[str, ...]]:
    """Folded port name -> the sides that have such a port."""
    sides: defaultdict[str, list[str]] = defaultdict(list)
    for key in ports(assembly).every_key():
        sides[key.name].append(key.side)
    return {name: tuple(labels) for name, labels in sides.items()}


def _with_side(name: str, known: Ports) -> Iterator[tuple[str, str]]:
    """A name that carries its side, before or behind, in brackets or not, as name and label."""
    plain = name.replace("(", " ").replace(")", " ").split()
    labels = {folded(side): side for side in known.numbers}
    if len(plain) < 2:
        return
    for word, rest in ((plain[-1], plain[:-1]), (plain[0], plain[1:])):
        label = labels.get(word) or _usual_side(word, labels.values())
        if label is not None:
            yield " ".join(rest), label


def _usual_side(word: str, labels: Iterable[str]) -> str | None:
    found = words.side_word(word)
    return next((label for label in labels if label == found), None)
