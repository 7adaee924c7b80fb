"""Rules that cannot be read, and stage names that may be one name spelt twice."""

from collections import defaultdict
from collections.abc import Collection, Iterable, Iterator
from functools import lru_cache

from joinmatrix.assembly.model import Assembly, Connection, Stage, Temporary
from joinmatrix.lists.table import ListKind, Source, Trouble
from joinmatrix.names import folded, quoted_list
from joinmatrix.place import Place
from joinmatrix.timing.bounds import ACT_OF_COLUMN, CLOSED_BY, RuleText, rule_cells
from joinmatrix.timing.rules import RuleReader, Unread
from joinmatrix.timing.stages import Names, connections_by_texts, names_of, rule_names
from joinmatrix.timing.twins import twins
from joinmatrix.timing.vocabulary import Name


@lru_cache(maxsize=8)
def faults(assembly: Assembly) -> tuple[Trouble, ...]:
    """What is wrong with the rules themselves; such a rule binds nothing."""
    names = names_of(assembly)
    return (
        *_of_connections(assembly, names.reader),
        *_of_stages(names),
        *_of_items(assembly, names.reader),
        *(() if ListKind.STAGES in assembly.given else _like_names(assembly, names)),
    )


def _of_connections(assembly: Assembly, reader: RuleReader) -> Iterator[Trouble]:
    found: defaultdict[tuple[tuple[Place, ...], Unread], list[Connection]] = defaultdict(list)
    for texts, members in connections_by_texts(assembly).items():
        for column in (*ACT_OF_COLUMN, CLOSED_BY):
            text = getattr(texts, column.replace(" ", "_"))
            if not text:
                continue
            read = reader.name_list(text) if column == CLOSED_BY else reader.rule(text)
            if isinstance(read, Unread):
                for member in members:
                    found[_cells(member.rows, column, text), read].append(member)
    for (cells, read), members_there in found.items():
        first = members_there[0]
        yield Trouble(
            cells[0],
            read.found,
            read.remedy,
            others=cells[1:],
            joint=first.joint,
            sides=tuple(member.side for member in members_there),
            connections=(first.id,),
        )


def _of_stages(names: Names) -> Iterator[Trouble]:
    found: defaultdict[tuple[tuple[Place, ...], Unread], list[Stage]] = defaultdict(list)
    for stage in names.stages.values():
        for column, read in (
            ("timing", names.reader.rule(stage.timing)),
            ("after", names.reader.name_list(stage.after)),
        ):
            if isinstance(read, Unread):
                text = stage.timing if column == "timing" else stage.after
                found[_cells(stage.rows, column, text), read].append(stage)
    for (cells, read), stages in found.items():
        sides = tuple(stage.key.side for stage in stages if stage.key.side)
        yield Trouble(
            cells[0],
            read.found,
            read.remedy,
            others=cells[1:],
            sides=sides,
            stages=(stages[0].name,),
        )


def _of_items(assembly: Assembly, reader: RuleReader) -> Iterator[Trouble]:
    found: defaultdict[tuple[tuple[Place, ...], Unread], list[Temporary]] = defaultdict(list)
    listed: set[str] = set()
    if assembly.temporary:
        listed.update(connection.key.name for connection in assembly.connections)
    for item in assembly.temporary:
        rule, blanked = reader.rule(item.remove), _blanked(assembly, item, listed, reader)
        if isinstance(rule, Unread):
            found[_cells(item.rows, "remove", item.remove), rule].append(item)
        if blanked is not None:
            found[_cells(item.rows, "connection", item.connection), blanked].append(item)
    for (cells, fault), items in found.items():
        yield Trouble(
            cells[0],
            fault.found,
            fault.remedy,
            others=cells[1:],
            joint=items[0].joint,
            sides=tuple(item.key.side for item in items if item.key.side),
            items=(items[0].name,),
        )


def _blanked(
    assembly: Assembly, item: Temporary, listed: Collection[str], reader: RuleReader
) -> Unread | None:
    """What is wrong with what an item blanks off: every name there has to be a connection.

    A text that names one that no list has may be read as a new stage, or name a stage.
    """
    read = reader.name_list(item.connection)
    if isinstance(read, Unread):
        if not read.unknown:
            return read
        unknown = _as_written(read.unknown, item.connection)
    else:
        names = (name for name in read if not assembly.is_unsure("connection", name.key))
        unknown = next((name.written for name in names if name.key not in listed), "")
        if not unknown:
            return None
    near = [each for each in reader.vocabulary.nearest(folded(unknown)) if folded(each) in listed]
    return Unread(
        f'"{item.name}" blanks off "{unknown}", and no list has a connection of that name',
        f"write {quoted_list(near)}" if near else "name a connection as the lists have it",
    )


def _as_written(name: str, text: str) -> str:
    """A folded name with the capitals that it has in a text."""
    start = text.lower().find(name)
    return text[start : start + len(name)] if start >= 0 else name


def _cells(rows: Iterable[Source], column: str, text: str) -> tuple[Place, ...]:
    return rule_cells(rows, RuleText(column, text, 0))


# --- names that differ by a letter or two, where no stages list says which are right ---


def _like_names(assembly: Assembly, names: Names) -> Iterator[Trouble]:
    written = {key.name: stage.name for key, stage in names.stages.items()}
    pairs = list(twins(written))
    if not pairs:
        return
    cells = _cells_of_names(assembly, names, {name for pair in pairs for name in pair})
    for one, other in pairs:
        here, there = cells.get(one, ()), cells.get(other, ())
        if not here or not there:
            continue
        both = quoted_list((written[one], written[other]), "and")
        yield Trouble(
            here[0],
            f"the stages {both} differ by a letter or two, and no stages list says whether "
            "they are one; they were taken as two",
            "write one of them if they are the same, or give a stages list",
            holds=False,
            others=(there[0],),
            stages=(written[one], written[other]),
        )


def _cells_of_names(
    assembly: Assembly, names: Names, wanted: set[str]
) -> dict[str, tuple[Place, ...]]:
    """The first cell that uses each of some stage names."""
    cells: dict[str, tuple[Place, ...]] = {}
    for texts, members in connections_by_texts(assembly).items():
        for column in (*ACT_OF_COLUMN, CLOSED_BY):
            text = getattr(texts, column.replace(" ", "_"))
            for key in {name.key for name in _names_in(names.reader, column, text)} & wanted:
                if key not in cells:
                    cells[key] = _cells(members[0].rows, column, text)
    for item in assembly.temporary:
        for name in rule_names(names.reader, item.remove):
            cells.setdefault(name.key, _cells(item.rows, "remove", item.remove))
    for entry in assembly.entries:
        if entry.subject == "stage":
            for stage in names.keys_of_entry(entry.key):
                cells.setdefault(stage.name, (entry.cell("stage"),))
    return cells


def _names_in(reader: RuleReader, column: str, text: str) -> Iterable[Name]:
    if column == CLOSED_BY:
        read = reader.name_list(text)
        return () if isinstance(read, Unread) else read
    return rule_names(reader, text)
