"""Where on a sheet the lists are, and what each of their headings means."""

from bisect import bisect_right
from collections import Counter, defaultdict
from collections.abc import Collection, Iterable, Iterator, Mapping, Sequence
from dataclasses import replace
from typing import NamedTuple

from joinmatrix.lists.crossings import crossings_of
from joinmatrix.lists.found import Found, Layout, NearMiss
from joinmatrix.lists.grid import Grid, Value
from joinmatrix.lists.headings import NEEDS, NEVER, ROW_NEEDS, heading_key
from joinmatrix.lists.meanings import Candidates, Seen, any_meaning, may_be_heading, seen_as
from joinmatrix.lists.nearly import nearly, nearness
from joinmatrix.lists.repeated import differing
from joinmatrix.lists.sections import Section, titles
from joinmatrix.lists.settings import NO_SETTINGS, Settings
from joinmatrix.lists.supplied import Known, given_for_sheet
from joinmatrix.lists.table import ListKind
from joinmatrix.lists.values import text_of
from joinmatrix.lists.words import side_word

_ROWS_LOOKED_THROUGH = 30  # filled rows at the top of a sheet in which headings are looked for
_GAPS_LOOKED_AT = 2000  # blank stretches further down, below which another list may start
_ALIKE_ROWS = 3  # rows with the same words in the same columns that are looked at
_MANY_WORDS = 4  # words like headings in one row: hardly values any more
_MOST_PAGES = 500  # rows with so many of the same words that are looked at
_FEW_WORDS = 1000  # a column with more different values than this is not one of words
_LONGEST_HEADING = 200
_SUPPLIED = ("joint", "side")  # what need not have a column


class _Lines(NamedTuple):
    """Heading cells in one line or two; indices of the lines in the grid."""

    headings: Candidates
    top: int
    bottom: int


def find_lists(grid: Grid, settings: Settings = NO_SETTINGS, known: Known | None = None) -> Layout:
    """The lists of a sheet.

    known  what all other lists say; without it no list is taken that needs to know
    """
    return _Search(grid, settings, known).layout()


class _Search:
    """The search through one sheet, from the top down."""

    def __init__(self, grid: Grid, settings: Settings, known: Known | None) -> None:
        self.grid = grid
        self.settings = settings
        self.known = known
        self.found = Layout()
        self.gaps = _gaps(grid)
        self._filled: dict[int, tuple[int, int]] = {}
        self._titles: dict[tuple[int, int, tuple[int, int], int], tuple[Section, ...]] = {}

    def layout(self) -> Layout:
        """Look at every row that could be headings; each new one ends the list above it."""
        current: list[Found] = []
        bottom = -1
        for index in _candidates(self.grid, self.gaps):
            texts = self._texts(index)
            if index <= bottom or self._is_repeat(current, index):
                continue
            if not self._may_be_headings(texts) and not self._is_lone_heading(index, texts):
                continue
            found, misses = self._at(index, texts)
            below_blank = not self._adjacent(index - 1)
            if current and not _convincing(texts, found, misses, below_blank=below_blank):
                continue
            if found or misses:
                top = found[0].top if found else index
                self._close(current, top)
                self._drop_misses_without_rows(top)
                current = found
                bottom = found[0].heading if found else index
            self.found.near_misses.extend(misses)
        self._close(current, len(self.grid.rows))
        self._keep_the_nearest()
        return self.found

    def _is_repeat(self, current: Sequence[Found], index: int) -> bool:
        """Whether a row has the headings of a list above it once more, and no others."""
        return any(differing(self.grid, each, index, self.settings) == () for each in current)

    def _may_be_headings(self, texts: Mapping[int, str]) -> bool:
        """Whether two cells are spelt like headings, or one beside two sides; a quick look only."""
        spelt = sum(may_be_heading(text, self.settings) for text in texts.values())
        return spelt > 1 or (spelt == 1 and sum(map(bool, map(side_word, texts.values()))) > 1)

    def _is_lone_heading(self, index: int, texts: Mapping[int, str]) -> bool:
        """Whether a list of one column begins, and not one whose title is like a heading."""
        if [heading_key(text) for text in texts.values()] != ["temporaryitem"]:
            return False
        return self._adjacent(index) and self._texts(index + 1).keys() == texts.keys()

    def _close(self, current: Iterable[Found], end: int) -> None:
        for each in current:
            self.found.lists.append(self._with_sections(replace(each, end=end)))

    def _drop_misses_without_rows(self, top: int) -> None:
        """What stands straight above other headings, or is their upper line, misses nothing."""
        misses = self.found.near_misses
        self.found.near_misses = [each for each in misses if each.heading + 1 < top]

    def _keep_the_nearest(self) -> None:
        """On a sheet without a list only the best near miss is worth a word."""
        misses = self.found.near_misses
        if not self.found.lists and misses:
            self.found.near_misses = [max(misses, key=nearness)]

    # --- one row

    def _texts(self, index: int) -> dict[int, str]:
        """Column -> text of the cells that could be headings."""
        return {
            column: " ".join(text.split())
            for column, value in enumerate(self.grid.row(index))
            if isinstance(value, str | float) and (text := text_of(value))
            if len(text) < _LONGEST_HEADING
        }

    def _at(self, index: int, texts: Mapping[int, str]) -> tuple[list[Found], list[NearMiss]]:
        """The lists side by side whose headings are in this row, with the row above or below.

        With them what is nearly one beside them; without any, the nearest to one.
        """
        best: list[Found] = []
        beside: list[NearMiss] = []
        nearest: list[NearMiss] = []
        for lines in self._readings(index, texts):
            found, misses = self._blocks(lines)
            if _score(found) > _score(best):
                best, beside = found, misses
            if not found and not misses and (near := self._near_miss(lines)):
                misses = [near]
            if not found and sum(map(_known_of, misses)) > sum(map(_known_of, nearest)):
                nearest = misses
        return best, beside if best else nearest

    def _readings(self, index: int, texts: Mapping[int, str]) -> Iterator[_Lines]:
        """The row alone, and as one of two lines of headings."""
        alone = _Lines({column: (text,) for column, text in texts.items()}, index, index)
        yield alone
        above = self._texts(index - 1) if self._adjacent(index - 1) else {}
        if above and self._fit(alone):
            yield _Lines(self._joined(index - 1, above, texts), index - 1, index)
        if self._adjacent(index) and self._is_second_line(index, texts):
            below = self._texts(index + 1)
            yield _Lines(self._joined(index, texts, below), index, index + 1)

    def _adjacent(self, upper: int) -> bool:
        """Whether this row and the next of the grid stand below each other on the sheet."""
        rows = self.grid.rows
        return 0 <= upper < len(rows) - 1 and rows[upper] + 1 == rows[upper + 1]

    def _is_second_line(self, index: int, texts: Mapping[int, str]) -> bool:
        """Whether the row below holds words only, and none where each row must have its id."""
        below = self.grid.row(index + 1)
        if not all(isinstance(value, str) for value in below):
            return False
        alone = self._fit(_Lines({at: (text,) for at, text in texts.items()}, index, index))
        if alone is None:
            words = {at: (text,) for at, text in self._texts(index + 1).items()}
            return self._fit(_Lines(words, index + 1, index + 1)) is None
        needed = {name for group in ROW_NEEDS[alone.kind] for name in group}
        return not any(below[at] for name, at in alone.columns.items() if name in needed)

    def _joined(
        self, index: int, upper: Mapping[int, str], lower: Mapping[int, str]
    ) -> dict[int, tuple[str, ...]]:
        """Two lines as one; an upper heading stands over all columns that it is merged over."""
        over = self._spread(index, upper, lower)
        joined: dict[int, tuple[str, ...]] = {}
        for column in sorted({*upper, *lower}):
            if column not in lower:
                joined[column] = (upper[column],)
            elif column in over:
                both = f"{over[column]} {lower[column]}"
                own = (upper[column],) if column in upper else ()
                joined[column] = (both, lower[column], *own)
            else:
                joined[column] = (lower[column],)
        return joined

    def _spread(
        self, index: int, upper: Mapping[int, str], lower: Mapping[int, str]
    ) -> dict[int, str]:
        row = self.grid.rows[index]
        wide = [
            merge
            for merge in self.grid.marks.merges
            if merge.top <= row <= merge.bottom and merge.right > merge.left
        ]
        over = dict(upper)
        for merge in wide:
            if text := upper.get(merge.left - 1):
                over.update(dict.fromkeys(range(merge.left - 1, merge.right), text))
        if not wide:
            # No merged cells (a .csv has none): a heading reaches to the next one.
            text = ""
            for column in range(max({*upper, *lower}) + 1):
                text = upper.get(column, text)
                if text and column in lower:
                    over[column] = text
        return over

    # --- side by side

    def _blocks(self, lines: _Lines) -> tuple[list[Found], list[NearMiss]]:
        """The lists of a row of headings: blank columns part them, if each then is a list.

        A part that is nearly a list of another kind is no part of one: its rows are its own.
        """
        parts = self._parted(lines)
        whole = self._fit(lines)
        if len(parts) == 1:
            return [whole] if whole else [], []
        fits = [(part, self._fit(part)) for part in parts]
        lists = [found for _, found in fits if found]
        misses = [
            miss
            for part, found in fits
            if not found and (miss := self._near_miss(part)) is not None
        ]
        foreign = any(whole is None or each.kind is not whole.kind for each in misses)
        added = len(lists) == 1 and whole is not None and _adds_to(whole, lists[0])
        if whole and not foreign and (not lists or added):
            return [whole], []
        return lists, misses

    def _parted(self, lines: _Lines) -> list[_Lines]:
        columns = sorted(lines.headings)
        parts: list[dict[int, Sequence[str]]] = [{}]
        for column in columns:
            if parts[-1] and self._blank_between(max(parts[-1]), column, lines.bottom):
                parts.append({})
            parts[-1][column] = lines.headings[column]
        return [lines._replace(headings=part) for part in parts]

    def _blank_between(self, left: int, right: int, bottom: int) -> bool:
        """Whether a column between has nothing in the rows that follow without a gap."""
        gap = bisect_right(self.gaps, bottom + 1)
        end = self.gaps[gap] if gap < len(self.gaps) else len(self.grid.rows)
        for column in range(left + 1, right):
            known = self.grid.distinct[column]
            if len(known) == 1 and "" in known:
                return True
            if self._first_filled(column, bottom + 1) >= end:
                return True
        return False

    def _first_filled(self, column: int, start: int) -> int:
        """The first row from `start` on with something in a column; the end of the grid if none.

        Remembered, because every line near the top is looked at as if it had the headings.
        """
        since, found = self._filled.get(column, (0, -1))
        if not since <= start <= found:
            values = self.grid.columns[column]
            found = next(
                (at for at in range(start, len(values)) if values[at] != ""), len(self.grid.rows)
            )
            self._filled[column] = (start, found)
        return found

    # --- what list it is

    def _fit(self, lines: _Lines) -> Found | None:
        """The list that the headings make: by sure headings first, then by loose ones too."""
        for sure_only in (True, False):
            for kind in ListKind:
                seen = seen_as(lines.headings, kind, self.settings)
                if _meets(kind, seen, sure_only=sure_only):
                    return self._found(lines, kind, seen)
        return self._fit_with_help(lines)

    def _found(self, lines: _Lines, kind: ListKind, seen: tuple[Seen, ...]) -> Found:
        columns, rivals = _chosen(seen)
        return Found(kind, lines.top, lines.bottom, len(self.grid.rows), seen, columns, rivals)

    def _fit_with_help(self, lines: _Lines) -> Found | None:
        """A list of connections that has sides or joints as columns, or elsewhere than in one."""
        seen = seen_as(lines.headings, ListKind.CONNECTIONS, self.settings)
        have = {each.meaning for each in seen}
        missing = {name for name in _SUPPLIED if name not in have}
        sure = {each.meaning for each in seen if each.sure} & {"connection", "type", *_SUPPLIED}
        if not missing or not {"connection", "type"} <= have or not sure:
            return None
        if self.known is None:
            self.found.open = True
            return None
        axis, crossings = crossings_of(lines.headings, seen, missing, self.known, self.settings)
        if axis:
            labelled = {each.column: each for each in crossings}
            seen = tuple(labelled.get(each.column, each) for each in seen)
            missing -= {axis}
        plain = tuple(each for each in seen if not each.label)
        found = self._found(lines, ListKind.CONNECTIONS, plain)
        found = replace(found, seen=seen, crossings=crossings, axis=axis)
        return self._helped(found, missing)

    def _helped(self, found: Found, missing: set[str]) -> Found | None:
        """With the joint and side that titles or names give; None when one is still missing."""
        if not missing:
            return found
        assert self.known is not None
        said = given_for_sheet(self.grid, found.top, missing, self.known, self.settings)
        disputed = set(said.dispute.meanings) if said.dispute else set()
        sections = self._titled(found, missing) - disputed
        if missing - said.given.keys() - sections - disputed:
            return None
        return replace(found, given=said.given, dispute=said.dispute, sections=frozenset(sections))

    def _titled(self, found: Found, missing: set[str]) -> set[str]:
        """Which of the missing are given by titles between the rows."""
        assert self.known is not None
        titled: set[str] = set()
        for section in self._sections(found, self.known):
            said = section.title
            titled |= {name for name in missing if getattr(said, name)}
            if said.hint and "side" in missing:
                titled.add("side")
        return titled

    def _sections(self, found: Found, known: Known) -> Collection[Section]:
        """The titles between the rows, looked for once: a row of headings is tried several ways."""
        where = (found.heading, found.end, found.span, found.columns["type"])
        if where not in self._titles:
            self._titles[where] = tuple(titles(self.grid, found, known).values())
        return self._titles[where]

    def _with_sections(self, found: Found) -> Found:
        """Titles count up to the end of the list only, which is known once the next is found."""
        if not found.sections or self.known is None:
            return found
        # What nothing else gives stays with the titles, and rows without one are reported.
        sections = self._titled(found, set(found.sections)) | found.sections - found.given.keys()
        return replace(found, sections=frozenset(sections))

    def _near_miss(self, lines: _Lines) -> NearMiss | None:
        """The list that lacks a heading, when enough of the others are there to be sure of it."""
        has_rows = lines.bottom + 1 < len(self.grid.rows)
        misses = []
        for kind in ListKind:
            seen, axis = self._with_crossings(lines, kind)
            have = {axis, *(each.meaning for each in seen if each.known)}
            if have.intersection(NEVER.get(kind, ())):
                continue
            lacking = [group for group in NEEDS[kind] if not have.intersection(group)]
            if nearly(kind, seen, len(lacking), has_rows=has_rows):
                missing = tuple(" or ".join(group) for group in lacking)
                misses.append(NearMiss(kind, lines.bottom, seen, missing))
        return max(misses, key=nearness, default=None)

    def _with_crossings(self, lines: _Lines, kind: ListKind) -> tuple[tuple[Seen, ...], str]:
        """What the headings mean in a list of that kind, sides or joints as columns among them."""
        seen = seen_as(lines.headings, kind, self.settings)
        missing = {*_SUPPLIED} - {each.meaning for each in seen}
        if kind is not ListKind.CONNECTIONS or not missing:
            return seen, ""
        known = self.known or Known({}, {})
        axis, crossings = crossings_of(lines.headings, seen, missing, known, self.settings)
        labelled = {each.column: each for each in crossings}
        return tuple(labelled.get(each.column, each) for each in seen), axis


def _known_of(miss: NearMiss) -> int:
    return _known(miss.seen)


def _known(seen: tuple[Seen, ...]) -> int:
    return sum(1 for each in seen if each.known)


def _score(found: Sequence[Found]) -> tuple[int, int, int]:
    things, in_full = zip(*(each.score for each in found), strict=True) if found else ((), ())
    return len(found), sum(things), sum(in_full)


def _adds_to(whole: Found, part: Found) -> bool:
    """Whether the row as a whole is the same list with more columns, and none of them twice."""
    return (
        whole.kind is part.kind
        and len(whole.columns) + len(whole.crossings) > len(part.columns) + len(part.crossings)
        and whole.rivals.keys() == part.rivals.keys()
    )


def _meets(kind: ListKind, seen: tuple[Seen, ...], *, sure_only: bool) -> bool:
    have = {each.meaning for each in seen if each.sure or not sure_only}
    sure = {each.meaning for each in seen if each.sure}
    if sure.intersection(NEVER.get(kind, ())):
        return False
    # One heading alone makes a list only where there is no other text to tell otherwise.
    if _known(seen) < min(2, len(seen)):
        return False
    return all(have.intersection(group) for group in NEEDS[kind])


def _chosen(seen: tuple[Seen, ...]) -> tuple[dict[str, int], dict[str, tuple[Seen, ...]]]:
    """One column for each meaning, and the rivals it had: a sure heading beats a loose one."""
    groups: defaultdict[str, list[Seen]] = defaultdict(list)
    for each in seen:
        if each.known and not each.measure:
            groups[each.meaning].append(each)
    columns: dict[str, int] = {}
    rivals: dict[str, tuple[Seen, ...]] = {}
    for meaning, group in groups.items():
        best = next((each for each in group if each.sure), group[0])
        columns[meaning] = best.column
        if others := tuple(each for each in group if each is not best):
            rivals[meaning] = others
    return columns, rivals


# --- rows that could be headings ---------------------------------------------------------------


def _gaps(grid: Grid) -> list[int]:
    """Indices of the rows that stand below blank ones."""
    rows = grid.rows
    if not rows or rows[-1] - rows[0] + 1 == len(rows):
        return []
    return [at for at in range(1, len(rows)) if rows[at] != rows[at - 1] + 1]


def _candidates(grid: Grid, gaps: Sequence[int]) -> list[int]:
    """Indices of the first rows, of those below a blank stretch, and of those with our words."""
    found = set(range(min(len(grid.rows), _ROWS_LOOKED_THROUGH)))
    # The second row too: the first can be a title.
    below = (at + step for at in gaps[:_GAPS_LOOKED_AT] for step in (0, 1))
    found.update(at for at in below if at < len(grid.rows))
    found.update(_rows_of_words(grid))
    return sorted(found)


def _rows_of_words(grid: Grid) -> Iterator[int]:
    """Rows with two cells or more that are spelt like headings, in columns of few words.

    Of rows with the same such words in the same columns the first few stand for all: where "joint"
    and "line" are values, they are in every row.
    """
    hits: defaultdict[int, int] = defaultdict(int)
    spelt = any_meaning()
    bit = 1
    for column, known in zip(grid.columns, grid.distinct, strict=True):
        if len(known) > _FEW_WORDS:
            continue
        for word in known:
            if isinstance(word, str) and heading_key(word) in spelt:
                for at in _places(column, word):
                    hits[at] += bit
                bit <<= 1
    alike: Counter[int] = Counter()
    for at, words in hits.items():
        most = _ALIKE_ROWS if words.bit_count() < _MANY_WORDS else _MOST_PAGES
        if words & (words - 1) and alike[words] < most:
            alike[words] += 1
            yield at


def _places(column: Sequence[Value], word: Value) -> Iterator[int]:
    """Where a word stands in a column, below the rows that are looked through anyway."""
    at = _ROWS_LOOKED_THROUGH - 1
    try:
        while True:
            at = column.index(word, at + 1)
            yield at
    except ValueError:
        return


def _convincing(
    texts: Mapping[int, str],
    found: Sequence[Found],
    misses: Sequence[NearMiss],
    *,
    below_blank: bool,
) -> bool:
    """Whether a row amid the rows of a list is another list's headings, and no row of this one."""
    seen = [each for one in found or misses for each in one.seen]
    known = sum(each.known and each.sure for each in seen)
    return known >= 3 or (known == len(texts) and known >= 2 and (bool(found) or below_blank))
