"""Titles and remarks that stand alone where the entries of a list stand.

"Prepared by: AB" below a list of stages is no stage, and "Tools" above the next list is no person.
A text is taken for one only where nothing but such texts follows it, up to a blank row or the end
of the list; a name alone is an entry of a list of names otherwise.
"""

import re
from collections.abc import Collection, Iterable, Iterator, Sequence
from functools import lru_cache

from joinmatrix.lists.headings import ROW_NEEDS
from joinmatrix.lists.table import ListKind
from joinmatrix.lists.work import ListWork
from joinmatrix.names import folded

_REMARK = re.compile(
    r"(notes?|remarks?|n\.?b\.?|(prepared|checked|approved|compiled|issued|reviewed|drawn|written"
    r"|released|signed|printed) (by|on)|end of (list|sheet|table|page)|continued)(\W.*)?"
    r"|(legend|signature|signed)\W*"
)
_ISSUE = re.compile(
    r"(date|dated|rev|revision|issue|page|version|edition)"
    r"(\s*[.:].*|\s+(no\.?\s*)?\d.*|\s+[a-z])?"
)
_NOTES = re.compile(r"(notes?|remarks?|legend)\W*")
_LISTS = frozenset((*map(str, ListKind), "agreed differences", "temporary items", "records"))
_AROUND_LISTS = re.compile(r"^(the |list of (the )?)|( list| table)?\W*$")
_LONGEST_TITLE = 6  # words


def remarks(work: ListWork, candidates: Iterable[int]) -> Iterator[int]:
    """Which of the rows are titles or remarks, by their index."""
    entries = _Entries(work)
    told: set[int] = set()
    for at in candidates:
        if at not in told and entries.is_told(at):
            told.add(at)
            if _NOTES.fullmatch(folded(entries.names[at])):
                told.update(entries.below(at))
    yield from sorted(told)


def set_remarks_aside(work: ListWork) -> None:
    """Pass over the titles and remarks of a list whose rows need a name and nothing else."""
    groups = ROW_NEEDS[work.found.kind]
    if work.found.kind is ListKind.CONNECTIONS or [len(each) for each in groups] != [1]:
        return
    names = work.cells[groups[0][0]]
    for at in remarks(work, _nearly_blank(work, work.columns[groups[0][0]])):
        work.pass_over(at, f'a title or remark ("{names[at]}")')


def _nearly_blank(work: ListWork, name: int) -> Sequence[int]:
    """Rows that may have one value or none beside their name; a quick look only."""
    beside = [work.raw(each.column) for each in work.found.seen if each.column != name][:2]
    if len(beside) < 2:
        return range(len(work.rows))
    return [at for at, values in enumerate(zip(*beside, strict=True)) if "" in values]


def _is_telling(text: str) -> bool:
    """Whether a text may be a title or remark, wherever it stands."""
    return text.endswith(":") or is_remark(text) or _speaks_of_a_list(text)


@lru_cache(maxsize=4096)
def is_remark(text: str) -> bool:
    """Whether a text begins as a remark does: "Note: ...", "Prepared by AB", "Page 2"."""
    word = folded(text)
    return bool(_REMARK.fullmatch(word) or _ISSUE.fullmatch(word))


def _is_a_list(text: str) -> bool:
    return _AROUND_LISTS.sub("", folded(text)) in _LISTS


def _speaks_of_a_list(text: str) -> bool:
    words = folded(text).split()
    return len(words) <= _LONGEST_TITLE and any(each.strip(":") in _LISTS for each in words)


class _Entries:
    """The rows of a list as far as they are a name alone."""

    def __init__(self, work: ListWork) -> None:
        self.work = work
        (self.name,) = ROW_NEEDS[work.found.kind][0]
        self.names = work.cells[self.name]
        self._ends: dict[int, bool] = {}

    def is_told(self, at: int) -> bool:
        """Whether a row is a title or remark by its text and by where it stands."""
        text = self.names[at]
        if not _is_telling(text) or not self._is_loose(at) or not self._is_at_end(at):
            return False
        if is_remark(text):
            return True
        if self._filled(at) > 1:
            return False
        if self._is_above_next(at) and _speaks_of_a_list(text):
            return True
        return self._is_below_blank(at) and (text.endswith(":") or _is_a_list(text))

    def below(self, at: int) -> Collection[int]:
        """What stands below "Notes": the rows to the end of the list, or to the next blank row."""
        found: list[int] = []
        block: int | None = None
        for each in range(at + 1, len(self.work.rows)):
            if block is None and self._is_apart(each):
                block = len(found)
            if self._is_off(each):
                continue
            if not self._is_loose(each):
                return found[:block]
            found.append(each)
        return found

    def _is_at_end(self, at: int) -> bool:
        """Whether nothing but names alone follows, up to a blank row or the end of the list."""
        passed = [at]
        while (end := self._ends_with(passed[-1])) is None:
            passed.append(passed[-1] + 1)
        self._ends.update(dict.fromkeys(passed, end))
        return end

    def _ends_with(self, at: int) -> bool | None:
        """Whether names alone end with a row as above; None where the next row tells."""
        if at in self._ends:
            return self._ends[at]
        if at + 1 == len(self.work.rows) or self._is_apart(at + 1):
            return True
        return None if self._is_loose(at + 1) else False

    def _is_apart(self, at: int) -> bool:
        """Whether a blank row stands above a row, or the row is no entry itself."""
        return self.work.rows[at] != self.work.rows[at - 1] + 1 or self._is_off(at)

    def _is_off(self, at: int) -> bool:
        return at in self.work.aside or not self._filled(at)

    def _filled(self, at: int) -> int:
        return len(self.work.filled(at))

    def _is_loose(self, at: int) -> bool:
        """Whether a row has its name alone, or a remark and a value beside it."""
        filled = self._filled(at) if self.names[at] else 0
        return filled == 1 or (filled == 2 and is_remark(self.names[at]))

    def _is_below_blank(self, at: int) -> bool:
        above = self.work.start + at - 1
        rows = self.work.grid.rows
        return rows[above] + 1 != rows[above + 1] or (at > 0 and self._is_off(at - 1))

    def _is_above_next(self, at: int) -> bool:
        """Whether a row stands straight above the headings of another list, apart from its own."""
        grid, below = self.work.grid, self.work.start + at + 1
        return (
            below == self.work.found.end < len(grid.rows)
            and grid.rows[below] == grid.rows[below - 1] + 1
            and self._is_below_blank(at)
        )
