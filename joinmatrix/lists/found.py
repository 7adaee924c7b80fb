"""What is found on a sheet: lists, and what is nearly one."""

from collections.abc import Mapping
from dataclasses import dataclass, field
from functools import cached_property
from typing import NamedTuple

from joinmatrix.lists.meanings import Seen
from joinmatrix.lists.supplied import Dispute, Given
from joinmatrix.lists.table import ListKind
from joinmatrix.place import column_letters


@dataclass(frozen=True)
class Found:
    """A list on a sheet.

    top, heading  index of the first and the last line of its headings in the grid
    end           index of the first row that is no longer part of it
    seen          all headings, known or not, from left to right
    columns       meaning -> 0-based column
    rivals        meaning -> headings that mean the same as well, and were not taken
    given         meaning -> what holds for all rows, where no column says it
    dispute       what titles and the name of the sheet do not agree on
    sections      meanings that titles between the rows give
    crossings     the columns of a matrix: one for each side or joint and meaning
    axis          what the columns of a matrix are: "side" or "joint", "" for a plain list
    """

    kind: ListKind
    top: int
    heading: int
    end: int
    seen: tuple[Seen, ...]
    columns: Mapping[str, int]
    rivals: Mapping[str, tuple[Seen, ...]] = field(default_factory=dict)
    given: Mapping[str, Given] = field(default_factory=dict)
    dispute: Dispute | None = None
    sections: frozenset[str] = frozenset()
    crossings: tuple[Seen, ...] = ()
    axis: str = ""

    @cached_property
    def span(self) -> tuple[int, int]:
        """First and last column, 0-based."""
        return self.seen[0].column, self.seen[-1].column

    @property
    def score(self) -> tuple[int, int]:
        """How many different things its headings say, and how many of them in full."""
        known = [each for each in self.seen if each.known]
        things = {(each.meaning, each.measure, each.bound, each.label) for each in known}
        return len(things), sum(bool(each.bound or each.label) for each in known)

    def heading_of(self, column: int) -> str:
        """The heading over a column as written."""
        return next((each.text for each in self.seen if each.column == column), "")


class NearMiss(NamedTuple):
    """A row that looks like the headings of a list and lacks one or two that the list needs."""

    kind: ListKind
    heading: int
    seen: tuple[Seen, ...]
    missing: tuple[str, ...]

    @property
    def seen_words(self) -> str:
        """The known headings as written, with their columns."""
        known = (each for each in self.seen if each.known)
        return ", ".join(f'"{each.text}" ({column_letters(each.column + 1)})' for each in known)


@dataclass(slots=True)
class Layout:
    """What there is on a sheet.

    near_misses  rows that look like headings and lack one
    open         some list may be understood once the other lists are known
    """

    lists: list[Found] = field(default_factory=list)
    near_misses: list[NearMiss] = field(default_factory=list)
    open: bool = False
