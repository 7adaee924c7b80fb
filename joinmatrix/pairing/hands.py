"""Pairing by handed part numbers: odd for one hand, the next even number for the other.

A habit of drawing offices, not a law: usually left is odd. So a pair of numbers joins two
connections only where nothing that they say of themselves contradicts it.

source  handed parts in trade practice: the drawn hand takes the odd number, the opposite hand the
        next even one; or consecutive dash numbers, "-1 LH (shown), -2 RH (opposite)"
"""

import re
from collections import defaultdict
from collections.abc import Iterable, Iterator, Sequence
from typing import NamedTuple

from joinmatrix.assembly.model import Connection
from joinmatrix.names import folded
from joinmatrix.pairing.groups import How, Sign, Unit, join_by_key, open_units
from joinmatrix.pairing.likeness import Likeness
from joinmatrix.pairing.tokens import OWN, SideWords, folded_all, side_words

_LAST_NUMBER = re.compile(r"(?P<before>.*?)(?P<number>\d{1,18})(?P<after>\D*)", re.DOTALL)


def by_handed_parts(units: Sequence[Unit]) -> None:
    """Join connections whose part numbers are those of two opposite hands."""
    of_sides: defaultdict[tuple[str, ...], list[Unit]] = defaultdict(list)
    for unit in units:
        if any(member.part for member in unit.members):
            of_sides[unit.alike].append(unit)
    for alike, some in of_sides.items():
        words = side_words(alike)
        may_pair = Likeness(words).may_pair
        things = list(_things(some, words))
        if join_by_key(_swapped(things), Sign(How.HANDED_PARTS, _why_swapped), may_pair):
            lacking = set(open_units(some))
            things = [thing for thing in things if thing.unit in lacking]
        if len(alike) == 2:
            keyed = _odd_and_even(things, alike[0])
            join_by_key(keyed, Sign(How.HANDED_PARTS, _why_numbers), may_pair)


class _Thing(NamedTuple):
    """A connection, as what both hands of it have in common, and its part number.

    part  folded, with the words for its own side marked
    """

    unit: Unit
    common: tuple[str, ...]
    side: str
    part: str


def _swapped(things: Iterable[_Thing]) -> Iterator[tuple[object, Unit]]:
    for unit, common, _, part in things:
        if OWN in part:
            yield (*common, part), unit


def _odd_and_even(things: Iterable[_Thing], first_side: str) -> Iterator[tuple[object, Unit]]:
    for unit, common, side, part in things:
        number = hand_of(part)
        if number is not None:
            # Odd on the left goes with even on the right, and the other way about.
            hand = (side == first_side) == number.odd
            yield (*common, number.pair, hand), unit


def _things(units: Sequence[Unit], words: SideWords) -> Iterator[_Thing]:
    of_side: dict[str, list[tuple[Unit, Connection]]] = {side: [] for side in words.alike}
    for unit in units:
        for member in unit.members:
            if member.part:
                of_side[member.key.side].append((unit, member))
    for side, here in of_side.items():
        if not here:
            continue
        services = words.marked(folded_all([member.service for _, member in here]), side)
        parts = words.marked(folded_all([member.part for _, member in here]), side)
        for (unit, member), service, part in zip(here, services, parts, strict=True):
            common: tuple[str, ...] = (member.joint_key, folded(member.type), service)
            if not service:
                # Bolts of two lengths can have neighbouring numbers, and no service tells.
                common = (*common, folded(member.from_size), folded(member.to_size))
            yield _Thing(unit, common, side, part)


class HandedNumber(NamedTuple):
    """A part number as one of two hands.

    pair  the same for the odd number and the even one after it
    """

    pair: tuple[str, int, int, str]
    odd: bool


def hand_of(part: str) -> HandedNumber | None:
    """Which hand a part number can be of; None where it has no number."""
    found = _LAST_NUMBER.fullmatch(folded(part))
    if found is None or not int(found["number"]):
        return None
    number, width = int(found["number"]), len(found["number"])
    pair = (found["before"], (number + 1) // 2, width, found["after"])
    return HandedNumber(pair, bool(number % 2))


def _why_swapped(members: Sequence[Connection]) -> str:
    parts = " and ".join(member.part for member in members)
    return f"part numbers {parts} are one number with the hand changed"


def _why_numbers(members: Sequence[Connection]) -> str:
    parts = " and ".join(member.part for member in members)
    return f"part numbers {parts} are an odd and even pair, as opposite hands are numbered"
