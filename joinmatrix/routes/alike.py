"""Groups of connections that can be swapped by hand, and what tells their members apart."""

import re
from collections import defaultdict
from collections.abc import Iterable, Iterator, Sequence
from enum import IntEnum
from functools import lru_cache
from operator import attrgetter
from typing import NamedTuple

from joinmatrix.assembly.connections import is_flight_control
from joinmatrix.assembly.model import Assembly, Connection
from joinmatrix.names import all_folded, folded
from joinmatrix.reference import ends, keys, sizes
from joinmatrix.reference.fluids import is_fluid

_COLOURS = re.compile(
    r"\b(?:black|blue|brown|green|gr[ae]y|orange|pink|purple|red|violet|white|yellow)\b"
)


# What a hand can tell by, as written.
_CELLS = attrgetter("type", "from_size", "to_size", "from_end", "to_end", "from_key", "to_key")


class Hazard(IntEnum):
    """What a swap can do, the worst first."""

    FLIGHT_CONTROL = 0
    FLUID = 1
    OTHER = 2


class Alike(NamedTuple):
    """Connections of one joint and side that fit each other's places and serve different ends.

    services  each once, as written, in reading order
    apart     what tells the members apart by the lists: "part", "colour"; () when nothing does
    """

    joint: str
    side: str
    connections: tuple[Connection, ...]
    services: tuple[str, ...]
    hazard: Hazard
    apart: tuple[str, ...]


@lru_cache(maxsize=8)
def alike_groups(assembly: Assembly) -> tuple[Alike, ...]:
    """Every group that can be swapped by hand: flight controls and fluids before the rest.

    Alike are connections of one joint and side with the same type, size, end forms and keys; other
    spellings of the same are the same. A blank is like a blank only. Connections without a service
    are left out: nothing says what a swap would do.
    """
    found: defaultdict[tuple[str, str, int], list[Connection]] = defaultdict(list)
    looks: dict[tuple[str, ...], int] = {}
    seen: dict[tuple[str, ...], int] = {}
    for connection in assembly.connections:
        if connection.service:
            cells = _CELLS(connection)
            look = seen.get(cells)
            if look is None:
                look = seen[cells] = looks.setdefault(_look(*cells), len(looks))
            found[connection.joint_key, connection.key.side, look].append(connection)
    groups = (_group(members) for members in found.values() if len(members) > 1)
    several = (group for group in groups if len(group.services) > 1)
    return tuple(sorted(several, key=lambda group: group.hazard))


def _look(kind: str, *rest: str) -> tuple[str, ...]:
    """The same, in one spelling."""
    return (
        folded(kind),
        *map(sizes.canonical, rest[:2]),
        *map(ends.canonical, rest[2:4]),
        *map(keys.canonical, rest[4:]),
    )


def _group(members: list[Connection]) -> Alike:
    first = members[0]
    written = tuple(dict.fromkeys([member.service for member in members]))
    services: dict[str, str] = {}
    for name, service in zip(all_folded(written), written, strict=True):
        services.setdefault(name, service)
    return Alike(
        first.joint,
        first.side,
        tuple(members),
        tuple(services.values()),
        _hazard(first.type, written),
        tuple(_apart(members)),
    )


def _hazard(kind: str, services: Iterable[str]) -> Hazard:
    """The worst of a group; its services are one text, parted so that no two of them meet."""
    if is_flight_control(kind, f" {kind} ; ".join(services)):
        return Hazard.FLIGHT_CONTROL
    if is_fluid(kind) or is_fluid(" ; ".join(services)):
        return Hazard.FLUID
    return Hazard.OTHER


def _apart(members: Sequence[Connection]) -> Iterator[str]:
    """What the lists have that is different on every member."""
    if _all_different(member.part for member in members):
        yield "part"
    if _all_different(map(_colours, members)):
        yield "colour"


def _all_different(texts: Iterable[str]) -> bool:
    seen: set[str] = set()
    for text in texts:
        if not text or text in seen:
            return False
        seen.add(text)
    return True


def _colours(connection: Connection) -> str:
    """The colours of its band, as part and remarks name them."""
    return " ".join(_COLOURS.findall(folded(f"{connection.part} {connection.remarks}")))
