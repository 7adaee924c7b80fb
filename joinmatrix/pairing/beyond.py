"""What a route goes through beyond the ports of a connection, to compare it across alike sides.

Told as the sequence of halves, joints and kinds of runs, without the names of ports, as these may
differ from side to side.
"""

from collections import defaultdict
from functools import lru_cache
from typing import NamedTuple

from joinmatrix.assembly.model import Assembly, Connection, Key
from joinmatrix.pairing.likeness import Likenesses

_FARTHEST = 12  # links; no real route is longer, and a loop would never end
_FORKS = 12  # a port with more on it is an earthing point or the like


class _Link(NamedTuple):
    """A run or connection, from one of its ports.

    to    the port it leads to
    said  its half or joint and what it is, as written
    seen  the same from its own side
    """

    to: Key
    said: str
    seen: tuple[str, ...]


class Beyond(NamedTuple):
    """What lies beyond a connection.

    said  in words: "from: run in hull, hydraulic line at joint tail; to: nothing"
    seen  the same from its own side, to be compared
    """

    said: str
    seen: tuple[object, ...]


@lru_cache(maxsize=8)
def _links(assembly: Assembly) -> dict[Key, list[_Link]]:
    alike = {side: sides for sides in assembly.alike.values() for side in sides}
    likes = Likenesses()
    links: defaultdict[Key, list[_Link]] = defaultdict(list)

    def add(start: Key, end: Key, said: str) -> None:
        seen = likes[alike.get(start.side, ("L", "R"))].seen(said, start.side)
        links[start].append(_Link(end, said, seen))
        links[end].append(_Link(start, said, seen))

    for run in assembly.runs:
        carried = f" for {run.service}" if run.service else ""
        add(run.start, run.end, f"run{f' in {run.half}' if run.half else ''}{carried}")
    for each in assembly.connections:
        if each.from_port and each.to_port:
            add(each.from_key_port, each.to_key_port, f"{each.type} at joint {each.joint}")
    return dict(links)


def beyond(assembly: Assembly, connection: Connection) -> Beyond | None:
    """What lies beyond both ports of a connection; None where no run is given or no port named."""
    if not assembly.runs or not (connection.from_port or connection.to_port):
        return None
    links = _links(assembly)
    start, end = connection.from_key_port, connection.to_key_port
    said = []
    seen: list[object] = []
    for name, port, back in (("from", start, end), ("to", end, start)):
        way, ways = _onward(links, port, back, {start, end}, _FARTHEST)
        said.append(f"{name}: {way or 'nothing'}")
        seen.append(ways)
    return Beyond("; ".join(said), tuple(seen))


def _onward(
    links: dict[Key, list[_Link]], port: Key, back: Key, visited: set[Key], left: int
) -> tuple[str, tuple[object, ...]]:
    """The ways on from a port that has not been visited yet, in words and as seen."""
    onward = [link for link in links.get(port, ()) if link.to != back and link.to not in visited]
    if not left or len(onward) > _FORKS:
        return "", ()
    branches = []
    for link in onward:
        said, seen = _onward(links, link.to, port, visited | {link.to}, left - 1)
        branches.append(((link.seen, seen), f"{link.said}, {said}" if said else link.said))
    branches.sort(key=repr)
    told = [said for _, said in branches]
    words = told[0] if len(told) == 1 else " and ".join(f"({each})" for each in told)
    return words, tuple(seen for seen, _ in branches)
