"""The usual cautions of what a card lists, by the words of its types and services.

They are reminders of the trade, not the approved data; the card says so.
"""

import re
from collections.abc import Iterable, Iterator
from functools import lru_cache

from joinmatrix.assembly.connections import is_flight_control
from joinmatrix.assembly.model import Connection, Temporary
from joinmatrix.names import folded
from joinmatrix.reference.fluids import is_fluid

SAFETY = (
    "This card supports the people who do and release the work. It replaces neither the "
    "maintenance manual, nor the approved data, nor the licensed person who signs. Where they "
    "differ, the approved data stand."
)
_ELECTRICAL = re.compile(
    r"\b(?:electric\w*|connector|loom|harness|wir\w+|coax\w*|cable tray|power|busbar|bonding|sensor"
    r"|antenna|light|lights|pump motor|starter|generator|ignition)\b"
)
_OXYGEN = re.compile(r"\b(?:oxygen|o2)\b")
_FUEL = re.compile(r"\b(?:fuel|kerosene|gasoline|petrol|diesel|gas)\b")
_MOVES = re.compile(
    r"\b(?:gear|retract\w*|extend|float|flap\w*|door|jack|actuator|pitch|rotor|blade|brake)\b"
)
_CARRIES = re.compile(
    r"\b(?:bolt|stud|pin|attachment|fitting|mate|strut|spar|sling|brace|hoist|lock|support|flange)\b"
)


def cautions(connections: Iterable[Connection], items: Iterable[Temporary] = ()) -> Iterator[str]:
    """Each caution once, for the connections and temporary items of one card."""
    texts = tuple(
        dict.fromkeys(
            (
                *((each.type, each.service) for each in connections),
                *((each.type, each.name) for each in items),
            )
        )
    )
    for caution in _ORDER:
        if any(caution in _cautions_of(*text) for text in texts):
            yield caution


PRESSURE = "Pressure off, released and tagged before a line is opened or made."
POWER = "Electrical power off and tagged before a connector is parted or mated."
OXYGEN = "Oxygen parts: hands, tools and ends free of oil and grease; no other lubricant."
FUEL = "Fuel: no flame, no spark, no heater near; catch and wipe up what runs out."
CONTROLS = "Control surfaces clear of people and tools before a control is moved or released."
MOVING = "Gear, floats, flaps and drives clear of people; locks in before hands go in."
CARRYING = "Slings, trestles and supports checked before what carries is undone or joined."
_ORDER = (PRESSURE, POWER, OXYGEN, FUEL, CONTROLS, MOVING, CARRYING)


@lru_cache(maxsize=1 << 12)
def _cautions_of(kind: str, service: str) -> frozenset[str]:
    text = folded(f"{kind}; {service}")
    found = {
        PRESSURE: is_fluid(kind) or is_fluid(service),
        POWER: bool(_ELECTRICAL.search(text)),
        OXYGEN: bool(_OXYGEN.search(text)),
        FUEL: bool(_FUEL.search(text)),
        CONTROLS: is_flight_control(folded(kind), folded(service)),
        MOVING: bool(_MOVES.search(text)),
        CARRYING: bool(_CARRIES.search(text)),
    }
    return frozenset(caution for caution, applies in found.items() if applies)
