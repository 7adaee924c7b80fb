"""Pairing by what connections are like, for those whose names and routes tell nothing.

First what is alike to the last column, then the only one of its kind for a service, and the rest
by the best assignment of one side to the other. Below a threshold nothing is paired: two lines that
only look a little alike are more likely one forgotten on each side.
"""

from collections import Counter, defaultdict
from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence

from joinmatrix.assembly.model import Connection
from joinmatrix.names import folded, quoted_list
from joinmatrix.pairing.assignment import best_pairs
from joinmatrix.pairing.groups import (
    Fits,
    How,
    Sign,
    Unit,
    by_joint,
    by_side,
    can_join,
    join_by_key,
    may_join,
    open_units,
)
from joinmatrix.pairing.likeness import THRESHOLD, Likeness, Likenesses
from joinmatrix.pairing.places import Places
from joinmatrix.pairing.tokens import side_words

_UNIT = 10**9  # scores become whole numbers, so that the optimum is exact
_BASE = THRESHOLD - 0.05  # so that two poor pairs are never worth more than a good one
_MANY = 50  # up to so many on each side every pair is looked at
_BEST = 12  # beyond, only so many of the best for each


def by_likeness(units: Iterable[Unit], unpaired: Iterable[Unit], likes: Likenesses) -> None:
    """Join what is most alike, joint by joint.

    units     all there are: they show how the ports of a joint are named
    unpaired  those of them that lack a side
    """
    joints = {joint: here for joint, here in by_joint(unpaired).items() if can_join(here)}
    everything = by_joint(units, joints)
    for joint, here in joints.items():
        alike = here[0].alike
        members = [member for unit in everything[joint] for member in unit.members]
        _join(here, Places(members, side_words(alike), likes[alike]), likes[alike])


def _join(here: Sequence[Unit], places: Places, like: Likeness) -> None:
    """Join the open units of one joint."""
    for _, sides in by_side(here):
        for side, members in sides.items():
            like.learn([each.id for _, each in members], side)
            like.learn([each.service for _, each in members], side)
    join_by_key(_by_plain_id(here, like), Sign(How.ALIKE, _why_plain_id), like.may_pair)
    fits = _not_apart(places) if places.named_alike else None
    join_by_key(_by_all_columns(open_units(here), like), Sign(How.ALIKE, _why_all_columns), fits)
    join_by_key(_by_service(open_units(here), like), Sign(How.ALIKE, _why_service), fits)
    for side in here[0].alike[1:]:
        _assign(open_units(here), side, like, fits)
    # What is left for one service, or at one place, is told once with all that is different.
    left = _for_one_service(open_units(here), places, like)
    join_by_key(left, Sign(How.ALIKE, _why_service_alone), fits)


def _not_apart(places: Places) -> Fits:
    return lambda one, other: not places.apart(one, other)


def _by_plain_id(units: Iterable[Unit], like: Likeness) -> Iterator[tuple[object, Unit]]:
    """Identifiers without punctuation, leading zeros and order of words: "H-07 LH", "RH H7"."""
    for unit in units:
        for member in unit.members:
            words = like.seen(member.id, member.key.side)
            if words:
                yield _plain(words), unit


def _plain(words: Iterable[str]) -> tuple[tuple[str, ...], tuple[str, ...]]:
    """Words in any order, and numbers in theirs: 1-HYD-2 is not 2-HYD-1."""
    texts, numbers = [], []
    for word in words:
        if word[0].isdigit():
            numbers.append(word.lstrip("0") or "0")
        else:
            texts.append(word)
    return tuple(sorted(texts)), tuple(numbers)


def _why_plain_id(members: Sequence[Connection]) -> str:
    return f"{_ids(members)} are one name but for punctuation, order and the side"


def _ids(members: Sequence[Connection]) -> str:
    return quoted_list((member.id for member in members), "and")


def _by_all_columns(units: Iterable[Unit], like: Likeness) -> Iterator[tuple[object, Unit]]:
    for unit in units:
        for member in unit.members:
            yield like.profile(member), unit


def _why_all_columns(members: Sequence[Connection]) -> str:
    return f"{_ids(members)} are alike in every column, and nothing else is"


def _by_service(units: Iterable[Unit], like: Likeness) -> Iterator[tuple[object, Unit]]:
    for unit in units:
        for member in unit.members:
            if member.service:
                side = member.key.side
                yield (like.seen(member.type, side), like.seen(member.service, side)), unit


def _why_service(members: Sequence[Connection]) -> str:
    first = members[0]
    return f'each is the only {first.type or "connection"} for "{first.service}" on its side'


def _for_one_service(
    units: Iterable[Unit], places: Places, like: Likeness
) -> Iterator[tuple[object, Unit]]:
    for unit in units:
        for member in unit.members:
            if places.only_for_its_service(member):
                yield like.seen(member.service, member.key.side), unit


def _why_service_alone(members: Sequence[Connection]) -> str:
    return f'each is the only one for "{members[0].service}" on its side'


# --- the rest ----------------------------------------------------------------------------------


def _assign(units: Sequence[Unit], side: str, like: Likeness, fits: Fits | None) -> None:
    """Pair what lacks a side with what that side has left, so that the whole is most alike."""
    rows, columns = _split(units, side)
    if not rows or not columns:
        return
    if len(rows) * len(columns) > _MANY**2:
        _in_order_of_names(rows, columns, like, fits)
        rows, columns = _split([*open_units(rows), *open_units(columns)], side)
    order = _natural(like)
    rows, columns = sorted(rows, key=order), sorted(columns, key=order)
    for row, column in best_pairs(_gains(rows, columns, like, fits)):
        mine, theirs = rows[row], columns[column]
        why = _why_best(mine.members[0], theirs.members[0], like)
        mine.take([theirs], Sign(How.ALIKE, why))


def _split(units: Iterable[Unit], side: str) -> tuple[list[Unit], list[Unit]]:
    """The units that lack a side, and those that have it."""
    rows: list[Unit] = []
    columns: list[Unit] = []
    for unit in units:
        has = any(member.key.side == side for member in unit.members)
        (columns if has else rows).append(unit)
    return rows, columns


def _natural(like: Likeness) -> Callable[[Unit], tuple[tuple[int, str], ...]]:
    """The order of names as people count: H-9 before H-10, whatever the side."""

    def key(unit: Unit) -> tuple[tuple[int, str], ...]:
        first = unit.members[0]
        words = like.seen(first.id, first.key.side)
        return tuple((len(word), word) if word.isdigit() else (0, word) for word in words)

    return key


def _gains(
    rows: Sequence[Unit], columns: Sequence[Unit], like: Likeness, fits: Fits | None
) -> dict[tuple[int, int], int]:
    """What each pair is worth, for those at or above the threshold."""
    services = _Services(columns, like)
    pairs = [(row, column) for row, unit in enumerate(rows) for column in services.near(unit)]
    if len(pairs) > _MANY**2:
        pieces_of = [[_pieces(unit) for unit in units] for units in (rows, columns)]
        shared = {
            (row, column): float(len(pieces_of[0][row] & pieces_of[1][column]))
            for row, column in pairs
        }
        pairs = list(_best_of_each(shared))
    scores = {
        (row, column): score
        for row, column in pairs
        if (score := _score(rows[row], columns[column], like, fits)) >= THRESHOLD
    }
    if len(rows) * len(columns) > _MANY**2:
        scores = _best_of_each(scores)
    # Among equals the first goes with the first; squares make one answer the best.
    return {
        (row, column): round((score - _BASE) * _UNIT) - min((row - column) ** 2, 10**6)
        for (row, column), score in scores.items()
    }


def _pieces(unit: Unit) -> frozenset[str]:
    """Runs of three letters of all that a connection says: a quick look before the close one."""
    first = unit.members[0]
    text = folded(" ".join((first.service, first.type, first.limits, first.from_size)))
    return frozenset(text[start : start + 3] for start in range(len(text) - 2))


def _best_of_each(scores: Mapping[tuple[int, int], float]) -> dict[tuple[int, int], float]:
    """The best few pairs of each row and of each column."""
    kept: set[tuple[int, int]] = set()
    for axis in (0, 1):
        of_line: defaultdict[int, list[tuple[int, int]]] = defaultdict(list)
        for pair in scores:
            of_line[pair[axis]].append(pair)
        for pairs in of_line.values():
            pairs.sort(key=lambda pair: (-scores[pair], abs(pair[0] - pair[1])))
            kept.update(pairs[:_BEST])
    return {pair: scores[pair] for pair in scores if pair in kept}


class _Services:
    """The columns by the words of their services, so that few have to be looked at closely."""

    def __init__(self, columns: Sequence[Unit], like: Likeness) -> None:
        self._like = like
        self._words = [self._of(unit) for unit in columns]
        self._unnamed = {number for number, words in enumerate(self._words) if not words}
        self._having: defaultdict[str, list[int]] = defaultdict(list)
        for number, words in enumerate(self._words):
            for word in words:
                self._having[word].append(number)

    def _of(self, unit: Unit) -> set[str]:
        """Numbers, and the first letter of words, so that misspelt and shortened ones meet.

        Empty where a member has no service, as then it may be any.
        """
        if not all(member.service for member in unit.members):
            return set()
        return {
            word if word.isdigit() else word[:1]
            for member in unit.members
            for word in self._like.seen(member.service, member.key.side)
        }

    def near(self, unit: Unit) -> set[int]:
        """The columns whose service has all the words of this one's, or the other way about."""
        words = self._of(unit)
        if not words:
            return set(range(len(self._words)))
        shared = Counter(number for word in words for number in self._having.get(word, ()))
        return self._unnamed | {
            number
            for number, count in shared.items()
            if count >= min(len(words), len(self._words[number]))
        }


def _score(one: Unit, other: Unit, like: Likeness, fits: Fits | None) -> float:
    """The likeness of two units: the mean of their members', 0 if any two cannot be paired."""
    if not may_join((one, other), fits):
        return 0.0
    scores = [like.score(mine, theirs) for mine in one.members for theirs in other.members]
    return sum(scores) / len(scores) if all(scores) else 0.0


def _why_best(one: Connection, other: Connection, like: Likeness) -> str:
    same = like.agreeing(one, other)
    alike = f"same {', '.join(same[:-1])} and {same[-1]}" if len(same) > 1 else "".join(same)
    return f"no other pairing of what is left is as much alike: {alike or 'nearly the same texts'}"


def _in_order_of_names(
    rows: Sequence[Unit], columns: Sequence[Unit], like: Likeness, fits: Fits | None
) -> None:
    """Pair off what nothing but the name tells apart, first with first."""
    order = _natural(like)
    groups: defaultdict[object, tuple[list[Unit], list[Unit]]] = defaultdict(lambda: ([], []))
    for place, some in enumerate((rows, columns)):
        for unit in some:
            groups[like.profile(unit.members[0])][place].append(unit)
    for mine, theirs in groups.values():
        pairs = zip(sorted(mine, key=order), sorted(theirs, key=order), strict=False)
        for one, other in pairs:
            if not may_join((one, other), fits):
                continue
            why = (
                f"{max(len(mine), len(theirs))} are alike in every column, and these come at the "
                "same place in the order of their names"
            )
            one.take([other], Sign(How.ALIKE, why))
