"""The record names a connection, stage, person or tool that no list has.

An entry for something unknown is either a slip of the pen, and then the work it stands for is
missing from the connection that was meant, or a connection that nobody planned. Both must be
cleared up before the record can be trusted.

Example: the record says that "H-70" was made, and the lists have "H-07" only.

What clears it: correct the name in the record, or add what is missing to its list.

What it cannot see: an entry under the name of another connection that is listed.
"""

from collections import defaultdict
from collections.abc import Callable, Iterable, Iterator, Mapping

from joinmatrix.assembly.model import Assembly, Connection, Entry, Key, Stage, Temporary
from joinmatrix.assembly.persons import signers
from joinmatrix.checks.check import Check
from joinmatrix.findings import Finding, Kind, Severity
from joinmatrix.lists.table import ListKind
from joinmatrix.names import Nearest, folded, quoted_list
from joinmatrix.place import Place

_LIST_OF = {
    "connection": ListKind.CONNECTIONS,
    "stage": ListKind.STAGES,
    "item": ListKind.TEMPORARY,
}


def unlisted(assembly: Assembly) -> Iterator[Finding]:
    """One finding for each unknown name, with every entry that uses it."""
    listed: dict[str, Mapping[Key, Connection | Stage | Temporary]] = {
        "connection": assembly.by_key,
        "stage": {each.key: each for each in assembly.stages},
        "item": {each.key: each for each in assembly.temporary},
    }
    unknown: defaultdict[tuple[str, str], list[Entry]] = defaultdict(list)
    for entry in assembly.entries:
        if entry.tick:
            continue  # it stands in the row of what it is about
        subject, key = entry.subject, entry.key
        if key in listed[subject] or _LIST_OF[subject] not in assembly.given:
            continue
        if not assembly.is_unsure(subject, key.name):
            unknown[subject, key.name].append(entry)
    known = {subject: _Known(listed[subject]) for subject, _ in unknown}
    for (subject, _), entries in unknown.items():
        yield _not_in_lists(subject, entries, known[subject])
    yield from _signs(assembly)


class _Known:
    """What is listed, to be looked for by name."""

    def __init__(self, listed: Mapping[Key, Connection | Stage | Temporary]) -> None:
        self.sides: defaultdict[str, list[str]] = defaultdict(list)
        for key in listed:
            self.sides[key.name].append(key.side)
        self.nearest = Nearest(
            each.id if isinstance(each, Connection) else each.name for each in listed.values()
        )


def _not_in_lists(subject: str, entries: list[Entry], known: _Known) -> Finding:
    name = entries[0].name
    sides = tuple(sorted({entry.key.side for entry in entries if entry.key.side}))
    on = known.sides.get(entries[0].key.name)
    if on:
        where = quoted_list([side or "no side" for side in on], "and")
        said = quoted_list(sides, "and") or "no side"
        message = f'the record puts {subject} "{name}" on {said}; it is listed on {where}'
        clears = f"correct the side in the record, or add the {subject} to its list"
    else:
        near = quoted_list(known.nearest(name))
        meant = f"; it may be meant for {near}" if near else ""
        message = f'the record names {subject} "{name}", which no list has'
        clears = f"correct the name in the record{meant}, or add the {subject} to its list"
    return Finding(
        Kind.UNLISTED,
        Severity.HOLD,
        message,
        clears,
        tuple(sorted({row.place(subject) for entry in entries for row in entry.rows})),
        sides=sides,
        connections=(name,) if subject == "connection" else (),
        stages=(name,) if subject == "stage" else (),
        items=(name,) if subject == "item" else (),
    )


def _signs(assembly: Assembly) -> Iterator[Finding]:
    """Persons and tools; each only when its list is given."""
    if ListKind.PEOPLE in assembly.given:
        people = {person.key: person.name for person in assembly.people}
        people |= assembly.unsure.get("person", {})
        yield from _unknown_names("person", _used(assembly.entries, signers), people)
    if ListKind.TOOLS in assembly.given:
        tools = {tool.key: tool.name for tool in assembly.tools}
        yield from _unknown_names("tool", _used(assembly.entries, _tools), tools)


def _tools(entry: Entry) -> Iterator[tuple[str, Place]]:
    for row in entry.rows:
        if row.text("tool"):
            yield row.text("tool"), row.place("tool")


def _used(
    entries: Iterable[Entry], names: Callable[[Entry], Iterator[tuple[str, Place]]]
) -> dict[str, tuple[str, list[Place]]]:
    used: dict[str, tuple[str, list[Place]]] = {}
    for entry in entries:
        for name, place in names(entry):
            places = used.setdefault(folded(name), (name, []))[1]
            if place not in places[-1:]:
                places.append(place)
    return used


def _unknown_names(
    what: str, used: dict[str, tuple[str, list[Place]]], known: dict[str, str]
) -> Iterator[Finding]:
    nearest = Nearest(known.values())
    for key, (name, places) in used.items():
        if key in known:
            continue
        near = quoted_list(nearest(name))
        meant = f"; it may be meant for {near}" if near else ""
        yield Finding(
            Kind.UNLISTED,
            Severity.HOLD,
            f'the record names {what} "{name}", which the list does not have',
            f"correct the name in the record{meant}, or add the {what} to its list",
            tuple(places),
            items=(name,),
        )


CHECK = Check(Kind.UNLISTED, unlisted, acts=True)
