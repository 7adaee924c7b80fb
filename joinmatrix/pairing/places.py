"""What the ports and services of one joint say about who can be whose counterpart.

Where the sides name their ports alike, two connections between ports of other names are no
counterparts, however alike they look: one of each is missing on the other side.
"""

from collections import Counter, defaultdict
from collections.abc import Callable, Sequence
from functools import cached_property

from joinmatrix.assembly.model import Connection, Key
from joinmatrix.names import all_folded
from joinmatrix.pairing.likeness import Likeness
from joinmatrix.pairing.tokens import SideWords

Place = tuple[str, str]
Ends = Callable[[Connection], tuple[str, str]]


def both_ends(member: Connection) -> tuple[str, str]:
    """The two ports of a connection, as written; blank where one is not given."""
    both = member.from_port and member.to_port
    return (member.from_port, member.to_port) if both else ("", "")


def places_of(
    members: Sequence[Connection], ends: Ends, words: SideWords, side: str
) -> list[Place]:
    """The ports of connections of one side, folded, without the words for that side."""
    names = [name for member in members for name in ends(member)]
    marked = words.marked(all_folded(names), side)
    return list(zip(marked[::2], marked[1::2], strict=True))


class Places:
    """The connections of one joint by the names of their ports and by their services.

    members  all on the alike sides of the joint, paired or not
    """

    def __init__(self, members: Sequence[Connection], words: SideWords, like: Likeness) -> None:
        self._members = members
        self._words = words
        self._like = like

    @cached_property
    def _of(self) -> dict[Key, Place]:
        """The two ports of each connection, without the words for their own side."""
        of_side: defaultdict[str, list[Connection]] = defaultdict(list)
        for member in self._members:
            if member.from_port and member.to_port:
                of_side[member.key.side].append(member)
        places: dict[Key, Place] = {}
        for side, here in of_side.items():
            found = places_of(here, both_ends, self._words, side)
            places.update(zip([member.key for member in here], found, strict=True))
        return places

    @cached_property
    def named_alike(self) -> bool:
        """Whether half of the places of one side are places of another side too."""
        sides: defaultdict[str, set[Place]] = defaultdict(set)
        for key, place in self._of.items():
            sides[key.side].add(place)
        on = Counter(place for places in sides.values() for place in places)
        return any(
            2 * sum(on[place] > 1 for place in places) >= len(places) for places in sides.values()
        )

    @cached_property
    def _times(self) -> Counter[tuple[str, tuple[str, ...]]]:
        return Counter(
            (each.key.side, self._like.seen(each.service, each.key.side))
            for each in self._members
            if each.service
        )

    def only_for_its_service(self, one: Connection) -> bool:
        """Whether no other connection on its side of the joint has the same service."""
        side = one.key.side
        return bool(one.service) and self._times[side, self._like.seen(one.service, side)] == 1

    def apart(self, one: Connection, other: Connection) -> bool:
        """Whether two connections stand at different places, and no service is theirs alone."""
        if not self.named_alike:
            return False
        mine, theirs = self._of.get(one.key), self._of.get(other.key)
        if mine is None or theirs is None or mine[0] == theirs[0] or mine[1] == theirs[1]:
            return False
        return not (self.only_for_its_service(one) and self.only_for_its_service(other))
