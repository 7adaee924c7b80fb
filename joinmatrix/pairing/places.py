"""What the ports and services of one joint say about who can be whose counterpart.

Where the sides name their ports alike, two connections between ports of other names are no
counterparts, however alike they look: one of each is missing on the other side.
"""

from collections import Counter, defaultdict
from collections.abc import Iterable
from functools import cached_property

from joinmatrix.assembly.model import Connection, Key
from joinmatrix.names import all_folded
from joinmatrix.pairing.likeness import Likeness
from joinmatrix.pairing.tokens import SideWords

_Place = tuple[str, str]


class Places:
    """The connections of one joint by the names of their ports and by their services.

    members  all on the alike sides of the joint, paired or not
    """

    def __init__(self, members: Iterable[Connection], words: SideWords, like: Likeness) -> None:
        self._members = tuple(members)
        self._words = words
        self._like = like

    @cached_property
    def _of(self) -> dict[Key, _Place]:
        """The two ports of each connection, without the words for their own side."""
        of_side: defaultdict[str, list[Connection]] = defaultdict(list)
        for member in self._members:
            if member.from_port and member.to_port:
                of_side[member.key.side].append(member)
        places: dict[Key, _Place] = {}
        for side, here in of_side.items():
            names = [name for each in here for name in (each.from_port, each.to_port)]
            marked = self._words.marked(all_folded(names), side)
            for each, start, end in zip(here, marked[::2], marked[1::2], strict=True):
                places[each.key] = (start, end)
        return places

    @cached_property
    def named_alike(self) -> bool:
        """Whether half of the places of one side are places of another side too."""
        sides: defaultdict[str, set[_Place]] = defaultdict(set)
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
