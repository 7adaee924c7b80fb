"""From the values of a column to its text, and the dates of a date column to ISO text.

Worked out once for each different value: a column of a hundred thousand cells has a few dozen.
"""

import re
from collections.abc import Collection, Iterable, Mapping
from datetime import date, datetime, time, timedelta
from typing import NamedTuple, cast

from joinmatrix.lists.grid import Value
from joinmatrix.lists.words import (
    MONTH_FIRST,
    YEAR_FIRST,
    NumberDate,
    clock_time,
    date_or_time,
    number_date,
)
from joinmatrix.names import quoted_list

_INVISIBLE_ENDS = "\ufeff\u200b\u200c\u200d\u2060\u00ad"
_LINE_BREAKS = re.compile(r"\r\n|[\r\v\f\x85\u2028\u2029]")
_MOST_DIGITS = 1e21  # beyond it a whole number is no identifier that anybody typed
_NOTHING = frozenset(("-", "--", "–", "—", "n/a", "na", "none", "nil", "tbd", "permanent"))
_DAY_ZERO = date(1899, 12, 30)  # serial 0 of a spreadsheet's calendar, for dates after 1900-02
_FIRST_YEAR, _LAST_YEAR = 1980, 2100  # a date outside is a slip of the hand


def text_of(value: Value) -> str:
    """The value as text, as Table describes it."""
    if isinstance(value, str):
        return _clean(value)
    if isinstance(value, float):
        return _number_text(value)
    if isinstance(value, datetime):
        return _moment_text(value)
    if isinstance(value, date):
        return value.isoformat()
    if isinstance(value, time):
        return _time_text(value.hour, value.minute, value.second)
    if isinstance(value, timedelta):
        minutes, seconds = divmod(round(value.total_seconds()), 60)
        return _time_text(*divmod(minutes, 60), seconds)
    return str(value)


def texts(values: Collection[Value]) -> dict[Value, str]:
    """Every value with its text."""
    words = all_text(values)
    if words is not None and _is_clean(words):
        return cast("dict[Value, str]", dict(zip(values, values, strict=True)))
    return {value: text_of(value) for value in values}


def all_text(values: Collection[Value]) -> str | None:
    """The values as one text with a bar between them, None unless each of them is a text."""
    try:
        return "|".join(cast("Collection[str]", values))
    except TypeError:
        return None


def _is_clean(words: str) -> bool:
    """Whether all words, with bars between them, are what `_clean` would make of them."""
    if not words.isprintable() or "| " in words or " |" in words or "_x000" in words:
        return False
    return words[:1] != " " and words[-1:] != " "


def _clean(text: str) -> str:
    """Without the spaces and invisible marks around it, and with one kind of line break."""
    if _is_clean(text) and "|" not in text:
        return text
    if "_x000" in text:
        text = text.replace("_x000D_", "\r").replace("_x000A_", "\n").replace("_x0009_", "\t")
    text = _LINE_BREAKS.sub("\n", text).strip()
    return text if text.isascii() else text.strip(_INVISIBLE_ENDS + " \xa0\n\t").strip()


def _number_text(value: float) -> str:
    """Whole numbers without a point, others to 15 digits, which hides the noise of floats.

    A spreadsheet has rounded whole numbers of more than 15 digits already; with all digits that are
    left two of them stay two.
    """
    if value.is_integer() and abs(value) < _MOST_DIGITS:
        return str(int(value))
    return f"{value:.15g}"


def _moment_text(value: datetime) -> str:
    """To the second: a spreadsheet stores times as fractions, which are off by microseconds."""
    value = (value + timedelta(microseconds=500_000)).replace(microsecond=0)
    if not (value.hour or value.minute or value.second):
        return value.date().isoformat()
    return value.isoformat(timespec="seconds" if value.second else "minutes")


def _time_text(hours: int, minutes: int, seconds: int) -> str:
    return f"{hours:02}:{minutes:02}" + (f":{seconds:02}" if seconds else "")


def with_unit(text: str, unit: str) -> str:
    """The text with the unit behind it, when it ends in a number and so has none."""
    return f"{text} {unit}" if unit and text[-1:].isdigit() else text


# --- number columns ----------------------------------------------------------------------------

_NUMBER = re.compile(
    r"(?P<before>[<>≤≥=~\s]*)(?P<number>[+-]?[\d.,' ]*\d[.,]?)(?P<after>(?:\s*[^\d\s.,'].*)?)"
)
_IN_DOUBT = re.compile(r"\d[.,]\d{3}(?!\d)")
_COMMA_IN_DOUBT = re.compile(r"[+-]?[1-9]\d{0,2},\d{3}")
_POINT_IN_DOUBT = re.compile(r"[+-]?[1-9]\d{0,2}\.\d{3}")


def _decimal(mark: str, other: str) -> re.Pattern[str]:
    """Numbers that can only be read with this decimal mark, and the other between thousands."""
    return re.compile(
        rf"[+-]?(\d*{mark}(\d{{1,2}}|\d{{4,}})|(0|\d{{4,}}){mark}\d{{3}}"
        rf"|\d{{1,3}}([ ']\d{{3}})+{mark}\d+|\d{{1,3}}({other}\d{{3}})+{mark}\d*"
        rf"|\d{{1,3}}({other}\d{{3}}){{2,}})"
    )


_DECIMAL_COMMA = _decimal(",", r"\.")
_DECIMAL_POINT = _decimal(r"\.", ",")


class Numbers(NamedTuple):
    """The numbers of a column that could be read in two ways.

    read   value -> text with a decimal point, and nothing between thousands
    bad    value -> what is wrong with it, a clause
    order  how they were read and what shows it, a clause about "numbers"; "" when none needed it
    """

    read: Mapping[Value, str]
    bad: Mapping[Value, str]
    order: str = ""


def numbers_of(known: Mapping[Value, str]) -> Numbers:
    """Numbers such as "1,500" and "1.500", decided by the others of their column.

    A point is decimal where the column has no comma. Cells that hold a number have no mark at all,
    and show nothing.

    known  value -> its text
    """
    written = {value: text for value, text in known.items() if isinstance(value, str)}
    if not any(map(_IN_DOUBT.search, written.values())):
        return Numbers({}, {})
    found: dict[Value, str] = {
        value: match["number"]
        for value, text in written.items()
        if (match := _NUMBER.fullmatch(text))
    }
    with_comma = [value for value, text in found.items() if _COMMA_IN_DOUBT.fullmatch(text)]
    with_point = [value for value, text in found.items() if _POINT_IN_DOUBT.fullmatch(text)]
    comma = next((text for text in found.values() if _DECIMAL_COMMA.fullmatch(text)), "")
    point = next((text for text in found.values() if _DECIMAL_POINT.fullmatch(text)), "")
    if comma and not point:
        read = _without(".", with_point, found, known)
        read |= {value: known[value].replace(",", ".", 1) for value in with_comma}
        between = " and a point between thousands" if with_point else ""
        return Numbers(read, {}, _read_with(read, known, f"a decimal comma{between}", comma))
    if point and not comma:
        read = _without(",", with_comma, found, known)
        return Numbers(read, {}, _read_with(read, known, "a comma between thousands", point))
    if not comma and not with_comma:
        return Numbers({}, {})
    bad: dict[Value, str] = {value: _either(found[value], comma, point) for value in with_point}
    return Numbers(dict.fromkeys(bad, ""), bad)


def _without(
    mark: str, values: Iterable[Value], found: Mapping[Value, str], known: Mapping[Value, str]
) -> dict[Value, str]:
    """The texts of these values without the mark between thousands; a unit keeps its own."""
    return {
        value: known[value].replace(found[value], found[value].replace(mark, ""), 1)
        for value in values
    }


def _read_with(read: Collection[Value], known: Mapping[Value, str], how: str, because: str) -> str:
    if not read:
        return ""
    example = known[next(iter(read))]
    return f'such as "{example}" were read with {how}, because of "{because}"'


def _either(number: str, comma: str, point: str) -> str:
    has = f'the column has "{comma}" and "{point}"' if comma else "no other in the column tells"
    return f'"{number}" can be {number.rstrip("0").rstrip(".")} or {number.replace(".", "")}: {has}'


# --- date columns ------------------------------------------------------------------------------


class Dates(NamedTuple):
    """The dates of a column.

    iso    value -> ISO text, "" for a blank or what cannot be read
    bad    value -> what is wrong with it, a clause
    order  how dates in numbers were read and what shows it, a clause about "dates"; "" when none
           needed it
    """

    iso: Mapping[Value, str]
    bad: Mapping[Value, str]
    order: str = ""


def dates_of(values: Iterable[Value], beside: Iterable[Value] = ()) -> Dates:
    """Read the different values of a date column; which number is the day is one answer for all.

    beside  values of others that decide with it
    """
    iso: dict[Value, str] = {}
    bad: dict[Value, str] = {}
    undecided: dict[str, NumberDate] = {}
    in_numbers: dict[str, NumberDate] = {}
    for value in values:
        text = text_of(value)
        if isinstance(value, str):
            if (numbers := number_date(text)) is not None:
                in_numbers[value] = numbers
            found = date_or_time(text)
            if found is not None or not text or text.lower() in _NOTHING:
                iso[value] = found or ""
            elif numbers is not None and numbers.readings:
                undecided[value] = numbers
            else:
                iso[value], bad[value] = "", f'"{text}" is no date'
        else:
            iso[value], bad[value] = _dated(value, text)
    others = (text for text in beside if isinstance(text, str))
    orders = Orders(in_numbers | {text: each for text in others if (each := number_date(text))})
    for value, numbers in undecided.items():
        iso[value] = orders.iso(numbers)
        if not iso[value]:
            bad[value] = f'"{text_of(value)}" {orders.doubt(numbers)}'
    for value, text in iso.items():
        if text and not _FIRST_YEAR <= int(text[:4]) <= _LAST_YEAR:
            bad[value] = f"{text} is outside the years {_FIRST_YEAR} to {_LAST_YEAR}"
            iso[value] = ""
    bad = {value: why for value, why in bad.items() if why}
    return Dates(iso, bad, orders.said(undecided))


def _dated(value: Value, text: str) -> tuple[str, str]:
    """ISO text of a value that is no text, or why it is none."""
    if isinstance(value, date):
        return text, ""
    if isinstance(value, float | int):
        if (whole := date_or_time(text)) is not None:
            return whole, ""  # 20260304 typed as a number
        if 0 < value < 100_000:
            day = _DAY_ZERO + timedelta(days=int(value))
            return "", f"{text} is a number without a date format (as a date it is {day})"
    return "", f"{text} is no date"


class Orders:
    """In which order the dates of a column have their numbers, as far as they show it.

    One date that has the year last and cannot be read with the month first rules that out for the
    whole column, and so with the day. Where the year stands, a date tells for those with the same
    mark only: a column may have "25/03/2031" and "31-03-04". Where all have dots, the month never
    comes first.

    dates  text -> date, of all dates in numbers, also those that can be read in one way only
    """

    def __init__(self, dates: Mapping[str, NumberDate]) -> None:
        self._against: dict[tuple[str, str], str] = {}  # order and mark -> what rules it out
        marks = {each.mark for each in dates.values()}
        if marks == {"."}:
            self._against[MONTH_FIRST, "."] = ""
        for text, each in dates.items():
            for order in each.lacking:
                everywhere = order != YEAR_FIRST and each.may_end_with_year
                for mark in marks if everywhere else (each.mark,):
                    self._against.setdefault((order, mark), text)

    def _left(self, date: NumberDate) -> dict[str, str]:
        return {
            order: iso
            for order, iso in date.readings.items()
            if (order, date.mark) not in self._against
        }

    def iso(self, date: NumberDate) -> str:
        """The one date that is meant as ISO text, "" when it could be several, or none."""
        left = set(self._left(date).values())
        return left.pop() if len(left) == 1 else ""

    def doubt(self, date: NumberDate) -> str:
        """Why it is not known which date is meant, a clause."""
        left = self._left(date)
        if left:
            return f"{could_be(left)}, and no date in the column tells which"
        against = quoted_list(self._shown_by(date, date.readings), "and")
        return f"{could_be(date.readings)}: the column has {against}"

    def _shown_by(self, date: NumberDate, orders: Collection[str]) -> list[str]:
        shown = (
            text
            for (order, mark), text in self._against.items()
            if text and mark == date.mark and order in orders
        )
        return list(dict.fromkeys(shown))

    def said(self, undecided: Mapping[str, NumberDate]) -> str:
        """How those that could be read in several ways were read, "" when none was."""
        said: dict[str, str] = {}
        for text, each in undecided.items():
            if not self.iso(each):
                continue
            order = next(iter(self._left(each)))
            ruled_out = each.readings.keys() - {order}
            shown = quoted_list(self._shown_by(each, ruled_out), "and") or "dates with dots"
            said.setdefault(order, f"such as {text} were read {order}, because of {shown}")
        return "; those ".join(said.values())


def could_be(orders: Iterable[str]) -> str:
    """That a date can be read in each of these orders, a clause."""
    *others, last = (order.removesuffix(" first") for order in orders)
    return f"could be {', '.join(others)}{' or ' if others else ''}{last} first"


def clock_texts(values: Iterable[Value]) -> tuple[dict[Value, str], dict[Value, str]]:
    """Times of day as "10:30", and what is wrong with those that are none."""
    clocks: dict[Value, str] = {}
    bad: dict[Value, str] = {}
    for value in values:
        text = text_of(value)
        found = text if isinstance(value, time) else clock_time(text)
        clocks[value] = found or ""
        if text and not found and text.lower() not in _NOTHING:
            bad[value] = f'"{text}" is no time of day'
    return clocks, bad
