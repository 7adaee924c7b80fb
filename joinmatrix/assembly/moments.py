"""When something was done, as far as the shop's entries tell."""

from collections import Counter
from collections.abc import Iterable
from datetime import datetime, timedelta
from functools import lru_cache

from joinmatrix.assembly.model import UNKNOWN_FUTURE, UNKNOWN_PAST, Moment

_EPOCH = datetime(1970, 1, 1)
_DAY = 24 * 60  # minutes


class Clock:
    """Reads the times of one record.

    Stamps that all carry one offset from UTC, or none, are taken as the shop's own clock. When
    the offsets differ, every stamp is moved to the commonest one, and those without are taken
    to be in it already.

    stamps  the ISO texts of the record, with repeats
    """

    def __init__(self, stamps: Iterable[str]) -> None:
        offsets: Counter[timedelta] = Counter()
        for stamp, times in Counter(stamps).items():
            offset = _offset(stamp)
            if offset is not None:
                offsets[offset] += times
        self.offset = (
            max(offsets, key=lambda offset: (offsets[offset], offset)) if len(offsets) > 1 else None
        )
        self._read: dict[tuple[str, float | None], Moment] = {}

    def moment(self, stamp: str, seq: float | None = None) -> Moment:
        """The moment of an ISO date or date and time; "" is an unknown time."""
        key = (stamp, seq)
        if key not in self._read:
            self._read[key] = self._moment(stamp, seq)
        return self._read[key]

    def _moment(self, stamp: str, seq: float | None) -> Moment:
        if not stamp:
            return Moment(UNKNOWN_PAST, UNKNOWN_FUTURE, seq, "")
        when = datetime.fromisoformat(stamp)
        if self.offset is not None and when.tzinfo is not None:
            when = (when - (when.utcoffset() or timedelta()) + self.offset).replace(tzinfo=None)
        minutes = (when.replace(tzinfo=None) - _EPOCH) // timedelta(minutes=1)
        if _is_date(stamp):
            return Moment(minutes, minutes + _DAY - 1, seq, stamp)
        return Moment(minutes, minutes, seq, when.strftime("%Y-%m-%d %H:%M"))


def _is_date(stamp: str) -> bool:
    return "T" not in stamp and ":" not in stamp


@lru_cache(maxsize=4096)
def _offset(stamp: str) -> timedelta | None:
    if not stamp or _is_date(stamp):
        return None
    return datetime.fromisoformat(stamp).utcoffset()


def minutes_text(minutes: int) -> str:
    """Minutes since 1970 as a report shows them: "2026-03-04 10:30"."""
    return (_EPOCH + timedelta(minutes=minutes)).strftime("%Y-%m-%d %H:%M")
