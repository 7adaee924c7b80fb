"""Where on a sheet the lists are, and what each of their headings means."""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field
from functools import lru_cache
from typing import NamedTuple

from joinmatrix.lists.grid import Grid, Value
from joinmatrix.lists.headings import COLUMNS, NEEDS, NEVER, heading_key, without_brackets
from joinmatrix.lists.table import ListKind
from joinmatrix.names import quoted_list
from joinmatrix.place import column_letters

_ROWS_LOOKED_THROUGH = 30  # filled rows at the top of a sheet in which headings are looked for


class Seen(NamedTuple):
    """A heading as it stands on the sheet.

    column   0-based
    meaning  the column of the design, "" for one that is not known
    sure     False when it is only taken for that for want of a better one
    """

    column: int
    text: str
    meaning: str
    sure: bool = True


@dataclass(frozen=True, slots=True)
class Found:
    """A list on a sheet.

    heading  index of the heading row in the grid
    end      index of the first row that is no longer part of it
    columns  meaning -> 0-based column
    seen     all headings, known or not
    rivals   meaning -> headings that mean the same as well, and were not taken
    """

    kind: ListKind
    heading: int
    end: int
    columns: Mapping[str, int]
    seen: tuple[Seen, ...]
    rivals: Mapping[str, tuple[Seen, ...]] = field(default_factory=dict)

    def heading_of(self, column: int) -> str:
        """The heading over a column as written."""
        return next((each.text for each in self.seen if each.column == column), "")


@dataclass(frozen=True, slots=True)
class NearMiss:
    """A row that looks like the headings of a list and lacks one that the list needs."""

    kind: ListKind
    heading: int
    seen: tuple[Seen, ...]
    missing: tuple[str, ...]

    @property
    def seen_words(self) -> str:
        """The known headings as written, with their columns."""
        known = (each for each in self.seen if each.meaning)
        return ", ".join(f'"{each.text}" ({column_letters(each.column + 1)})' for each in known)

    @property
    def missing_words(self) -> str:
        """What is missing, as a sentence names it."""
        return quoted_list(self.missing)


def find_lists(grid: Grid) -> tuple[list[Found], NearMiss | None]:
    """The lists of a sheet; without one, the row that comes nearest to being headings."""
    nearest: NearMiss | None = None
    for index in range(min(len(grid.rows), _ROWS_LOOKED_THROUGH)):
        texts = _texts(grid.row(index))
        if len(texts) < 2:
            continue
        found = _fit(texts, index, len(grid.rows))
        if found is not None:
            return [found], None
        miss = _near_miss(texts, index)
        if miss and (nearest is None or _known(miss.seen) > _known(nearest.seen)):
            nearest = miss
    return [], nearest


def _texts(row: list[Value]) -> dict[int, str]:
    """Column -> text of the cells that could be headings."""
    return {
        column: " ".join(value.split())
        for column, value in enumerate(row)
        if isinstance(value, str) and value.strip() and len(value) < 200
    }


def _fit(texts: Mapping[int, str], index: int, end: int) -> Found | None:
    """The list that the headings make: by sure headings first, then by loose ones too."""
    for sure_only in (True, False):
        for kind in ListKind:
            seen = meanings(texts, kind)
            if _meets(kind, seen, sure_only=sure_only):
                columns, rivals = _chosen(seen)
                return Found(kind, index, end, columns, seen, rivals)
    return None


def _meets(kind: ListKind, seen: tuple[Seen, ...], *, sure_only: bool) -> bool:
    have = {each.meaning for each in seen if each.sure or not sure_only}
    sure = {each.meaning for each in seen if each.sure}
    if sure.intersection(NEVER.get(kind, ())):
        return False
    return all(have.intersection(group) for group in NEEDS[kind])


def _known(seen: tuple[Seen, ...]) -> int:
    return sum(1 for each in seen if each.meaning)


def _near_miss(texts: Mapping[int, str], index: int) -> NearMiss | None:
    """The list that lacks one heading, when enough of the others are there to be sure of it."""
    best: NearMiss | None = None
    for kind in ListKind:
        seen = meanings(texts, kind)
        have = {each.meaning for each in seen if each.meaning}
        sure = {each.meaning for each in seen if each.sure} - {"", "remarks", "part", "unit"}
        lacking = [group for group in NEEDS[kind] if not have.intersection(group)]
        if len(lacking) != 1 or have.intersection(NEVER.get(kind, ())):
            continue
        met = len(NEEDS[kind]) - 1
        if len(sure) < (3 if met >= 2 else 4):
            continue
        if best is None or _known(seen) > _known(best.seen):
            best = NearMiss(kind, index, seen, lacking[0])
    return best


# --- meanings ----------------------------------------------------------------------------------


@lru_cache(maxsize=len(ListKind))
def _index(kind: ListKind) -> Mapping[str, tuple[str, bool]]:
    """Heading key -> column and whether it is sure, for one kind of list."""
    loose = {key: (name, False) for name, each in COLUMNS[kind].items() for key in each.loose}
    sure = {key: (name, True) for name, each in COLUMNS[kind].items() for key in each.sure}
    return {**loose, **sure}


def meanings(texts: Mapping[int, str], kind: ListKind) -> tuple[Seen, ...]:
    """What each heading means if the list is of that kind."""
    return tuple(Seen(column, text, *_meaning(text, kind)) for column, text in texts.items())


@lru_cache(maxsize=1 << 14)
def _meaning(text: str, kind: ListKind) -> tuple[str, bool]:
    """The column that a heading means, with what it has in brackets or else without."""
    index = _index(kind)
    for each in (text, without_brackets(text).name):
        if found := index.get(heading_key(each)):
            return found
    return "", True


def _chosen(seen: tuple[Seen, ...]) -> tuple[dict[str, int], dict[str, tuple[Seen, ...]]]:
    """One column for each meaning, and the rivals it had: a sure heading beats a loose one."""
    groups: dict[str, list[Seen]] = {}
    for each in seen:
        if each.meaning:
            groups.setdefault(each.meaning, []).append(each)
    columns, rivals = {}, {}
    for meaning, group in groups.items():
        best = next((each for each in group if each.sure), group[0])
        columns[meaning] = best.column
        if others := tuple(each for each in group if each is not best):
            rivals[meaning] = others
    return columns, rivals


def unknown_headings(found: Found) -> Iterator[Seen]:
    """Headings that mean nothing in this list."""
    return (each for each in found.seen if not each.meaning)
