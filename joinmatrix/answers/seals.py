"""Digests of inputs, and what two sets of them say has changed.

A file has the SHA-256 of its bytes. So that a changed file can be traced to its rows, each row of
each list has a digest too: the first 16 hexadecimal digits of the SHA-256 of its filled columns.
"""

import hashlib
from collections import Counter, defaultdict
from collections.abc import Iterable, Iterator, Mapping, Sequence
from pathlib import Path, PurePosixPath
from typing import NamedTuple

from joinmatrix.errors import InputError
from joinmatrix.lists.bounds import DEFAULT_BOUNDS
from joinmatrix.lists.files import walk
from joinmatrix.lists.table import Table

_CHUNK = 1 << 20
_ROW_DIGITS = 16
_NO_ROW = "its bytes have changed, and no row that was read: its form, or what is not read"


class FileSeal(NamedTuple):
    """A file as it was read.

    file  the name as given
    """

    file: str
    sha256: str
    size: int


class TableSeal(NamedTuple):
    """A list as it was read.

    rows  sheet row -> digest
    """

    file: str
    sheet: str
    list: str
    rows: Mapping[int, str]


class Change(NamedTuple):
    """A difference between what was sealed and what is there now.

    row   0 where it is not about one row
    what  a clause: "row 14 is not as it was"
    """

    file: str
    sheet: str
    row: int
    what: str

    def __str__(self) -> str:
        return (
            f"{self.file}: {self.sheet}: {self.what}" if self.sheet else f"{self.file}: {self.what}"
        )


class Seals(NamedTuple):
    """Files and the lists in them."""

    files: tuple[FileSeal, ...]
    tables: tuple[TableSeal, ...]


def seal_files(paths: Sequence[str | Path]) -> tuple[FileSeal, ...]:
    """The files that a run over these paths reads, in reading order.

    raises  InputError for a file that cannot be read
    """
    return tuple(_seal(each.path, each.file) for each in walk(paths, DEFAULT_BOUNDS).inputs)


def _seal(path: Path, file: str) -> FileSeal:
    digest, size = hashlib.sha256(), 0
    try:
        with path.open("rb") as stream:
            while chunk := stream.read(_CHUNK):
                digest.update(chunk)
                size += len(chunk)
    except OSError as error:
        raise InputError(file, f"cannot be read ({error.strerror})", "check the file") from None
    return FileSeal(file, digest.hexdigest(), size)


def seal_tables(tables: Iterable[Table]) -> tuple[TableSeal, ...]:
    """The lists, row by row."""
    return tuple(
        TableSeal(table.file, table.sheet, table.kind.value, dict(_rows(table))) for table in tables
    )


def _rows(table: Table) -> Iterator[tuple[int, str]]:
    names = sorted(table.cells)
    columns = [table.cells[name] for name in names]
    for row, texts in zip(table.rows, zip(*columns, strict=True), strict=True):
        filled = "\x1e".join(
            f"{name}\x1f{text}" for name, text in zip(names, texts, strict=True) if text
        )
        digest = hashlib.sha256(filled.encode("utf-8", "surrogatepass"))
        yield row, digest.hexdigest()[:_ROW_DIGITS]


# --- what has changed --------------------------------------------------------------------------


def changes_of_files(old: Iterable[FileSeal], new: Iterable[FileSeal]) -> tuple[Change, ...]:
    """Files whose bytes differ, that are gone, or that are new; names as `new` has them."""
    pairs, gone, added = _paired(list(old), list(new))
    return (
        *(
            Change(now.file, "", 0, "its bytes are not those that were read")
            for was, now in pairs
            if was.sha256 != now.sha256
        ),
        *(Change(was.file, "", 0, "is not there any more") for was in gone),
        *(Change(now.file, "", 0, "was not there before") for now in added),
    )


def changes(old: Seals, new: Seals) -> tuple[Change, ...]:
    """Everything that differs, down to the row; the names are those of `new` where it has them."""
    pairs, gone, added = _paired(list(old.files), list(new.files))
    found: list[Change] = []
    for was, now in pairs:
        if was.sha256 != now.sha256:
            inside = list(_changes_inside(_of_file(old, was.file), _of_file(new, now.file), now))
            found += inside or [Change(now.file, "", 0, _NO_ROW)]
    found += [Change(was.file, "", 0, "is missing; the statement covers it") for was in gone]
    found += [Change(now.file, "", 0, "is new; the statement does not cover it") for now in added]
    return tuple(found)


def _of_file(seals: Seals, file: str) -> list[TableSeal]:
    return [table for table in seals.tables if table.file == file]


def _changes_inside(old: list[TableSeal], new: list[TableSeal], file: FileSeal) -> Iterator[Change]:
    """Differences between the lists of one file."""
    before, after = _by_name(old), _by_name(new)
    for name in dict.fromkeys((*before, *after)):
        sheet, kind, _ = name
        if name not in after:
            yield Change(file.file, sheet, 0, f"the {kind} list is gone")
        elif name not in before:
            yield Change(file.file, sheet, 0, f"the {kind} list is new")
        else:
            yield from _changed_rows(before[name], after[name], file.file, sheet)


def _by_name(tables: Iterable[TableSeal]) -> dict[tuple[str, str, int], TableSeal]:
    """Lists by sheet and kind; a further list of one kind on one sheet by its number."""
    seen: Counter[tuple[str, str]] = Counter()
    found = {}
    for table in tables:
        name = (table.sheet, table.list)
        found[(*name, seen[name])] = table
        seen[name] += 1
    return found


def _changed_rows(old: TableSeal, new: TableSeal, file: str, sheet: str) -> Iterator[Change]:
    """Rows without an equal on the other side; a row that only moved is no change."""
    gone, come = _unmatched(old.rows, new.rows), _unmatched(new.rows, old.rows)
    for row in sorted({*gone, *come}):
        if row in gone and row in come:
            what = f"row {row} is not as it was"
        else:
            what = f"row {row} is new" if row in come else f"what was row {row} is gone"
        yield Change(file, sheet, row, what)
    if not gone and not come and list(old.rows.values()) != list(new.rows.values()):
        yield Change(file, sheet, 0, "the rows stand in another order")


def _unmatched(rows: Mapping[int, str], others: Mapping[int, str]) -> set[int]:
    """Rows for which the other list has no equal of their own; equals in place match first."""
    left = Counter(others.values())
    inplace = {row for row, digest in rows.items() if others.get(row) == digest}
    left.subtract(rows[row] for row in inplace)
    found = set()
    for row, digest in rows.items():
        if row in inplace:
            continue
        if left[digest] > 0:
            left[digest] -= 1
        else:
            found.add(row)
    return found


def _paired(
    old: list[FileSeal], new: list[FileSeal]
) -> tuple[list[tuple[FileSeal, FileSeal]], list[FileSeal], list[FileSeal]]:
    """Files that belong together, old ones without a partner, new ones without one.

    First those with the same name, then the same bytes under another name (another machine,
    another folder), then the same last part of the name.
    """
    pairs: list[tuple[FileSeal, FileSeal]] = []
    by_file = {each.file: each for each in new}
    for was in list(old):
        now = by_file.get(was.file)
        if now is not None:
            pairs.append((was, now))
            old.remove(was)
            new.remove(now)
    by_bytes: defaultdict[str, list[FileSeal]] = defaultdict(list)
    for each in new:
        by_bytes[each.sha256].append(each)
    for was in list(old):
        if alike := by_bytes[was.sha256]:
            now = max(alike, key=lambda each: _shared_tail(was.file, each.file))
            alike.remove(now)
            pairs.append((was, now))
            old.remove(was)
            new.remove(now)
    for was in list(old):
        near = [each for each in new if _shared_tail(was.file, each.file)]
        if near:
            now = max(near, key=lambda each: _shared_tail(was.file, each.file))
            pairs.append((was, now))
            old.remove(was)
            new.remove(now)
    return pairs, old, new


def _shared_tail(one: str, other: str) -> int:
    """How many parts of two names agree, from the file name up."""
    parts = zip(
        reversed(PurePosixPath(one.replace("\\", "/")).parts),
        reversed(PurePosixPath(other.replace("\\", "/")).parts),
        strict=False,
    )
    number = 0
    for mine, theirs in parts:
        if mine != theirs:
            break
        number += 1
    return number
