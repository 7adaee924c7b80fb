"""What single words in cells mean: sides, yes and no, acts, numbers, dates.

Every function takes the text of one cell and gives None for what it cannot understand; the caller
knows the cell and says so. Nothing here guesses: what can be read in two ways is not understood.
"""

import re
import unicodedata
from collections.abc import Iterator, Mapping, Sequence
from datetime import date
from functools import lru_cache
from typing import NamedTuple

from joinmatrix.names import folded

EXAMPLE = "EXAMPLE"  # begins what a blank workbook shows in a row that is not read
_CACHE = 1 << 14  # different words; a list repeats the same few down a column


# --- sides -------------------------------------------------------------------------------------

SIDE_WORDS: Mapping[str, str] = {
    **dict.fromkeys(("l", "lh", "lhs", "left", "left hand", "port"), "L"),
    **dict.fromkeys(("r", "rh", "rhs", "right", "right hand", "stbd", "starboard"), "R"),
    **dict.fromkeys(
        (
            *("c", "cl", "ctr", "centre", "center", "central", "mid", "middle", "℄"),
            *("centre line", "center line", "centreline", "centerline"),
        ),
        "C",
    ),
}
BOTH = "both"
EVERY_SIDE = frozenset((BOTH, "all", "each", "every", "both sides", "all sides", "each side"))

_SIDE_SEPARATORS = re.compile(r"\s*[,;/&+|\n]\s*(?:and\s+)?|\s+and\s+", re.IGNORECASE)
_NOISE_IN_SIDES = re.compile(r"[.]|\bside\b")


@lru_cache(maxsize=_CACHE)
def side_word(token: str) -> str | None:
    """L, R or C for one plain side word ("lh", "port", "Centre line"), else None."""
    # "℄" would fold to nothing that is known, so it is looked up first as it stands.
    return SIDE_WORDS.get(token.strip()) or SIDE_WORDS.get(_plain_side(token))


def _plain_side(token: str) -> str:
    """Without dots, hyphens and the word "side": "L.H. side" is "lh"."""
    return " ".join(_NOISE_IN_SIDES.sub("", folded(token).replace("-", " ")).split())


def parted_sides(text: str) -> list[str]:
    """The labels in a cell, parted by commas, semicolons, strokes, "&", "+", "and" or new lines."""
    return [part for each in _SIDE_SEPARATORS.split(text) if (part := each.strip())]


def side_labels(text: str, alike: Sequence[str] = ("L", "R")) -> tuple[str, ...] | None:
    """The labels that a side cell means, those of `alike` first and spelt as declared there.

    A label of `alike` matches as written; then the usual words for left, right and centre. Left
    and right are known only where `alike` has them, the centre line always. "both" and "all" are
    every label of `alike`. "C/L" is the centre line to some and two sides to others: None.
    """
    return _side_labels(text, tuple(alike))


@lru_cache(maxsize=_CACHE)
def _side_labels(text: str, alike: tuple[str, ...]) -> tuple[str, ...] | None:
    whole = folded(text)
    if whole in ("", "c/l", "l/c"):
        return None
    declared = _declared_sides(alike)
    if (one := _one_side(whole, declared)) is not None:
        return (one,)
    if whole in EVERY_SIDE:
        return alike
    found = _several_sides(parted_sides(whole), declared)
    if found is None:
        found = _several_sides(whole.split(), declared)
    if found is None and whole in ("lr", "rl"):
        found = _several_sides(list(whole), declared)
    if found is None:
        return None
    return tuple(sorted(found, key=lambda each: alike.index(each) if each in alike else len(alike)))


@lru_cache(maxsize=256)
def _declared_sides(alike: tuple[str, ...]) -> Mapping[str, str]:
    """What a folded label or plain side word comes to: the label as declared."""
    known = {"C": "C"}
    for label in alike:
        word = side_word(label)
        if word is not None:
            known[word] = label
    for label in alike:
        known[folded(label)] = label
    return known


def _one_side(token: str, declared: Mapping[str, str]) -> str | None:
    """The declared label for one folded token, or None."""
    if token in declared:
        return declared[token]
    word = side_word(token)
    if word is not None:
        return declared.get(word)
    return declared.get(_plain_side(token))


def _several_sides(tokens: Sequence[str], declared: Mapping[str, str]) -> set[str] | None:
    """The labels of two tokens or more; None when one of them is not a side."""
    labels = [_one_side(token, declared) for token in tokens if token]
    if len(labels) < 2 or None in labels:
        return None
    return {label for label in labels if label is not None}


# --- yes and no -------------------------------------------------------------------------

YES, NO = "yes", "no"
YES_WORDS = frozenset((YES, "y", "true", "x", "1", "✓", "✔", "√", "☑", "☒", "✅", "🗸", "ok"))
NO_WORDS = frozenset((NO, "n", "false", "0", "-", "–", "—", "☐", "✗", "✘", "❌"))


@lru_cache(maxsize=_CACHE)
def yes_no(text: str) -> bool | None:
    """True, False, or None when it is neither; "" is neither."""
    word = folded(text)
    if word in YES_WORDS:
        return True
    return False if word in NO_WORDS else None


# --- acts --------------------------------------------------------------------------------------

# "installed" and "torqued" are left out on purpose: shops mean two different acts by each.
ACT_WORDS: Mapping[str, tuple[str, ...]] = {
    "placed": ("place", "placing", "fed through", "inserted", "insert", "hung", "positioned"),
    "made": (
        *("make", "making", "connected", "connect", "joined", "join", "mated", "mate"),
        *("made up", "coupled", "re-made", "remade", "reconnected"),
    ),
    "measured": ("measure", "measurement", "reading", "reading taken", "gauged", "metered"),
    "inspected": (
        *("inspect", "inspection", "checked", "check", "verified", "verify", "re-inspected"),
        *("reinspected", "examined", "insp"),
    ),
    "opened": (
        *("open", "opening", "disconnected", "disconnect", "broken", "undone", "unmade"),
        *("parted", "uncoupled", "unmated", "separated", "re-opened", "reopened"),
    ),
    "fitted": ("fit", "fitting", "put on"),
    "removed": ("remove", "removal", "taken off", "took off", "uninstalled"),
    "started": ("start", "begin", "began", "begun", "starting", "commenced"),
    "done": ("finish", "finished", "complete", "completed", "end", "ended"),
}
_ACTS: Mapping[str, str] = {
    spelling: act for act, others in ACT_WORDS.items() for spelling in (act, *others)
}


@lru_cache(maxsize=_CACHE)
def act_word(text: str) -> str | None:
    """The act that a word of the record means ("connected" is "made"), or None."""
    word = folded(text).strip(".! ")
    return _ACTS.get(word)


# --- numbers -----------------------------------------------------------------------------------

_PLAIN = re.compile(r"[+-]?(\d+\.?\d*|\.\d+)(e[+-]?\d{1,2})?")
_COMMA_DECIMAL = re.compile(r"[+-]?(\d*,\d{1,2}|\d*,\d{4,}|0,\d+)")
_GROUPED = re.compile(r"[+-]?\d{1,3}(?P<group>[ '])\d{3}((?P=group)\d{3})*([.,]\d+)?")
_COMMA_GROUPS = re.compile(r"[+-]?\d{1,3}(,\d{3}){2,}(\.\d*)?|[+-]?\d{1,3}(,\d{3})+\.\d*")
_DOT_GROUPS = re.compile(r"[+-]?\d{1,3}(\.\d{3}){2,}(,\d*)?|[+-]?\d{1,3}(\.\d{3})+,\d*")
_ONE_SIGN_FRACTION = re.compile("([\u00bc-\u00be\u2150-\u215e])")
_FRACTION = re.compile(r"(?P<sign>[+-]?)((?P<whole>\d+)[ -])?(?P<over>\d+)/(?P<under>\d+)")


@lru_cache(maxsize=_CACHE)
def number(text: str) -> float | None:
    """The number that a text can only mean: 1.5, "1,5", "1 500", "1.500,0", "1/4", "1 1/4".

    "1,500" is 1.5 to some and 1500 to others: None. A unit or an inch mark is not part of it.
    """
    # One sign fractions fold to digits, so a whole number in front has to be kept apart first.
    apart = text if text.isascii() else _ONE_SIGN_FRACTION.sub(r" \1", text)
    plain = folded(apart).replace("\u2212", "-").replace("\u2044", "/").replace("\u2019", "'")
    if not plain or len(plain) > 40:
        return None
    if _PLAIN.fullmatch(plain):
        return float(plain)
    if _COMMA_DECIMAL.fullmatch(plain):
        return float(plain.replace(",", "."))
    if _COMMA_GROUPS.fullmatch(plain):
        return float(plain.replace(",", ""))
    if _DOT_GROUPS.fullmatch(plain):
        return float(plain.replace(".", "").replace(",", "."))
    if match := _GROUPED.fullmatch(plain):
        return float(plain.replace(match["group"], "").replace(",", "."))
    if (match := _FRACTION.fullmatch(plain)) and int(match["under"]):
        part = int(match["whole"] or 0) + int(match["over"]) / int(match["under"])
        return -part if match["sign"] == "-" else part
    return None


# --- dates -------------------------------------------------------------------------------------

_MONTHS = ("jan", "feb", "mar", "apr", "may", "jun", "jul", "aug", "sep", "oct", "nov", "dec")
_LONG_MONTHS = (
    *("january", "february", "march", "april", "may", "june", "july", "august", "september"),
    *("october", "november", "december"),
)
_MONTH_NUMBERS = {
    **{name: index for index, name in enumerate(_LONG_MONTHS, 1)},
    **{name: index for index, name in enumerate(_MONTHS, 1)},
    "sept": 9,
}

_CLOCK = (
    r"(?:(?:\s*[t,]\s*|\s+(?:at\s+)?)(?P<hour>\d{1,2}):(?P<minute>\d{2})"
    r"(?::(?P<second>\d{2})(?:[.,]\d{1,9})?)?\s*(?P<half>am|pm)?"
    r"\s*(?P<zone>z|utc|[+-](?:0\d|1[0-4]):?[0-5]\d)?)?"
)
_YEAR_FIRST = re.compile(
    r"(?P<year>\d{4})(?P<mark>[-/.])(?P<month>\d{1,2})(?P=mark)(?P<day>\d{1,2})" + _CLOCK
)
_EIGHT_DIGITS = re.compile(r"(?P<year>(?:19|20)\d{2})(?P<month>\d{2})(?P<day>\d{2})" + _CLOCK)
_DAY_NAMED_MONTH = re.compile(
    r"(?P<day>\d{1,2})(?:st|nd|rd|th)?[-./ ]*(?P<name>[a-z]{3,9})\.?,?[-./ ]*"
    r"(?P<year>\d{4}|\d{2})" + _CLOCK
)
_NAMED_MONTH_DAY = re.compile(
    r"(?P<name>[a-z]{3,9})\.?[-./ ]*(?P<day>\d{1,2})(?:st|nd|rd|th)?(?:,\s*|[-./ ]+)"
    r"(?P<year>\d{4})" + _CLOCK
)
_NUMBERS = re.compile(
    r"(?P<one>\d{1,2})(?P<mark>[-/.])(?P<two>\d{1,2})(?P=mark)(?P<three>\d{4}|\d{2})" + _CLOCK
)
DAY_FIRST, MONTH_FIRST, YEAR_FIRST = "day first", "month first", "year first"


class NumberDate(NamedTuple):
    """A date in numbers that does not begin with a year of four digits.

    "04/03/2026" has the day or the month first; in "26-03-04" the year may come first as well,
    as in dates of the international order, which have hyphens.
    """

    one: str
    two: str
    three: str
    mark: str
    clock: str

    @property
    def readings(self) -> Mapping[str, str]:
        """Order -> the date as ISO text, for each order that makes a day of it."""
        ways = {
            DAY_FIRST: (self.three, self.two, self.one),
            MONTH_FIRST: (self.three, self.one, self.two),
        }
        if self.mark == "-" and len(self.three) == 2 and len(self.one) == 2:
            ways[YEAR_FIRST] = (self.one, self.two, self.three)
        read = {
            order: _iso(_year(year), int(month), int(day), self.clock)
            for order, (year, month, day) in ways.items()
        }
        return {order: iso for order, iso in read.items() if iso is not None}

    @property
    def lacking(self) -> tuple[str, ...]:
        """The orders in which it is no day."""
        readings = self.readings
        return tuple(
            order for order in (DAY_FIRST, MONTH_FIRST, YEAR_FIRST) if order not in readings
        )

    @property
    def may_end_with_year(self) -> bool:
        """Whether it is a day with the year last."""
        return not {DAY_FIRST, MONTH_FIRST}.isdisjoint(self.readings)


@lru_cache(maxsize=_CACHE)
def date_or_time(text: str) -> str | None:
    """ISO text of one date, or date and time, that can be read in one way only.

    return  "2026-03-04", "2026-03-04T10:30", "2026-03-04T10:30:15", with "Z" or "+02:00" behind
            the time when a zone is written. Midnight without a zone is a date without a time:
            that is how spreadsheets store and export plain dates.
    """
    plain = folded(text)
    if not plain or len(plain) > 60 or not plain[-1].isalnum():
        return None
    for pattern in (_YEAR_FIRST, _EIGHT_DIGITS, _DAY_NAMED_MONTH, _NAMED_MONTH_DAY):
        if match := pattern.fullmatch(plain):
            return _iso_of(match)
    found = number_date(text)
    readings = set(found.readings.values()) if found else set()
    return readings.pop() if len(readings) == 1 else None


@lru_cache(maxsize=_CACHE)
def number_date(text: str) -> NumberDate | None:
    """A date such as "04/03/2026" or "4.3.26 10:30"; the column decides which number is which."""
    match = _NUMBERS.fullmatch(folded(text))
    clock = _clock(match) if match else None
    if match is None or clock is None:
        return None
    return NumberDate(match["one"], match["two"], match["three"], match["mark"], clock)


@lru_cache(maxsize=_CACHE)
def clock_time(text: str) -> str | None:
    """The time of day, "10:30", that is written alone ("9:05:00", "10:30 pm", "0930"), or None."""
    plain = folded(text)
    if re.fullmatch(r"\d{4}", plain):
        plain = f"{plain[:2]}:{plain[2:]}"
    match = re.fullmatch(_CLOCK, f" {plain}")
    if match is None or match["hour"] is None:
        return None
    clock = _clock(match)
    return clock[1:] if clock else None


def _iso_of(match: "re.Match[str]") -> str | None:
    clock = _clock(match)
    if clock is None:
        return None
    parts = match.groupdict()
    month = _MONTH_NUMBERS.get(parts["name"]) if "name" in parts else int(parts["month"])
    return _iso(_year(parts["year"]), month or 0, int(parts["day"]), clock)


def _year(text: str) -> int:
    """Two digits are of this century: what is joined is not of the last one."""
    return int(text) + 2000 if len(text) == 2 else int(text)


def _iso(year: int, month: int, day: int, clock: str) -> str | None:
    try:
        return date(year, month, day).isoformat() + ("" if clock == "T00:00" else clock)
    except ValueError:
        return None


def _clock(match: "re.Match[str]") -> str | None:
    """The time as "T10:30", seconds and zone as written; "" without one, None for no such time."""
    if match["hour"] is None:
        return ""
    hour, minute, second = (int(match[part] or 0) for part in ("hour", "minute", "second"))
    if match["half"]:
        if not 1 <= hour <= 12:
            return None
        hour = hour % 12 + (12 if match["half"] == "pm" else 0)
    if hour > 23 or minute > 59 or second > 59:
        return None
    seconds = f":{second:02}" if second else ""
    zone = (match["zone"] or "").upper().replace("UTC", "Z")
    if len(zone) == 5:
        zone = f"{zone[:3]}:{zone[3:]}"
    return f"T{hour:02}:{minute:02}{seconds}{zone}"


# --- look-alikes -------------------------------------------------------------------------------


def odd_characters(text: str) -> Iterator[str]:
    """Characters that look like others or like nothing, as a report shows them: "U+0408 ...".

    Letters of another alphabet in a text that has Latin ones too, invisible marks, odd dashes.
    """
    if text.isascii():
        return
    has_latin = any("a" <= each.lower() <= "z" for each in text)
    for each in dict.fromkeys(text):
        name = unicodedata.name(each, "")
        foreign = each.isalpha() and name.startswith(("CYRILLIC", "GREEK", "ARMENIAN"))
        odd = unicodedata.category(each) in ("Cf", "Pd", "Cc") and each not in "-\n\t\r"
        if odd or (foreign and has_latin):
            yield f"U+{ord(each):04X} {name}".rstrip()
