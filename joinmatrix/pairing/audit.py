"""Which differences between alike sides have been agreed, and which agreements are idle.

An agreement covers exactly what it names: one joint, connection or service, side and column.
"""

from collections import defaultdict
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from functools import lru_cache
from typing import NamedTuple

from joinmatrix.assembly.model import Assembly, Connection, Difference, Key
from joinmatrix.lists.table import Source
from joinmatrix.names import folded, nearest, quoted_list
from joinmatrix.pairing.compare import Differing, Reads, differences
from joinmatrix.pairing.pairs import Group, groups
from joinmatrix.place import Place

EXISTENCE = ""  # the column of a difference that is about existing at all
_APPROVAL = "approved by"


class Item(NamedTuple):
    """One difference between alike sides.

    column    "" when the connection is missing on a side
    odd       the sides that differ; for a missing connection those where it exists
    values    what each side has, as written
    agreed    the agreements that cover it
    unsigned  agreements that name it, but lack a reason or an approval
    one_ended listed by one half only, so that its other half may well exist: not held against it
    """

    group: Group
    column: str
    odd: tuple[str, ...]
    values: tuple[tuple[str, str], ...]
    places: tuple[Place, ...]
    agreed: tuple[Difference, ...] = ()
    unsigned: tuple[Difference, ...] = ()
    one_ended: bool = False

    @property
    def open(self) -> bool:
        """Whether it still needs a decision or a correction."""
        return not self.agreed and not self.one_ended


@dataclass(frozen=True, slots=True)
class Stale:
    """An agreement that no difference needs.

    text  the agreement and why it is idle, a sentence
    """

    agreement: Difference
    text: str


@dataclass(frozen=True, slots=True)
class Wide:
    """An agreement that covers several differences."""

    agreement: Difference
    items: tuple[Item, ...]

    @property
    def covers(self) -> str:
        """What it covers, in words, shortened where it is much."""
        said = list(dict.fromkeys(map(_thing, self.items)))
        more = f" and {len(said) - _MOST} more" if len(said) > _MOST else ""
        return f"{len(said)} differences: {'; '.join(said[:_MOST])}{more}"


_MOST = 8


def agreement_words(agreement: Difference) -> str:
    """An agreement as a sentence begins with it."""
    name = quoted_list((agreement.connection or agreement.service,))
    on = f" on {agreement.side}" if agreement.side else ""
    column = f", column {agreement.column}" if agreement.column else ""
    return f"the agreed difference for {name}{on}{column}"


def agreement_cell(agreement: Difference) -> Place:
    """The cell of what an agreement is about."""
    return agreement.row.place("connection" if agreement.connection else "service")


def _thing(item: Item) -> str:
    ids = quoted_list(dict.fromkeys(member.id for member in item.group.members), "and")
    on = f"on {' and '.join(item.group.sides)} only"
    return f"{ids} {plain_column(item.column) if item.column else on}"


@dataclass(frozen=True, slots=True, eq=False)
class Audit:
    """All differences between alike sides, and what became of the agreements.

    items  key of a group's first member -> its differences
    """

    groups: tuple[Group, ...]
    items: Mapping[Key, tuple[Item, ...]]
    stale: tuple[Stale, ...]
    wide: tuple[Wide, ...]

    def of(self, group: Group) -> tuple[Item, ...]:
        """The differences of a group, in the order of the columns."""
        return self.items.get(group.members[0].key, ())


@lru_cache(maxsize=8)
def audit(assembly: Assembly, reads: Reads) -> Audit:
    """Compare all alike sides and hold the agreements against what differs.

    reads  how the texts of rules and limits are read
    """
    found = groups(assembly)
    agreements = _Agreements(assembly)
    items: dict[Key, tuple[Item, ...]] = {}
    for group in found:
        if len(group.members) < len(group.alike):
            items[group.members[0].key] = (agreements.held_against(_missing(group)),)
    for group, differing in differences(assembly, found, reads):
        each = tuple(agreements.held_against(_item(group, one)) for one in differing)
        key = group.members[0].key
        items[key] = items.get(key, ()) + each
    return Audit(found, items, tuple(agreements.stale()), tuple(agreements.wide()))


def _missing(group: Group) -> Item:
    half_known = all(bool(each.from_port) != bool(each.to_port) for each in group.members)
    places = tuple(cell for member in group.members for cell in member.id_cells)
    values = tuple((member.key.side, member.id) for member in group.members)
    return Item(group, EXISTENCE, group.sides, values, places, one_ended=half_known)


def _item(group: Group, differing: Differing) -> Item:
    return Item(group, differing.column, differing.odd, differing.values, differing.places)


def lacking(agreements: Iterable[Difference]) -> dict[str, str]:
    """What agreements lack, each with its column: a reason, and an approval where it is asked for.

    return  "reason" and "approval", those that are lacking -> "reason" and "approved by"
    """
    agreements = tuple(agreements)
    found = {}
    if not all(each.reason for each in agreements):
        found["reason"] = "reason"
    if any(not each.approved_by and _APPROVAL in each.row.table.numbers for each in agreements):
        found["approval"] = _APPROVAL
    return found


class _Agreements:
    """The agreed differences, found by what they name; remembers which were of use."""

    def __init__(self, assembly: Assembly) -> None:
        self._assembly = assembly
        self._by_name: defaultdict[str, list[Difference]] = defaultdict(list)
        self._by_service: defaultdict[str, list[Difference]] = defaultdict(list)
        for agreement in assembly.differences:
            if agreement.connection:
                self._by_name[folded(agreement.connection)].append(agreement)
            else:
                self._by_service[folded(agreement.service)].append(agreement)
        self._used: defaultdict[Source, list[Item]] = defaultdict(list)
        self._alone: set[Key] = set()  # connections without any counterpart
        self._spare: set[Source] = set()  # lack something, and others agree to what they name

    def held_against(self, item: Item) -> Item:
        """The difference with the agreements that cover it."""
        if not self._by_name and not self._by_service:
            return item
        if item.column == EXISTENCE and len(item.group.members) == 1:
            self._alone.add(item.group.members[0].key)
        named = [each for each in self._candidates(item.group) if _names(each, item)]
        signed = [each for each in named if not lacking([each])]
        unsigned = tuple(each for each in named if lacking([each]))
        if _on_every_odd_side(signed, item):
            item = item._replace(agreed=tuple(signed))
            self._spare.update(each.row for each in unsigned)
        else:
            item = item._replace(unsigned=unsigned)
        for agreement in dict.fromkeys((*signed, *item.unsigned)):
            self._used[agreement.row].append(item)
        return item

    def _candidates(self, group: Group) -> Iterator[Difference]:
        for name in dict.fromkeys(member.key.name for member in group.members):
            yield from self._by_name.get(name, ())
        for service in dict.fromkeys(folded(member.service) for member in group.members):
            yield from self._by_service.get(service, ()) if service else ()

    def stale(self) -> Iterator[Stale]:
        """The agreements, one for each row, that no difference needed."""
        rows = {agreement.row: agreement for agreement in self._assembly.differences}
        for row, agreement in rows.items():
            if row not in self._used:
                yield Stale(agreement, f"{agreement_words(agreement)} {self._why_stale(agreement)}")

    def wide(self) -> Iterator[Wide]:
        """The agreements that cover more than one thing."""
        rows = {agreement.row: agreement for agreement in self._assembly.differences}
        for row, agreement in rows.items():
            items = tuple(dict.fromkeys(self._used.get(row, ())))
            things = {(item.group.members[0].key, plain_column(item.column)) for item in items}
            if len(things) > 1:
                yield Wide(agreement, items)

    def _why_stale(self, agreement: Difference) -> str:
        if agreement.row in self._spare:
            lacks = " and no ".join(lacking([agreement]))
            return f"gives no {lacks}, and another row agrees to what it names"
        return f"matches nothing: {self._why_nothing(agreement)}"

    def _why_nothing(self, agreement: Difference) -> str:
        """What the agreement speaks of, and why that is no difference."""
        known = self._assembly.connections
        named = [each for each in known if _has_name(agreement, each)]
        members = [each for each in named if _has_service(agreement, each)]
        if not members:
            if not agreement.connection or not named:
                return self._not_listed(agreement)
            carried = quoted_list(dict.fromkeys(each.service for each in named), "and")
            return f"its service is {carried}, and not {quoted_list((agreement.service,))}"
        if agreement.joint:
            on = quoted_list(dict.fromkeys(each.joint for each in members), "and")
            members = [each for each in members if each.joint_key == folded(agreement.joint)]
            if not members:
                return f"it is at joint {on}, and not at this one"
        labels = dict.fromkeys(each.key.side for each in members)
        sides = " and ".join(labels)
        if agreement.side and agreement.side not in labels:
            return f"it is on {sides} only, and not on {agreement.side}"
        if not any(each.key.side in self._alike(each) for each in members):
            return f"it is on {sides}, and no other side has to be like it"
        if not agreement.column:
            return "it is on every side now"
        if all(each.key in self._alone for each in members):
            return f"it is on {sides} only, and has no {agreement.column} to be compared with"
        return f"{agreement.column} is alike on every side now"

    def _alike(self, connection: Connection) -> tuple[str, ...]:
        return self._assembly.alike.get(connection.joint_key, ())

    def _not_listed(self, agreement: Difference) -> str:
        word, name = ("connection", agreement.connection) if agreement.connection else (
            "service", agreement.service)  # fmt: skip
        known = (
            each.id if word == "connection" else each.service for each in self._assembly.connections
        )
        near = nearest(name, dict.fromkeys(known))
        hint = f"; the nearest is {quoted_list(near)}" if near else ""
        return f"no list has such a {word}{hint}"


def plain_column(column: str) -> str:
    """The two ends of one size are one thing to decide."""
    return "size" if column.endswith(" size") else column


def _names(agreement: Difference, item: Item) -> bool:
    """Whether an agreement names this difference, whatever it lacks."""
    if agreement.column not in (item.column, plain_column(item.column)):
        return False
    if agreement.joint and folded(agreement.joint) != item.group.joint_key:
        return False
    return any(_speaks_of(agreement, member) for member in item.group.members)


def _speaks_of(agreement: Difference, member: Connection) -> bool:
    return (
        (not agreement.side or agreement.side == member.key.side)
        and _has_name(agreement, member)
        and _has_service(agreement, member)
    )


def _has_name(agreement: Difference, member: Connection) -> bool:
    return not agreement.connection or folded(agreement.connection) == member.key.name


def _has_service(agreement: Difference, member: Connection) -> bool:
    return not agreement.service or folded(agreement.service) == folded(member.service)


def _on_every_odd_side(agreements: Sequence[Difference], item: Item) -> bool:
    """Whether agreements speak for every odd side; where none is the odd one any side will do."""
    said = {agreement.side for agreement in agreements}
    if not said or "" in said:
        return bool(said)
    if item.column != EXISTENCE and len(item.odd) == len(item.values):
        return True
    return set(item.odd) <= said
