"""The audit of alike sides: what belongs together and why, what differs, and what was agreed."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from itertools import groupby
from typing import NamedTuple

from joinmatrix.assembly.model import Assembly, Connection
from joinmatrix.assembly.standing import standings
from joinmatrix.checks.asymmetric import audited
from joinmatrix.errors import CallError
from joinmatrix.names import folded, nearest, quoted_list
from joinmatrix.pairing.audit import (
    EXISTENCE,
    Audit,
    Item,
    agreement_cell,
    agreement_words,
    lacking,
    plain_column,
)
from joinmatrix.pairing.beyond import beyond
from joinmatrix.pairing.hands import hands_of
from joinmatrix.pairing.pairs import Group
from joinmatrix.pairing.tokens import side_words
from joinmatrix.place import Place

# The headings of a differences list; a proposal has a row of these for each open difference.
DIFFERENCES_HEADINGS = (
    "joint", "connection", "side", "column", "reason", "approved by",
)  # fmt: skip
_MISSING = "existence"


@dataclass(frozen=True, slots=True)
class Difference:
    """One column in which counterparts differ.

    column    "existence" when one of several alike sides lacks it
    values    side -> what it has, as written, "" for a blank
    odd       the sides that differ from the majority; every side when there is none
    agreed    whether the differences list covers it
    reason    as the agreement gives it
    approved  who approved it
    lacking   what an agreement that names it lacks: "reason", "approval", both with "and"; else ""
    """

    column: str
    values: tuple[tuple[str, str], ...]
    odd: tuple[str, ...]
    agreed: bool
    reason: str = ""
    approved: str = ""
    lacking: str = ""
    places: tuple[Place, ...] = ()


@dataclass(frozen=True, slots=True)
class Pair:
    """Counterparts on two or more alike sides.

    members      side -> identifier, in the order of the sides
    why          why they were paired, in words
    differences  in the columns that have to be alike or agreed
    also         what is shown and not judged: ports, part and route where they differ after
                 swapping the sides, remarks and the state of the work where they differ
    """

    members: tuple[tuple[str, str], ...]
    type: str
    service: str
    why: str
    differences: tuple[Difference, ...]
    also: tuple[Difference, ...] = ()

    @property
    def verdict(self) -> str:
        """One word for the pair: "equal", "agreed" or "different"."""
        if not self.differences:
            return "equal"
        return "agreed" if all(each.agreed for each in self.differences) else "different"


@dataclass(frozen=True, slots=True)
class Unpaired:
    """A connection without a counterpart on any other side.

    one_ended  listed by one half only: the other finding comes first
    """

    connection: str
    side: str
    type: str
    service: str
    agreed: bool
    reason: str = ""
    approved: str = ""
    lacking: str = ""
    one_ended: bool = False
    places: tuple[Place, ...] = ()


class Counts(NamedTuple):
    """How many pairs are equal, agreed or different, and how many connections have no pair."""

    equal: int = 0
    agreed: int = 0
    different: int = 0
    unpaired: int = 0
    unpaired_agreed: int = 0

    def __add__(self, other: object) -> "Counts":
        """Counts of two joints together."""
        if not isinstance(other, Counts):
            return NotImplemented
        return Counts(*(mine + theirs for mine, theirs in zip(self, other, strict=True)))


NO_COUNTS = Counts()


@dataclass(frozen=True, slots=True)
class JointSides:
    """The audit of one joint. `counts` stay those of the whole joint in a narrowed view."""

    joint: str
    alike: tuple[str, ...]
    pairs: tuple[Pair, ...]
    unpaired: tuple[Unpaired, ...]
    counts: Counts


class ProposedDifference(NamedTuple):
    """One row of a differences list, as `DIFFERENCES_HEADINGS`, to be reasoned and approved."""

    joint: str
    connection: str
    side: str
    column: str
    reason: str = ""
    approved_by: str = ""


@dataclass(frozen=True, slots=True)
class Sides:
    """The audit of the alike sides, joint by joint.

    idle   agreements that match no difference, each in a sentence, with its cell
    wide   agreements that cover several differences, each in a sentence, with its cell
    counts of all joints together; they stay those of all in a narrowed view
    """

    joints: tuple[JointSides, ...]
    proposal: tuple[ProposedDifference, ...]
    idle: tuple[tuple[Place, str], ...] = ()
    wide: tuple[tuple[Place, str], ...] = ()
    counts: Counts = NO_COUNTS

    @property
    def open(self) -> int:
        """How many pairs and connections differ without an agreement.

        What one half only lists is left out: the other half may well have it.
        """
        return sum(
            sum(pair.verdict == "different" for pair in joint.pairs)
            + sum(not each.agreed and not each.one_ended for each in joint.unpaired)
            for joint in self.joints
        )

    @property
    def exit_code(self) -> int:
        """1 when something differs without an agreement, else 0."""
        return int(self.open > 0)

    def differences_only(self) -> "Sides":
        """The same without the pairs that are equal; joints without a difference are left out."""
        joints = (
            replace(joint, pairs=tuple(pair for pair in joint.pairs if pair.differences))
            for joint in self.joints
        )
        return replace(
            self, joints=tuple(joint for joint in joints if joint.pairs or joint.unpaired)
        )


def sides(assembly: Assembly, *, joint: str = "", differences_only: bool = False) -> Sides:
    """The pairs of alike sides, what differs, what was agreed, and why each pair was paired.

    joint             only this joint
    differences_only  leave out what is equal
    raises            CallError for a joint that no list has
    """
    audit = audited(assembly)
    groups = [group for group in audit.groups if not joint or group.joint_key == folded(joint)]
    if joint and not any(each.key == folded(joint) for each in assembly.joints):
        names = [each.name for each in assembly.joints]
        near = nearest(joint, names) or names
        raise CallError(f'no list has a joint "{joint}"', f"choose {quoted_list(near)}")
    joints = tuple(
        _joint(assembly, audit, list(same))
        for _, same in groupby(groups, key=lambda group: group.joint_key)
    )
    found = Sides(
        joints,
        tuple(dict.fromkeys(row for group in groups for row in _proposed(audit.of(group)))),
        *_agreements(audit, folded(joint)),
        sum((each.counts for each in joints), NO_COUNTS),
    )
    return found.differences_only() if differences_only else found


def _agreements(
    audit: Audit, joint_key: str
) -> tuple[tuple[tuple[Place, str], ...], tuple[tuple[Place, str], ...]]:
    idle = tuple(
        (agreement_cell(each.agreement), each.text)
        for each in audit.stale
        if not joint_key or folded(each.agreement.joint) in ("", joint_key)
    )
    wide = tuple(
        (agreement_cell(each.agreement), f"{agreement_words(each.agreement)} covers {each.covers}")
        for each in audit.wide
        if not joint_key or any(item.group.joint_key == joint_key for item in each.items)
    )
    return idle, wide


def _joint(assembly: Assembly, audit: Audit, groups: Sequence[Group]) -> JointSides:
    pairs = []
    unpaired = []
    shown = _Shown(assembly, groups[0].alike)
    for group in groups:
        if len(group.members) > 1:
            pairs.append(_pair(group, audit.of(group), tuple(shown.of(group))))
        else:
            unpaired.append(_unpaired(group, audit.of(group)[0]))
    verdicts = [pair.verdict for pair in pairs]
    agreed = sum(each.agreed for each in unpaired)
    equal, decided, different = map(verdicts.count, ("equal", "agreed", "different"))
    counts = Counts(equal, decided, different, len(unpaired) - agreed, agreed)
    return JointSides(groups[0].joint, groups[0].alike, tuple(pairs), tuple(unpaired), counts)


def _pair(group: Group, items: Sequence[Item], also: tuple[Difference, ...]) -> Pair:
    first = group.members[0]
    return Pair(
        tuple((member.key.side, member.id) for member in group.members),
        first.type,
        first.service,
        group.why,
        tuple(_difference(same) for same in _by_column(items)),
        also,
    )


def _by_column(items: Sequence[Item]) -> Iterator[list[Item]]:
    """The items as a reader counts them: a size that differs the same at both ends is one."""
    keyed = groupby(
        items, key=lambda item: (plain_column(item.column), item.values, bool(item.agreed))
    )
    for _, same in keyed:
        yield list(same)


def _difference(items: Sequence[Item]) -> Difference:
    item = items[0]
    name = plain_column(item.column) if len(items) > 1 else item.column or _MISSING
    values = item.values
    if item.column == EXISTENCE:
        values = tuple((side, dict(item.values).get(side, "")) for side in item.group.alike)
    places = dict.fromkeys(place for each in items for place in each.places)
    return Difference(name, values, item.odd, *_agreement(item), places=tuple(places))


def _agreement(item: Item) -> tuple[bool, str, str, str]:
    """Whether it is agreed, the reason, who approved it, and what a faulty agreement lacks."""
    if item.agreed:
        return True, item.agreed[0].reason, item.agreed[0].approved_by, ""
    return False, "", "", " and ".join(lacking(item.unsigned))


def _unpaired(group: Group, item: Item) -> Unpaired:
    member = group.members[0]
    return Unpaired(
        member.id,
        member.key.side,
        member.type,
        member.service,
        *_agreement(item),
        one_ended=item.one_ended,
        places=item.places,
    )


# --- what is shown and not judged ----------------------------------------------------------------


class _Shown:
    """Ports, parts, route, remarks and state of pairs, where they differ."""

    def __init__(self, assembly: Assembly, alike: tuple[str, ...]) -> None:
        self._assembly = assembly
        self._words = side_words(alike)
        self._standings = standings(assembly)

    def of(self, group: Group) -> Iterator[Difference]:
        """What differs in a pair besides the compared columns."""
        members = group.members
        one_row = all(member.rows == members[0].rows for member in members)
        if not one_row:
            for column, texts in (
                ("from", [member.from_port for member in members]),
                ("to", [member.to_port for member in members]),
                ("part", [member.part for member in members]),
            ):
                if self._swapped_apart(members, texts) and not _opposite_hands(column, texts):
                    yield self._difference(column, members, texts)
            remarks = [member.remarks for member in members]
            if len({folded(text) for text in remarks}) > 1:
                yield self._difference("remarks", members, remarks)
        ways = [beyond(self._assembly, member) for member in members]
        if len({way and way.seen for way in ways}) > 1:
            yield self._difference("route", members, [way.said if way else "" for way in ways])
        states = [self._standings[member.key].state.value for member in members]
        if len(set(states)) > 1:
            yield self._difference("state", members, states)

    def _swapped_apart(self, members: Sequence[Connection], texts: Sequence[str]) -> bool:
        """Whether texts differ both as written and with the words for their sides taken out."""
        plain = {folded(text) for text in texts}
        marked = {
            self._words.marked([folded(text)], member.key.side)[0]
            for member, text in zip(members, texts, strict=True)
        }
        return len(plain) > 1 and len(marked) > 1

    def _difference(
        self, column: str, members: Sequence[Connection], texts: Sequence[str]
    ) -> Difference:
        values = tuple((member.key.side, text) for member, text in zip(members, texts, strict=True))
        return Difference(column, values, tuple(side for side, _ in values), agreed=False)


def _opposite_hands(column: str, texts: Sequence[str]) -> bool:
    """Whether part numbers are the odd and even pair of two hands."""
    hands = list(hands_of([folded(text) for text in texts]))
    if column != "part" or len(hands) != 2 or hands[0] is None or hands[1] is None:
        return False
    return hands[0].pair == hands[1].pair


# --- the proposal --------------------------------------------------------------------------------


def _proposed(items: Sequence[Item]) -> Iterator[ProposedDifference]:
    """The rows of a differences list that would cover the open differences of a group."""
    open_items = [item for item in items if item.open]
    for same in _by_column(open_items):
        item = same[0]
        column = plain_column(item.column) if len(same) > 1 else item.column
        of_side = {member.key.side: member for member in item.group.members}
        one_name = len({member.key.name for member in item.group.members}) == 1
        needed = item.odd if item.column == EXISTENCE or len(item.odd) < len(item.values) else ()
        if not needed:
            # Any member will do: by its name alone where all share it, else with its side.
            first = item.group.members[0]
            side = "" if one_name else first.key.side
            yield ProposedDifference(item.group.joint, first.id, side, column)
        for side in needed:
            yield ProposedDifference(item.group.joint, of_side[side].id, side, column)
