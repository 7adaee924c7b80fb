"""A person did what that person may not do, or not on that day.

A signature is worth what stands behind it: training, and an authority that has not run out. "make"
covers placing, making, measuring and opening, "inspect" covers inspecting; the last day of an
authority belongs to it. Acts that were undone since are not looked at, openings always.

Example: the people list lets K. Olsen make; K. Olsen inspected H-07.

What clears it: have the act done again by somebody who may do it, or correct the people list.

What it cannot see: whether the right person held the pen. Without a people list it does not run.

Source: 14 CFR 121.371(a)-(d): a list of the persons who may inspect is kept.
"""

from collections import defaultdict
from collections.abc import Iterator
from typing import NamedTuple

from joinmatrix.assembly.counting_acts import counting_acts
from joinmatrix.assembly.model import UNKNOWN_PAST, Act, Assembly, Connection, Entry, Person
from joinmatrix.assembly.moments import minutes_text
from joinmatrix.assembly.persons import signers
from joinmatrix.assembly.standing import standings
from joinmatrix.checks.check import Check
from joinmatrix.findings import Finding, Kind, Severity
from joinmatrix.lists.table import ListKind
from joinmatrix.names import folded, quoted_list
from joinmatrix.place import Place
from joinmatrix.routes import telling


class _Deed(NamedTuple):
    """An act that a person had no authority for."""

    connection: Connection
    entry: Entry
    place: Place


class _Lack(NamedTuple):
    """What a person lacks: the one cause of any number of deeds.

    until  the last day of an authority that has run out; "" when there never was one
    shown  False when the day of the act is not known
    """

    person: str
    need: str
    until: str
    shown: bool


def not_authorised(assembly: Assembly) -> Iterator[Finding]:
    """One finding for each person, lack of authority, joint and side."""
    rows: defaultdict[str, list[Person]] = defaultdict(list)
    for person in assembly.people:
        rows[person.key].append(person)
    deeds: defaultdict[tuple[_Lack, str, str], list[_Deed]] = defaultdict(list)
    for connection, entry in _acts(assembly):
        need = "inspect" if entry.act is Act.INSPECTED else "make"
        for name, place in signers(entry):
            known = rows.get(folded(name))
            if known is None:
                continue  # unlisted says so
            lack = _lack(folded(name), need, known, entry)
            if lack is not None:
                where = (lack, connection.joint_key, connection.side)
                deeds[where].append(_Deed(connection, entry, place))
    yield from telling.one_for_all_sides(
        _finding(lack, done, rows[lack.person]) for (lack, _, _), done in deeds.items()
    )


def _acts(assembly: Assembly) -> Iterator[tuple[Connection, Entry]]:
    stand = standings(assembly)
    for connection in assembly.connections:
        for entry in counting_acts(stand[connection.key]):
            yield connection, entry


def _lack(person: str, need: str, rows: list[Person], entry: Entry) -> _Lack | None:
    """What a person lacks for an act; None when nothing."""
    fitting = [row for row in rows if row.may == need]
    if not fitting:
        return _Lack(person, need, "", True)
    if any(not row.until for row in fitting):
        return None
    until = max(row.until[:10] for row in fitting)
    if entry.when.low == UNKNOWN_PAST:
        return _Lack(person, need, until, False)
    return _Lack(person, need, until, True) if _day(entry) > until else None


def _day(entry: Entry) -> str:
    return minutes_text(entry.when.low)[:10]


def _finding(lack: _Lack, deeds: list[_Deed], rows: list[Person]) -> Finding:
    name = rows[0].name
    connections = [deed.connection for deed in deeds]
    people = tuple(dict.fromkeys(row.row.place("until" if lack.until else "may") for row in rows))
    return Finding(
        Kind.NOT_AUTHORISED,
        Severity.HOLD if lack.shown else Severity.NOTE,
        f"{_authority(name, lack, rows)}, and {_done(deeds, lack)}",
        f"have it done again by somebody who may {lack.need}, or correct the people list"
        if lack.shown
        else "write the day of the act",
        (*dict.fromkeys(deed.place for deed in deeds), *people),
        joint=connections[0].joint,
        sides=telling.sides_of(connections),
        connections=telling.names_of(connections),
        items=(name,),
    )


def _authority(name: str, lack: _Lack, rows: list[Person]) -> str:
    if lack.until:
        return f'"{name}" may {lack.need} until {lack.until}'
    may = " and ".join(dict.fromkeys(row.may for row in rows))
    return f'"{name}" may {may}, not {lack.need}'


def _done(deeds: list[_Deed], lack: _Lack) -> str:
    names = telling.names_of([deed.connection for deed in deeds])
    what = quoted_list(names, "and") if len(names) < 4 else f"{len(names)} connections"
    acts = " and ".join(dict.fromkeys(deed.entry.act.value for deed in deeds))
    if not lack.shown:
        return f"{acts} {what} on a day that is not recorded"
    first = min((deed.entry.when for deed in deeds), key=lambda when: when.low)
    if not first.text:
        return f"{acts} {what}"
    return f"{acts} {what} {'on' if len(deeds) == 1 else 'from'} {first.text}" + (
        "" if len(deeds) == 1 else " on"
    )


CHECK = Check(Kind.NOT_AUTHORISED, not_authorised, needs=ListKind.PEOPLE, acts=True)
