"""What the rules ask of each act: clauses to bounds, taken on the right sides.

Connections with the same rules on the same side are kept as one group, so that the work on rules
grows with their number and not with the number of connections.
"""

from collections import defaultdict
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass
from functools import lru_cache
from typing import NamedTuple

from joinmatrix.assembly.model import Act, Assembly, Connection, Key, Stage, Temporary
from joinmatrix.lists.table import Source
from joinmatrix.names import folded
from joinmatrix.place import Place
from joinmatrix.timing.rules import Clause, RuleReader, Unread, Word
from joinmatrix.timing.stages import Names, Texts, connections_by_texts, names_of
from joinmatrix.timing.vocabulary import EVERY, Name

CENTRE = "C"
CLOSED_BY = "closed by"
ACT_OF_COLUMN = {"place": Act.PLACED, "timing": Act.MADE, "inspect": Act.INSPECTED}
STEPS = (Act.PLACED, Act.MADE, Act.INSPECTED)  # of a connection, in their order


class Ref(NamedTuple):
    """What a rule names: a stage or a connection, on one side.

    subject  "stage" or "connection"
    """

    subject: str
    key: Key


class RuleText(NamedTuple):
    """The cell of a rule, without the row: many rows say the same.

    part  which name of which clause of the text, so that each can be told from the others
    """

    column: str
    text: str
    part: int


class Bound(NamedTuple):
    """One demand on one act: not before a moment, or not after it.

    act       the act that is bound; of the stage itself in a stage's own rule
    after     True: not before the moment; False: not after it
    at        which moment of `ref`: started, done or made
    gap       minutes added to the moment
    strict    the same moment is not allowed either: between acts on connections
    together  one of the two bounds that ask for the same moment: "with" a connection
    """

    act: Act
    after: bool
    ref: Ref
    at: Act
    gap: int
    strict: bool
    rule: RuleText
    together: bool = False


class Group(NamedTuple):
    """Connections that carry the same rules on the same side, and that no rule names.

    A connection that a rule names is a group of its own.
    """

    texts: Texts
    members: tuple[Connection, ...]
    bounds: tuple[Bound, ...]


class Items(NamedTuple):
    """Temporary items with the same rule for their removal."""

    members: tuple[Temporary, ...]
    bounds: tuple[Bound, ...]


@dataclass(frozen=True, eq=False)
class Rules:
    """Everything that the rules ask, in an order that does not depend on that of the rows.

    stages  by key: the bounds on the start and the end of the stage
    """

    names: Names
    groups: tuple[Group, ...]
    stages: Mapping[Key, tuple[Bound, ...]]
    items: tuple[Items, ...]


@lru_cache(maxsize=8)
def rules_of(assembly: Assembly) -> Rules:
    """The bounds of every act; a rule that cannot be read gives none."""
    names = names_of(assembly)
    compiler = _Compiler(names)
    by_texts = [
        (texts, members, compiler.of_connection(texts))
        for texts, members in connections_by_texts(assembly).items()
    ]
    stages = {key: compiler.of_stage(names.stages[key]) for key in sorted(names.stages)}
    items = _items(assembly, compiler)
    bounds = [*(each for _, _, each in by_texts), *stages.values(), *(each[1] for each in items)]
    named = frozenset(
        bound.ref.key for each in bounds for bound in each if bound.ref.subject == "connection"
    )
    return Rules(names, tuple(sorted(_groups(by_texts, named))), stages, items)


def _groups(
    by_texts: Iterable[tuple[Texts, tuple[Connection, ...], tuple[Bound, ...]]],
    named: frozenset[Key],
) -> Iterator[Group]:
    for texts, members, bounds in by_texts:
        unnamed = members
        if named:
            unnamed = tuple(member for member in members if member.key not in named)
            for member in members:
                if member.key in named:
                    yield Group(texts, (member,), bounds)
        if unnamed:
            yield Group(texts, unnamed, bounds)


def _items(assembly: Assembly, compiler: "_Compiler") -> tuple[Items, ...]:
    alike: defaultdict[tuple[str, str, str], list[Temporary]] = defaultdict(list)
    for item in assembly.temporary:
        alike[item.key.side, item.remove, "" if item.remove else item.connection].append(item)
    return tuple(
        Items(tuple(sorted(alike[texts], key=lambda item: item.key)), compiler.of_item(*texts))
        for texts in sorted(alike)
    )


class _Compiler:
    """Turns texts into bounds, each different text on each side once."""

    def __init__(self, names: Names) -> None:
        self._names = names
        self._reader: RuleReader = names.reader
        self._done: dict[tuple[str, str, str], tuple[Bound, ...]] = {}

    def of_connection(self, texts: Texts) -> tuple[Bound, ...]:
        """The bounds on the steps of connections."""
        found: list[Bound] = []
        for column, act in ACT_OF_COLUMN.items():
            text = getattr(texts, column)
            if text:
                found += self._of_rule(column, text, texts.side, act)
        found += self._closed_by(texts.closed_by, texts.side)
        return tuple(found)

    def of_stage(self, stage: Stage) -> tuple[Bound, ...]:
        """The bounds on a stage: on its start those that make it wait, on its end the others."""
        found: list[Bound] = []
        rule = self._reader.rule(stage.timing)
        if not isinstance(rule, Unread):
            for part, clause, ref in self._parts(rule, stage.key.side):
                text = RuleText("timing", stage.timing, part)
                found += _bounds_on_stage(clause, ref, text)
        after = self._reader.name_list(stage.after)
        if not isinstance(after, Unread):
            clause = Clause(Word.AFTER, after, 0)
            for part, _, ref in self._parts((clause,), stage.key.side):
                found += _bounds_on_stage(clause, ref, RuleText("after", stage.after, part))
        return tuple(found)

    def of_item(self, side: str, remove: str, connection: str) -> tuple[Bound, ...]:
        """The bounds on taking off a temporary item; without a rule, before what it blanks off."""
        if remove:
            return self._of_rule("remove", remove, side, Act.REMOVED)
        names = self._reader.name_list(connection)
        if isinstance(names, Unread):
            return ()
        parts = self._parts((Clause(Word.BEFORE, names, 0),), side)
        return tuple(
            Bound(
                Act.REMOVED, False, ref, Act.MADE, 0, True, RuleText("connection", connection, part)
            )
            for part, _, ref in parts
            if ref.subject == "connection"
        )

    def _of_rule(self, column: str, text: str, side: str, act: Act) -> tuple[Bound, ...]:
        key = (column, text, side)
        if key not in self._done:
            rule = self._reader.rule(text)
            clauses = () if isinstance(rule, Unread) else rule
            self._done[key] = tuple(
                bound
                for part, clause, ref in self._parts(clauses, side)
                for bound in _bounds(act, clause, ref, RuleText(column, text, part))
            )
        return self._done[key]

    def _closed_by(self, text: str, side: str) -> tuple[Bound, ...]:
        key = (CLOSED_BY, text, side)
        if key not in self._done:
            names = self._reader.name_list(text)
            clause = Clause(Word.BEFORE, () if isinstance(names, Unread) else names, 0)
            self._done[key] = tuple(
                bound
                for act in STEPS
                for part, _, ref in self._parts((clause,), side)
                for bound in _bounds(act, clause, ref, RuleText(CLOSED_BY, text, part))
            )
        return self._done[key]

    def _parts(self, clauses: Iterable[Clause], side: str) -> Iterator[tuple[int, Clause, Ref]]:
        """Every name of every clause with its number, and what it means on a side."""
        pairs = ((clause, name) for clause in clauses for name in clause.names)
        for part, (clause, name) in enumerate(pairs):
            for ref in scope(self._names, name, side):
                yield part, clause, ref


def scope(names: Names, name: Name, side: str) -> tuple[Ref, ...]:
    """What a name means in a rule of something on a side ("" for a stage once for all).

    A side said behind the name decides. Else what is once for all, else the rule's own side. A
    rule on the centre line or without a side means every side, and any rule may mean the centre
    line. The other side is never meant.
    """
    if name.key in names.unsure:
        return ()
    if name.key in names.sides:
        subject, on = "stage", names.sides[name.key]
    else:
        known = names.reader.vocabulary.names.get(name.key)
        subject, on = "connection", tuple(sorted(known.sides)) if known is not None else ()
    return tuple(Ref(subject, Key(name.key, each)) for each in _sides_meant(name, on, side))


def _sides_meant(name: Name, on: tuple[str, ...], side: str) -> tuple[str, ...]:
    if name.sides:
        if EVERY in name.sides:
            return on
        return ("",) if on == ("",) else tuple(each for each in name.sides if each in on)
    if "" in on:
        return ("",)
    if side in on:
        return (side,)
    if side in ("", CENTRE):
        return on
    return (CENTRE,) if CENTRE in on else ()


def _bounds(act: Act, clause: Clause, ref: Ref, rule: RuleText) -> Iterator[Bound]:
    """What a clause asks of an act on a connection or temporary item."""
    if ref.subject == "stage":
        start, end, strict = Act.STARTED, Act.DONE, False
    else:
        start, end, strict = Act.MADE, Act.MADE, True
    match clause.word:
        case Word.AFTER:
            yield Bound(act, True, ref, end, 0, strict, rule)
        case Word.BEFORE:
            yield Bound(act, False, ref, start, 0, strict, rule)
        case Word.DURING:
            yield Bound(act, True, ref, start, 0, False, rule, start is end)
            yield Bound(act, False, ref, end, 0, False, rule, start is end)
        case Word.AT_LEAST:
            yield Bound(act, True, ref, end, clause.minutes, False, rule)
        case Word.WITHIN:
            yield Bound(act, True, ref, end, 0, False, rule)
            yield Bound(act, False, ref, end, clause.minutes, False, rule)


def _bounds_on_stage(clause: Clause, ref: Ref, rule: RuleText) -> Iterator[Bound]:
    """What a clause asks of a stage."""
    if clause.word is Word.DURING and ref.subject == "connection":
        # A stage takes time and a making does not: the connection is made during the stage.
        yield Bound(Act.STARTED, False, ref, Act.MADE, 0, False, rule)
        yield Bound(Act.DONE, True, ref, Act.MADE, 0, False, rule)
        return
    for bound in _bounds(Act.STARTED, clause, ref, rule):
        act = Act.STARTED if bound.after else Act.DONE
        yield bound._replace(act=act, strict=False)


def rule_cells(rows: Iterable[Source], rule: RuleText) -> tuple[Place, ...]:
    """The cells of the rows that say what the rule says."""
    column, text = rule.column, rule.text
    return tuple(
        [
            row.place(column)
            for row in rows
            if (said := row.text(column)) == text or folded(said) == folded(text)
        ]
    )
