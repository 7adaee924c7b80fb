"""What the cell of a tick says: done or not, when and by whom."""

import re
from functools import lru_cache
from typing import NamedTuple

from joinmatrix.lists.words import NO_WORDS, YES_WORDS, date_or_time
from joinmatrix.names import folded

_CACHE = 1 << 14  # different words; a list repeats the same few down a column

_DONE = frozenset(
    (
        *YES_WORDS,
        *("done", "made", "fitted", "complete", "completed", "connected", "installed"),
        *("inspected", "checked", "finished", "closed", "pass", "passed", "placed", "joined"),
    )
)
_NOT_DONE = frozenset(
    (
        *NO_WORDS,
        *("", "--", "n/a", "na", "n.a.", "not applicable", "open", "blank", "none", "to do"),
        *("todo", "tbd", "pending", "outstanding"),
        *("not done", "not made", "not fitted", "not inspected"),
    )
)
_INITIALS = re.compile(r"[A-Z]{1,4}")


class Tick(NamedTuple):
    """What a tick cell says.

    on  ISO date or date and time, "" when not said
    by  initials, "" when not said
    """

    done: bool
    on: str = ""
    by: str = ""


@lru_cache(maxsize=_CACHE)
def tick(text: str) -> Tick | None:
    """What a tick cell says: x, yes, a date, initials, or initials and a date; blank is not done.

    Initials are one to four capital letters that are no word of the lists above.
    """
    word = folded(text)
    if word in _NOT_DONE:
        return Tick(done=False)
    if word in _DONE:
        return Tick(done=True)
    if (on := date_or_time(text)) is not None:
        return Tick(done=True, on=on)
    if (by := _initials(text)) is not None:
        return Tick(done=True, by=by)
    return _initials_and_date(text)


def _initials(text: str) -> str | None:
    letters = text.strip().replace(".", "")
    return letters if _INITIALS.fullmatch(letters) else None


def _initials_and_date(text: str) -> Tick | None:
    """The tick that "AB 2026-03-04", "2026-03-04 / AB" or "x 2026-03-04" is."""
    words = text.replace(",", " ").replace(" / ", " ").split()
    for first, rest in ((words[:1], words[1:]), (words[-1:], words[:-1])):
        on = date_or_time(" ".join(rest))
        if on is None:
            continue
        word = "".join(first)
        if folded(word) in _DONE:
            return Tick(done=True, on=on)
        if (by := _initials(word)) is not None and folded(word) not in _NOT_DONE:
            return Tick(done=True, on=on, by=by)
    return None
