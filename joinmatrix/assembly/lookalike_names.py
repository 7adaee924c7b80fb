"""Names that only the eye takes for one another: reported, never merged."""

import re
from collections import defaultdict
from collections.abc import Iterable, Iterator, Sequence, Set

from joinmatrix.assembly.model import Connection
from joinmatrix.lists.table import Trouble
from joinmatrix.names import folded, folds, quoted_list
from joinmatrix.place import Place

# Letters of other scripts and dashes that print like ASCII ones; the Unicode list of confusables
# (UTS 39) has them too.
_LOOKS = str.maketrans(
    "аеорсухіјѕԁһкмтвнαοινκρτυχ‐‑‒–—−’",
    "aeopcyxijsdhkmtbhaoivkptux------'",
)
_LETTER_O = re.compile(r"(?<=\d)o|o(?=\d)")
_LEADING_ZEROS = re.compile(r"(?<!\d)0+(?=\d)")


def lookalike_names(connections: Sequence[Connection]) -> Iterator[Trouble]:
    """Connections and ports whose names differ only by look-alike letters or leading zeros."""
    ids = {connection.key.name for connection in connections}
    ports = {connection.from_port for connection in connections}
    ports |= {connection.to_port for connection in connections}
    for columns, names in (
        (("connection",), ids),
        (("from", "to"), {*folds(ports).values()} - {""}),
    ):
        groups = sorted(map(sorted, _groups(list(names))))
        if groups:
            first = _first_use(connections, columns, {name for group in groups for name in group})
            for group in groups:
                yield _trouble(sorted((first[name] for name in group), key=_place))


def _first_use(
    connections: Iterable[Connection], columns: Sequence[str], wanted: Set[str]
) -> dict[str, tuple[Connection, str]]:
    """The first connection, and the column, that uses each name."""
    first: dict[str, tuple[Connection, str]] = {}
    for connection in connections:
        for column in columns:
            name = folded(_written(connection, column))
            if name in wanted:
                first.setdefault(name, (connection, column))
    return first


def _groups(names: list[str]) -> Iterator[list[str]]:
    """Names that look the same, of those that are not.

    The names are treated as one text, a line each, so that a hundred thousand of them cost a few
    passes of the pattern and not as many calls.
    """
    looks = "\n".join(names).translate(_LOOKS)
    looks = _LEADING_ZEROS.sub("", _LETTER_O.sub("0", looks))
    by_look: defaultdict[str, list[str]] = defaultdict(list)
    lines = looks.split("\n")
    if len(set(lines)) >= len(names):
        return
    for name, look in zip(names, lines, strict=True):
        by_look[look].append(name)
    yield from (same for same in by_look.values() if len(same) > 1)


def _trouble(found: list[tuple[Connection, str]]) -> Trouble:
    what = "connections" if found[0][1] == "connection" else "ports"
    written = [_written(connection, column) for connection, column in found]
    cells = [_cell(connection, column) for connection, column in found]
    names = quoted_list(written, "and")
    return Trouble(
        cells[0],
        f"the {what} {names} differ only by {_difference(written)}; they are not taken as one",
        "write them alike if they are the same",
        holds=False,
        others=tuple(cells[1:]),
        connections=tuple(written) if what == "connections" else (),
    )


def _place(use: tuple[Connection, str]) -> Place:
    return _cell(*use)


def _written(connection: Connection, column: str) -> str:
    if column == "connection":
        return connection.id
    return connection.from_port if column == "from" else connection.to_port


def _cell(connection: Connection, column: str) -> Place:
    return connection.cells(column)[0]


def _difference(names: Iterable[str]) -> str:
    """What the difference is: with code points, since nobody can see it."""
    odd = sorted({letter for name in names for letter in name if ord(letter) > 127})
    if odd:
        points = ", ".join(f"{letter} is U+{ord(letter):04X}" for letter in odd)
        return f"letters that look alike ({points})"
    return "leading zeros, or by the letter O and the figure 0"
