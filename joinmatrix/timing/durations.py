"""Durations as rules write them: "30 min", "1.5 h", "2 days"."""

import re
from fractions import Fraction

from joinmatrix.names import folded

_MINUTES = {
    **dict.fromkeys(("m", "min", "mins", "minute", "minutes"), 1),
    **dict.fromkeys(("h", "hr", "hrs", "hour", "hours"), 60),
    **dict.fromkeys(("d", "day", "days"), 24 * 60),
    **dict.fromkeys(("w", "wk", "wks", "week", "weeks"), 7 * 24 * 60),
}
_SMALL = ("one", "two", "three", "four", "five", "six", "seven", "eight", "nine", "ten")
_NUMBERS = {"a": 1, "an": 1, **{word: value for value, word in enumerate(_SMALL, 1)}}
_UNIT = "|".join(sorted(_MINUTES, key=len, reverse=True))
_NUMBER = rf"\d+(?:[.,]\d+)?|{'|'.join(sorted(_NUMBERS, key=len, reverse=True))}"
_PART = re.compile(rf"({_NUMBER})\s*({_UNIT})\b\.?")
DURATION = rf"(?:{_NUMBER})\s*(?:{_UNIT})\b\.?(?:\s*(?:and\s+)?(?:{_NUMBER})\s*(?:{_UNIT})\b\.?)*"


def minutes_of(text: str) -> Fraction | None:
    """Minutes of a duration ("30 min", "1.5 h", "2 days", "1 h 30 min"), None when it is none.

    "1,500 h" can be read in two ways and is none.
    """
    plain = folded(text)
    if not re.fullmatch(DURATION, plain) or re.search(r",\d{3}\b", plain):
        return None
    return sum(
        (
            Fraction(_NUMBERS.get(number) or Fraction(number.replace(",", "."))) * _MINUTES[unit]
            for number, unit in _PART.findall(plain)
        ),
        Fraction(0),
    )
