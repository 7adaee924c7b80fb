"""The spellings of units that shops use, and conversion between units of one quantity.

Spellings are folded first ("in-lbf", "in. lb", "lbf·in" are one unit), so that the units library
is loaded only for a reading that really is in another unit than its limit. Case counts where it
must: mohm is a milliohm, Mohm a megohm, and "MOHM" is asked about.

On a shop floor a pound or a kilogram on a gauge is a force, so "lb" is read as lbf and "kg" as
kgf. Absolute pressures (psia, bara) are compared with themselves only.
"""

import re
import unicodedata
from collections import defaultdict
from collections.abc import Hashable, Iterator
from fractions import Fraction
from functools import lru_cache
from typing import TYPE_CHECKING, NamedTuple

from joinmatrix.readings.numbers import Unclear

if TYPE_CHECKING:
    import pint


class Unit(NamedTuple):
    """A unit that is known.

    name      as the units library spells it; "" for a plain count
    quantity  what it measures, in a tradesman's word
    """

    name: str
    quantity: str


COUNT = Unit("", "count")
TORQUE = "torque"

# What each unit is called in the library, and how it is written, spaces and dots left out.
_LENGTHS = {
    "inch": "in inch inches \" '' ″",
    "foot": "ft foot feet ' ′",
    "thou": "thou thous",
    "millimeter": "mm millimetre millimetres millimeter millimeters",
    "centimeter": "cm centimetre centimetres centimeter centimeters",
    "meter": "m metre metres meter meters",
    "micrometer": "μm um micron microns micrometre micrometres",
}
_FORCES = {
    "force_pound": "lbf lb lbs lbsf pound pounds poundforce poundsforce",
    "force_ounce": "ozf oz ounce ounces ounceforce",
    "kilogram_force": "kgf kg kp kilogram kilograms",
    "newton": "N newton newtons",
    "decanewton": "daN",
    "kilonewton": "kN kilonewton kilonewtons",
}
_TORQUE_PAIRS = (
    ("inch", "in inch inches", "force_pound"),
    ("foot", "ft foot feet", "force_pound"),
    ("inch", "in inch inches", "force_ounce"),
    ("meter", "m metre metres meter meters", "newton"),
    ("centimeter", "cm", "newton"),
    ("meter", "m", "decanewton"),
    ("meter", "m", "kilonewton"),
    ("centimeter", "cm", "kilogram_force"),
    ("meter", "m", "kilogram_force"),
)
_OTHERS = {
    "pressure": {
        "psi": "psi psig lbf/in2 lb/in2",
        "bar": "bar bars barg",
        "millibar": "mbar",
        "pascal": "Pa",
        "hectopascal": "hPa",
        "kilopascal": "kPa",
        "megapascal": "MPa N/mm2",
        "inch_Hg": "inHg",
        "millimeter_Hg": "mmHg torr",
    },
    "resistance": {
        "microohm": "μohm uohm μΩ uΩ microohm microohms microhm microhms",
        "milliohm": "mohm mohms mΩ milliohm milliohms",
        "ohm": "ohm ohms Ω",
        "kiloohm": "kohm kohms kΩ kiloohm kiloohms",
        "megaohm": "Mohm Mohms MΩ megohm megohms megaohm megaohms",
        "gigaohm": "Gohm Gohms GΩ gigohm gigohms gigaohm gigaohms",
    },
    "voltage": {"volt": "V volt volts VDC VAC", "millivolt": "mV", "kilovolt": "kV"},
    "current": {"ampere": "A amp amps ampere amperes", "milliampere": "mA", "microampere": "μA uA"},
    "capacitance": {"microfarad": "μF uF", "nanofarad": "nF", "picofarad": "pF"},
    "angle": {
        "degree": "deg degs degree degrees °",
        "radian": "rad radian radians",
        "turn": "turn turns rev revs revolution revolutions",
    },
    "time": {
        "millisecond": "ms",
        "second": "s sec secs second seconds",
        "minute": "min mins minute minutes",
        "hour": "h hr hrs hour hours",
    },
    "temperature": {
        "degC": "°C degC C celsius",
        "degF": "°F degF F fahrenheit",
        "kelvin": "K kelvin",
    },
    "volume": {
        "milliliter": "ml millilitre millilitres milliliter milliliters cc",
        "liter": "l litre litres liter liters",
        "US_liquid_gallon": "USgal",
        "US_liquid_quart": "USqt",
    },
    "flow": {"liter/minute": "l/min lpm", "US_liquid_gallon/minute": "USgpm"},
    "frequency": {"hertz": "Hz", "kilohertz": "kHz", "megahertz": "MHz"},
    "share": {"percent": "% percent pct"},
}  # fmt: skip
_COUNTS = "ea each pc pcs piece pieces off no nos x"
_JOINING = re.compile(r"[\s.·⋅∙•*\-–×]+")


def _spellings() -> Iterator[tuple[str, Unit]]:
    for quantity, table in (("length", _LENGTHS), ("force", _FORCES), *_OTHERS.items()):
        for name, words in table.items():
            yield from ((word, Unit(name, quantity)) for word in words.split())
    for length, lengths, force in _TORQUE_PAIRS:
        unit = Unit(f"{length}*{force}", TORQUE)
        for one in lengths.split():
            for other in _FORCES[force].split():
                yield other + one, unit
                if one + other != "mN":  # a millinewton to some, so it is not understood
                    yield one + other, unit
    yield from ((word, COUNT) for word in _COUNTS.split())


@lru_cache(maxsize=1)
def _known() -> tuple[dict[str, Unit], dict[str, frozenset[Unit]]]:
    """Units by their exact spelling, and by their spelling without case."""
    exact = dict(_spellings())
    loose: defaultdict[str, set[Unit]] = defaultdict(set)
    for spelling, unit in exact.items():
        loose[spelling.lower()].add(unit)
    return exact, {spelling: frozenset(units) for spelling, units in loose.items()}


@lru_cache(maxsize=1 << 12)
def compact(text: str) -> str:
    """A unit without what joins its parts: "in-lbf", "in. lbf" and "in·lbf" are "inlbf"."""
    marks = text.replace("²", "2").replace("″", '"').replace("′", "'").replace("º", "°")
    return _JOINING.sub("", unicodedata.normalize("NFKC", marks))


@lru_cache(maxsize=1 << 12)
def read_unit(text: str) -> Unit | Unclear | None:
    """The unit that a text names; None when it is not known, a count when it is blank.

    Not known is no fault in itself: "clicks" compares with "clicks". `Unclear` is what differs
    only by case between two known units: MOHM.
    """
    spelling = compact(text)
    if not spelling:
        return COUNT
    exact, loose = _known()
    if spelling in exact:
        return exact[spelling]
    units = loose.get(spelling.lower(), frozenset())
    if len(units) > 1:
        names = " or ".join(sorted(unit.name for unit in units))
        return Unclear(f'unit "{text}" can be {names}', f"write {names} in full")
    return next(iter(units), None)


def unit_key(text: str) -> Hashable:
    """A unit as limits are compared: one for all its spellings, as long as the case is clear.

    Direct and alternating volts are read alike and are not the same limit.
    """
    unit = read_unit(text)
    spelling = compact(text)
    if not isinstance(unit, Unit):
        return spelling
    return unit, spelling.upper() if spelling.upper() in ("VDC", "VAC") else ""


def same_unit(one: str, other: str) -> bool:
    """Whether two units as written are one, so that nothing has to be converted."""
    mine, theirs = read_unit(one), read_unit(other)
    if isinstance(mine, Unit) or isinstance(theirs, Unit):
        return mine == theirs
    return compact(one) == compact(other)


def converted(value: Fraction, given: Unit, wanted: Unit) -> Fraction:
    """A value in another unit of the same quantity, exact as the units library defines both.

    raises  ValueError when the two do not measure the same
    """
    if given == wanted:
        return value
    if given.quantity != wanted.quantity:
        raise ValueError(f"{given.name} is no {wanted.quantity}")
    zero, one = _line(given.name, wanted.name)
    return zero + (one - zero) * value


@lru_cache(maxsize=256)
def _line(given: str, wanted: str) -> tuple[Fraction, Fraction]:
    """What 0 and 1 of a unit are in another; temperatures have a zero of their own."""
    quantity = _registry().Quantity
    zero = quantity(Fraction(0), given).to(wanted).magnitude
    one = quantity(Fraction(1), given).to(wanted).magnitude
    return Fraction(zero), Fraction(one)


@lru_cache(maxsize=1)
def _registry() -> "pint.UnitRegistry[Fraction]":
    """The units library, in exact arithmetic; loaded only here, as it takes a third of a second."""
    import pint

    return pint.UnitRegistry(non_int_type=Fraction)
