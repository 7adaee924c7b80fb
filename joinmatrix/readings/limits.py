"""The words of a limits cell.

    limits   one or more, separated by ";" or a line break
    limit    [measure] LOW..HIGH [unit]     135..150 in-lbf, 135 to 150 in-lbf, 135-150 in-lbf
             [measure] >= LOW [unit]        also <=, >, <, at least, at most, min, max
             LOW <= measure <= HIGH [unit]
             [measure] N ± T [unit]         also +/-, ± 5 %, and +0.5/-0.2
             measure = text or number       slot = aft

A limit without a measure is met by whatever was read.
"""

import re
import unicodedata
from collections.abc import Callable
from fractions import Fraction
from functools import lru_cache
from typing import NamedTuple

from joinmatrix.names import folded
from joinmatrix.readings.numbers import NUMBER, Number, Unclear, read_number
from joinmatrix.readings.units import compact, read_unit


class Limit(NamedTuple):
    """One thing that must be read, and what it must be.

    text     as written, with its measure
    measure  as written, "" when it has none
    key      the measure as it is compared
    unit     as written, "" when it has none
    low, high            bounds that are still within; None where there is none
    above_low, below_high  True where the bound itself is already outside (">", "<")
    wanted   the text that it must be, "" for numbers
    """

    text: str
    measure: str
    key: str
    unit: str = ""
    low: Fraction | None = None
    high: Fraction | None = None
    above_low: bool = False
    below_high: bool = False
    wanted: str = ""


class Limits(NamedTuple):
    """What a limits cell says: the limits that could be read, and the parts that could not."""

    limits: tuple[Limit, ...]
    unclear: tuple[Unclear, ...]


REMEDY = (
    'write each limit as "torque 135..150 in-lbf", "threads >= 1", "<= 2.5 mohm", '
    '"12 ± 0.5 mm" or "slot = aft", and put ";" between several'
)
_LONGEST = 200  # characters; a page of text in a cell is no limit, and slow to search
_NOTHING = {"", "-", "–", "—", "none", "nil", "n/a", "na", "no limit"}
_VULGAR = re.compile(r"(?<=\d)(?=[¼½¾⅐-⅞])")
_AT_LEAST = r">=|=>|≥|\b(?:at least|not less than|no less than|min(?:imum|\.)?)|>"
_AT_MOST = r"<=|=<|≤|\b(?:at most|not more than|no more than|max(?:imum|\.)?)|<"
# A unit starts with no digit and holds none but a power, so that a second number never hides in it.
_UNIT = r"(?:[^\W\d_]|[%°\"'])[^\d<>=±:;+]*?[23]?(?:/[a-z]+[23]?)?"
_N = NUMBER
_RANGE = re.compile(
    rf"(?P<measure>.*?)[\s:=]*(?P<low>{_N})\s*(?P<unit1>{_UNIT})?\s*"
    rf"(?:\.\.+|-|–|—|\bto\b)\s*(?P<high>{_N})\s*(?P<unit2>{_UNIT})?",
    re.IGNORECASE,
)
_BETWEEN = re.compile(
    rf"(?P<low>{_N})\s*(?P<unit1>{_UNIT})?\s*(?P<least><=|≤|<)\s*(?P<measure>[^\d<>=]*?)\s*"
    rf"(?P<most><=|≤|<)\s*(?P<high>{_N})\s*(?P<unit2>{_UNIT})?",
    re.IGNORECASE,
)
_BOUND = re.compile(
    rf"(?P<measure>.*?)[\s:]*(?:(?P<least>{_AT_LEAST})|(?P<most>{_AT_MOST}))\s*"
    rf"(?P<number>{_N})\s*(?P<unit>{_UNIT})?",
    re.IGNORECASE,
)
# "30 min" is half an hour; only behind a unit does "min" mean the least.
_BOUND_BEHIND = re.compile(
    rf"(?P<measure>.*?)[\s:=]*(?P<number>{_N})\s*(?P<unit>{_UNIT})\s+"
    r"(?:(?P<least>min(?:imum|\.)?|or more)|(?P<most>max(?:imum|\.)?|or less))",
    re.IGNORECASE,
)
_AROUND = re.compile(
    rf"(?P<measure>.*?)[\s:=]*(?P<number>{_N})\s*(?P<unit1>{_UNIT})?\s*"
    rf"(?:±|\+\s*/?\s*[-−])\s*(?P<by>{_N})\s*(?P<unit2>{_UNIT})?",
    re.IGNORECASE,
)
_PLUS_MINUS = re.compile(
    rf"(?P<measure>.*?)[\s:=]*(?P<number>{_N})\s*(?P<unit1>{_UNIT})?\s*"
    rf"\+\s*(?P<more>{_N})\s*[/,]?\s*[-−]\s*(?P<less>{_N})\s*(?P<unit2>{_UNIT})?",
    re.IGNORECASE,
)
_EQUAL = re.compile(r"(?P<measure>[^<>=±]+?)\s*=\s*(?P<wanted>[^<>=±]+)")
_AMOUNT = re.compile(rf"({_N})\s*({_UNIT})?", re.IGNORECASE)


def measure_key(measure: str) -> str:
    """A measure as it is compared; "thread" and "threads" are one."""
    return folded(measure).rstrip("s")


@lru_cache(maxsize=1 << 14)
def read_limits(text: str) -> Limits:
    """The limits of a cell; each different text is understood once."""
    limits: list[Limit] = []
    unclear: list[Unclear] = []
    if folded(text) in _NOTHING:
        return Limits((), ())
    for part in re.split(r"[;\n\r]+", text):
        if part.strip():
            read = _read(part.strip())
            if isinstance(read, Limit):
                limits.append(read)
            else:
                unclear.append(read)
    return Limits(tuple(limits), tuple(unclear))


def amount(text: str) -> tuple[Number | Unclear, str]:
    """A number and the unit behind it, "" when there is none: "4.5 in"."""
    match = _AMOUNT.fullmatch(_plain(text)) if len(text) <= _LONGEST else None
    if match is None:
        return read_number(text), ""
    return read_number(match[1]), match[2] or ""


def _plain(text: str) -> str:
    """The text with one spelling of signs and fractions; "12½" is 12 1/2."""
    spaced = _VULGAR.sub(" ", text.replace("″", '"').replace("′", "'").replace("²", "2"))
    one = unicodedata.normalize("NFKC", spaced).replace("⁄", "/").replace("…", "..")
    return " ".join(one.split())


def _read(part: str) -> Limit | Unclear:
    plain = _plain(part)
    if len(plain) > _LONGEST:
        return Unclear(f'limit "{plain[:60]}…" is not understood', REMEDY)
    for pattern, build in _FORMS:
        match = pattern.fullmatch(plain)
        if match is not None:
            try:
                return build(part, match.groupdict(default=""))
            except _NotUnderstoodError as error:
                return error.unclear
    return Unclear(f'limit "{part}" is not understood', REMEDY)


class _NotUnderstoodError(Exception):
    """A part of a limit that has the right form and makes no sense; stays in this file."""

    def __init__(self, part: str, why: str, remedy: str) -> None:
        super().__init__(why)
        self.unclear = Unclear(f'limit "{part}": {why}', remedy)


def _base(part: str, groups: dict[str, str]) -> Limit:
    """The limit with its measure and unit; the two units of a range must be one."""
    units = [unit for name in ("unit", "unit1", "unit2") if (unit := groups.get(name, "").strip())]
    if len({compact(unit) for unit in units}) > 1:
        raise _NotUnderstoodError(part, "it has two units", "give both numbers in one unit")
    unit = units[-1] if units else ""
    known = read_unit(unit)
    if isinstance(known, Unclear):
        raise _NotUnderstoodError(part, known.found, known.remedy)
    measure = groups["measure"].strip(" :=")
    return Limit(part, measure, measure_key(measure), unit)


def _value(part: str, text: str) -> Fraction:
    number = read_number(text)
    if isinstance(number, Unclear):
        raise _NotUnderstoodError(part, number.found, number.remedy)
    return number.value


def _span(part: str, groups: dict[str, str]) -> Limit:
    low, high = _value(part, groups["low"]), _value(part, groups["high"])
    if low > high:
        swapped = f"{groups['high'].strip()}..{groups['low'].strip()}"
        raise _NotUnderstoodError(part, "it starts above its end", f"write {swapped} if meant so")
    return _base(part, groups)._replace(
        low=low,
        high=high,
        above_low=groups.get("least") == "<",
        below_high=groups.get("most") == "<",
    )


def _bound(part: str, groups: dict[str, str]) -> Limit:
    value, base = _value(part, groups["number"]), _base(part, groups)
    if groups["least"]:
        return base._replace(low=value, above_low=groups["least"] == ">")
    return base._replace(high=value, below_high=groups["most"] == "<")


def _around(part: str, groups: dict[str, str]) -> Limit:
    nominal = _value(part, groups["number"])
    more = abs(_value(part, groups.get("more") or groups["by"]))
    less = abs(_value(part, groups.get("less") or groups["by"]))
    # "142 in-lbf ± 5 %" is a share of 142; "50 ± 5 %" is itself in percent.
    if groups["unit2"] == "%" and groups["unit1"] not in ("", "%"):
        more, less = abs(nominal) * more / 100, abs(nominal) * less / 100
        groups = {**groups, "unit2": ""}
    return _base(part, groups)._replace(low=nominal - less, high=nominal + more)


def _equal(part: str, groups: dict[str, str]) -> Limit:
    measure, wanted = groups["measure"].strip(), groups["wanted"].strip()
    match = _AMOUNT.fullmatch(wanted)
    if match is None:
        return Limit(part, measure, measure_key(measure), wanted=wanted)
    value = _value(part, match[1])
    base = _base(part, {"measure": measure, "unit": match[2] or ""})
    return base._replace(low=value, high=value)


_FORMS: tuple[tuple[re.Pattern[str], Callable[[str, dict[str, str]], Limit]], ...] = (
    (_PLUS_MINUS, _around),
    (_AROUND, _around),
    (_RANGE, _span),
    (_BETWEEN, _span),
    (_BOUND, _bound),
    (_BOUND_BEHIND, _bound),
    (_EQUAL, _equal),
)
