"""What the cell of a tick says: done or not, when and by whom.

Initials are short words in capitals, and so are many remarks ("HOLD", "FAIL", "TBC"): taken for
initials, such a remark would be work that nobody did. The words below are therefore never taken
for them.
"""

import re
from collections.abc import Iterable, Iterator, Mapping
from functools import lru_cache
from typing import NamedTuple

from joinmatrix.lists.values import Orders, could_be
from joinmatrix.lists.words import (
    NO_WORDS,
    YES_WORDS,
    NumberDate,
    date_or_time,
    number_date,
    side_labels,
)
from joinmatrix.names import folded

_CACHE = 1 << 14  # different words; a list repeats the same few down a column

_DONE = frozenset(
    (
        *YES_WORDS,
        *("done", "made", "fitted", "complete", "completed", "connected", "installed"),
        *("inspected", "checked", "finished", "closed", "pass", "passed", "placed", "joined"),
    )
)
# What is written where there is nothing to write.
_NOTHING = frozenset(
    ("", "-", "--", "–", "—", "n/a", "na", "not applicable", "blank", "none", "nil")
)
_NOT_DONE = frozenset(
    (
        *NO_WORDS,
        *_NOTHING,
        *("open", "to do", "todo", "tbd", "pending", "outstanding", "not", "not yet", "incomplete"),
        *("not done", "not made", "not fitted", "not inspected", "not connected", "not complete"),
        *("not completed", "not started", "unmade", "undone", "unfinished", "to be done"),
    )
)
# What was found wrong: neither a tick nor merely nothing done.
_REFUSED = frozenset(
    (
        *("bad", "broken", "damaged", "def", "defect", "defective", "defects", "fail", "failed"),
        *("fails", "failure", "fault", "faulty", "inop", "leak", "leaking", "leaks", "loose"),
        *("nogo", "no go", "no-go", "nok", "not ok", "not o.k.", "redo", "rej", "reject"),
        *("rejected", "rework", "scrap", "snag", "snags", "u/s", "unserviceable", "wrong"),
    )
)
# Short words that stand on tick sheets and that could be initials too.
_UNSURE = frozenset(
    (
        *("aft", "alt", "awt", "await", "blk", "car", "chk", "cut", "del", "dfr", "disc", "due"),
        *("f", "fwd", "gap", "go", "half", "high", "hold", "in", "inb", "insp", "late", "lost"),
        *("low", "miss", "mod", "mrb", "ncr", "new", "next", "ng", "note", "nr", "nya", "nyd"),
        *("nyf", "nyi", "nyr", "o", "off", "old", "on", "out", "outb", "part", "rcvd", "ref"),
        *("rem", "req", "reqd", "rfi", "see", "shut", "skip", "soon", "stop", "tba", "tbc"),
        *("temp", "test", "tmp", "top", "try", "up", "us", "void", "wait", "wip"),
    )
)
_NO_NAMES = (_NOT_DONE | _REFUSED | _UNSURE) - _NOTHING
_NO_INITIALS = _DONE | _NOT_DONE | _REFUSED | _UNSURE
_PORT_AND_STARBOARD = frozenset(("p", "s"))  # too short to be read as a side where sides stand
_INITIALS = re.compile(r"[A-Z]{1,4}")


class Tick(NamedTuple):
    """What a tick cell says.

    on  ISO date or date and time, "" when not said
    by  initials, "" when not said
    """

    done: bool
    on: str = ""
    by: str = ""


class NoTick(NamedTuple):
    """Why a text is no tick.

    found   a clause that begins with the text
    remedy  what to do, an instruction
    """

    found: str
    remedy: str


@lru_cache(maxsize=_CACHE)
def tick(text: str) -> Tick | None:
    """What a tick cell says: x, yes, a date, initials, or initials and a date; blank is not done.

    Initials are one to four capital letters that are no word of the lists above, and no side.
    """
    word = _plain(text)
    if word in _NOT_DONE:
        return Tick(done=False)
    if word in _DONE:
        return Tick(done=True)
    if (on := date_or_time(text)) is not None:
        return Tick(done=True, on=on)
    if (by := _initials(text)) is not None:
        return Tick(done=True, by=by)
    return _initials_and_date(text)


def _plain(text: str) -> str:
    """Folded, and without the dots of "N.A." and "O.K."."""
    word = folded(text)
    return word.replace(".", "") or word


def _initials(text: str) -> str | None:
    letters = text.strip().replace(".", "")
    if not _INITIALS.fullmatch(letters) or _is_side(letters):
        return None
    return None if letters.lower() in _NO_INITIALS else letters


def _is_side(text: str) -> bool:
    return side_labels(text) is not None or folded(text) in _PORT_AND_STARBOARD


def _initials_and_date(text: str) -> Tick | None:
    """The tick that "AB 2026-03-04", "2026-03-04 / AB" or "x 2026-03-04" is."""
    for word, rest in _word_and_rest(text):
        on = date_or_time(rest)
        if on is None:
            continue
        if _plain(word) in _DONE:
            return Tick(done=True, on=on)
        if (by := _initials(word)) is not None:
            return Tick(done=True, on=on, by=by)
    return None


def _word_and_rest(text: str) -> Iterator[tuple[str, str]]:
    """The first word and what is behind it, the last word and what is before it."""
    words = text.replace(",", " ").replace(" / ", " ").split()
    if len(words) > 1:
        yield words[0], " ".join(words[1:])
        yield words[-1], " ".join(words[:-1])


# --- dates that the column decides -------------------------------------------------------------

_MAY_BE_DATE = re.compile(r"(?<!\d)\d{1,2}([-/.])\d{1,2}\1\d")


class TickDates(NamedTuple):
    """The ticks of a column whose date can be read in several ways, and was.

    read   text -> text with an ISO date
    order  how they were read and what shows it, a clause about "dates"; "" when none needed it
    """

    read: Mapping[str, str]
    order: str = ""


def may_be_dated(text: str) -> bool:
    """Whether a tick may have a date in numbers, which need not begin with the year."""
    return _MAY_BE_DATE.search(text) is not None


def tick_dates(texts: Iterable[str], beside: Iterable[str] = ()) -> TickDates:
    """Ticks such as "4/3/2026" and "AB 4/3/2026", decided by the other dates of their column.

    texts   the different texts of the column
    beside  those of others that decide with it
    """
    found = {text: dated for text in texts if (dated := _date_in_numbers(text))}
    others = filter(None, map(_date_in_numbers, beside))
    orders = Orders({rest: date for _, rest, date in (*found.values(), *others)})
    read: dict[str, str] = {}
    undecided: dict[str, NumberDate] = {}
    for text, (word, rest, date) in found.items():
        if date_or_time(rest) is None and (iso := orders.iso(date)):
            said = f"{word} {iso}".strip()
            if tick(said) is not None:
                read[text] = said
                undecided[rest] = date
    return TickDates(read, orders.said(undecided))


def _date_in_numbers(text: str) -> tuple[str, str, NumberDate] | None:
    """The word beside the date of a tick, the date as written, and its numbers."""
    if not may_be_dated(text):
        return None
    for word, rest in (("", text), *_word_and_rest(text)):
        if (date := number_date(rest)) and date.readings:
            return word, rest, date
    return None


# --- what is no tick ---------------------------------------------------------------------------

X_OR_BLANK = 'write "x" or a date when it is done, and leave it blank when it is not'


def no_tick(text: str) -> NoTick:
    """Why a text that `tick` does not understand is none, and what to write instead."""
    words = [each.strip("!?,;:()") for each in text.split()]
    if folded(text) in _REFUSED or any(_plain(each) in _REFUSED for each in words):
        return NoTick(
            f'"{text}" tells of a refusal, and is no tick',
            'leave it blank, write what was found under "remarks", and write "x" or a date once '
            "it is done",
        )
    if any(_is_side(each) for each in (text, *words)):
        return a_side(text)
    if any(each.isupper() and _plain(each) in _UNSURE for each in words):
        return NoTick(
            f'"{text}" can be a remark as well as initials, so it is not taken as a tick',
            f"{X_OR_BLANK}; a name has a column of its own",
        )
    if (dated := _date_in_numbers(text)) and tick(f"{dated[0]} 2026-03-04".strip()):
        return NoTick(
            f'"{text}" {could_be(dated[2].readings)}, and the column does not tell which',
            "write the date as 2026-03-04",
        )
    return NoTick(f'"{text}" is not understood as a tick', X_OR_BLANK)


def a_side(text: str) -> NoTick:
    """Why the name of a side is no tick."""
    return NoTick(
        f'"{text}" names a side, and does not say whether it is done',
        f"give each side a row of its own, and {X_OR_BLANK}",
    )


@lru_cache(maxsize=_CACHE)
def is_nothing(text: str) -> bool:
    """Whether a text stands for a blank cell: "-", "n/a", "none"."""
    return _plain(text) in _NOTHING


@lru_cache(maxsize=_CACHE)
def is_no_name(text: str) -> bool:
    """Whether a text where a name should be is a word such as "TBD", "open" or "HOLD"."""
    word = _plain(text)
    return len(word) > 1 and word in _NO_NAMES
