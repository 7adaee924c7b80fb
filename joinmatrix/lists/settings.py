"""What a `joinmatrix.toml` beside the lists says about odd headings, words and sheets.

    [headings]                  # what a heading of any list means; "" is a column not to read
    "Verb.-Nr." = "connection"

    [headings.record]           # in one kind of list only
    "Wann" = "when"

    [words.side]                # what a cell of a column means, or a title or heading that is one
    "links" = "L"

    [sheets."Page 3"]           # what a sheet does not say itself
    joint = "outer wing"
    side = "L"

    [sheets."Old issue"]
    read = false

Most lists need no such file.
"""

import tomllib
from collections.abc import Mapping
from dataclasses import dataclass, field
from pathlib import Path
from types import MappingProxyType
from typing import Any, NamedTuple

from joinmatrix.errors import InputError
from joinmatrix.lists.headings import COLUMNS, DATE_COLUMNS, heading_key, without_brackets
from joinmatrix.lists.table import ListKind
from joinmatrix.names import folded, nearest, quoted_list

NAME = "joinmatrix.toml"
_LARGEST = 1 << 20
_TABLES = ("headings", "words", "sheets")
_WITHOUT_WORDS = DATE_COLUMNS | {"time"}


class SheetSettings(NamedTuple):
    """What is said of one sheet."""

    joint: str = ""
    side: str = ""
    read: bool = True


@dataclass(frozen=True, eq=False)
class Settings:
    """What is said of the lists beside the file; empty without one.

    file      the name to report it by, "" without one
    headings  kind of list (None for all) -> heading key -> column, "" for one not to read
    words     column -> folded word -> the text to read instead
    sheets    folded name of a sheet -> what it does not say itself
    """

    file: str = ""
    headings: Mapping[ListKind | None, Mapping[str, str]] = field(default_factory=dict)
    words: Mapping[str, Mapping[str, str]] = field(default_factory=dict)
    sheets: Mapping[str, SheetSettings] = field(default_factory=dict)

    def meaning(self, heading: str, kind: ListKind) -> str | None:
        """The column that a heading is said to mean, None when nothing is said of it.

        What is said of "Anzug" holds for "Anzug (Nm)" too, but only a heading that is written out
        in full is not read at all.
        """
        name, aside = without_brackets(heading)
        found = self._said(heading_key(heading), kind)
        return (
            found if found is not None or not aside else self._said(heading_key(name), kind) or None
        )

    def _said(self, key: str, kind: ListKind) -> str | None:
        for named in (kind, None):
            found = self.headings.get(named, {}).get(key)
            if found is not None and (not found or found in COLUMNS[kind]):
                return found
        return None

    def sheet(self, name: str) -> SheetSettings:
        """What is said of a sheet."""
        return self.sheets.get(folded(name), SheetSettings())


NO_SETTINGS = Settings()


def load_settings(path: Path, file: str) -> Settings:
    """The settings of a file.

    file    the name to report it by
    raises  InputError when it is no TOML, or says something that means nothing
    """
    try:
        with path.open("rb") as stream:
            raw = stream.read(_LARGEST + 1)
        if len(raw) > _LARGEST:
            raise InputError(file, "is far too large for a file of settings", "Check what it is")
        said = tomllib.loads(raw.decode("utf-8-sig"))
    except OSError as error:
        raise InputError(file, f"cannot be read ({error.strerror})", "") from None
    except (ValueError, RecursionError) as error:  # no TOML, no UTF-8, a number without an end
        reason = " ".join(str(error).split())[:200]
        raise InputError(file, f"is no TOML ({reason})", "Mend that line, or delete it") from None
    for name in said:
        _known(name, _TABLES, file, "the table")
    return Settings(
        file,
        MappingProxyType(_headings(_table(said, "headings", file), file)),
        MappingProxyType(_words(_table(said, "words", file), file)),
        MappingProxyType(_sheets(_table(said, "sheets", file), file)),
    )


def _table(said: Mapping[str, Any], name: str, file: str) -> Mapping[str, Any]:
    table = said.get(name, {})
    if not isinstance(table, dict):
        raise InputError(file, f'"{name}" is no table', f"Write [{name}] on a line of its own")
    return table


def _known(name: str, allowed: "tuple[str, ...] | list[str]", file: str, what: str) -> str:
    """The name when it is allowed.

    raises  InputError with the nearest or all allowed names
    """
    if name in allowed:
        return name
    near = quoted_list(nearest(name, allowed) or allowed)
    raise InputError(file, f'{what} "{name}" is unknown', f"Write {near}")


def _text(value: object, file: str, where: str) -> str:
    if not isinstance(value, str):
        raise InputError(file, f"{where} is no text", "Put it in quotes")
    return value


def _headings(said: Mapping[str, Any], file: str) -> dict[ListKind | None, Mapping[str, str]]:
    kinds = {kind.value: kind for kind in ListKind}
    every = sorted({column for columns in COLUMNS.values() for column in columns})
    found: dict[ListKind | None, dict[str, str]] = {None: {}}
    for name, value in said.items():
        if isinstance(value, dict):
            kind = kinds[_known(name, list(kinds), file, "the kind of list")]
            columns = list(COLUMNS[kind])
            found[kind] = {
                heading_key(heading): _column(column, columns, file)
                for heading, column in value.items()
            }
        else:
            found[None][heading_key(name)] = _column(value, every, file)
    return {kind: MappingProxyType(meanings) for kind, meanings in found.items()}


def _column(value: object, allowed: list[str], file: str) -> str:
    name = folded(_text(value, file, "the meaning of a heading"))
    return _known(name, allowed, file, "the column") if name else ""


def _words(said: Mapping[str, Any], file: str) -> dict[str, Mapping[str, str]]:
    every = sorted({column for columns in COLUMNS.values() for column in columns})
    found: dict[str, Mapping[str, str]] = {}
    for column, words in said.items():
        _known(column, every, file, "the column")
        if column in _WITHOUT_WORDS:
            raise InputError(
                file,
                f'"words.{column}" cannot be given: the column holds dates or times',
                "Write them in the list, as 2026-03-04 and 10:30, and delete the table here",
            )
        if not isinstance(words, dict):
            raise InputError(file, f'"words.{column}" is no table', f"Write [words.{column}]")
        found[column] = MappingProxyType(
            {folded(word): _text(text, file, f'"{word}"') for word, text in words.items()}
        )
    return found


def _sheets(said: Mapping[str, Any], file: str) -> dict[str, SheetSettings]:
    found = {}
    for name, words in said.items():
        if not isinstance(words, dict):
            raise InputError(file, f'"sheets.{name}" is no table', f'Write [sheets."{name}"]')
        for key in words:
            _known(key, SheetSettings._fields, file, f'of sheet "{name}",')
        read = words.get("read", True)
        if not isinstance(read, bool):
            raise InputError(
                file, f'"read" of sheet "{name}" is not yes or no', "Write true or false"
            )
        joint, side = (_text(words.get(key, ""), file, f'"{key}"') for key in ("joint", "side"))
        found[folded(name)] = SheetSettings(joint, side, read)
    return found
