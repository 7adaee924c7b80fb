"""Pairing by handed part numbers: odd for one hand, the next even number for the other.

A habit of drawing offices, not a law: usually left is odd. So a pair of numbers joins two
connections only where nothing that they say of themselves contradicts it.

source  handed parts in trade practice: the drawn hand takes the odd number, the opposite hand the
        next even one; or consecutive dash numbers, "-1 LH (shown), -2 RH (opposite)"
"""

import re
from collections.abc import Iterable, Iterator, Mapping, Sequence
from typing import NamedTuple

from joinmatrix.assembly.model import Connection
from joinmatrix.names import all_folded, folded
from joinmatrix.pairing.groups import How, Member, Sign, Unit, by_side, join_by_key, open_units
from joinmatrix.pairing.likeness import Likenesses
from joinmatrix.pairing.tokens import OWN, SideWords, side_words

_LAST_NUMBERS = re.compile(r"^(?:(.*?)(\d{1,18})([^\d\n]*)|.*)$", re.MULTILINE)


def by_handed_parts(units: Sequence[Unit], likes: Likenesses) -> None:
    """Join connections whose part numbers are those of two opposite hands."""
    for alike, sides in by_side(units):
        words = side_words(alike)
        may_pair = likes[alike].may_pair
        things = list(_things(sides, words))
        if join_by_key(_swapped(things), Sign(How.HANDED_PARTS, _why_swapped), may_pair):
            lacking = set(open_units(units))
            things = [thing for thing in things if thing[0] in lacking]
        if len(alike) == 2:
            keyed = _odd_and_even(things, alike[0])
            join_by_key(keyed, Sign(How.HANDED_PARTS, _why_numbers), may_pair)


# A connection, as what both hands of it have in common, its side and its part number: folded, with
# the words for its own side marked.
_Thing = tuple[Unit, tuple[str, ...], str, str]


def _things(sides: Mapping[str, Sequence[Member]], words: SideWords) -> Iterator[_Thing]:
    for side, here in sides.items():
        having = [each for each in here if each[1].part]
        members = [member for _, member in having]
        kinds = {kind: folded(kind) for kind in {member.type for member in members}}
        services = words.marked(all_folded([member.service for member in members]), side)
        parts = words.marked(all_folded([member.part for member in members]), side)
        common = (
            (member.joint_key, kinds[member.type], service, *([] if service else _sizes(member)))
            for member, service in zip(members, services, strict=True)
        )
        for (unit, _), both, part in zip(having, common, parts, strict=True):
            yield unit, both, side, part


def _sizes(member: Connection) -> tuple[str, str]:
    """Bolts of two lengths can have neighbouring numbers, and no service tells them apart."""
    return folded(member.from_size), folded(member.to_size)


def _swapped(things: Iterable[_Thing]) -> Iterator[tuple[object, Unit]]:
    for unit, common, _, part in things:
        if OWN in part:
            yield (common, part), unit


def _odd_and_even(things: Sequence[_Thing], first_side: str) -> Iterator[tuple[object, Unit]]:
    hands = hands_of([part for *_, part in things])
    for (unit, common, side, _), hand in zip(things, hands, strict=True):
        if hand is not None:
            # Odd on the left goes with even on the right, and the other way about.
            pair, odd = hand
            yield (common, pair, (side == first_side) == odd), unit


class HandedNumber(NamedTuple):
    """A part number as one of two hands.

    pair  the same for the odd number and the even one after it
    """

    pair: tuple[str, int, int, str]
    odd: bool


def hands_of(parts: Sequence[str]) -> Iterator[HandedNumber | None]:
    """Which hand each of some folded part numbers can be of; None where it has no number."""
    if not parts:
        return
    for before, digits, after in _LAST_NUMBERS.findall("\n".join(parts)):
        number = int(digits or 0)
        if number:
            yield HandedNumber((before, (number + 1) // 2, len(digits), after), number % 2 == 1)
        else:
            yield None


def _why_swapped(members: Sequence[Connection]) -> str:
    parts = " and ".join(member.part for member in members)
    return f"part numbers {parts} are one number with the hand changed"


def _why_numbers(members: Sequence[Connection]) -> str:
    parts = " and ".join(member.part for member in members)
    return f"part numbers {parts} are an odd and even pair, as opposite hands are numbered"
