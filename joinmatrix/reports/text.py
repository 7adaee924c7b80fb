"""Text from a list made safe for a terminal, and laid out by the cells it takes there.

What stands in a cell of a list is never trusted: a control character could move the cursor or
recolour the report, a direction override could show a name as another one. Both are shown by
their number instead.
"""

import unicodedata
from collections.abc import Iterable, Iterator
from functools import lru_cache

from rich.cells import cell_len, chop_cells

from joinmatrix.place import Place

_NEWLINES = ("\r\n", "\n", "\r", "\x0b", "\x0c", "\x85", "\u2028", "\u2029")


def safe(text: str, encoding: str = "utf-8") -> str:
    """The text as it can be shown on a terminal: nothing in it acts, nothing in it hides.

    Line breaks become a pilcrow, other spaces a space; control characters, direction overrides,
    joiners and whatever the encoding does not have become "<U+202E>".
    """
    if text.isascii() and text.isprintable():
        return text
    return _shown(text, encoding)


def visible(text: str) -> str:
    """The text with its own spaces and line breaks, and what acts or hides as "<U+202E>"."""
    if text.isprintable():
        return text
    return "".join(
        each if each.isprintable() or each in "\n\t" or _is_space(each) else f"<U+{ord(each):04X}>"
        for each in text
    )


def _is_space(character: str) -> bool:
    return unicodedata.category(character) == "Zs"


@lru_cache(maxsize=1 << 14)
def _shown(text: str, encoding: str) -> str:
    for newline in _NEWLINES:
        text = text.replace(newline, "\n")
    return "".join(_shown_character(each, encoding) for each in text)


@lru_cache(maxsize=1 << 12)
def _shown_character(character: str, encoding: str) -> str:
    if character == "\n":
        return "¶" if encodable("¶", encoding) else "<NL>"
    if character.isspace() and character not in "\t\x1c\x1d\x1e\x1f":
        return " "  # no-break, thin and ideographic spaces compare as one space, so they look it
    if character.isprintable() and encodable(character, encoding):
        return character
    return f"<U+{ord(character):04X}>"


def encodable(text: str, encoding: str) -> bool:
    """Whether a terminal of this encoding has every character."""
    try:
        text.encode(encoding)
    except (UnicodeEncodeError, LookupError):
        return False
    return True


def width(text: str) -> int:
    """How many cells of a terminal the text takes."""
    return len(text) if text.isascii() else cell_len(text)


def padded(text: str, cells: int) -> str:
    """The text filled up with spaces to a number of cells."""
    return text + " " * (cells - width(text))


def wrapped(text: str, cells: int) -> list[str]:
    """The text in lines of at most so many cells, broken at spaces; at least one line.

    A word that is longer than a line is broken where the line ends, never cut off.
    """
    cells = max(cells, 2)  # a wide character takes two
    if width(text) <= cells:
        return [text]
    lines: list[str] = []
    line, used = "", 0
    for word in _pieces(text, cells):
        taken = width(word)
        if line and used + 1 + taken > cells:
            lines.append(line)
            line, used = word, taken
        else:
            line, used = (f"{line} {word}", used + 1 + taken) if line else (word, taken)
    return [*lines, line]


def _pieces(text: str, cells: int) -> Iterator[str]:
    for word in text.split(" "):
        if width(word) <= cells:
            yield word
        else:
            yield from chop_cells(word, cells)


def counted(number: int, one: str, many: str = "") -> str:
    """A number and what it counts: "1 connection", "1,200 connections"."""
    return f"{number:,} {one if number == 1 else many or one + 's'}"


def some(names: Iterable[str], most: int, total: int | None = None) -> str:
    """The first names, and how many more there are: "a, b and 3 more"."""
    all_names = list(names)
    rest = (total if total is not None else len(all_names)) - most
    if rest <= 0:
        return ", ".join(all_names)
    return f"{', '.join(all_names[:most])} and {rest:,} more"


def cells_text(places: Iterable[Place]) -> str:
    """Cells with each sheet named once: "a.xlsx: Wing!D14, E14; b.csv!C2"."""
    sheets: dict[tuple[str, str], list[Place]] = {}
    for place in dict.fromkeys(places):
        sheets.setdefault((place.file, place.sheet), []).append(place)
    return "; ".join(_cells_of_sheet(several) for several in sheets.values())


def _cells_of_sheet(places: list[Place]) -> str:
    first, *further = places
    return ", ".join((str(first), *(place.in_sheet for place in further)))


def row_ranges(rows: Iterable[int]) -> str:
    """Row numbers as one says them: "12-14, 40"."""
    ranges: list[list[int]] = []
    for row in sorted(set(rows)):
        if ranges and row == ranges[-1][1] + 1:
            ranges[-1][1] = row
        else:
            ranges.append([row, row])
    return ", ".join(f"{low}-{high}" if high > low else f"{low}" for low, high in ranges)
