"""In which columns connections that belong together differ, once the sides are swapped.

Each text is put in words as seen from its own side: "after gear down L" on L and "after gear down
R" on R both say "after gear down, own side". Words that can mean a side or something else (a single
letter, a number, "port") are equal as written or equal swapped, whichever fits.

Texts repeat, so each pair of different texts is compared once, however many connections have it.
"""

import re
from collections.abc import Callable, Hashable, Iterable, Iterator, Sequence
from functools import cached_property
from typing import NamedTuple

from joinmatrix.assembly.model import Assembly, Connection, Key
from joinmatrix.names import folded
from joinmatrix.pairing.pairs import Group, How
from joinmatrix.pairing.tokens import (
    OTHER,
    OWN,
    SideWords,
    exact_words_of,
    side_words,
    words_of,
)
from joinmatrix.place import Place
from joinmatrix.reference.spelling import one_spelling

# The columns in which alike sides are compared -> the field of `Connection` that holds them.
COLUMNS = {
    name: Connection._fields.index(name.replace(" ", "_"))
    for name in (
        "type", "service", "from size", "to size", "from end", "to end", "from key", "to key",
        "place", "timing", "inspect", "closed by", "limits", "critical",
    )
}  # fmt: skip
# Columns in which a plain side word left unswapped means the other side.
_OF_A_SIDE = ("service", "place", "timing", "inspect", "closed by")
_RULES = ("place", "timing", "inspect", "closed by")
# All but type and service, which are behind the ports.
_REST_COLUMNS = tuple(COLUMNS)[2:]
_REST = slice(COLUMNS["from size"], COLUMNS["critical"] + 1)


class Said(NamedTuple):
    """One thing that a rule or limit says.

    what   all but the name: the word and time of a rule, the measure and bounds of a limit
    name   the stage, connection or text that it names, folded
    sides  the sides that the rule itself gives to the name
    """

    what: Hashable
    name: str
    sides: tuple[str, ...] = ()


_RUN = re.compile(r"[^\W_]+")

# Column and text -> what it says; None where it cannot be read, which another finding tells.
Reads = Callable[[str, str], tuple[Said, ...] | None]


class Differing(NamedTuple):
    """A column in which a group differs.

    odd     the sides that differ from the majority; every side when there is none
    values  what each side has, as written, in the order of the alike sides
    places  the cells of all of them
    """

    column: str
    odd: tuple[str, ...]
    values: tuple[tuple[str, str], ...]
    places: tuple[Place, ...]


def differences(
    assembly: Assembly, groups: Sequence[Group], reads: Reads
) -> Iterator[tuple[Group, tuple[Differing, ...]]]:
    """Every group that differs in a compared column, and how."""
    comparers: dict[tuple[str, ...], Comparer] = {}
    names = _Names(assembly, groups)
    for group in groups:
        members = group.members
        if len(members) < 2:
            continue
        comparer = comparers.get(group.alike)
        if comparer is None:
            comparer = comparers[group.alike] = Comparer(group.alike, names, reads)
        first = members[0]
        usual = comparer.alike(first, members[1])
        if not usual or not all(comparer.alike(first, other) for other in members[2:]):
            found = tuple(comparer.differing(members))
            if found:
                yield group, found


class _Names:
    """What a connection is called on the other sides, where swapping the side words does not tell.

    number  key of a connection -> a number that the whole group shares
    """

    def __init__(self, assembly: Assembly, groups: Sequence[Group]) -> None:
        self.by_key = assembly.by_key
        self._groups = groups
        self._sides = {"L", "R"}.union(*assembly.alike.values())

    @cached_property
    def number(self) -> dict[Key, int]:
        return {
            member.key: number
            for number, group in enumerate(self._groups)
            if len(group.members) > 1 and group.how is not How.SAME_ID
            for member in group.members
        }

    @cached_property
    def _unlike(self) -> frozenset[str]:
        """The names of connections that have quite another name on another side."""
        usual = (How.ALONE, How.SAME_ID, How.SWAPPED_ID)
        return frozenset(
            member.key.name
            for group in self._groups
            if group.how not in usual
            for member in group.members
        )

    def may_be_in(self, text: str) -> bool:
        """Whether a folded text may name a connection that has quite another name elsewhere."""
        runs = list(_RUN.finditer(text))
        ends = [run.end() for run in runs]
        parts = {
            text[run.start() : end] for number, run in enumerate(runs) for end in ends[number:]
        }
        named = {part for part in parts if self.is_connection(part, self._sides)}
        return bool(named) and not named.isdisjoint(self._unlike)

    def is_connection(self, name: str, labels: Iterable[str]) -> bool:
        """Whether a connection on one of the sides has this name."""
        return any(Key(name, label) in self.by_key for label in labels)

    def same(self, name: str, side: str) -> bool:
        """Whether the name is that of a connection on this side, under one name on every side."""
        key = Key(name, side)
        return key in self.by_key and key not in self.number


class Comparer:
    """Compares connections of one set of alike sides."""

    def __init__(self, alike: tuple[str, ...], names: _Names, reads: Reads) -> None:
        self._words: SideWords = side_words(alike)
        self._names = names
        self._reads = reads
        self._sideless: dict[str, bool] = {"": True}
        self._equal: dict[tuple[str, str, str, str, str], bool] = {}
        self._alike: dict[tuple[object, ...], bool] = {}

    def alike(self, one: Connection, other: Connection) -> bool:
        """Whether nothing needs a closer look: they are one row, or all their texts agree."""
        if one.rows == other.rows:
            return True
        usual = one.service == other.service and self._names_no_side(one.service)
        if not usual and not self._same("service", one, other):
            return False
        if one.type != other.type and not self._same("type", one, other):
            return False
        texts = (one[_REST], other[_REST], one.key.side, other.key.side)
        known = self._alike.get(texts)
        if known is None:
            if one.critical != other.critical:
                return False  # whether that counts, the rows tell
            known = all(self._same(column, one, other) for column in _REST_COLUMNS)
            self._alike[texts] = known
        return known

    def _names_no_side(self, text: str) -> bool:
        """Whether a text has no word for a side."""
        shape = self._words.shape(text)
        known = self._sideless.get(shape)
        if known is None:
            known = self._sideless[shape] = not self._words.mentions(text)
        return known

    def _is_plain(self, column: str, text: str) -> bool:
        """Whether the same text in a column says the same on every side."""
        if column not in _OF_A_SIDE:
            return True
        if not self._names_no_side(text):
            return False
        return column == "service" or not self._names.may_be_in(folded(text))

    def differing(self, members: Sequence[Connection]) -> Iterator[Differing]:
        """Every column in which the members differ."""
        half_known = any(bool(member.from_port) != bool(member.to_port) for member in members)
        for column in COLUMNS:
            compared = [member for member in members if column not in member.disputed]
            if half_known:
                compared = [member for member in compared if _filled(member, column)]
            if len(compared) > 1:
                odd = self._odd(column, compared)
                if odd is not None:
                    yield Differing(
                        column,
                        odd,
                        tuple((member.key.side, shown(member, column)) for member in compared),
                        tuple(cell for member in compared for cell in cells(member, column)),
                    )

    def _odd(self, column: str, members: Sequence[Connection]) -> tuple[str, ...] | None:
        """The sides that differ from the majority, all without one; None when all are equal."""
        classes: list[list[Connection]] = []
        for member in members:
            for same in classes:
                if self._same(column, same[0], member):
                    same.append(member)
                    break
            else:
                classes.append([member])
        if len(classes) == 1:
            return None
        classes.sort(key=len, reverse=True)
        if len(classes[0]) > len(classes[1]):
            members = [member for others in classes[1:] for member in others]
        sides = {member.key.side for member in members}
        return tuple(side for side in self._words.alike if side in sides)

    def _same(self, column: str, one: Connection, other: Connection) -> bool:
        if column == "critical":
            # Left blank it follows from type and service, and those are compared themselves.
            return one.critical == other.critical or not (
                _filled(one, column) or _filled(other, column)
            )
        a, b = shown(one, column), shown(other, column)
        if a == b and self._is_plain(column, a):
            return True
        key = (column, a, one.key.side, b, other.key.side)
        known = self._equal.get(key)
        if known is None:
            known = self._equal[key] = self._same_text(*key)
        return known

    def _same_text(self, column: str, a: str, side_a: str, b: str, side_b: str) -> bool:
        if column in _RULES or column == "limits":
            says_a, says_b = self._reads(column, a), self._reads(column, b)
            if says_a is None or says_b is None:
                return True  # unreadable is a finding of its own, and binds nothing
            return self._same_said(column, says_a, side_a, says_b, side_b)
        if column not in _OF_A_SIDE and one_spelling(column, a) == one_spelling(column, b):
            return True
        a, b = self._words.shapes_kept(folded(a)), self._words.shapes_kept(folded(b))
        if column == "service":
            a, b = self._words.resolved(a, side_a), self._words.resolved(b, side_b)
        if column in ("type", "service"):
            return self._same_words(words_of(a), side_a, words_of(b), side_b, loosely=True)
        return self._same_words(exact_words_of(a), side_a, exact_words_of(b), side_b, loosely=False)

    def _same_words(
        self, a: Sequence[str], side_a: str, b: Sequence[str], side_b: str, *, loosely: bool
    ) -> bool:
        """Whether two texts are equal word by word, as written or swapped.

        loosely  a word for its own side may also be left out, and numbers can be sides
        """
        if loosely:
            a = [word for word in a if word != OWN]
            b = [word for word in b if word != OWN]
        if len(a) == len(b):
            return all(
                x == y or self._swapped(x, side_a, y, side_b, loosely)
                for x, y in zip(a, b, strict=True)
            )
        if not loosely or not self._words.letters:
            return False
        own_a, own_b = self._words.words[side_a], self._words.words[side_b]
        a = [word for word in a if word not in own_a]
        b = [word for word in b if word not in own_b]
        return len(a) == len(b) and self._same_words(a, side_a, b, side_b, loosely=True)

    def _swapped(self, x: str, side_a: str, y: str, side_b: str, loosely: bool) -> bool:
        """Whether a word is the other one seen from the other side."""
        words = self._words.words
        if x in words[side_a] and y in words[side_b]:
            return loosely or self._words.letters
        return self._words.letters and x in words[side_b] and y in words[side_a]

    def _same_said(
        self, column: str, a: Sequence[Said], side_a: str, b: Sequence[Said], side_b: str
    ) -> bool:
        """Whether two rules ask the same, in whatever order."""
        left = list(b)
        for one in a:
            match = next(
                (
                    other
                    for other in left
                    if one.what == other.what
                    and self._same_name(column, one, side_a, other, side_b)
                ),
                None,
            )
            if match is None:
                return False
            left.remove(match)
        return not left

    def _same_name(self, column: str, a: Said, side_a: str, b: Said, side_b: str) -> bool:
        if column == "limits":
            return a.name == b.name or self._same_words(
                exact_words_of(a.name), side_a, exact_words_of(b.name), side_b, loosely=False
            )
        a, b = self._with_side(a), self._with_side(b)
        if self._sides_seen(a, side_a) != self._sides_seen(b, side_b):
            return False
        number_a, number_b = self._number(a, side_a), self._number(b, side_b)
        if number_a is not None or number_b is not None:
            return number_a == number_b
        if (
            a.name == b.name
            and self._names.same(a.name, side_a)
            and self._names.same(b.name, side_b)
        ):
            return True
        said_a = self._words.resolved(a.name, side_a)
        said_b = self._words.resolved(b.name, side_b)
        return self._same_words(words_of(said_a), side_a, words_of(said_b), side_b, loosely=True)

    def _with_side(self, said: Said) -> Said:
        """A stage that has its side word in its name ("gear down L") with the side apart."""
        if said.sides or not self._words.letters:
            return said
        if self._names.is_connection(said.name, (*self._words.alike, "C")):
            return said
        found = self._words.trailing(said.name)
        return said._replace(name=found[0], sides=(found[1],)) if found else said

    def _sides_seen(self, said: Said, side: str) -> frozenset[str]:
        """The sides that a rule gives to a name, seen from its own; its own needs no saying."""
        alike = self._words.alike
        if set(alike) <= set(said.sides):
            return frozenset("*")
        seen = {OWN if each == side else OTHER if each in alike else each for each in said.sides}
        return frozenset(seen - {OWN} if seen == {OWN} else seen)

    def _number(self, said: Said, side: str) -> tuple[int, bool] | None:
        """The group of a connection that has other names on other sides, and if it is found here.

        A rule on R that names the connection of L by its name on L binds nothing on R.
        """
        if not self._names.is_connection(said.name, self._words.alike):
            return None
        numbers = self._names.number
        for each in said.sides or (side,):
            if Key(said.name, each) in numbers:
                return numbers[Key(said.name, each)], True
        for other in self._words.alike:
            if Key(said.name, other) in numbers:
                return numbers[Key(said.name, other)], False
        return None


def shown(connection: Connection, column: str) -> str:
    """What a column holds, as a report shows it: "" for a blank."""
    if column == "critical":
        return "yes" if connection.critical else "no"
    return str(connection[COLUMNS[column]])


def cells(connection: Connection, column: str) -> tuple[Place, ...]:
    """The filled cells of a column; else the blank one to fill; else the identifier's."""
    found = connection.cells(column)
    if found != connection.id_cells:
        return found
    names = (column, "size") if column.endswith(" size") else (column,)
    for row in connection.rows:
        for name in names:
            if name in row.table.numbers:
                return (row.place(name),)
    return found


def _filled(connection: Connection, column: str) -> bool:
    if column == "critical":
        return any(row.text("critical") for row in connection.rows)
    return bool(connection[COLUMNS[column]])
