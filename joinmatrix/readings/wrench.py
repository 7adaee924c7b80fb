"""What a torque wrench with an extension does at the nut.

The record holds what the wrench showed. With an extension the nut sees more (or less, where the
extension points back over the wrench): shown x (L + E) / L, L the lever of the wrench and E the
extension, both along the wrench. At an angle only the part along the wrench counts, at 90 degrees
nothing.
"""

import math
import re
from fractions import Fraction
from functools import lru_cache
from typing import NamedTuple

from joinmatrix.names import folded
from joinmatrix.readings.limits import amount
from joinmatrix.readings.numbers import Unclear
from joinmatrix.readings.units import Unit, converted, read_unit
from joinmatrix.reference.torque import at_nut

_NO_EXTENSION = {"", "-", "–", "none", "no", "n/a", "0"}
_ANGLE = re.compile(r"(?P<length>.*?)[\s,]*(?:\bat\b|@)\s*(?P<angle>[\d.,]+)\s*(?:°|deg\w*)?")


class Correction(NamedTuple):
    """How much more the nut sees than the wrench shows, and in which cell that was unclear.

    factor  torque at the nut for each unit on the wrench
    column  the cell that could not be understood, "" when all is well
    unclear what is wrong with it
    """

    factor: Fraction = Fraction(1)
    column: str = ""
    unclear: Unclear | None = None


NO_CORRECTION = Correction()


@lru_cache(maxsize=1 << 12)
def correction(extension: str, wrench_length: str) -> Correction:
    """The correction for the two cells of a record entry."""
    if folded(extension) in _NO_EXTENSION:
        return NO_CORRECTION
    along = _length(extension, _ALONG)
    if isinstance(along, Unclear):
        return Correction(column="extension", unclear=along)
    if along[0] == 0:
        return NO_CORRECTION
    if not wrench_length:
        found = f'extension "{extension}" is used, and the length of the wrench is not given'
        return Correction(column="extension", unclear=Unclear(found, "write the wrench length"))
    lever = _length(wrench_length, _LEVER)
    if isinstance(lever, Unclear):
        return Correction(column="wrench length", unclear=lever)
    reach = _in_unit_of(along, lever)
    if reach is None:
        found = f'extension "{extension}" and wrench length "{wrench_length}" are not in one unit'
        remedy = "write the unit of length behind both, or behind neither when it is the same"
        return Correction(column="extension", unclear=Unclear(found, remedy))
    try:
        return Correction(at_nut(Fraction(1), lever[0], reach))
    except ValueError:
        found = f'extension "{extension}" on a wrench of "{wrench_length}" leaves no lever'
        remedy = "correct the extension or the wrench length"
        return Correction(column="extension", unclear=Unclear(found, remedy))


_ALONG, _LEVER = "extension", "wrench length"


def _length(text: str, what: str) -> tuple[Fraction, str] | Unclear:
    """A length along the wrench and its unit as written."""
    match = _ANGLE.fullmatch(text) if what == _ALONG else None
    number, unit = amount(match["length"] if match else text)
    remedy = f'write the {what} as "4 in" or "100 mm"'
    if isinstance(number, Unclear):
        return Unclear(f'{what} "{text}" is not a length', remedy)
    known = read_unit(unit)
    if unit and not (isinstance(known, Unit) and known.quantity == "length"):
        return Unclear(f'{what} "{text}" is not a length', remedy)
    if match is None:
        return number.value, unit
    angle, _ = amount(match["angle"])
    if isinstance(angle, Unclear):
        return Unclear(f'{what} "{text}" has an angle that is not a number', remedy)
    return number.value * _cosine(angle.value), unit


def _cosine(degrees: Fraction) -> Fraction:
    """Exact where the shop means exact: at 0, 90 and 180 degrees."""
    if degrees % 90 == 0:
        return Fraction((1, 0, -1, 0)[int(degrees // 90) % 4])
    return Fraction(math.cos(math.radians(float(degrees))))


def _in_unit_of(one: tuple[Fraction, str], other: tuple[Fraction, str]) -> Fraction | None:
    """A length in the unit of another; None when only one of them has a unit."""
    mine, theirs = read_unit(one[1]), read_unit(other[1])
    if not isinstance(mine, Unit) or not isinstance(theirs, Unit) or bool(one[1]) != bool(other[1]):
        return None
    return converted(one[0], mine, theirs)
