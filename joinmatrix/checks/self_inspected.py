"""A critical connection was inspected by the person who made it.

Nobody sees his own mistake: whoever crossed two cables looks at them a second time and sees what
he meant to do. So a critical connection is inspected by somebody else than the one who made it.
Flight-control connections are critical unless the list says no, others only when it says yes.

Where two names can be one person ("J. Ruiz" and "Jan Ruiz"), a note asks. Where a name is missing,
a note says that two persons are not shown, and sign-off holds on it.

Example: C-03 is an elevator control cable; "JR" made it and "JR" inspected it.

What clears it: have it inspected by somebody else, and record that.

What it cannot see: one person who signs with another's name or stamp.

Source: 14 CFR 121.371(c), 135.429(c), 125.251(b): nobody performs a required inspection of his own
work.
"""

from collections import defaultdict
from collections.abc import Iterator
from functools import lru_cache
from typing import NamedTuple

from joinmatrix.assembly.model import Assembly, Connection, Entry
from joinmatrix.assembly.persons import may_be_one, names_in, signers
from joinmatrix.assembly.standing import standings
from joinmatrix.checks.check import Check
from joinmatrix.findings import Finding, Kind, Severity
from joinmatrix.names import folded, quoted_list
from joinmatrix.place import Place
from joinmatrix.routes import telling


class _Signed(NamedTuple):
    """A critical connection that is made and inspected: folded name -> name and cell.

    places    cells of the inspection and the making
    unsigned  cells in which a name is missing
    """

    connection: Connection
    makers: dict[str, tuple[str, Place]]
    inspectors: dict[str, tuple[str, Place]]
    places: tuple[Place, ...]
    unsigned: tuple[Place, ...]


def self_inspected(assembly: Assembly) -> Iterator[Finding]:
    """Holds for the same name, notes for names that can be one person, notes for missing names."""
    signed = list(_signed(assembly))
    yield from telling.one_for_all_sides(
        _same_person(each)
        for each in signed
        if each.makers and each.inspectors and each.inspectors.keys() <= each.makers.keys()
    )
    yield from _questions(assembly, signed)
    yield from _nameless(signed)


def _signed(assembly: Assembly) -> Iterator[_Signed]:
    stand = standings(assembly)
    for connection in assembly.connections:
        standing = stand[connection.key]
        if connection.critical and standing.made is not None and standing.inspected is not None:
            if _plainly_two(standing.made, standing.inspected):
                continue
            both = (standing.inspected, standing.made)
            cells = tuple(dict.fromkeys(entry.cell() for entry in both))
            inspectors, makers = (_names(entry) for entry in both)
            unsigned = (
                place
                for entry, names in zip(both, (inspectors, makers), strict=True)
                if not names
                for place in _blank_cell(entry)
            )
            yield _Signed(connection, makers, inspectors, cells, tuple(unsigned))


def _plainly_two(made: Entry, inspected: Entry) -> bool:
    """Whether one signature each says without doubt that it was two persons."""
    return len(made.rows) == len(inspected.rows) == 1 and _are_two(made.by, inspected.by)


@lru_cache(maxsize=1 << 12)
def _are_two(maker: str, inspector: str) -> bool:
    makers, inspectors = names_in(maker), names_in(inspector)
    return bool(makers and inspectors) and not any(
        folded(one) == folded(other) or may_be_one(folded(one), folded(other))
        for one in makers
        for other in inspectors
    )


def _blank_cell(entry: Entry) -> Iterator[Place]:
    """Where the name belongs that is missing, if the list has a column for it."""
    column = f"{entry.act} by" if entry.tick else "by"
    if column in entry.rows[0].table.numbers:
        yield entry.rows[0].place(column)


def _names(entry: Entry) -> dict[str, tuple[str, Place]]:
    return {folded(name): (name, place) for name, place in signers(entry)}


def _same_person(signed: _Signed) -> Finding:
    connection = signed.connection
    names = [name for name, _ in signed.inspectors.values()]
    cells = [place for _, place in signed.inspectors.values()]
    cells += [place for key, (_, place) in signed.makers.items() if key in signed.inspectors]
    return Finding(
        Kind.SELF_INSPECTED,
        Severity.HOLD,
        f'"{connection.id}" is critical, and {quoted_list(names, "and")} both made and inspected '
        "it; nobody inspects his own work",
        "have it inspected by somebody else, and record that inspection",
        tuple(dict.fromkeys(cells)),
        joint=connection.joint,
        sides=(connection.side,),
        connections=(connection.id,),
        items=tuple(names),
    )


def _questions(assembly: Assembly, signed: list[_Signed]) -> Iterator[Finding]:
    """One note for each pair of names and joint."""
    listed = {person.key for person in assembly.people}
    asked: defaultdict[tuple[str, str, str], list[_Signed]] = defaultdict(list)
    for each in signed:
        if each.makers.keys() & each.inspectors.keys():
            continue  # the same person in any case, or somebody else looked as well
        for maker in each.makers:
            for inspector in each.inspectors:
                if not {maker, inspector} <= listed and may_be_one(maker, inspector):
                    asked[each.connection.joint_key, maker, inspector].append(each)
    for (_, maker, inspector), pairs in asked.items():
        yield _question(maker, inspector, pairs)


def _question(maker: str, inspector: str, pairs: list[_Signed]) -> Finding:
    made_by, inspected_by = pairs[0].makers[maker][0], pairs[0].inspectors[inspector][0]
    connections = [each.connection for each in pairs]
    names = telling.names_of(connections)
    cells = [
        place for each in pairs for place in (each.makers[maker][1], each.inspectors[inspector][1])
    ]
    return Finding(
        Kind.SELF_INSPECTED,
        Severity.NOTE,
        f'{_few(names)} critical; "{made_by}" made and "{inspected_by}" inspected: are these one '
        "person or two?",
        "if one, have it inspected by somebody else; if two, write the names so that they differ, "
        "or list both in a people list",
        tuple(dict.fromkeys(cells)),
        joint=connections[0].joint,
        sides=telling.sides_of(connections),
        connections=names,
        items=(made_by, inspected_by),
    )


def _nameless(signed: list[_Signed]) -> Iterator[Finding]:
    """One note for each joint and missing signature."""
    missing: defaultdict[tuple[str, str], list[_Signed]] = defaultdict(list)
    for each in signed:
        signatures = (("made", each.makers), ("inspected", each.inspectors))
        unsigned = [word for word, names in signatures if not names]
        if unsigned:
            missing[each.connection.joint_key, " and who ".join(unsigned)].append(each)
    for (_, what), cases in missing.items():
        connections = [each.connection for each in cases]
        names = telling.names_of(connections)
        yield Finding(
            Kind.UNPROVEN,
            Severity.NOTE,
            f"{_few(names)} critical, and who {what} it is not recorded; that two persons did it "
            "is not shown",
            "write the names under the making and the inspection",
            tuple(
                dict.fromkeys(place for each in cases for place in (*each.unsigned, *each.places))
            ),
            joint=connections[0].joint,
            sides=telling.sides_of(connections),
            connections=names,
        )


def _few(names: tuple[str, ...]) -> str:
    if len(names) > 3:
        return f"{len(names)} connections are"
    return f"{quoted_list(names, 'and')} {'is' if len(names) == 1 else 'are'}"


CHECK = Check(Kind.SELF_INSPECTED, self_inspected, acts=True)
