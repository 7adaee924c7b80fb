"""A joint or a side that no column gives: from the settings, a title, or the name of the sheet."""

import re
from collections.abc import Collection, Iterator, Mapping, Sequence
from functools import lru_cache
from itertools import pairwise
from typing import NamedTuple

from joinmatrix.lists.grid import Grid
from joinmatrix.lists.headings import NO_JOINT_NAMES, heading_key
from joinmatrix.lists.settings import Settings
from joinmatrix.lists.values import text_of
from joinmatrix.lists.words import side_word
from joinmatrix.names import folded


class Known(NamedTuple):
    """What the other lists of a run say.

    joints  folded name -> as written
    sides   folded label -> as written, of the sides that joints lists declare
    """

    joints: Mapping[str, str]
    sides: Mapping[str, str]


class Given(NamedTuple):
    """A value that holds for every row of a list, and what says so."""

    text: str
    how: str


class Title(NamedTuple):
    """What a title says, "" for what it does not."""

    joint: str = ""
    side: str = ""


_LABEL = re.compile(
    r"\s*(joint|interface|side)\s*(?:no\.?|name)?\s*[:=\-–]\s*(\S.*)", re.IGNORECASE
)
_TOKENS = re.compile(r"[^\s_\-,;:()\[\]/&+]+")
# Words for the middle are parts of names ("centre section"), so they count alone only.
_SIDES_IN_NAMES = frozenset(
    ("l", "lh", "lhs", "left", "port", "r", "rh", "rhs", "right", "stbd", "starboard")
)
_AROUND_SIDES = frozenset(("hand", "side", "sides"))
_JOINT_WORDS = frozenset(("joint", "interface"))
_LABELS = {"joint": "joint", "interface": "joint", "side": "side"}
_MOST_TITLES = 10  # rows of titles above a list
_DIGITS = re.compile(r"\d+")


@lru_cache(maxsize=4096)
def _tokens(text: str) -> tuple[str, ...]:
    return tuple(_TOKENS.findall(text))


def read_title(text: str, known: Known) -> Title:
    """What a title, or the name of a sheet, says of joint and side.

    A joint is believed when another list knows it, when the title calls it one, or when a side
    stands with it and it is no word such as "hydraulics". Two sides in one title are none.
    """
    if match := _LABEL.fullmatch(text):
        if match[1].lower() == "side":
            said = match[2].strip()
            return Title(side=known.sides.get(folded(said), said))
        inner = read_title(match[2], known)
        return Title(joint=inner.joint or match[2].strip(), side=inner.side)
    if joint := known.joints.get(_joint_key(text)) or known.joints.get(folded(text)):
        return Title(joint=joint)
    if side := _whole_side(text, known):
        return Title(side=side)
    return _from_words(text, known)


def _whole_side(text: str, known: Known) -> str:
    declared = known.sides.get(folded(text))
    return declared or side_word(text) or ""


def _joint_key(text: str) -> str:
    return folded(" ".join(_tokens(text)))


def _from_words(text: str, known: Known) -> Title:
    tokens = _tokens(text)
    sides = {side_word(each) for each in tokens if folded(each) in _SIDES_IN_NAMES}
    if len(sides) > 1:
        return Title()
    side = next(iter(sides), None) or ""
    called = any(folded(each) in _JOINT_WORDS for each in tokens)
    rest = [each for each in tokens if not _is_about_side(each, side)]
    rest = [each for each in rest if folded(each) not in _JOINT_WORDS]
    joint = _believed(rest, known, called=called or bool(side))
    return Title(joint, side)


def _is_about_side(token: str, side: str) -> bool:
    word = folded(token)
    return word in _SIDES_IN_NAMES or (bool(side) and word in _AROUND_SIDES)


def _believed(words: list[str], known: Known, *, called: bool) -> str:
    """The words as the name of a joint, "" when that would be a guess."""
    name = " ".join(words)
    for each in (name, f"{name} joint"):
        if joint := known.joints.get(folded(each)):
            return joint
    telling = [each for each in words if folded(each) not in NO_JOINT_NAMES]
    if not called or len(telling) < len(words) or not words:
        return ""
    return "" if all(_DIGITS.fullmatch(each) for each in words) else name


def given_for_sheet(
    grid: Grid, top: int, missing: Collection[str], known: Known, settings: Settings
) -> dict[str, Given]:
    """Joint and side as far as the settings, the titles above a list or the sheet's name say.

    top  index of the headings
    """
    found: dict[str, Given] = {}
    said = settings.sheet(grid.sheet or _stem(grid.file))
    _take(found, missing, Title(said.joint, said.side), f"from {settings.file}")
    for row, texts in _titles_above(grid, top):
        _take(found, missing, _title_of(texts, known), f"from the title in row {row}")
    name = grid.sheet or _stem(grid.file)
    what = "sheet" if grid.sheet else "file"
    _take(found, missing, read_title(name, known), f"from the name of the {what}")
    return found


def _take(found: dict[str, Given], missing: Collection[str], title: Title, how: str) -> None:
    for name, text in zip(Title._fields, title, strict=True):
        if text and name in missing and name not in found:
            found[name] = Given(text, how)


def _stem(file: str) -> str:
    return re.sub(r"\.[^.]*$", "", file.replace("\\", "/").rpartition("/")[2])


def _titles_above(grid: Grid, top: int) -> Iterator[tuple[int, list[str]]]:
    """Rows straight above the headings that are titles: one text, or words with their values."""
    for index in range(top - 1, max(-1, top - 1 - _MOST_TITLES), -1):
        texts = [text for value in grid.row(index) if (text := text_of(value))]
        if len(texts) > 1 and heading_key(texts[0]) not in _LABELS:
            return
        yield grid.rows[index], texts


def _title_of(texts: Sequence[str], known: Known) -> Title:
    """A title in one cell ("Joint: tail"), or a word and its value side by side."""
    if len(texts) == 1:
        return read_title(texts[0], known)
    said: dict[str, str] = {}
    for word, value in pairwise(texts):
        said.setdefault(_LABELS.get(heading_key(word), ""), value)
    return Title(said.get("joint", ""), said.get("side", ""))
